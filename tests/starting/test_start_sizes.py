"""Which names in a drawing are sizes, which are sets of them, and which are told."""

import pytest

from pipeline.masters.copied import copy_folder
from pipeline.starting.first import NoStartError, start
from tests.masters.drawings.small import GROWN, drawing, flap, front


def test_a_word_of_a_role_within_a_name_is_part_of_the_name(folder, tmp_path):
    text = drawing().replace("Klappe", "Inside pocket").replace("Front panel", "Pocket")
    (tmp_path / "nest.svg").write_text(text, encoding="utf-8")
    assert start(folder, [tmp_path / "nest.svg"])[0].endswith("pieces pocket, inside-pocket")


@pytest.mark.parametrize(
    ("names", "sizes"),
    [
        (("6-12 months", "12–24 months", "24/36 months"), ("6-12", "12-24", "24-36")),
        (("large", "Medium", "small"), ("small", "Medium", "large")),
        (("Gr. 36", "Gr. 38", "Gr. 40"), ("36", "38", "40")),
        (("98 cm", "104 cm", "110 cm"), ("98", "104", "110")),
    ],
)
def test_sizes_are_what_people_write_and_the_drawing_is_read_by_them(folder, tmp_path, names, sizes):
    text = drawing()
    for size, name in zip("SML", names, strict=True):
        text = text.replace(f"Size {size}", name)
    (tmp_path / "nest.svg").write_text(text, encoding="utf-8")
    assert (
        start(folder, [tmp_path / "nest.svg"])[0] == f"1 drawing: sizes {', '.join(sizes)}; pieces front-panel, klappe"
    )
    found = copy_folder(folder, tmp_path / "work/bag")
    assert [each.message for each in found.findings if each.severity == "block"] == []


def test_a_drawing_of_one_size_needs_no_name_of_a_size(folder, tmp_path):
    text = '<svg xmlns="http://www.w3.org/2000/svg" width="700mm" height="400mm" viewBox="0 0 700 400">{}</svg>'
    pieces = f'<g data-name="Front">{front("m")}</g><g data-name="Flap">{flap("m")}</g>'
    (tmp_path / "nest.svg").write_text(text.format(pieces), encoding="utf-8")
    assert start(folder, [tmp_path / "nest.svg"])[0] == "1 drawing: sizes one-size; pieces front, flap"
    found = copy_folder(folder, tmp_path / "work/bag")
    assert [each.message for each in found.findings if each.severity == "block"] == []


def test_names_that_tell_of_no_size_are_listed(folder, tmp_path):
    text = drawing().replace("Size S", "tiny").replace("Size M", "middling").replace("Size L", "huge")
    (tmp_path / "nest.svg").write_text(text, encoding="utf-8")
    with pytest.raises(NoStartError) as why:
        start(folder, [tmp_path / "nest.svg"])
    assert "tiny, Front panel, seam, Klappe, middling, huge" in str(why.value)
    assert "None of them is written as a size is" in str(why.value)


def test_an_outline_in_parts_without_names_has_its_edges_numbered(folder, tmp_path):
    def parts(size: str) -> str:
        g = GROWN[size]
        corners = [(400, 30), (520 + g, 50), (430, 150 + g)]
        lines = "".join(
            f'<path d="M{a[0]},{a[1]} L{b[0]},{b[1]}"/>'
            for a, b in zip(corners, corners[1:] + corners[:1], strict=True)
        )
        return f'<g data-name="seam">{lines}</g><g data-name="grain"><path d="M440,100 V60"/></g>'

    (tmp_path / "nest.svg").write_text(drawing(**{f"flap_{size}": parts(size) for size in GROWN}), encoding="utf-8")
    start(folder, [tmp_path / "nest.svg"])
    assert (folder / "edges/klappe.png").is_file()
    assert copy_folder(folder, tmp_path / "work/bag").pattern.pieces["klappe"].around == ("edge-1", "edge-2", "edge-3")


def test_large_beside_numbers_is_a_set_of_sizes_and_no_size(folder, tmp_path):
    more = "".join(
        f'<g data-name="{size}"><g data-name="Loop">{flap("s").replace("-s", f"-{size}")}</g></g>'
        for size in ("36", "38", "large")
    )
    text = drawing(more=more)
    for letter, number in (("S", "30"), ("M", "32"), ("L", "34")):
        text = text.replace(f"Size {letter}", number)
    (tmp_path / "nest.svg").write_text(text, encoding="utf-8")
    told = start(folder, [tmp_path / "nest.svg"])
    assert told[0] == "1 drawing: sizes 30, 32, 34, 36, 38; pieces front-panel, klappe, loop"
    assert "of no size, or no piece, that could be told: drawing / nest / large / Loop / seam" in told
    assert "what several sizes share is said in [size-sets], or lies in a layer called all" in told


def test_layers_of_no_size_are_told_but_for_those_of_all_sizes(folder, tmp_path):
    more = "".join(f'<g data-name="{name}"><g data-name="Loop">{flap("s")}</g></g>' for name in ("all", "regular"))
    (tmp_path / "nest.svg").write_text(drawing(more=more), encoding="utf-8")
    told = start(folder, [tmp_path / "nest.svg"])
    assert "of no size, or no piece, that could be told: drawing / nest / regular / Loop / seam" in told
    assert not [line for line in told if "all / Loop" in line]

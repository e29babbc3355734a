"""From a drawing and an empty folder to a first pattern.toml that can be checked; and what this computer lacks."""

import tomllib
from pathlib import Path

import pytest
from PIL import Image

from pipeline.console import main
from pipeline.drawing.scene import Circle, Text
from pipeline.exchange.group_codes import block, document, polyline
from pipeline.geometry.curves import Line
from pipeline.geometry.points import Point
from pipeline.masters.copied import copy_folder
from pipeline.model.pieces import DrawnPiece, Edge, GrainLine
from pipeline.press.preview import LONG_SIDE_PX
from pipeline.starting.edges_picture import edges_picture
from pipeline.starting.first import NoStartError, start
from pipeline.starting.look import look_at
from tests.masters.drawings.small import GROWN, drawing
from tests.masters.drawings.test_by_shape import bare
from tests.starting.from_layers import started

ROOT = Path(__file__).resolve().parents[2]


def test_what_is_written_is_read_again_without_a_fault(folder, tmp_path):
    told = start(folder, [tmp_path / "nest.svg"])
    assert told[0] == "1 drawing: sizes s, m, l; pieces front-panel, klappe".replace("s, m, l", "S, M, L")
    assert told[-1] == f"next: pattern-release check --source {folder.parent} --pattern bag"
    found = copy_folder(folder, tmp_path / "work/bag")
    assert [each.message for each in found.findings if each.severity == "block"] == []
    assert found.pattern.sizes == ("S", "M", "L")
    assert found.pattern.pieces["front-panel"].around == ("edge-1", "edge-2", "hem", "cf")
    assert (folder / "drawing/nest.svg").read_text() == drawing()
    assert (folder / "CHANGES.md").is_file()


def test_a_fold_and_lengths_are_proposed_as_comments(folder, tmp_path):
    start(folder, [tmp_path / "nest.svg"])
    said = (folder / "pattern.toml").read_text()
    assert "# edges.cf = { fold = true }  # proposed" in said
    assert "# edge-1: 104 mm, top" in said


def test_a_piece_that_may_lie_on_the_fold_is_proposed_to_be_cut_once(folder, tmp_path):
    start(folder, [tmp_path / "nest.svg"])
    pieces = tomllib.loads((folder / "pattern.toml").read_text())["pieces"]
    assert {name: piece["cut"][0]["count"] for name, piece in pieces.items()} == {"front-panel": 1, "klappe": 2}


def test_of_two_sides_along_the_grain_the_one_that_runs_on_over_a_fold_is_proposed(folder):
    back = (
        '<g data-name="seam"><path d="M20,40 C50,40 72,30 78,20 L118,35 C116,110 128,140 170,150 V340 H20 Z"/></g>'
        '<g data-name="grain"><path d="M60,300 V160"/></g>'
    )
    said = started(folder, **{f"front_{size}": back for size in GROWN})
    assert "# edges.cf = { fold = true }  # proposed" in said


def test_a_closed_outline_goes_all_round(folder):
    disc = '<g data-name="seam"><circle cx="460" cy="90" r="{}"/></g>'
    said = started(folder, **{f"flap_{size}": disc.format(50 + g) for size, g in GROWN.items()})
    assert "# outline: 339 mm, all round\n" in said


def test_an_outline_whose_first_corner_is_open_has_a_picture_of_its_corners_and_what_to_write(folder, tmp_path):
    ovals = {
        f"flap_{size}": '<g data-name="seam"><path d="M400,250 C400,20'
        f" {460 + g},20 {460 + g},250 C{460 + g},480 400,480"
        ' 400,250 Z"/></g><g data-name="corners"><circle cx="400" cy="250" r="1"/>'
        f'<circle cx="{460 + g}" cy="250" r="1"/></g>'
        for size, g in GROWN.items()
    }
    (tmp_path / "nest.svg").write_text(drawing(**ovals), encoding="utf-8")
    told = start(folder, [tmp_path / "nest.svg"])
    (line,) = (line for line in told if line.startswith("klappe: Two corners of klappe lie about as near"))
    assert line.endswith('say pieces.klappe.start = "first". edges/klappe.png shows its corners.')
    with Image.open(folder / "edges/klappe.png") as picture:
        assert max(picture.size) == LONG_SIDE_PX


def test_what_is_proposed_is_toml_once_its_mark_is_taken_away(folder, tmp_path):
    start(folder, [tmp_path / "nest.svg"])
    said = (folder / "pattern.toml").read_text().splitlines()
    (fold,) = (number for number, line in enumerate(said) if "fold = true" in line)
    assert tomllib.loads(said[fold].removeprefix("# "))["edges"]["cf"] == {"fold": True}


def test_a_picture_of_each_piece_names_its_edges_and_a_booklet_waits_to_be_filled_in(folder, tmp_path):
    told = start(folder, [tmp_path / "nest.svg"])
    assert told[-3].endswith("pattern.toml, CHANGES.md, booklet/en.md, edges/front-panel.png, edges/klappe.png")
    for name in ("front-panel", "klappe"):
        with Image.open(folder / f"edges/{name}.png") as picture:
            assert max(picture.size) == LONG_SIDE_PX
            assert len(picture.convert("RGB").getcolors(picture.width * picture.height)) > 3
    assert "{{ piece front-panel }}, {{ piece klappe }}" in (folder / "booklet/en.md").read_text()
    found = copy_folder(folder, tmp_path / "work/bag")
    assert "edges/front-panel.png" not in found.hashes


def test_a_picture_has_each_name_beside_its_edge_and_a_dot_where_the_first_begins():
    square = [(0.0, 0.0), (100.0, 0.0), (100.0, 100.0), (0.0, 100.0)]
    corners = [Point(*place) for place in square]
    edges = tuple(
        Edge(name, (Line(a, b),))
        for name, a, b in zip(("top", "right", "low", "left"), corners, corners[1:] + corners[:1], strict=True)
    )
    grain = GrainLine(bottom=Point(50, 80), top=Point(50, 20), drawn=True)
    piece = DrawnPiece(piece="flap", size="m", file="flap.svg", edges=edges, grain=grain, anchor=Point(50, 50))
    shapes = edges_picture(piece, "Flap").shapes
    texts = {shape.content: shape.place for shape in shapes if isinstance(shape, Text)}
    assert texts["top"].y < 0 < 100 < texts["low"].y
    assert texts["left"].x < 0 < 100 < texts["right"].x
    assert [shape.centre for shape in shapes if isinstance(shape, Circle)] == [Point(0, 0)]
    assert "top begins at the dot" in " ".join(texts)


def test_edges_that_the_drawing_names_are_not_named_again(folder, tmp_path):
    said = {"top": (70, 18), "side": (164, 120), "hem": (110, 231), "cf": (18, 120)}
    names = "".join(f'<text x="{x}" y="{y}">{name}</text>' for name, (x, y) in said.items())
    text = drawing(more=f'<g data-name="Front panel"><g data-name="names">{names}</g></g>')
    (tmp_path / "nest.svg").write_text(text, encoding="utf-8")
    start(folder, [tmp_path / "nest.svg"])
    found = copy_folder(folder, tmp_path / "work/bag")
    assert [each.message for each in found.findings if each.severity == "block"] == []
    assert found.pattern.pieces["front-panel"].around == ()
    assert "# hem: " in (folder / "pattern.toml").read_text()


def test_a_first_pattern_of_a_dxf_is_read_again_without_a_fault(folder, tmp_path):
    blocks = "".join(
        block(
            "1",
            f"front_{size}",
            Point(0, 0),
            [polyline("1", [Point(0, 0), Point(0, 300), Point(wide, 280), Point(wide + 40, 0)], True)],
        )
        for size, wide in (("S", 100), ("M", 110), ("L", 120))
    )
    (tmp_path / "nest.dxf").write_text(document(("1",), [blocks], []), encoding="ascii")
    told = start(folder, [tmp_path / "nest.dxf"])
    assert told[0] == "1 drawing: sizes S, M, L; pieces front"
    found = copy_folder(folder, tmp_path / "work/bag")
    assert [each.message for each in found.findings if each.severity == "block"] == []
    assert sorted(name for name in found.hashes if name.startswith("sizes/")) == [
        "sizes/L/front.svg",
        "sizes/M/front.svg",
        "sizes/S/front.svg",
    ]


def test_a_dxf_without_a_piece_is_told_and_nothing_is_written(folder, tmp_path):
    (tmp_path / "nest.dxf").write_text("0\nSECTION\n2\nENTITIES\n0\nENDSEC\n0\nEOF\n", encoding="ascii")
    with pytest.raises(NoStartError, match="no block in which a piece is drawn"):
        start(folder, [tmp_path / "nest.dxf"])
    assert list(folder.iterdir()) == []


def test_edges_begin_at_the_corner_that_the_drawing_names(folder, tmp_path):
    start(folder, [tmp_path / "nest.svg"])
    pattern = copy_folder(folder, tmp_path / "work/bag").pattern
    assert {name: piece.start for name, piece in pattern.pieces.items()} == {"front-panel": None, "klappe": "first"}


def test_what_keeps_edges_of_a_piece_from_being_named_is_told(folder, tmp_path):
    slanted = '<g data-name="seam"><path d="M20,40 L40,20 L200,220 L30,230 Z"/></g>'
    (tmp_path / "nest.svg").write_text(drawing(front_m=slanted), encoding="utf-8")
    told = start(folder, [tmp_path / "nest.svg"])
    assert any(line.startswith("front-panel: Two corners of front-panel lie about as near") for line in told)


def test_where_no_edge_could_be_named_it_says_how_to_begin_anew(folder, tmp_path):
    far = '<g data-name="notches"><circle cx="150" cy="250" r="1"/></g>'
    text = drawing().replace('<g data-name="grain">', f'{far}<g data-name="grain">')
    (tmp_path / "nest.svg").write_text(text, encoding="utf-8")
    told = start(folder, [tmp_path / "nest.svg"])
    assert not (folder / "edges").exists()
    assert "edges/ shows" not in "\n".join(told)
    assert told[-2].startswith("no edges, folds and seams are proposed")
    assert told[-2].endswith("away, and start anew")


def test_the_next_command_is_called_as_this_one_was(folder, tmp_path, capsys, monkeypatch):
    monkeypatch.setattr("sys.argv", [".venv/bin/pattern-release"])
    with pytest.raises(SystemExit):
        main(["start", str(folder), "--from", str(tmp_path / "nest.svg")])
    assert "next: .venv/bin/pattern-release check" in capsys.readouterr().out


def test_nothing_is_overwritten(folder, tmp_path):
    (folder / "CHANGES.md").write_text("mine")
    start(folder, [tmp_path / "nest.svg"])
    assert (folder / "CHANGES.md").read_text() == "mine"
    before = (folder / "pattern.toml").read_text()
    with pytest.raises(NoStartError, match="is there already"):
        start(folder, [])
    assert (folder / "pattern.toml").read_text() == before


def test_a_drawing_that_tells_of_no_piece_writes_nothing_and_says_what_to_do(folder, tmp_path):
    (tmp_path / "nest.svg").write_text(drawing().replace("seam", "lines"), encoding="utf-8")
    with pytest.raises(NoStartError, match='"Size 34" / "Front" / "seam"'):
        start(folder, [tmp_path / "nest.svg"])
    with pytest.raises(NoStartError, match="has no SVG or DXF"):
        start(folder, [])
    assert list(folder.iterdir()) == []


def test_what_a_booklet_shows_and_a_logo_are_no_drawings(folder, tmp_path):
    for name in ("booklet/cover.svg", "booklet/figures/pocket.svg", "drawing/Logo.svg", "drawing/nest.svg"):
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_text(drawing(), encoding="utf-8")
    assert start(folder, [])[0].startswith("1 drawing: ")
    said = tomllib.loads((folder / "pattern.toml").read_text())
    assert said["masters"]["drawings"] == ["drawing/nest.svg"]


def test_a_booklet_s_figure_that_is_named_as_a_drawing_is_refused(folder):
    cover = folder / "booklet/cover.svg"
    cover.parent.mkdir()
    cover.write_text(drawing(), encoding="utf-8")
    with pytest.raises(NoStartError, match="is what the booklet shows, and no drawing of pieces"):
        start(folder, [cover])
    with pytest.raises(NoStartError, match="has no SVG or DXF of pieces"):
        start(folder, [])


def test_sizes_are_ordered_as_people_order_them():
    layers = "".join(
        f'<g data-name="Size {size}"><g data-name="Front"><g data-name="seam"><path d="M0 0H9V9Z"/></g></g></g>'
        for size in ("XL", "S", "3XL", "XS", "M", "XXL", "L", "110", "98")
    )
    look = look_at(
        {"nest.svg": f'<svg xmlns="http://www.w3.org/2000/svg" width="9mm" height="9mm">{layers}</svg>'.encode()}
    )
    assert look.sizes == ("98", "110", "XS", "S", "M", "L", "XL", "XXL", "3XL")
    assert look.pieces == {"front": "Front"}


def test_the_command_ends_with_1_where_nothing_was_written(folder, capsys):
    with pytest.raises(SystemExit) as ended:
        main(["start", str(folder)])
    assert ended.value.code == 1
    assert "has no SVG or DXF" in capsys.readouterr().err


def test_a_drawing_without_groups_of_roles_is_proposed_by_shape(folder, tmp_path):
    (tmp_path / "nest.svg").write_text(bare(), encoding="utf-8")
    told = start(folder, [tmp_path / "nest.svg"])
    assert told[0] == "1 drawing: sizes S, M, L; pieces front-panel, klappe"
    assert told[1].startswith("no group is called seam, so that it is proposed by shape")
    said = (folder / "pattern.toml").read_text()
    assert "\nby_shape = true  # proposed: " in said
    assert "# edges.cf = { fold = true }  # proposed" in said
    found = copy_folder(folder, tmp_path / "work/bag")
    assert [each.message for each in found.findings if each.severity == "block"] == []
    assert found.told[1:] == ("edges of each piece: front-panel 4, klappe 3; 9 notches in all", "grain drawn in 6 of 6")


def test_outlines_that_are_named_themselves_are_pieces(folder, tmp_path):
    text = bare()
    for layer, shape in (("Front panel", "<path"), ("Klappe", "<polygon")):
        text = text.replace(f'<g data-name="{layer}">{shape}', f'<g>{shape} data-name="{layer}"')
    (tmp_path / "nest.svg").write_text(text, encoding="utf-8")
    assert start(folder, [tmp_path / "nest.svg"])[0] == "1 drawing: sizes S, M, L; pieces front-panel, klappe"


def test_a_layer_of_several_outlines_without_names_is_told_with_what_to_do(folder, tmp_path):
    text = bare().replace('<g data-name="Front panel">', "<g>").replace('<g data-name="Klappe">', "<g>")
    (tmp_path / "nest.svg").write_text(text, encoding="utf-8")
    told = "\n".join(start(folder, [tmp_path / "nest.svg"]))
    assert "Where they are two pieces, give each outline the name of its piece." in told

"""Drawings as masters: what is read for certain, what is told, and that a change of one size is that of one size."""

from pathlib import Path

import pytest

from pipeline.geometry.points import Point
from pipeline.masters.copied import changed_since
from pipeline.masters.drawings.write import origin_of
from pipeline.masters.read_size import read_size
from tests.masters.drawings.small import AROUND, GROWN, HEAD, drawing, flap, front, taken, told

WITHOUT = AROUND.replace('around = ["top", "side", "hem", "cf"]\n', "")


def names(place: Path, found, size: str) -> dict[str, list[str]]:
    """The edges of each piece in a size, in walking order from the top."""
    pieces, _ = read_size(found.pattern, place / "work/bag", size)
    walks = {piece.piece: [edge.name for edge in piece.edges] for piece in pieces}
    return {piece: walk[(at := walk.index(min(walk, key="top".__ne__))) :] + walk[:at] for piece, walk in walks.items()}


def test_every_size_has_its_masters_with_edges_and_notches_named_as_the_base(tmp_path):
    base = front("m").replace('<circle cx="144.0"', '<circle data-name="a" cx="144.0"')
    base = base.replace('<circle cx="164.0"', '<circle data-name="b" cx="164.0"')
    found = taken(tmp_path, drawing(front_m=base))
    assert told(found) == []
    for size in "sml":
        assert names(tmp_path, found, size) == {"front": ["top", "side", "hem", "cf"], "flap": ["top", "right", "left"]}
    pieces, _ = read_size(found.pattern, tmp_path / "work/bag", "l")
    notches = [(notch.edge, notch.name) for notch in pieces[0].notches]
    assert notches == [("side", "a"), ("side", "b"), ("cf", None)]


def test_what_was_found_is_said_in_a_few_lines(tmp_path):
    assert taken(tmp_path, drawing()).told == (
        "read nest.svg: 6 outlines of 2 pieces; sizes s, m, l",
        "edges of each piece: front 4, flap 3; 9 notches in all",
        "grain drawn in 6 of 6",
    )


def test_edges_are_named_by_texts_beside_those_of_the_base_size(tmp_path):
    words = (("top", 75, 24), ("side", 170, 120), ("hem", 105, 224), ("cf", 24, 120))
    texts = "".join(f'<text x="{x}" y="{y}"><tspan>{said}</tspan></text>' for said, x, y in words)
    found = taken(tmp_path, drawing(more=f'<g data-name="names">{texts}</g>'), WITHOUT)
    assert told(found) == []
    assert names(tmp_path, found, "s")["front"] == ["top", "side", "hem", "cf"]


@pytest.mark.parametrize(
    ("texts", "code"),
    [
        ('<text x="85" y="24">top</text>', "edge-without-name"),
        ('<text x="25" y="26">top</text>', "name-between"),
        ('<text x="85" y="24">the top</text>', "bad-name"),
        ('<text x="85" y="24">top</text><text x="95" y="24">neck</text>', "two-names"),
    ],
)
def test_a_text_that_names_no_edge_for_certain_is_told(tmp_path, texts, code):
    found = taken(tmp_path, drawing(more=f'<g data-name="names">{texts}</g>'), WITHOUT)
    assert told(found) == [(code, "front", "m")]


def test_edges_that_are_named_in_both_ways_are_asked_for(tmp_path):
    texts = '<g data-name="names front"><text x="75" y="24">top</text></g>'
    assert told(taken(tmp_path, drawing(more=texts))) == [("named-twice", "front", "m")]


def test_a_closed_outline_without_names_stays_whole(tmp_path):
    found = taken(tmp_path, drawing(), WITHOUT)
    assert told(found) == []
    assert names(tmp_path, found, "l")["front"] == ["outline"]


def test_a_base_that_is_split_into_named_paths_names_the_closed_outlines_of_the_others(tmp_path):
    parts = {"top": "M20,20 H124", "side": "M124,20 L204,220", "hem": "M204,220 L20,234", "cf": "M20,234 V20"}
    seam = "".join(f'<path data-name="{name}" d="{data}"/>' for name, data in parts.items())
    found = taken(tmp_path, drawing(front_m=f'<g data-name="seam">{seam}</g>'), WITHOUT)
    assert told(found) == []
    assert names(tmp_path, found, "s")["front"] == ["top", "side", "hem", "cf"]


def test_neighbours_of_one_name_are_one_edge(tmp_path):
    found = taken(tmp_path, drawing(), AROUND.replace('"side", "hem"', '"side", "side"'))
    assert told(found) == []
    assert names(tmp_path, found, "m")["front"] == ["top", "side", "cf"]


def test_a_smooth_joint_is_an_edges_end_where_it_is_marked(tmp_path):
    marked = {f"front_{s}": front(s) + '<g data-name="corners"><circle cx="20.3" cy="130" r="1"/></g>' for s in "sml"}
    found = taken(tmp_path, drawing(**marked), AROUND.replace('"cf"]', '"cf", "upper"]'))
    assert told(found) == []
    assert names(tmp_path, found, "l")["front"] == ["top", "side", "hem", "cf", "upper"]


@pytest.mark.parametrize(
    ("changed", "code"),
    [
        ("M120,20 L200,220 L20,230 V26 L26,20 Z", "corner-extra"),
        ("M120,20 L200,220 L20,230 V40 C20,30 30,20 40,20 Z", "corner-missing"),
        ("M120,20 L20,230 V20 Z", "corner-missing"),
        ("M100,230 L20,30 L200,20 V230 Z", "piece-turned"),
        ("M100,20 L20,220 L200,230 V20 Z", "piece-mirrored"),
    ],
)
def test_nothing_is_guessed_of_a_size_whose_corners_are_not_those_of_the_next(tmp_path, changed, code):
    found = taken(tmp_path, drawing(front_s=f'<g data-name="seam"><path d="{changed}"/></g>'))
    assert told(found)[0] == (code, "front", "s")
    assert "sizes/s/front.svg" not in found.hashes


def test_around_must_name_as_many_edges_as_there_are_corners(tmp_path):
    found = taken(tmp_path, drawing(), AROUND.replace('"hem", "cf"', '"hem"'))
    assert told(found) == [("around-count", "front", "m")]


def test_a_first_corner_that_is_not_clear_is_asked_for(tmp_path):
    found = taken(tmp_path, drawing(), AROUND.replace('start = "first"\n', ""))
    assert told(found) == []
    even = '<g data-name="seam"><polygon points="480,30 560,110 400,110"/></g>'
    found = taken(tmp_path, drawing(flap_m=even), AROUND.replace('start = "first"\n', ""))
    assert told(found) == [("two-starts", "flap", "m")]
    assert told(taken(tmp_path, drawing(flap_m=even))) == [("no-start", "flap", "m")]


def test_both_sides_of_what_does_not_match_are_told_at_once(tmp_path):
    found = taken(tmp_path, drawing().replace("Size L", "Size XL").replace("Front panel", "Front pannel"))
    (finding,) = [each for each in found.findings if each.severity == "block"]
    assert finding.code == "not-matched"
    assert "nothing of front; flap in size l" in finding.message
    assert '"Front pannel"' in finding.message
    assert 'Rename the layer "Front pannel" to "Front panel"' in finding.remedy


def test_the_layer_that_may_be_the_one_missing_piece_is_asked_for_and_not_one_that_is_there(tmp_path):
    old = f'<g data-name="Old front"><g data-name="Size S">{front("s").replace("-s", "-old")}</g></g>'
    found = taken(tmp_path, drawing(more=old).replace("Klappe", "Deckel"))
    (finding,) = [each for each in found.findings if each.severity == "block"]
    assert finding.remedy.startswith('If "Deckel" is the piece flap, rename the layer to "flap"')
    found = taken(tmp_path, drawing(more=old))
    (finding,) = [each for each in found.findings if each.severity == "block"]
    assert finding.remedy.startswith('Take "Old front" out of the drawing, or hide it')


def test_edges_that_have_no_names_are_counted_as_corners(tmp_path):
    found = taken(tmp_path, drawing(), AROUND.replace('around = ["top", "right", "left"]\nstart = "first"\n', ""))
    assert found.told[1].startswith("edges of each piece: front 4, flap 3 without names")


def test_a_hidden_size_is_told_as_hidden(tmp_path):
    found = taken(tmp_path, drawing().replace('<g data-name="Size L"', '<g style="display:none" data-name="Size L"'))
    (finding,) = [each for each in found.findings if each.severity == "block"]
    assert 'Show "Size L"' in finding.remedy


def test_names_that_contradict_each_other_or_mean_two_things_are_told(tmp_path):
    found = taken(tmp_path, drawing(more=f'<g data-name="s"><g data-name="m front">{front("m")}</g></g>'))
    assert "names-contradict" in {code for code, _, _ in told(found)}
    found = taken(tmp_path, drawing(), AROUND.replace("Klappe", "Vorderteil").replace("Flap", "Klappe"))
    assert "not-matched" not in {code for code, _, _ in told(found)}
    found = taken(tmp_path, drawing(), AROUND.replace('"Vorderteil"', '"Klappe"'))
    assert "name-ambiguous" in {code for code, _, _ in told(found)}


def test_a_drawing_that_nothing_claims_is_told_with_what_to_write(tmp_path):
    found = taken(tmp_path, drawing(), head=HEAD.replace('drawings = ["*.svg"]', ""))
    (finding,) = [each for each in found.findings if each.code == "unclaimed-drawing"]
    assert 'drawings = ["nest.svg"]' in finding.remedy
    assert "no-master" not in {each.code for each in found.findings if each.piece == "flap"}


def test_what_a_files_name_says_need_not_be_said_again(tmp_path):
    folder = tmp_path / "source/bag"
    (folder / "drawing/l").mkdir(parents=True)
    for size in "sm":
        body = f'<g data-name="front">{front(size)}</g><g data-name="flap">{flap(size)}</g>'
        text = drawing().split("<g", 1)[0] + body + "</svg>"
        (folder / f"drawing/{size}.svg").write_text(text, encoding="utf-8")
    for piece, draw in (("front", front), ("flap", flap)):
        (folder / f"drawing/l/{piece}.svg").write_text(drawing().split("<g", 1)[0] + draw("l") + "</svg>")
    head = HEAD.replace('"*.svg"', '"drawing/*.svg", "drawing/*/*.svg"')
    found = taken(tmp_path, drawing(), head=head)
    assert told(found) == []
    assert names(tmp_path, found, "l")["flap"] == ["top", "right", "left"]


def test_masters_in_files_of_their_own_may_be_closed_outlines_too(tmp_path):
    folder = tmp_path / "source/bag"
    for size in "sml":
        (folder / f"sizes/{size}").mkdir(parents=True)
        for piece, draw in (("front", front), ("flap", flap)):
            (folder / f"sizes/{size}/{piece}.svg").write_text(drawing().split("<g", 1)[0] + draw(size) + "</svg>")
    found = taken(tmp_path, drawing(), head=HEAD.replace('[masters]\ndrawings = ["*.svg"]\n', ""))
    assert told(found) == []
    assert names(tmp_path, found, "s")["front"] == ["top", "side", "hem", "cf"]
    assert changed_since(folder, tmp_path / "work/bag") == []


def test_one_changed_size_changes_the_masters_of_that_size_alone(tmp_path):
    before = taken(tmp_path, drawing())
    after = taken(tmp_path, "\n\n" + drawing(front_l=front("l").replace("M60,200", "M61,200")))
    changed = {name for name in after.hashes if before.hashes[name] != after.hashes[name]}
    assert changed == {".drawn/nest.svg", "sizes/l/front.svg"}


def test_what_changes_after_it_was_read_is_named(tmp_path):
    taken(tmp_path, drawing())
    folder, copy = tmp_path / "source/bag", tmp_path / "work/bag"
    assert changed_since(folder, copy) == []
    (folder / "nest.svg").write_text(drawing() + "\n")
    (folder / "more.svg").write_text(drawing())
    assert changed_since(folder, copy) == ["more.svg", "nest.svg"]


def test_a_piece_in_two_drawings_and_a_master_beside_a_drawing_are_told(tmp_path):
    folder = tmp_path / "source/bag"
    (folder / "sizes/s").mkdir(parents=True)
    (folder / "sizes/s/flap.svg").write_text(drawing())
    found = taken(tmp_path, drawing(), AROUND.replace('around = ["top", "right", "left"]\nstart = "first"\n', ""))
    assert told(found) == [("two-masters", None, None)]
    (folder / "sizes/s/flap.svg").unlink()
    (folder / "again.svg").write_text(drawing())
    assert {code for code, _, _ in told(taken(tmp_path, drawing()))} == {"two-masters"}


def test_a_finding_of_a_master_names_the_drawing_its_layers_and_the_object(tmp_path):
    off = front("s").replace('cx="20" cy="100"', 'cx="40" cy="100"')
    found = taken(tmp_path, drawing(front_s=off))
    master = (tmp_path / "work/bag/sizes/s/front.svg").read_bytes()
    assert origin_of(master).file == "nest.svg"
    _, findings = read_size(found.pattern, tmp_path / "work/bag", "s")
    (stray,) = [each for each in findings if each.code == "notch-off-seam"]
    assert stray.object == "circle 3 of notches in Size S / Front panel"


def hip(size: str, said: str = ' data-name="hip"') -> str:
    """The front, whose second notch on the side has a name."""
    g = GROWN[size]
    return front(size).replace(f'<circle cx="{160 + g}"', f'<circle{said} cx="{160 + g}"')


SPLIT = AROUND.replace('"side", "hem", "cf"]', '"side", "vent", "hem", "cf"]\ncorners = ["hip"]')


def test_an_edge_ends_at_a_notch_that_the_piece_names_as_a_corner(tmp_path):
    found = taken(tmp_path, drawing(**{f"front_{size}": hip(size) for size in GROWN}), SPLIT)
    assert told(found) == []
    for size in GROWN:
        (piece,) = [p for p in read_size(found.pattern, tmp_path / "work/bag", size)[0] if p.piece == "front"]
        assert [edge.name for edge in piece.edges] == ["top", "side", "vent", "hem", "cf"]
        place = piece.edge("vent").path[0].start
        assert place == piece.edge("side").path[-1].end
        assert place.distance(Point(160 + GROWN[size], 120)) < 0.2
        assert {notch.edge for notch in piece.notches if notch.name == "hip"} == {"side", "vent"}


def test_a_notch_that_edges_may_begin_at_is_named_by_start(tmp_path):
    begun = SPLIT.replace(
        'around = ["top", "side", "vent", "hem", "cf"]', 'around = ["vent", "hem", "cf", "top", "side"]\nstart = "hip"'
    )
    found = taken(tmp_path, drawing(**{f"front_{size}": hip(size) for size in GROWN}), begun)
    assert told(found) == []
    (piece,) = [p for p in read_size(found.pattern, tmp_path / "work/bag", "l")[0] if p.piece == "front"]
    assert piece.edge("vent").path[0].start.distance(Point(168, 120)) < 0.2


def test_a_size_without_the_notch_that_is_a_corner_is_told(tmp_path):
    found = taken(tmp_path, drawing(front_s=front("s"), front_m=hip("m"), front_l=hip("l")), SPLIT)
    assert ("corner-notch", "front", "s") in told(found)
    (finding,) = [each for each in found.findings if each.code == "corner-notch"]
    assert "hip" in finding.message
    (missing,) = [each for each in found.findings if each.code == "corner-missing"]
    assert "a corner that is marked in the size beside it is not marked here" in missing.message


def test_sizes_of_an_outline_that_fits_turned_too_are_told_in_the_order_of_the_pattern(tmp_path):
    def strip(size: str) -> str:
        top = 20 + GROWN[size]
        mark = f'<g data-name="corners"><circle data-name="first" cx="20" cy="{top}" r="1"/></g>' if size == "m" else ""
        grain = '<g data-name="grain"><path d="M60,200 V60"/></g>'
        return f'<g data-name="seam"><path d="M20,{top} H200 V230 H20 Z"/></g>{mark}{grain}'

    said = AROUND.replace('"cf"]\n', '"cf"]\nstart = "first"\n')
    found = taken(tmp_path, drawing(**{f"front_{size}": strip(size) for size in GROWN}), said)
    notes = [each.message for each in found.findings if (each.code, each.piece) == ("symmetrical", "front")]
    assert [note.partition(", in ")[2].partition(":")[0] for note in notes] == ["size s, l"], found.findings

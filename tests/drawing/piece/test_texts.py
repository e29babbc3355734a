"""What is written on a piece: it can be read, stands in its place, clear of lines, joints and other texts."""

import itertools

import msgspec
import pytest
import shapely

from pipeline.drawing.nest.page_joints import Joints, joint_lines
from pipeline.drawing.pages.piece_doubts import piece_findings
from pipeline.drawing.piece.pieces import draw_nest, draw_projector_nest
from pipeline.drawing.styles import NESTED
from pipeline.geometry.curves import Line
from pipeline.model.pieces import CutPiece, InsideLine
from pipeline.words import say
from tests.drawing import stack_factory as factory
from tests.drawing.piece.hand_built import MAKES, NAMES, NESTS, PATTERN, ids, in_nest
from tests.drawing.seen import lines, texts
from tests.drawing.stack_factory import SIZES, P, back, collar, cut_piece, front, pattern_of, pocket, stack, tab


@pytest.mark.parametrize("make", MAKES, ids=ids)
def test_the_text_block_is_inside_every_size_and_crossed_by_no_line(make):
    cuts, drawings = stack(make), NESTS[make.__name__]
    ground = shapely.intersection_all([in_nest(cut.seam_drawn, cut) for cut in cuts.values()])
    written = [text for text in texts(drawings) if text.anchor == "start"]
    said = " ".join(text.content for text in written)
    number = PATTERN.pieces[make.__name__].number
    for words in (
        f"{make.__name__.capitalize()} · Vorderteil",
        "Work jacket · Arbeitsjacke",
        f"Piece {number} of 5 · Teil {number} von 5 · Version 1.0.0",
        "Sizes · Größen",
        "Cut 2 in main cloth",
        "2 × in Oberstoff",
        "mm (1/4 in)" if make is tab else "1 cm (3/8 in)",
    ):
        assert words in said
    assert [text.content for text in written if text.content in SIZES] == list(SIZES)
    for text in written:
        assert ground.contains(text.box), text.content
        for line in lines(drawings):
            assert not line.shape.intersects(text.box), (text.content, line)


def welt(size: str, step: int, breadth_mm: float = 4.0) -> CutPiece:
    """A strip that is too narrow for words, with a line to fold on along its middle."""
    half = breadth_mm / 2
    outline = factory.chain(P(0, 0), P(breadth_mm, 0), P(breadth_mm, 20), P(0, 20))
    cut = cut_piece("welt", size, outline, 1.0, grain=(P(half / 2, 18), P(half / 2, 2)))
    middle = InsideLine(name="fold", path=(Line(P(half, 0), P(half, 20)),), closed=False, kind="fold")
    return msgspec.structs.replace(cut, drawn=msgspec.structs.replace(cut.drawn, inside=(middle,)))


@pytest.mark.parametrize("style", ["nested", "projected"])
@pytest.mark.parametrize("breadth_mm", [4.0, 8.0])
def test_a_piece_too_small_for_words_shows_its_number_in_six_points_or_more(style, breadth_mm):
    pattern, cuts = pattern_of("front", "welt"), {size: welt(size, 0, breadth_mm) for size in SIZES}
    drawn = draw_projector_nest(pattern, cuts, 0) if style == "projected" else draw_nest(pattern, cuts, 0)
    (number,) = [text for text in texts(drawn) if text.anchor == "start" and text.content == "2"]
    assert number.size_mm >= 6 / 72 * 25.4
    assert style == "nested" or breadth_mm < 8 or number.size_mm >= 4, "as large as it can be read from afar"
    assert number.sizes == SIZES


@pytest.mark.parametrize("make", MAKES, ids=ids)
@pytest.mark.parametrize("turns", range(4))
def test_no_line_crosses_any_text_and_no_two_texts_overlap(make, turns):
    drawings = draw_nest(PATTERN, stack(make), turns)
    seen, strokes = texts(drawings), lines(drawings)
    tree = shapely.STRtree([line.shape for line in strokes])
    for text in seen:
        crossing = [strokes[k] for k in tree.query(text.box, predicate="intersects")]
        assert not crossing, (text.content, text.sizes, crossing[0])
    for a, b in itertools.combinations(seen, 2):
        assert not a.box.intersects(b.box), (a.content, b.content)


@pytest.mark.parametrize("make", MAKES, ids=ids)
@pytest.mark.parametrize("turns", range(4))
def test_texts_are_upright_whatever_the_turn(make, turns):
    for text in texts(draw_nest(PATTERN, stack(make), turns)):
        assert -100 <= text.turned_deg <= 81, text  # read from below or from the right


@pytest.mark.parametrize("turns", range(4))
def test_the_block_stands_level_where_there_is_room(turns):
    title = next(text for text in texts(draw_nest(PATTERN, stack(front), turns)) if text.content.startswith("Front"))
    assert title.turned_deg == 0


@pytest.mark.parametrize("make", [front, back, collar], ids=ids)
def test_every_size_is_written_along_its_own_line_at_two_places_or_more(make):
    drawings = NESTS[make.__name__]
    for size in SIZES:
        along = [text for text in texts(drawings) if text.content == size and text.size_mm <= 3 and text.bold]
        on_cut = [text for text in along if text.sizes == (size,)]
        assert len(on_cut) >= 2, size


@pytest.mark.parametrize("make", MAKES, ids=ids)
def test_a_label_in_a_line_is_parallel_to_it_and_stands_in_its_gap(make):
    cuts, drawings = stack(make), NESTS[make.__name__]
    outlines = {size: in_nest(cut.cut_drawn, cut).exterior for size, cut in cuts.items()}
    sizes_alone = [text for text in texts(drawings) if text.content in SIZES and text.size_mm in NESTED.cut_label_mm]
    for text in sizes_alone:
        assert outlines[text.content].distance(text.box.centroid) < 0.7, text
        assert abs(outlines[text.content].intersection(text.box.buffer(1.5)).length) > 3
    assert make in (pocket, tab) or len(sizes_alone) >= 2 * len(SIZES)


def test_with_one_size_on_its_slot_alone_is_read():
    words = [text.content for text in texts(d for d in NESTS["front"] if "38" in d.sizes)]
    assert "38" in words
    assert not set(words) & (set(SIZES) - {"38"})
    assert any(word.startswith("Sizes · Größen") for word in words)


@pytest.mark.parametrize(("grain", "words"), [("bias", "Cut on the bias"), ("weft", "Cut on the cross grain")])
@pytest.mark.parametrize("make", MAKES, ids=ids)
def test_a_piece_off_the_grain_says_so_at_its_arrow_and_in_its_block(make, grain, words):
    pattern = pattern_of(*NAMES)
    spec = msgspec.structs.replace(pattern.pieces[make.__name__], grain=grain)
    pattern = msgspec.structs.replace(pattern, pieces={**pattern.pieces, make.__name__: spec})
    seen = texts(draw_nest(pattern, stack(make), 0))
    at_arrow = " ".join(text.content for text in seen if text.anchor == "middle")
    in_block = " ".join(text.content for text in seen if text.anchor == "start")
    assert say("en", f"piece.grain-{grain}") in at_arrow
    assert say("de", f"piece.grain-{grain}") in at_arrow
    assert words in in_block
    assert make is tab or "zuschneiden: Pfeil im Winkel" in in_block, "at its arrow a tab says it in German too"


def test_every_arrow_has_its_words_however_little_room_there_is():
    for make in MAKES:
        for turns in range(4):
            seen = " ".join(text.content for text in texts(draw_nest(PATTERN, stack(make), turns)))
            assert "Grain" in seen
            assert "Fadenlauf" in seen


def test_the_text_stands_on_one_page_where_there_is_room():
    whole = [text.box for text in texts(NESTS["front"]) if text.anchor == "start"]
    middle = shapely.union_all(whole).centroid
    joints = Joints((round(middle.x, 1),), (round(middle.y, 1),))
    lines_of_joints = joint_lines([joints], (-500.0, -500.0, 500.0, 900.0))
    assert any(box.intersects(lines_of_joints) for box in whole)
    seen = texts(draw_nest(PATTERN, stack(front), 0, joints=[joints]))
    for text in seen:
        if text.anchor == "start" or "Grain" in text.content:
            assert not text.box.intersects(lines_of_joints), text.content


def test_where_all_joints_leave_no_room_the_first_file_counts():
    dense = Joints(tuple(range(-300, 400, 12)), ())
    first = Joints((110.0,), ())
    seen = texts(draw_nest(PATTERN, stack(front), 0, joints=[first, dense]))
    line = joint_lines([first], (-500.0, -500.0, 500.0, 900.0))
    assert not any(text.box.intersects(line) for text in seen if text.anchor == "start")


def test_the_block_stands_where_the_designer_drew_its_rectangle():
    corners = (P(20, 300), P(180, 300), P(180, 380), P(20, 380))
    cuts = {"44": cut_piece("front", "44", factory.chain(P(0, 0), P(200, 0), P(200, 400), P(0, 400)), label=corners)}
    pattern = pattern_of("front", sizes=("44",))
    wanted = in_nest(corners, cuts["44"])
    written = [text for text in texts(draw_nest(pattern, cuts, 0)) if text.content.startswith(("Front", "Cut", "Incl"))]
    assert len(written) == 3
    assert all(wanted.contains(text.box) for text in written)


def test_a_strip_too_narrow_for_level_text_has_it_turned_to_be_read_from_the_right():
    outline = factory.chain(P(0, 0), P(14, 0), P(14, 400), P(0, 400))
    cuts = {"44": cut_piece("front", "44", outline, grain=(P(3, 380), P(3, 20)))}
    drawings = draw_nest(pattern_of("front", sizes=("44",)), cuts, 0)
    title = next(text for text in texts(drawings) if text.content.startswith("Front"))
    assert title.turned_deg == -90
    assert in_nest(cuts["44"].seam_drawn, cuts["44"]).contains(title.box)


def test_a_title_is_rather_set_smaller_than_parted_again_and_again():
    """Beside its grain line the piece is as wide as four words of the title, one below the other, in the usual size."""
    outline = factory.chain(P(0, 0), P(60, 0), P(60, 400), P(0, 400))
    cuts = {"44": cut_piece("front", "44", outline, grain=(P(3, 380), P(3, 20)))}
    made = pattern_of("front", sizes=("44",))
    title = {"en": "Short left sleeve", "de": "Kurzer linker Ärmel"}
    spec = msgspec.structs.replace(made.pieces["front"], title=title)
    drawn = draw_nest(msgspec.structs.replace(made, pieces={"front": spec}), cuts, 0)
    block = [text for text in texts(drawn) if text.anchor == "start"]
    largest = max(text.size_mm for text in block)
    assert [text.content for text in block if text.size_mm == largest] == ["Short left sleeve ·", "Kurzer linker Ärmel"]


def narrow(width_mm: float, length_mm: float) -> CutPiece:
    """A strip with its grain across its middle, so that neither half has room for the words of two languages."""
    outline = factory.chain(P(0, 0), P(width_mm, 0), P(width_mm, length_mm), P(0, length_mm))
    middle = length_mm / 2
    return cut_piece("front", "44", outline, grain=(P(1, middle), P(width_mm - 1, middle)))


def test_where_no_place_holds_two_languages_each_has_one_of_its_own():
    pattern, cut = pattern_of("front", sizes=("44",)), narrow(22, 110)
    drawings = draw_nest(pattern, {"44": cut}, 0)
    written = [text for text in texts(drawings) if text.anchor == "start"]
    said = " ".join(text.content for text in written)
    assert "Cut 2 in main cloth" in said
    assert "2 × in Oberstoff zuschneiden" in said
    assert min(text.size_mm for text in written) >= 6 / 72 * 25.4
    heights = {text.box.centroid.y > shapely.Polygon(in_nest(cut.seam_drawn, cut)).centroid.y for text in written}
    assert heights == {True, False}, "on both sides of the arrow"
    assert list(piece_findings(pattern, {"front": {"44": cut}}, drawings)) == []


@pytest.mark.parametrize("draw", [lambda *args: draw_nest(*args, "plain"), draw_projector_nest], ids=["plain", "far"])
@pytest.mark.parametrize("width_mm", range(16, 64, 4))
def test_what_is_said_of_the_grain_of_a_small_tab_keeps_off_its_own_arrow(draw, width_mm):
    pattern, cut = pattern_of("front", sizes=("44",), nap="one-way"), narrow(width_mm, 110)
    drawn = draw(pattern, {"44": cut}, 0)
    bottom, top = cut.drawn.grain.bottom, cut.drawn.grain.top
    arrow = in_nest((bottom, top, top), cut).exterior
    said = [text for text in texts(drawn) if text.content.startswith(say("en", "piece.grain-warp"))]
    assert said or draw is draw_projector_nest
    assert [text.content for text in said if text.box.distance(arrow) < 1.0] == []


def test_a_language_that_finds_no_room_is_told_with_its_piece():
    pattern, cut = pattern_of("front", sizes=("44",)), narrow(16, 50)
    *_, told = piece_findings(pattern, {"front": {"44": cut}}, draw_nest(pattern, {"44": cut}, 0))
    assert (told.code, told.severity, told.found) == ("left-out-on-pieces", "info", "front")
    assert "in de how" in told.message
    alone = msgspec.structs.replace(pattern, languages=("de",))
    assert list(piece_findings(alone, {"front": {"44": cut}}, draw_nest(alone, {"44": cut}, 0))) == []


def test_a_letter_that_the_font_lacks_is_told_with_its_text():
    with pytest.raises(ValueError, match=r"'裁'.*Work 裁"):
        draw_nest(pattern_of("front", title="Work 裁"), stack(front, ["38"]), 0)


def test_counts_that_differ_by_size_stand_each_in_its_sizes():
    pattern = pattern_of("front", sizes=("34", "36", "38"))
    spec = pattern.pieces["front"]
    cut = msgspec.structs.replace(spec.cut[0], count={"34": 2, "36": 2, "38": 4}, mirrored={"34": 1, "36": 1, "38": 2})
    pattern = msgspec.structs.replace(pattern, pieces={"front": msgspec.structs.replace(spec, cut=(cut,))})
    seen = texts(draw_nest(pattern, stack(front, ("34", "36", "38")), 0))
    said = {text.sizes: text.content for text in seen if ": Cut" in text.content}
    assert said == {
        ("34", "36"): "34, 36: Cut 2 in main cloth: 1 and 1 mirrored",
        ("38",): "38: Cut 4 in main cloth: 2 and 2 mirrored",
    }


def facing(size: str, step: int) -> CutPiece:
    """A long facing, 14 mm wide as it is sewn: all that a piece says stood on it in letters of 3 points."""
    return cut_piece(
        "facing",
        size,
        factory.chain(P(0, 0), P(330 + step, 0), P(330 + step, 14), P(0, 14)),
        8.0,
        grain=(P(20, 7), P(60, 7)),
    )


@pytest.mark.parametrize("make", [*MAKES, facing], ids=ids)
def test_no_text_is_smaller_than_six_points(make):
    for cuts, style in ((stack(make), "nested"), ({"38": make("38", 2)}, "plain")):
        drawn = draw_nest(pattern_of(*NAMES, "facing"), cuts, 0, style)
        small = {text.content: text.size_mm for text in texts(drawn) if text.size_mm < 6 / 72 * 25.4}
        assert not small

"""Pieces as drawings: what stands in which size's layer, and that texts keep clear of lines and of each other."""

import itertools

import msgspec
import pytest
import shapely

from pipeline.drawing.nest.page_joints import Joints, joint_lines
from pipeline.drawing.nest.stretches import ALIKE_MM
from pipeline.drawing.piece.pieces import draw_projector_stack, draw_stack, in_white
from pipeline.drawing.styles import INSIDE_DASH_MM, NESTED, PLAIN, PROJECTED, SEAM_DASH_MM, size_colour, size_dash_mm
from pipeline.model.curves import Line
from pipeline.model.pieces import CutPiece, InsideLine, MarkPoint
from pipeline.model.points import Point
from pipeline.sheets.layout import nest_affine
from pipeline.words import say
from tests.drawing import stack_factory as factory
from tests.drawing.seen import circles, lines, paths, texts
from tests.drawing.stack_factory import SIZES, P, back, collar, cut_piece, front, pattern_of, pocket, stack, tab

NAMES = ("front", "back", "collar", "pocket", "tab")
MAKES = [front, back, collar, pocket, tab]
PATTERN = pattern_of(*NAMES)
NESTED_STACKS = {make.__name__: draw_stack(PATTERN, stack(make), 0) for make in MAKES}


def in_nest(places: tuple[Point, ...], cut: CutPiece, turns: int = 0) -> shapely.Polygon:
    affine = nest_affine(cut.drawn.anchor, turns)
    return shapely.Polygon([affine.point(place) for place in places])


def ids(make: object) -> str:
    return getattr(make, "__name__", str(make))


@pytest.mark.parametrize("make", MAKES, ids=ids)
def test_the_text_block_is_inside_every_size_and_crossed_by_no_line(make):
    cuts, drawings = stack(make), NESTED_STACKS[make.__name__]
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
    drawn = draw_projector_stack(pattern, cuts, 0) if style == "projected" else draw_stack(pattern, cuts, 0)
    (number,) = [text for text in texts(drawn) if text.anchor == "start" and text.content == "2"]
    assert number.size_mm >= 6 / 72 * 25.4
    assert number.sizes == SIZES


@pytest.mark.parametrize("make", MAKES, ids=ids)
@pytest.mark.parametrize("turns", range(4))
def test_no_line_crosses_any_text_and_no_two_texts_overlap(make, turns):
    drawings = draw_stack(PATTERN, stack(make), turns)
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
    for text in texts(draw_stack(PATTERN, stack(make), turns)):
        assert -100 <= text.turned_deg <= 81, text  # read from below or from the right


@pytest.mark.parametrize("turns", range(4))
def test_the_block_stands_level_where_there_is_room(turns):
    title = next(text for text in texts(draw_stack(PATTERN, stack(front), turns)) if text.content.startswith("Front"))
    assert title.turned_deg == 0


@pytest.mark.parametrize("make", [front, back, collar], ids=ids)
def test_every_size_is_written_along_its_own_line_at_two_places_or_more(make):
    drawings = NESTED_STACKS[make.__name__]
    for size in SIZES:
        along = [text for text in texts(drawings) if text.content == size and text.size_mm <= 3 and text.bold]
        on_cut = [text for text in along if text.sizes == (size,)]
        assert len(on_cut) >= 2, size


@pytest.mark.parametrize("make", MAKES, ids=ids)
def test_a_label_in_a_line_is_parallel_to_it_and_stands_in_its_gap(make):
    cuts, drawings = stack(make), NESTED_STACKS[make.__name__]
    outlines = {size: in_nest(cut.cut_drawn, cut).exterior for size, cut in cuts.items()}
    sizes_alone = [text for text in texts(drawings) if text.content in SIZES and text.size_mm in NESTED.cut_label_mm]
    for text in sizes_alone:
        assert outlines[text.content].distance(text.box.centroid) < 0.7, text
        assert abs(outlines[text.content].intersection(text.box.buffer(1.5)).length) > 3
    assert make in (pocket, tab) or len(sizes_alone) >= 2 * len(SIZES)


def test_with_one_size_on_its_slot_alone_is_read():
    words = [text.content for text in texts(d for d in NESTED_STACKS["front"] if "38" in d.sizes)]
    assert "38" in words
    assert not set(words) & (set(SIZES) - {"38"})
    assert any(word.startswith("Sizes · Größen") for word in words)


def test_each_size_has_its_own_code_and_colour():
    for number, size in enumerate(SIZES, start=1):
        (drawing,) = (drawing for drawing in NESTED_STACKS["front"] if drawing.sizes == (size,))
        cut = [line for line in lines([drawing]) if line.width_mm == NESTED.cut_mm]
        assert {line.stroke for line in cut} == {size_colour(number)}
        assert cut
        for line in cut:
            assert line.dash_mm == pytest.approx(size_dash_mm(number))


def test_what_sizes_share_is_drawn_once_solid_and_labelled_with_all_of_them():
    drawings = NESTED_STACKS["pocket"]
    shared = [line for line in lines(drawings) if line.width_mm == NESTED.cut_mm]
    assert {line.dash_mm for line in shared} == {()}
    assert {line.sizes for line in shared} == {SIZES, SIZES[:6], SIZES[6:]}
    words = {text.content for text in texts(drawings)}
    assert {"34–54", "34–44", "46–54"} <= words


@pytest.mark.parametrize("make", MAKES, ids=ids)
def test_a_layer_shows_the_whole_cut_line_of_its_size(make):
    cuts, drawings = stack(make), NESTED_STACKS[make.__name__]
    for size, cut in cuts.items():
        outline = in_nest(cut.cut_drawn, cut).exterior
        own = [line.shape for line in lines(d for d in drawings if size in d.sizes) if line.width_mm >= NESTED.fold_mm]
        boxes = [text.box.buffer(1.2) for text in texts(drawings)]
        missing = outline.difference(shapely.union_all(own).buffer(ALIKE_MM + 0.05)).difference(
            shapely.union_all(boxes)
        )
        assert missing.length < 1.0, (size, missing.length)


def test_a_fold_is_no_cut_line_and_says_so_in_every_language():
    cuts, drawings = stack(back), NESTED_STACKS["back"]
    fold = in_nest(cuts["34"].cut_drawn, cuts["34"]).exterior
    solid = [line for line in lines(drawings) if line.width_mm == NESTED.cut_mm]
    on_fold = shapely.LineString([(0, -200), (0, 200)]).buffer(0.05)
    assert fold.intersection(on_fold).length > 300
    assert sum(line.shape.intersection(on_fold).length for line in solid) < 5
    words = " ".join(text.content for text in texts(drawings))
    assert "Place on the fold" in words
    assert "im Stoffbruch" in words


def test_one_grain_line_serves_all_sizes_where_they_are_parallel():
    assert [text.sizes for text in texts(NESTED_STACKS["back"]) if "Grain" in text.content] == [SIZES]


def test_grains_that_differ_belong_to_their_sizes():
    cuts = {
        size: cut_piece(
            "front",
            size,
            factory.chain(P(0, 0), P(200, 0), P(200, 300), P(0, 300)),
            grain=(P(100, 280), P(100 + 40 * k, 20)),
            anchor=P(0, 0),
        )
        for k, size in enumerate(("34", "36"))
    }
    drawings = draw_stack(pattern_of("front", sizes=("34", "36")), cuts, 0)
    assert [text.sizes for text in texts(drawings) if "Grain" in text.content] == [("34",), ("36",)]


@pytest.mark.parametrize(("one_way", "heads"), [(True, 1), (False, 2)])
def test_one_head_is_one_way_and_two_are_either(one_way, heads):
    # "One arrow head on a grain line = one way, two = either" (NIMI, Dress Making, p. 32)
    pattern = pattern_of("front", one_way=one_way)
    (drawing,) = draw_stack(pattern, stack(front, ["38"]), 0, "plain")
    assert len([path for path in paths(drawing.shapes) if path.fill]) == heads


def test_points_that_crowd_are_crosses_without_circles_in_a_row_of_sizes_with_a_leader_each():
    drawings = draw_stack(PATTERN, stack(front), 0)  # point "a" steps by 1 mm a size
    assert not any(circles(drawing) for drawing in drawings)
    tags = {text.content: text for text in texts(drawings) if text.size_mm <= NESTED.tag_mm and text.content in SIZES}
    assert set(tags) == set(SIZES)
    height = [tags[size].box.centroid.y for size in SIZES]
    assert height == sorted(height)
    for step, size in enumerate(SIZES):
        place = shapely.Point(60, 420 + step - 90)  # the anchor is (0, 90)
        leaders = [
            line.shape
            for line in lines(drawings)
            if line.sizes == (size,) and line.width_mm == NESTED.clip_mm and line.shape.distance(place) < 1
            if line.shape.distance(tags[size].box) < 1
        ]
        assert len(leaders) == 1, size


def test_places_that_stand_apart_have_circles():
    cuts = stack(front, ["34", "54"])
    drawings = draw_stack(pattern_of("front", sizes=("34", "54")), cuts, 0)
    assert [drawing.sizes for drawing in drawings if circles(drawing)] == [("34",), ("54",)]


@pytest.mark.parametrize("ground", ["paper", "projector"])
def test_one_mark_that_a_single_size_has_is_no_crowd(ground: str):
    """As the seventh buttonhole of the largest size alone; thick lines make no crowd of it either."""
    lone = MarkPoint("lone", P(90, 330))
    look, at = NESTED if ground == "paper" else PROJECTED, shapely.Point(90, 330 - 90)  # the anchor is (0, 90)
    cuts = stack(front, ["34", "54"])
    drawn = msgspec.structs.replace(cuts["54"].drawn, points=(lone,))
    cuts = {
        "34": msgspec.structs.replace(cuts["34"], drawn=msgspec.structs.replace(cuts["34"].drawn, points=())),
        "54": msgspec.structs.replace(cuts["54"], drawn=drawn),
    }
    pattern = pattern_of("front", sizes=("34", "54"))
    drawings = draw_stack(pattern, cuts, 0) if ground == "paper" else draw_projector_stack(pattern, cuts, 0)
    assert [drawing.sizes for drawing in drawings if circles(drawing)] == [("54",)]
    thin = [line for line in lines(drawings) if line.sizes == ("54",) and line.width_mm == look.clip_mm]
    leaders = [line for line in thin if 0.5 < line.shape.distance(at) < 25]  # the mark's own cross is nearer
    assert leaders == []


def test_slits_of_several_lengths_about_one_middle_can_be_drawn():
    cuts = {
        size: msgspec.structs.replace(
            cut,
            drawn=msgspec.structs.replace(
                cut.drawn, points=(MarkPoint("b", P(60, 330), (P(50 - step, 330), P(70 + step, 330))),)
            ),
        )
        for step, (size, cut) in enumerate(stack(front, ["34", "54"]).items())
    }
    drawings = draw_stack(pattern_of("front", sizes=("34", "54")), cuts, 0)
    assert {drawing.sizes for drawing in drawings} >= {("34",), ("54",)}


@pytest.mark.parametrize(("grain", "words"), [("bias", "Cut on the bias"), ("weft", "Cut on the cross grain")])
@pytest.mark.parametrize("make", MAKES, ids=ids)
def test_a_piece_off_the_grain_says_so_at_its_arrow_and_in_its_block(make, grain, words):
    pattern = pattern_of(*NAMES)
    spec = msgspec.structs.replace(pattern.pieces[make.__name__], grain=grain)
    pattern = msgspec.structs.replace(pattern, pieces={**pattern.pieces, make.__name__: spec})
    seen = texts(draw_stack(pattern, stack(make), 0))
    at_arrow = " ".join(text.content for text in seen if text.anchor == "middle")
    in_block = " ".join(text.content for text in seen if text.anchor == "start")
    assert say("en", f"piece.grain-{grain}") in at_arrow
    assert say("de", f"piece.grain-{grain}") in at_arrow
    assert words in in_block
    assert "zuschneiden: Pfeil im Winkel" in in_block


def test_every_arrow_has_its_words_however_little_room_there_is():
    for make in MAKES:
        for turns in range(4):
            seen = " ".join(text.content for text in texts(draw_stack(PATTERN, stack(make), turns)))
            assert "Grain" in seen
            assert "Fadenlauf" in seen


def test_the_text_stands_on_one_page_where_there_is_room():
    whole = [text.box for text in texts(NESTED_STACKS["front"]) if text.anchor == "start"]
    middle = shapely.union_all(whole).centroid
    joints = Joints((round(middle.x, 1),), (round(middle.y, 1),))
    lines_of_joints = joint_lines([joints], (-500.0, -500.0, 500.0, 900.0))
    assert any(box.intersects(lines_of_joints) for box in whole)
    seen = texts(draw_stack(PATTERN, stack(front), 0, joints=[joints]))
    for text in seen:
        if text.anchor == "start" or "Grain" in text.content:
            assert not text.box.intersects(lines_of_joints), text.content


def test_where_all_joints_leave_no_room_the_first_file_counts():
    dense = Joints(tuple(range(-300, 400, 12)), ())
    first = Joints((110.0,), ())
    seen = texts(draw_stack(PATTERN, stack(front), 0, joints=[first, dense]))
    line = joint_lines([first], (-500.0, -500.0, 500.0, 900.0))
    assert not any(text.box.intersects(line) for text in seen if text.anchor == "start")


def test_seam_lines_of_a_nest_are_light_dots_and_of_one_size_solid():
    dots = {line.dash_mm for line in lines(NESTED_STACKS["front"]) if line.width_mm == NESTED.seam_mm}
    assert dots == {SEAM_DASH_MM}
    plain = lines(draw_stack(PATTERN, stack(front, ["38"]), 0, "plain"))
    assert {line.dash_mm for line in plain if line.width_mm == PLAIN.seam_mm} == {()}


def test_a_plain_drawing_is_one_solid_size_with_its_name():
    drawings = draw_stack(PATTERN, stack(front, ["38"]), 0, "plain")
    assert [drawing.sizes for drawing in drawings] == [("38",)]
    assert {line.dash_mm for line in lines(drawings) if line.width_mm == NESTED.cut_mm} == {()}
    assert "Size 38 · Größe 38" in {text.content for text in texts(drawings)}


def test_a_plain_drawing_shows_one_size_only():
    with pytest.raises(ValueError, match="one size, not 11"):
        draw_stack(PATTERN, stack(front), 0, "plain")


def test_the_block_stands_where_the_designer_drew_its_rectangle():
    corners = (P(20, 300), P(180, 300), P(180, 380), P(20, 380))
    cuts = {"44": cut_piece("front", "44", factory.chain(P(0, 0), P(200, 0), P(200, 400), P(0, 400)), label=corners)}
    pattern = pattern_of("front", sizes=("44",))
    wanted = in_nest(corners, cuts["44"])
    written = [
        text for text in texts(draw_stack(pattern, cuts, 0)) if text.content.startswith(("Front", "Cut", "Incl"))
    ]
    assert len(written) == 3
    assert all(wanted.contains(text.box) for text in written)


def test_a_strip_too_narrow_for_level_text_has_it_turned_to_be_read_from_the_right():
    outline = factory.chain(P(0, 0), P(14, 0), P(14, 400), P(0, 400))
    cuts = {"44": cut_piece("front", "44", outline, grain=(P(3, 380), P(3, 20)))}
    drawings = draw_stack(pattern_of("front", sizes=("44",)), cuts, 0)
    title = next(text for text in texts(drawings) if text.content.startswith("Front"))
    assert title.turned_deg == -90
    assert in_nest(cuts["44"].seam_drawn, cuts["44"]).contains(title.box)


def test_a_letter_that_the_font_lacks_is_told_with_its_text():
    with pytest.raises(ValueError, match=r"'裁'.*Work 裁"):
        draw_stack(pattern_of("front", title="Work 裁"), stack(front, ["38"]), 0)


def test_counts_that_differ_by_size_stand_each_in_its_sizes():
    pattern = pattern_of("front", sizes=("34", "36", "38"))
    spec = pattern.pieces["front"]
    cut = msgspec.structs.replace(spec.cut[0], count={"34": 2, "36": 2, "38": 4}, mirrored={"34": 1, "36": 1, "38": 2})
    pattern = msgspec.structs.replace(pattern, pieces={"front": msgspec.structs.replace(spec, cut=(cut,))})
    seen = texts(draw_stack(pattern, stack(front, ("34", "36", "38")), 0))
    said = {text.sizes: text.content for text in seen if ": Cut" in text.content}
    assert said == {
        ("34", "36"): "34, 36: Cut 2 in main cloth: 1 and 1 mirrored",
        ("38",): "38: Cut 4 in main cloth: 2 and 2 mirrored",
    }


def test_the_same_cuts_give_the_same_shapes():
    assert draw_stack(PATTERN, stack(collar), 1) == draw_stack(PATTERN, stack(collar), 1)


def test_a_drawing_holds_all_that_it_draws():
    for drawings in NESTED_STACKS.values():
        for drawing in drawings:
            right, bottom = drawing.left_mm + drawing.width_mm, drawing.top_mm + drawing.height_mm
            frame = shapely.box(drawing.left_mm, drawing.top_mm, right, bottom)
            assert all(frame.contains(text.box) for text in texts([drawing]))
            assert all(frame.contains(line.shape.buffer(line.width_mm / 2)) for line in lines([drawing]))


def test_a_projected_piece_is_whole_with_thick_lines_and_large_sizes():
    cuts = stack(back)
    drawings = draw_projector_stack(PATTERN, cuts, 0)
    strokes = lines(drawings)
    assert all(1.5 <= line.width_mm <= 2.5 for line in strokes)
    left = min(line.shape.bounds[0] for line in strokes)
    right = max(line.shape.bounds[2] for line in strokes)
    assert left == pytest.approx(-right, abs=3)
    assert min(text.size_mm for text in texts(drawings) if text.content in SIZES) >= PROJECTED.tag_mm
    assert not any("fold" in text.content for text in texts(drawings))


def test_white_on_black_is_white():
    drawings = [in_white(drawing) for drawing in draw_projector_stack(PATTERN, stack(front, ["38", "40"]), 0)]
    assert {line.stroke for line in lines(drawings)} == {"#ffffff"}
    assert {text.fill for text in texts(drawings)} == {"#ffffff"}


def test_an_inside_line_alike_in_all_sizes_is_drawn_once_in_all_layers():
    line = Line(P(20, 100), P(120, 100))
    outline = factory.chain(P(0, 0), P(200, 0), P(200, 400), P(0, 400))
    cuts = {
        size: cut_piece("front", size, outline, inside=[("dart", "stitch", (line,))], anchor=P(0, 0))
        for size in ("34", "36")
    }
    drawings = draw_stack(pattern_of("front", sizes=("34", "36")), cuts, 0)
    stitched = [seen for seen in lines(drawings) if seen.dash_mm == INSIDE_DASH_MM["stitch"]]
    assert {seen.sizes for seen in stitched} == {("34", "36")}

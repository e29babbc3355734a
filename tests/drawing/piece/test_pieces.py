"""Pieces as drawings: which lines and marks stand in which size's layer, and how they are drawn."""

import msgspec
import pytest
import shapely

from pipeline.drawing.piece.pieces import draw_nest, draw_projector_nest, in_white
from pipeline.drawing.styles import (
    ALIKE_MM,
    INSIDE_DASH_MM,
    NESTED,
    PLAIN,
    PROJECTED,
    SEAM_DASH_MM,
    size_colour,
    size_dash_mm,
)
from pipeline.geometry.curves import Line
from pipeline.model.pieces import MarkPoint
from tests.drawing import stack_factory as factory
from tests.drawing.piece.hand_built import MAKES, NESTS, PATTERN, ids, in_nest
from tests.drawing.seen import circles, lines, paths, texts
from tests.drawing.stack_factory import SIZES, P, back, collar, cut_piece, front, pattern_of, stack


def test_each_size_has_its_own_code_and_colour():
    for number, size in enumerate(SIZES, start=1):
        (drawing,) = (drawing for drawing in NESTS["front"] if drawing.sizes == (size,))
        cut = [line for line in lines([drawing]) if line.width_mm == NESTED.cut_mm]
        assert {line.stroke for line in cut} == {size_colour(number)}
        assert cut
        for line in cut:
            assert line.dash_mm == pytest.approx(size_dash_mm(number))


def test_what_sizes_share_is_drawn_once_solid_and_labelled_with_all_of_them():
    drawings = NESTS["pocket"]
    shared = [line for line in lines(drawings) if line.width_mm == NESTED.cut_mm]
    assert {line.dash_mm for line in shared} == {()}
    assert {line.sizes for line in shared} == {SIZES, SIZES[:6], SIZES[6:]}
    words = {text.content for text in texts(drawings)}
    assert {"34–54", "34–44", "46–54"} <= words


@pytest.mark.parametrize("make", MAKES, ids=ids)
def test_a_layer_shows_the_whole_cut_line_of_its_size(make):
    cuts, drawings = stack(make), NESTS[make.__name__]
    for size, cut in cuts.items():
        outline = in_nest(cut.cut_drawn, cut).exterior
        own = [line.shape for line in lines(d for d in drawings if size in d.sizes) if line.width_mm >= NESTED.fold_mm]
        boxes = [text.box.buffer(1.2) for text in texts(drawings)]
        missing = outline.difference(shapely.union_all(own).buffer(ALIKE_MM + 0.05)).difference(
            shapely.union_all(boxes)
        )
        assert missing.length < 1.0, (size, missing.length)


def test_a_fold_is_no_cut_line_and_says_so_in_every_language():
    cuts, drawings = stack(back), NESTS["back"]
    fold = in_nest(cuts["34"].cut_drawn, cuts["34"]).exterior
    solid = [line for line in lines(drawings) if line.width_mm == NESTED.cut_mm]
    on_fold = shapely.LineString([(0, -200), (0, 200)]).buffer(0.05)
    assert fold.intersection(on_fold).length > 300
    assert sum(line.shape.intersection(on_fold).length for line in solid) < 5
    words = " ".join(text.content for text in texts(drawings))
    assert "Place on the fold" in words
    assert "im Stoffbruch" in words


def test_one_grain_line_serves_all_sizes_where_they_are_parallel():
    assert [text.sizes for text in texts(NESTS["back"]) if "Grain" in text.content] == [SIZES]


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
    drawings = draw_nest(pattern_of("front", sizes=("34", "36")), cuts, 0)
    assert [text.sizes for text in texts(drawings) if "Grain" in text.content] == [("34",), ("36",)]


@pytest.mark.parametrize(("nap", "heads"), [("one-way", 1), ("none", 2)])
def test_one_head_is_one_way_and_two_are_either(nap, heads):
    # "One arrow head on a grain line = one way, two = either" (NIMI, Dress Making, p. 32)
    pattern = pattern_of("front", nap=nap)
    (drawing,) = draw_nest(pattern, stack(front, ["38"]), 0, "plain")
    assert len([path for path in paths(drawing.shapes) if path.fill]) == heads


def test_points_that_crowd_are_crosses_without_circles_in_a_row_of_sizes_with_a_leader_each():
    drawings = draw_nest(PATTERN, stack(front), 0)  # point "a" steps by 1 mm a size
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
    drawings = draw_nest(pattern_of("front", sizes=("34", "54")), cuts, 0)
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
    drawings = draw_nest(pattern, cuts, 0) if ground == "paper" else draw_projector_nest(pattern, cuts, 0)
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
    drawings = draw_nest(pattern_of("front", sizes=("34", "54")), cuts, 0)
    assert {drawing.sizes for drawing in drawings} >= {("34",), ("54",)}


def test_seam_lines_of_a_nest_are_light_dots_and_of_one_size_solid():
    dots = {line.dash_mm for line in lines(NESTS["front"]) if line.width_mm == NESTED.seam_mm}
    assert dots == {SEAM_DASH_MM}
    plain = lines(draw_nest(PATTERN, stack(front, ["38"]), 0, "plain"))
    assert {line.dash_mm for line in plain if line.width_mm == PLAIN.seam_mm} == {()}


def test_a_plain_drawing_is_one_solid_size_with_its_name():
    drawings = draw_nest(PATTERN, stack(front, ["38"]), 0, "plain")
    assert [drawing.sizes for drawing in drawings] == [("38",)]
    assert {line.dash_mm for line in lines(drawings) if line.width_mm == NESTED.cut_mm} == {()}
    assert "Size 38 · Größe 38" in {text.content for text in texts(drawings)}


def test_a_plain_drawing_shows_one_size_only():
    with pytest.raises(ValueError, match="one size, not 11"):
        draw_nest(PATTERN, stack(front), 0, "plain")


def test_the_same_cuts_give_the_same_shapes():
    assert draw_nest(PATTERN, stack(collar), 1) == draw_nest(PATTERN, stack(collar), 1)


def test_a_drawing_holds_all_that_it_draws():
    for drawings in NESTS.values():
        for drawing in drawings:
            right, bottom = drawing.left_mm + drawing.width_mm, drawing.top_mm + drawing.height_mm
            frame = shapely.box(drawing.left_mm, drawing.top_mm, right, bottom)
            assert all(frame.contains(text.box) for text in texts([drawing]))
            assert all(frame.contains(line.shape.buffer(line.width_mm / 2)) for line in lines([drawing]))


def test_a_projected_piece_is_whole_with_thick_lines_and_large_sizes():
    cuts = stack(back)
    drawings = draw_projector_nest(PATTERN, cuts, 0)
    strokes = lines(drawings)
    assert all(1.5 <= line.width_mm <= 2.5 for line in strokes)
    left = min(line.shape.bounds[0] for line in strokes)
    right = max(line.shape.bounds[2] for line in strokes)
    assert left == pytest.approx(-right, abs=3)
    assert min(text.size_mm for text in texts(drawings) if text.content in SIZES) >= PROJECTED.tag_mm
    assert not any("fold" in text.content for text in texts(drawings))


def test_white_on_black_is_white():
    drawings = [in_white(drawing) for drawing in draw_projector_nest(PATTERN, stack(front, ["38", "40"]), 0)]
    assert {line.stroke for line in lines(drawings)} == {"#ffffff"}
    assert {text.fill for text in texts(drawings)} == {"#ffffff"}


def test_an_inside_line_alike_in_all_sizes_is_drawn_once_in_all_layers():
    line = Line(P(20, 100), P(120, 100))
    outline = factory.chain(P(0, 0), P(200, 0), P(200, 400), P(0, 400))
    cuts = {
        size: cut_piece("front", size, outline, inside=[("dart", "stitch", (line,))], anchor=P(0, 0))
        for size in ("34", "36")
    }
    drawings = draw_nest(pattern_of("front", sizes=("34", "36")), cuts, 0)
    stitched = [seen for seen in lines(drawings) if seen.dash_mm == INSIDE_DASH_MM["stitch"]]
    assert {seen.sizes for seen in stitched} == {("34", "36")}

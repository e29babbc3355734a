"""Clips, pleats and points of darts: none is taken for a notch, and the key shows what stands on the pieces."""

import math

import msgspec
import pytest
import shapely

from pipeline.drawing.drawing import shown_signs
from pipeline.drawing.nest.one_size import in_nest
from pipeline.drawing.nest.sewing_marks import CLIP_ALIKE_MM, arrow_ink, clip_ink, tip_ink
from pipeline.drawing.nest.takes import take_marks
from pipeline.drawing.panels.marks_key import ALL_SIGNS
from pipeline.drawing.styles import BLACK, NESTED, PROJECTED, Look
from pipeline.geometry.points import Point
from tests.drawing.demo_nests import DEMOS, demo, nested

CLIP = (Point(0, 0), Point(0, 7))
"""Of an allowance of 10 mm: from the cut line to 3 mm before the seam line."""


@pytest.mark.parametrize("look", [NESTED, PROJECTED])
def test_a_clip_is_an_open_v_that_stands_off_the_cut_line_and_off_the_seam_line(look: Look) -> None:
    ((left, tip), (again, right)) = clip_ink(CLIP, ("36",), BLACK, look).strokes
    assert tip == again == CLIP[1]
    assert left.y == right.y < tip.y
    assert left.x == -right.x != 0
    assert min(left.y, right.y) > 2.0, "a notch begins on the cut line, a clip does not"


def test_clips_of_several_sizes_close_by_are_one_and_stay_off_every_seam_line() -> None:
    _, cuts = demo("work-jacket")
    for drawn in nested("work-jacket"):
        by_size = {size: in_nest(cut, drawn.quarter_turns) for size, cut in cuts[drawn.piece].items()}
        for drawing in drawn.drawings:
            assert ("clip" in drawing.signs) <= any(by_size[size].clips for size in drawing.sizes)
    assert CLIP_ALIKE_MM <= 3.0 / 2, "half of what a snip leaves"


def test_a_pleats_arrow_points_from_its_first_notch_to_its_second_inside_the_piece() -> None:
    pattern, cuts = demo("work-jacket")
    for cut in cuts["lining-back"].values():
        places = {notch.name: notch.place for notch in cut.drawn.notches if notch.edge == "neck"}
        ((start, end),) = take_marks(pattern, cut).arrows
        wanted, way = places["pleat-fold"].to(places["pleat"]), start.to(end)
        assert wanted.cross(way) == pytest.approx(0, abs=1e-6)
        assert wanted.dot(way) > 0
        assert shapely.Polygon(cut.seam_outline).buffer(0.1).contains(shapely.LineString((start, end)))
    (_, tail_head) = arrow_ink((start, end), ("36",), BLACK, NESTED).strokes[:2]
    assert math.isclose(tail_head[1].distance(end), 0.0, abs_tol=1e-9)


def test_a_pleats_arrow_lies_inside_however_many_points_the_outline_has_along_it() -> None:
    """A trued waist may have most of a piece's points between its notches."""
    pattern, cuts = demo("work-jacket")
    cut = cuts["lining-back"]["40"]
    fold, place, *rest = cut.seam_drawn
    along = [fold.plus(fold.to(place).scaled(k / 1000)) for k in range(1, 1000)]
    ((start, end),) = take_marks(pattern, msgspec.structs.replace(cut, seam_drawn=(fold, *along, place, *rest))).arrows
    assert shapely.Polygon(cut.seam_drawn).buffer(0.1).contains(shapely.LineString((start, end)))


def test_a_dart_has_a_ring_at_its_point_where_no_point_is_drawn_there() -> None:
    pattern, cuts = demo("work-jacket")
    cut = cuts["upper-sleeve"]["40"]
    assert take_marks(pattern, cut).tips == (), "the designer drew a point"
    bare = msgspec.structs.replace(cut, drawn=msgspec.structs.replace(cut.drawn, points=()))
    (tip,) = take_marks(pattern, bare).tips
    drawn = next(mark.place for mark in cut.drawn.points if mark.name == "dart-tip")
    assert tip.distance(drawn) < 3.0
    assert tip_ink(tip, ("40",), BLACK, NESTED).sign == "dart-tip"


@pytest.mark.parametrize("name", DEMOS)
def test_every_sign_of_a_demo_is_one_that_the_key_knows(name: str) -> None:
    shown = shown_signs(drawing for drawn in nested(name) for drawing in drawn.drawings)
    assert {"cut", "seam"} <= shown <= set(ALL_SIGNS)


def test_a_nest_shows_the_small_crosses_of_crowded_points_and_the_key_tells_of_them() -> None:
    shown = shown_signs(drawing for drawn in nested("work-jacket") for drawing in drawn.drawings)
    assert {"point-small", "clip", "notch", "fold", "buttonhole", "pleat", "line-level", "line-adjust"} <= shown
    assert "grain-one" not in shown


def test_a_nest_shows_one_arrow_for_a_pleat_that_all_sizes_have_side_by_side() -> None:
    drawn = next(drawn for drawn in nested("work-jacket") if drawn.piece == "lining-back")
    (shown,) = [drawing.sizes for drawing in drawn.drawings if "pleat" in drawing.signs]
    assert shown == tuple(drawn.cuts)

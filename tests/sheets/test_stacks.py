import pytest

from pipeline.geometry.points import Point
from pipeline.sheets.layout import Placement
from pipeline.sheets.stacks import FOLD_ROOM_MM, LABEL_ROOM_MM, moved, stacks_of
from tests.sheets.samples import GROWN_MM, cut_piece, pattern, rectangle, stacks


def test_sizes_lie_on_each_other_at_their_anchors():
    small = cut_piece("front", rectangle(100, 200), "34", anchor=(0, 0))
    large = cut_piece("front", [(500, 500), (620, 500), (620, 740), (500, 740)], "38", anchor=(500, 500))
    (stack,) = stacks(small, large)
    assert stack.sizes == ("34", "38")
    assert stack.region.bounds == pytest.approx((-GROWN_MM, -GROWN_MM, 120 + GROWN_MM, 240 + GROWN_MM), abs=1e-6)


def test_the_region_of_a_nest_is_the_union_not_the_largest_size():
    wide = cut_piece("tab", rectangle(300, 50), "34")
    tall = cut_piece("tab", rectangle(50, 300), "38")
    (stack,) = stacks(wide, tall)
    arm = 50 + 2 * GROWN_MM
    assert stack.region.area == pytest.approx(2 * (300 + 2 * GROWN_MM) * arm - arm**2, rel=1e-6)


def test_a_fold_keeps_room_for_its_sign_beyond_the_fold_edge():
    # the left edge, walked upward: outward of a clockwise outline is to the left
    fold = (Point(0, 200), Point(0, 0))
    (stack,) = stacks(cut_piece("back", rectangle(100, 200), fold=fold))
    left, top, right, bottom = stack.region.bounds
    assert left == pytest.approx(-FOLD_ROOM_MM)
    assert (top, right, bottom) == pytest.approx((-GROWN_MM, 100 + GROWN_MM, 200 + GROWN_MM), abs=1e-6)
    assert LABEL_ROOM_MM < FOLD_ROOM_MM


def test_a_whole_stack_is_the_opened_outline_without_a_fold_sign():
    half, whole = rectangle(100, 200), [(-100.0, 0.0), (100.0, 0.0), (100.0, 200.0), (-100.0, 200.0)]
    cut = cut_piece("back", half, fold=(Point(0, 200), Point(0, 0)), whole=whole)
    (stack,) = stacks_of(pattern(("back",)), {"back": {"38": cut}}, whole=True)
    assert stack.region.bounds == pytest.approx((-100 - GROWN_MM, -GROWN_MM, 100 + GROWN_MM, 200 + GROWN_MM), abs=1e-6)


@pytest.mark.parametrize(
    ("turns", "box"),
    [(0, (0, 0, 100, 40)), (1, (-40, 0, 0, 100)), (2, (-100, -40, 0, 0)), (3, (0, -100, 40, 0))],
)
def test_a_placement_turns_clockwise_about_the_anchor_then_moves(turns, box):
    (stack,) = stacks(cut_piece("tab", rectangle(100, 40)))
    there = moved(stack.lines["38"], Placement("tab", 1000.0, 2000.0, turns)).bounds
    line = 0.55
    expected = (1000 + box[0] - line, 2000 + box[1] - line, 1000 + box[2] + line, 2000 + box[3] + line)
    assert there == pytest.approx(expected, abs=1e-6)

"""Stretches that sizes share are drawn once, and every size gets back its whole line."""

import itertools
import math

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from pipeline.drawing.nest.segments import NEAR_SHARE
from pipeline.drawing.nest.stretches import DRAWN_ERROR_MM, Chain, Stretch, length_mm, shared_stretches
from pipeline.drawing.styles import ALIKE_MM
from pipeline.geometry.points import Point

THINNED_ALIKE_MM = ALIKE_MM - DRAWN_ERROR_MM
"""What is left of the tolerance for lines that are thinned already, as those of these tests are."""


def box(width: float, height: float, left: float = 0, top: float = 0) -> tuple[Chain, ...]:
    corners = ((left, top), (left + width, top), (left + width, top + height), (left, top + height))
    return (Chain(tuple(Point(*corner) for corner in corners), True),)


def ellipse(a: float, b: float, count: int = 200, phase: float = 0.0) -> tuple[Chain, ...]:
    angles = [phase + 2 * math.pi * k / count for k in range(count)]
    return (Chain(tuple(Point(a * math.cos(t), b * math.sin(t)) for t in angles), True),)


def lengths_by_set(stretches: tuple[Stretch, ...]) -> dict[tuple[str, ...], float]:
    found: dict[tuple[str, ...], float] = {}
    for stretch in stretches:
        found[stretch.sizes] = found.get(stretch.sizes, 0.0) + length_mm(stretch)
    return found


def off_mm(some: list[shapely.LineString], others: list[shapely.LineString]) -> float:
    """How far lines lie from others at the most, looked at from both, every 0.25 mm."""

    def from_one(one: list[shapely.LineString], other: list[shapely.LineString]) -> float:
        near = shapely.union_all(other)
        shapely.prepare(near)
        places = shapely.get_coordinates(shapely.segmentize(one, 0.25))
        return float(shapely.distance(near, shapely.points(places)).max())

    return max(from_one(some, others), from_one(others, some))


def drawn_off_mm(stack: dict[str, tuple[Chain, ...]]) -> float:
    """How far what is drawn for a size lies from its own line, at the most of all sizes."""
    found = shared_stretches(stack)
    return max(
        off_mm(
            [shapely.LineString(stretch.ring) for stretch in found if size in stretch.sizes],
            [shapely.LineString(chain.ring) for chain in chains],
        )
        for size, chains in stack.items()
    )


def test_one_size_keeps_its_line():
    (stretch,) = shared_stretches({"34": box(10, 5)})
    assert stretch == Stretch(("34",), box(10, 5)[0].points, True)


def test_alike_in_all_sizes_is_one_closed_line():
    (stretch,) = shared_stretches({"34": box(10, 5), "36": box(10, 5), "38": box(10, 5)})
    assert stretch.sizes == ("34", "36", "38")
    assert stretch.closed


def test_alike_though_drawn_from_other_points():
    found = shared_stretches({"34": ellipse(100, 150), "36": ellipse(100, 150, 260, phase=0.3)})
    assert {stretch.sizes for stretch in found} == {("34", "36")}


def test_what_differs_by_more_than_the_tolerance_is_apart():
    found = shared_stretches({"34": box(10, 5), "36": box(10, 5, top=3 * ALIKE_MM)})
    assert ("34", "36") not in {stretch.sizes for stretch in found if length_mm(stretch) > 5}


def test_straight_edges_that_run_on_are_shared_as_far_as_the_shorter_goes():
    found = lengths_by_set(shared_stretches({"34": box(100, 50), "36": box(120, 50), "38": box(130, 60)}))
    assert found == pytest.approx(
        {
            ("34", "36", "38"): 150,
            ("34", "36"): 100,
            ("36", "38"): 20,
            ("34",): 50,
            ("36",): 70,
            ("38",): 60 + 130 + 10 + 10,
        }
    )


def test_lines_that_only_cross_share_nothing():
    found = shared_stretches({"34": box(100, 20, 0, 40), "36": box(20, 100, 40, 0)})
    assert {stretch.sizes for stretch in found} == {("34",), ("36",)}


def test_an_open_line_stays_open():
    line = (Chain((Point(0, 0), Point(50, 0)), False),)
    longer = (Chain((Point(0, 0), Point(80, 0)), False),)
    assert lengths_by_set(shared_stretches({"34": line, "36": longer})) == pytest.approx(
        {("34", "36"): 50, ("36",): 30}
    )


def test_a_fan_of_lines_each_near_to_the_next_is_drawn_near_to_every_size():
    # each size rises 0.015 mm more over 200 mm: neighbours are alike, the first and the last are not
    stack = {str(34 + 2 * k): (Chain((Point(0, 0), Point(200, 0.015 * k)), False),) for k in range(8)}
    found = shared_stretches(stack)
    assert 1 < len(found) < 8 * 3
    for size, (chain,) in stack.items():
        own = [shapely.LineString(stretch.points) for stretch in found if size in stretch.sizes]
        assert sum(line.length for line in own) == pytest.approx(200, abs=0.2)
        whole = shapely.LineString(chain.points)
        assert off_mm(own, [whole]) <= THINNED_ALIKE_MM


@st.composite
def stacks(draw: st.DrawFn) -> dict[str, tuple[Chain, ...]]:
    """Outlines of two to five sizes whose corners move on a coarse grid, so that edges often lie on each other."""
    count = draw(st.integers(2, 5))
    step = st.integers(0, 3).map(lambda k: 10.0 * k)
    stack = {}
    for index in range(count):
        right, bottom, cut = (draw(step) for _ in range(3))
        corners = ((0, 0), (100 + right, 0), (100 + right, 60), (70 + cut, 90 + bottom), (0, 90 + bottom))
        stack[str(34 + 2 * index)] = (Chain(tuple(Point(*corner) for corner in corners), True),)
    return stack


@given(stacks())
@settings(max_examples=150)
def test_every_size_gets_back_its_line_and_nothing_is_drawn_twice(stack):
    found = shared_stretches(stack)
    for size, (chain,) in stack.items():
        own = [stretch for stretch in found if size in stretch.sizes]
        whole = shapely.LineString(chain.ring)
        assert sum(length_mm(stretch) for stretch in own) == pytest.approx(whole.length, abs=0.2)
        assert off_mm([shapely.LineString(stretch.ring) for stretch in own], [whole]) <= THINNED_ALIKE_MM
    for a, b in itertools.combinations(found, 2):
        overlap = shapely.LineString(a.ring).buffer(0.001).intersection(shapely.LineString(b.ring))
        assert overlap.length <= 0.5, (a, b)


def test_a_small_step_beside_the_middle_of_a_part_is_no_shared_line():
    """Both ends and the middle of the straight line lie near: the corner between them does not."""
    stepped = (Chain(tuple(Point(*at) for at in ((0, 0), (50, 0), (50.1, 0.13), (50.6, 0), (100, 0))), False),)
    stack = {"34": stepped, "36": (Chain((Point(0, 0), Point(100, 0)), False),)}
    assert drawn_off_mm(stack) <= THINNED_ALIKE_MM
    assert lengths_by_set(shared_stretches(stack))["34", "36"] == pytest.approx(99.4, abs=0.1)


def test_slender_points_of_three_sizes_that_lie_in_each_other_are_drawn_apart():
    """Where lines turn back on themselves, an end that is moved by a little leaves the size's own line."""
    points = {
        "34": ((-0.01, -0.04), (59.75, -0.07), (60.04, 20), (60.12, 0.05), (119.94, 0.03), (120, 59.98), (0.06, 59.91)),
        "36": ((-0.07, -0.04), (59.88, -0.04), (60.13, 8.04), (60.29, -0.05), (120.01, 0.04), (120.13, 60), (0.09, 60)),
        "38": ((-0.02, 0.08), (59.98, 0.07), (60.01, 8.08), (60.1, 0.06), (119.99, 0.02), (120.07, 59.96), (0, 60.07)),
    }
    stack = {size: (Chain(tuple(Point(*at) for at in found), True),) for size, found in points.items()}
    assert drawn_off_mm(stack) <= THINNED_ALIKE_MM


@st.composite
def nearly_alike(draw: st.DrawFn) -> dict[str, tuple[Chain, ...]]:
    """Outlines that hardly grade: one side bows a little, and every corner may lie up to 0.15 mm elsewhere.

    A corner may be cut off by a chord, as the corners of allowances are.
    """
    off = st.integers(-15, 15).map(lambda k: k / 100)
    stack = {}
    for index in range(draw(st.integers(2, 5))):
        bow = 5 + draw(off)
        side = [(120.0, 80.0 * k / 12) for k in range(13)]
        side = [(x + bow * math.sin(math.pi * y / 80), y) for x, y in side]
        chamfer = draw(st.sampled_from([0.0, 0.1, 0.2, 0.4, 3.0]))
        low = [(chamfer, 80.0), (0.0, 80.0 - chamfer)] if chamfer else [(0.0, 80.0)]
        corners = [(0.0, 0.0), (60.0, 0.0), *side, *low]
        moved = [Point(x + draw(off), y + draw(off)) if draw(st.booleans()) else Point(x, y) for x, y in corners]
        stack[str(34 + 2 * index)] = (Chain(tuple(moved), True),)
    return stack


@given(nearly_alike())
@settings(max_examples=150)
def test_what_is_drawn_for_a_size_that_hardly_grades_lies_within_the_tolerance_of_its_line(stack):
    assert drawn_off_mm(stack) <= THINNED_ALIKE_MM


@pytest.mark.parametrize(
    ("apart", "shared"), [(NEAR_SHARE * ALIKE_MM - 0.002, True), (NEAR_SHARE * ALIKE_MM + 0.002, False)]
)
def test_how_near_a_line_must_lie_to_be_shown_by_another(apart, shared):
    line = (Chain((Point(0, 0), Point(80, 0)), False),)
    beside = (Chain((Point(0, apart), Point(80, apart)), False),)
    assert (len(shared_stretches({"34": line, "36": beside})) == 1) == shared

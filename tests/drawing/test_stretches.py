"""Stretches that sizes share are drawn once, and every size gets back its whole line."""

import itertools
import math

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from pipeline.drawing.stretches import ALIKE_MM, Chain, Stretch, length_mm, shared_stretches
from pipeline.model.points import Point


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
        assert shapely.hausdorff_distance(shapely.union_all(own), whole, densify=0.01) <= 2 * ALIKE_MM + 0.06


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
@settings(max_examples=150, deadline=None)
def test_every_size_gets_back_its_line_and_nothing_is_drawn_twice(stack):
    found = shared_stretches(stack)
    for size, (chain,) in stack.items():
        own = [stretch for stretch in found if size in stretch.sizes]
        whole = shapely.LineString(chain.ring)
        drawn = shapely.union_all([shapely.LineString(stretch.ring) for stretch in own])
        assert sum(length_mm(stretch) for stretch in own) == pytest.approx(whole.length, abs=0.2)
        assert shapely.hausdorff_distance(drawn, whole, densify=0.02) <= 3 * ALIKE_MM
    for a, b in itertools.combinations(found, 2):
        overlap = shapely.LineString(a.ring).buffer(0.001).intersection(shapely.LineString(b.ring))
        assert overlap.length <= 0.5, (a, b)

"""A width that changes along a line: through what is given, smoothly, never past it."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pipeline.model.widths import width_at

STEP = 1e-7


def test_two_places_are_joined_by_a_straight_line():
    assert [width_at(((0, 25), (1, 10)), share) for share in (0, 0.25, 1)] == [25, 21.25, 10]


def test_between_two_even_stretches_it_runs_down_by_the_cubic_that_leaves_both_level():
    knots = ((0, 25), (0.2, 25), (0.6, 10), (1, 10))
    for t in (0, 0.1, 0.5, 0.9, 1):
        assert width_at(knots, 0.2 + 0.4 * t) == pytest.approx(25 - 15 * (3 * t**2 - 2 * t**3))
    assert (width_at(knots, 0.1), width_at(knots, 0.8)) == (25, 10)


def test_an_end_of_the_line_keeps_the_slope_of_the_straight_line():
    """From level to the slope r at the end: r (2 t² - t³)."""
    for t in (0.3, 0.7, 1):
        assert width_at(((0, 25), (0.6, 25), (1, 10)), 0.6 + 0.4 * t) == pytest.approx(25 - 15 * (2 * t**2 - t**3))


@st.composite
def some_knots(draw):
    places = sorted(draw(st.lists(st.floats(0.05, 0.95), max_size=4, unique_by=lambda place: round(place, 2))))
    widths = draw(st.lists(st.floats(0, 30), min_size=len(places) + 2, max_size=len(places) + 2))
    return tuple(zip((0.0, *places, 1.0), widths, strict=True))


@given(some_knots(), st.floats(0, 1))
def test_it_is_nowhere_wider_or_narrower_than_at_the_places_beside_it(knots, place):
    before = max((knot for knot in knots[:-1] if knot[0] <= place), key=lambda knot: knot[0])
    after = knots[knots.index(before) + 1]
    low, high = sorted((before[1], after[1]))
    assert low - 1e-9 <= width_at(knots, place) <= high + 1e-9


@given(some_knots())
def test_it_has_no_corner_and_meets_every_place(knots):
    for place, width in knots:
        assert width_at(knots, place) == pytest.approx(width, abs=1e-9)
    for place, _ in knots[1:-1]:
        middle = width_at(knots, place)
        slopes = [(width_at(knots, place + way * STEP) - middle) / (way * STEP) for way in (-1, 1)]
        assert slopes[0] == pytest.approx(slopes[1], abs=1.0, rel=1e-2)

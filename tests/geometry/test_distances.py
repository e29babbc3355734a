"""Distances of places from chains and outlines, with shapely as a second engine."""

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from pipeline.geometry.distances import outside_mm, right_of_mm, to_line_mm
from pipeline.geometry.points import Point, foot_share

numbers = st.integers(-5000, 5000).map(lambda number: number / 10)
places = st.builds(Point, numbers, numbers)
SQUARE = (Point(0, 0), Point(10, 0), Point(10, 10), Point(0, 10))


@given(places, st.lists(places, min_size=2, max_size=8, unique=True))
def test_a_place_lies_as_far_from_a_chain_as_shapely_says(place, chain):
    expected = shapely.Point(place).distance(shapely.LineString(chain))
    assert to_line_mm(place, chain) == pytest.approx(expected, abs=1e-9)
    assert abs(right_of_mm(place, chain)[0]) == pytest.approx(expected, abs=1e-9)


def test_a_chain_without_length_is_a_place():
    assert to_line_mm(Point(3, 4), (Point(0, 0), Point(0, 0))) == 5


def test_the_foot_on_a_chord_is_told_as_a_share_of_it():
    start, end = Point(0, 0), Point(10, 0)
    assert [foot_share(Point(x, 7), start, end) for x in (-3, 0, 4, 10, 12)] == [0, 0, 0.4, 1, 1]
    assert foot_share(Point(3, 4), start, start) == 0


def test_the_right_of_a_chain_is_where_it_is_walked_clockwise_around():
    right, foot = right_of_mm(Point(4, 3), (Point(0, 0), Point(10, 0)))
    assert (right, foot) == (3, Point(4, 0))
    assert right_of_mm(Point(4, -3), (Point(0, 0), Point(10, 0)))[0] == -3


@given(places)
def test_a_place_lies_as_far_outside_a_square_as_shapely_says(place):
    assert outside_mm(place, SQUARE) == pytest.approx(shapely.Polygon(SQUARE).distance(shapely.Point(place)), abs=1e-9)

"""Chains of chords: closed forms, and shapely as a second engine."""

import math

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from pipeline.geometry.chains import (
    arc_lengths,
    chord_lengths,
    chords_at,
    closed,
    coordinates,
    foot_shares,
    passed,
    places_along,
    turn_rad,
    turns_rad,
)
from pipeline.geometry.points import Point, Vector

ELBOW = np.array([(0.0, 0.0), (30.0, 40.0), (30.0, 52.0)])
numbers = st.integers(-5000, 5000).map(lambda number: number / 10)
places = st.tuples(numbers, numbers)
chains = st.lists(places, min_size=2, max_size=8, unique=True).map(lambda points: np.array(points, dtype=float))


def test_points_are_rows():
    assert coordinates((Point(1, 2), Point(3, 4))).tolist() == [[1, 2], [3, 4]]
    assert coordinates(()).shape == (0, 2)


def test_a_closed_chain_ends_where_it_begins():
    assert closed(ELBOW).tolist() == [*ELBOW.tolist(), [0, 0]]


def test_lengths_along_an_elbow():
    assert chord_lengths(ELBOW).tolist() == [50, 12]
    assert arc_lengths(ELBOW).tolist() == passed(chord_lengths(ELBOW)).tolist() == [0, 50, 62]


def test_a_polygon_with_many_corners_is_as_long_as_its_closed_form():
    """The regular polygon of n corners on a circle of radius r: 2 n r sin(π / n)."""
    count, radius = 720, 100.0
    angles = np.arange(count) * 2 * math.pi / count
    ring = closed(np.column_stack((np.cos(angles), np.sin(angles))) * radius)
    assert arc_lengths(ring)[-1] == pytest.approx(2 * count * radius * math.sin(math.pi / count), rel=1e-12)


@given(chains)
def test_a_chain_is_as_long_as_shapely_says(chain):
    assert arc_lengths(chain)[-1] == pytest.approx(shapely.length(shapely.linestrings(chain)), rel=1e-12)


def test_places_along_an_elbow_and_beyond_its_ends():
    along = arc_lengths(ELBOW)
    assert places_along(ELBOW, along, np.array((-1.0, 25.0, 50.0, 56.0, 99.0))).tolist() == [
        [0, 0],
        [15, 20],
        [30, 40],
        [30, 46],
        [30, 52],
    ]
    assert places_along(ELBOW, along, 25.0).tolist() == [15, 20]
    assert places_along(ELBOW, along, np.zeros((3, 4))).shape == (3, 4, 2)


@given(chains, st.integers(0, 100))
def test_a_place_along_a_chain_is_where_shapely_says(chain, percent):
    along = arc_lengths(chain)
    at = along[-1] * percent / 100
    expected = shapely.get_coordinates(shapely.line_interpolate_point(shapely.linestrings(chain), at))[0]
    assert places_along(chain, along, at) == pytest.approx(expected, abs=1e-9)


def test_a_corner_belongs_to_the_chord_that_begins_there_and_the_end_to_the_last():
    assert chords_at(arc_lengths(ELBOW), np.array((-1.0, 0.0, 49.9, 50.0, 62.0, 99.0))).tolist() == [0, 0, 0, 1, 1, 1]


@given(st.lists(st.tuples(places, places), min_size=1, max_size=5))
def test_turns_of_rows_are_those_of_single_vectors(pairs):
    ones, others = (np.array([pair[k] for pair in pairs], dtype=float) for k in (0, 1))
    single = [turn_rad(one, other) for one, other in zip(ones, others, strict=True)]
    assert turns_rad(ones, others) == pytest.approx(single, abs=1e-12)
    assert single == pytest.approx([Vector(*one).turn_rad(Vector(*other)) for one, other in pairs], abs=1e-12)


def test_a_turn_to_the_right_on_the_page_is_positive():
    assert turn_rad(np.array((1.0, 0.0)), np.array((0.0, 2.0))) == math.pi / 2


def test_the_foot_of_a_place_on_a_chord_and_past_its_ends():
    starts, steps = np.zeros((3, 2)), np.full((3, 2), (10.0, 0.0))
    assert foot_shares(np.array([(4.0, 3.0), (-5.0, 1.0), (17.0, 0.0)]), starts, steps).tolist() == [0.4, 0, 1]


def test_a_chord_without_length_has_its_foot_at_its_start():
    assert foot_shares(np.array((3.0, 4.0)), np.zeros((1, 2)), np.zeros((1, 2))).tolist() == [0]


@given(chains, places)
def test_the_nearest_foot_on_a_chain_lies_as_far_off_as_shapely_says(chain, place):
    here, steps = np.array(place, dtype=float), np.diff(chain, axis=0)
    feet = chain[:-1] + steps * foot_shares(here, chain[:-1], steps)[:, None]
    nearest = np.hypot(*(here - feet).T).min()
    assert nearest == pytest.approx(shapely.distance(shapely.Point(place), shapely.linestrings(chain)), abs=1e-9)

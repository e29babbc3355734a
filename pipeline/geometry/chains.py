"""Chains of chords as arrays: lengths along them, places on them, turns, the points of them that lie nearest.

A chain is its points in order, shape (n, 2); a closed one repeats its first point. Lengths are in mm, angles in
radians, clockwise on the page positive.
"""

import math
from collections.abc import Sequence
from itertools import chain as chained

import numpy as np
import numpy.typing as npt

from pipeline.geometry.points import Point

Array = npt.NDArray[np.float64]
"""Points or vectors, shape (n, 2), or one of shape (2,), or numbers, shape (n,)."""
_NO_LENGTH_MM2 = 1e-18


def coordinates(points: Sequence[Point]) -> Array:
    """Points as rows of an array: numpy alone takes five times as long to look into each of them."""
    return np.fromiter(chained.from_iterable(points), np.float64, 2 * len(points)).reshape(-1, 2)


def closed(ring: Array) -> Array:
    """A ring that does not repeat its first point, as a chain that does."""
    return np.vstack((ring, ring[:1]))


def chord_lengths(points: Array) -> Array:
    """Length of each chord, shape (n - 1,)."""
    return np.asarray(np.hypot(*np.diff(points, axis=0).T))


def passed(lengths: Array) -> Array:
    """What lies before each corner of a chain, and before its end, of chords so long: shape (n,), the first is 0."""
    return np.concatenate(([0.0], np.cumsum(lengths)))


def arc_lengths(points: Array) -> Array:
    """How far along a chain each of its points lies, shape (n,), the first at 0."""
    return passed(chord_lengths(points))


def places_along(points: Array, along: Array, at: Array | float) -> Array:
    """The places so far along a chain whose `arc_lengths` are `along`; beyond its ends, the ends.

    `at` has any shape; the answer has one axis more, of x and y.
    """
    return np.stack((np.interp(at, along, points[:, 0]), np.interp(at, along, points[:, 1])), axis=-1)


def chords_at(along: Array, at: Array) -> npt.NDArray[np.intp]:
    """The number of the chord in which each place along a chain lies: at a corner the one that begins there."""
    return np.clip(np.searchsorted(along, at, side="right") - 1, 0, len(along) - 2)


def turn_rad(one: Array, two: Array) -> float:
    """The angle from one direction to another, shape (2,) each, from -π to π."""
    return math.atan2(one[0] * two[1] - one[1] * two[0], float(one @ two))


def turns_rad(one: Array, two: Array) -> Array:
    """The angles from directions to others, row by row, shape (n, 2) each."""
    cross = one[:, 0] * two[:, 1] - one[:, 1] * two[:, 0]
    return np.asarray(np.arctan2(cross, np.einsum("ij,ij->i", one, two)))


def foot_shares(places: Array, starts: Array, steps: Array) -> Array:
    """Where on a chord each place has its nearest point: at 0 the chord's start, at 1 its end.

    Places, starts and steps (from start to end) have shape (n, 2), row by row, or (2,) for one that is held against
    all. A chord without length answers 0.
    """
    gaps, steps = np.broadcast_arrays(places - starts, steps)
    square = np.maximum(np.einsum("ij,ij->i", steps, steps), _NO_LENGTH_MM2)
    return np.asarray(np.clip(np.einsum("ij,ij->i", gaps, steps) / square, 0.0, 1.0))

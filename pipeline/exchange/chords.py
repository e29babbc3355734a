"""Outlines with as few chords as a tolerance leaves, and which of their vertices are corners."""

from collections.abc import Iterable, Sequence
from itertools import pairwise

import numpy as np
import numpy.typing as npt
import shapely

from pipeline.geometry.chains import turns_rad
from pipeline.geometry.points import Point
from pipeline.model.d6673 import CHORD_MM
from pipeline.model.pieces import Polyline

THINNED_MM = CHORD_MM * 0.6
"""What thinning may take of it; the rest is for chords of chords and for rounding."""
CORNER_DEG = 10.0
"""What turns by more is no vertex of a curve: chords within 0.002 mm turn so much only on radii below 0.6 mm."""
_SAME_MM = 0.02
Array = npt.NDArray[np.float64]


def thinned(outline: Polyline, corners: Iterable[Point] = ()) -> tuple[tuple[Point, bool], ...]:
    """The vertices that are left of a closed outline, each with whether it is a corner.

    `corners` are vertices that are corners however little the outline turns there, as the ends of edges.
    """
    ring = np.array(outline)
    sharp = _turns(ring) | _at(ring, [*corners])
    held = np.nonzero(sharp)[0]
    if len(held) < 2:  # a round outline is thinned in two halves
        first = int(held[0]) if len(held) else 0
        held = np.sort([first, (first + len(ring) // 2) % len(ring)])
    around = np.concatenate((ring[held[0] :], ring[: held[0] + 1]))
    cuts = [*(held - held[0]).tolist(), len(ring)]
    stretches = [shapely.linestrings(around[a : b + 1]) for a, b in pairwise(cuts)]
    left: list[tuple[Point, bool]] = []
    for index, stretch in zip(held.tolist(), shapely.simplify(stretches, THINNED_MM), strict=True):
        first, *others = shapely.get_coordinates(stretch)[:-1]
        left.append((Point(*first.tolist()), bool(sharp[index])))
        left += [(Point(*place.tolist()), False) for place in others]
    return tuple(left)


def thinned_line(places: Sequence[Point]) -> tuple[Point, ...]:
    """The vertices that are left of an open line."""
    line = shapely.simplify(shapely.linestrings(np.array(places)), THINNED_MM)
    return tuple(Point(*place) for place in shapely.get_coordinates(line).tolist())


def _turns(ring: Array) -> npt.NDArray[np.bool_]:
    into, out = ring - np.roll(ring, 1, axis=0), np.roll(ring, -1, axis=0) - ring
    return np.abs(turns_rad(into, out)) > np.radians(CORNER_DEG)


def _at(ring: Array, corners: Sequence[Point]) -> npt.NDArray[np.bool_]:
    """The vertex nearest to each corner, where one is there."""
    found = np.zeros(len(ring), dtype=bool)
    if corners:
        away = np.hypot(*(np.array(corners)[:, None, :] - ring[None, :, :]).transpose(2, 0, 1))
        near = away.argmin(axis=1)
        found[near[away.min(axis=1) < _SAME_MM]] = True
    return found

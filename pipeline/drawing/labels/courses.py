"""Lines as labels look at them: what a label should not stand on, and a line by its length."""

import itertools
from collections.abc import Sequence, Set

import numpy as np
import shapely
from numpy.typing import NDArray

from pipeline.drawing.nest.stretches import Stretch
from pipeline.geometry.chains import arc_lengths, coordinates, places_along
from pipeline.geometry.points import Point

Floats = NDArray[np.float64]

_PROBES = np.array((-1.0, -0.8, -0.4, 0.0, 0.4, 0.8, 1.0))
_BEND_MM = 0.6
_STEEP = 0.17
"""Sine of ten degrees: text on a steeper line is read from the right, upward."""


class Obstacles:
    """Everything a label should not stand on: lines (by the stretch they belong to) and marks (never)."""

    def __init__(
        self, lines: Sequence[Stretch], marks: Sequence[tuple[Point, Point]], faint: Set[int] = frozenset()
    ) -> None:
        """`faint` are the lines, by number, that may be parted for a label without being taken for what it names."""
        starts: list[Floats] = []
        owners: list[NDArray[np.int64]] = []
        for index, line in enumerate(lines):
            ring = coordinates(line.ring)
            starts.append(np.stack((ring[:-1], ring[1:]), axis=1))
            owners.append(np.full(len(ring) - 1, index))
        if marks:
            starts.append(np.asarray(marks))
            owners.append(np.full(len(marks), -1))
        self.count = len(lines)
        self.faint = np.array([index in faint for index in range(len(lines))] + [False])
        self.sizes = [frozenset(line.sizes) for line in lines]
        self.owners = np.concatenate(owners)
        self.tree = shapely.STRtree(shapely.linestrings(np.concatenate(starts)))

    def kin(self, owners: NDArray[np.int64], sizes: Set[str]) -> NDArray[np.bool_]:
        """Whether lines, by number, show with any of some sizes; never for a mark (-1)."""
        return np.array([not own.isdisjoint(sizes) for own in self.sizes] + [False])[owners]


class Course:
    """A stretch by length."""

    def __init__(self, stretch: Stretch) -> None:
        self.places = coordinates(stretch.ring)
        self.along = arc_lengths(self.places)
        self.length = float(self.along[-1])

    def at(self, along: Floats) -> Floats:
        return places_along(self.places, self.along, along)

    def on_pages(self, joints: shapely.Geometry) -> list[tuple[float, float]]:
        """From where to where it runs on one page after the other."""
        line = shapely.linestrings(self.places)
        passed = shapely.line_locate_point(line, shapely.points(shapely.get_coordinates(line.intersection(joints))))
        return list(itertools.pairwise(sorted({0.0, *passed.tolist(), self.length})))

    def chords(
        self, along: Floats, half_widths: Floats, straight_mm: float
    ) -> tuple[Floats, Floats, NDArray[np.bool_]]:
        """For text centred at places along: its centre, its unit direction of reading, whether the run is straight."""
        reach = half_widths + straight_mm
        places = self.at(along[None, :] + reach[None, :] * _PROBES[:, None])
        starts, probes, ends = places[0], places[1:-1], places[-1]
        chords = ends - starts
        lengths = np.maximum(np.hypot(chords[:, 0], chords[:, 1]), 1e-9)
        units = chords / lengths[:, None]
        normals = np.stack((-units[:, 1], units[:, 0]), axis=1)
        offsets = ((probes - starts) * normals).sum(axis=2)
        centres = (starts + ends) / 2 + normals * (offsets[len(offsets) // 2] / 2)[:, None]
        units[(units[:, 0] < -_STEEP) | ((np.abs(units[:, 0]) <= _STEEP) & (units[:, 1] > 0))] *= -1
        return centres, units, (np.abs(offsets).max(axis=0) <= _BEND_MM) & (lengths > 1.9 * reach)

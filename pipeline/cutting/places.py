"""Places on an edge: the point and the outward direction so many millimetres along it."""

import msgspec
import numpy as np

from pipeline.cutting.runs import Run
from pipeline.geometry.chains import Array, arc_lengths, places_along


class Place(msgspec.Struct, frozen=True):
    """A point of the seam line and the outward unit normal there."""

    point: Array
    normal: Array


class EdgePlaces:
    """One edge's runs, measured: `length_mm` of its chords."""

    def __init__(self, runs: tuple[Run, ...]) -> None:
        self.points = np.vstack([run.points[bool(n) :] for n, run in enumerate(runs)])
        self.along = arc_lengths(self.points)
        self.length_mm = float(self.along[-1])
        self._normals = np.vstack([_vertex_normals(run) for run in runs])
        self._normal_along = np.concatenate([self._along_of(runs, n) for n in range(len(runs))])

    def _along_of(self, runs: tuple[Run, ...], n: int) -> Array:
        before = sum(len(run.points) - 1 for run in runs[:n])
        return self.along[before : before + len(runs[n].points)]

    def at(self, at_mm: float) -> Place:
        """The place so far along the chords, clamped to the ends; the normal turns evenly within a smooth run."""
        at_mm = min(max(at_mm, 0.0), self.length_mm)
        point = places_along(self.points, self.along, at_mm)
        normal = places_along(self._normals, self._normal_along, at_mm)
        size = np.hypot(*normal)
        return Place(point, normal / size if size > 0 else self._normals[0])


def _vertex_normals(run: Run) -> Array:
    inner = run.normals[:-1] + run.normals[1:]
    inner = inner / np.hypot(inner[:, 0], inner[:, 1])[:, None]
    return np.vstack((run.normals[:1], inner, run.normals[-1:]))

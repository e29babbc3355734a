"""The seam line as smooth runs of chords: an edge is split where it has a kink, so that corners are corners."""

import math

import msgspec
import numpy as np
import shapely

from pipeline.geometry.chains import Array, chord_lengths
from pipeline.geometry.curves import CHORD_ERROR_MM, Line, Path, Segment, chord_count, flattened, turn_between_rad
from pipeline.model.pieces import DrawnPiece

GRID_MM = 1e-6
"""All coordinates lie on this grid, so that what touches touches exactly."""
_REPEATED_MM = 1e-4
_COLLINEAR_MM = 1e-5
_KINK_RAD = math.radians(1)
_KINK_OF_CHORDS_RAD = math.radians(10)
_END_SHARE = 1 / 16


class Run(msgspec.Struct, frozen=True):
    """A smooth stretch of one edge, in walking order: `points` has shape (n, 2), n at least 2.

    `normals` are the outward unit normals of its chords, shape (n - 1, 2).
    """

    edge: int
    points: Array
    normals: Array

    @property
    def lengths(self) -> Array:
        """Lengths of the chords, shape (n - 1,)."""
        return chord_lengths(self.points)


def make_run(edge: int, points: Array) -> Run:
    """A run through points without repeats."""
    steps = np.diff(points, axis=0)
    units = steps / np.hypot(steps[:, 0], steps[:, 1])[:, None]
    return Run(edge, points, np.column_stack((units[:, 1], -units[:, 0])))


def edge_runs(drawn: DrawnPiece, folds: tuple[bool, ...]) -> tuple[tuple[Run, ...], ...]:
    """The runs of every edge; a fold is one chord. An edge without length has no run."""
    return tuple(
        _runs_of_path(index, (Line(edge.path[0].start, edge.path[-1].end),) if fold else edge.path)
        for index, (edge, fold) in enumerate(zip(drawn.edges, folds, strict=True))
    )


def _runs_of_path(edge: int, path: Path) -> tuple[Run, ...]:
    groups: list[list[Segment]] = []
    for segment in path:
        if segment.bend() == 0 and segment.start.distance(segment.end) < _REPEATED_MM:
            continue
        if groups and not _kinked(groups[-1][-1], segment):
            groups[-1].append(segment)
        else:
            groups.append([segment])
    runs = []
    for group in groups:
        points = _cleaned(_chords(group))
        if len(points) > 1:
            runs.append(make_run(edge, points))
    return tuple(runs)


def _kinked(before: Segment, after: Segment) -> bool:
    straight = isinstance(before, Line) and isinstance(after, Line)
    return abs(turn_between_rad(before, after)) > (_KINK_OF_CHORDS_RAD if straight else _KINK_RAD)


def _chords(segments: list[Segment]) -> Array:
    """Chords of a smooth chain. Its first and last chord are cut short, so that they lie along the tangent there."""
    points = list(flattened(tuple(segments)))
    first, last = segments[0], segments[-1]
    if not isinstance(last, Line):
        points.insert(-1, last.at(1 - _END_SHARE / chord_count(last, CHORD_ERROR_MM)))
    if not isinstance(first, Line):
        points.insert(1, first.at(_END_SHARE / chord_count(first, CHORD_ERROR_MM)))
    return np.array(points, dtype=np.float64)


def _cleaned(points: Array) -> Array:
    points = np.round(points / GRID_MM) * GRID_MM
    ends = points[0], points[-1]
    line = shapely.simplify(shapely.linestrings(points), _COLLINEAR_MM, preserve_topology=False)
    points = shapely.get_coordinates(line)
    keep = np.ones(len(points), dtype=bool)
    keep[1:] = chord_lengths(points) >= _REPEATED_MM
    kept = points[keep]
    if len(kept) > 1:
        kept[0], kept[-1] = ends
    return kept

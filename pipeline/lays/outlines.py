"""Outlines in a piece's own frame, and coarser ones for the engine that never lose any of the piece."""

import math
from collections.abc import Sequence

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import affinity

from pipeline.geometry.distances import to_line_mm
from pipeline.geometry.points import Point, Vector

COARSE_MM = 0.25
"""How far the engine's outline may lie outside the true one."""

Coordinates = NDArray[np.float64]


def in_grain_frame(outline: Sequence[Point], along: Vector, axis: Point | None) -> tuple[Point, ...]:
    """The outline turned so that `along` points to +x, moved so that the smallest x is 0 and `axis` has y = 0.

    Without an axis the middle of its extent has: where a grain line is drawn on a piece is nothing to a lay.
    """
    ux, uy = along.unit()
    ax, ay = axis or outline[0]
    xs = [(x - ax) * ux + (y - ay) * uy for x, y in outline]  # no vectors: this is done to every point of every piece
    ys = [ux * (y - ay) - uy * (x - ax) for x, y in outline]
    left, middle = min(xs), 0.0 if axis else (min(ys) + max(ys)) / 2
    return tuple(Point(x - left, y - middle) for x, y in zip(xs, ys, strict=True))


def turned(points: Coordinates, angle_deg: float, mirrored: bool) -> Coordinates:
    """Points of a piece's own frame, mirrored about y = 0 if asked, then turned about (0, 0)."""
    quarter = (angle_deg / 90) % 4
    exact = {0.0: (1.0, 0.0), 1.0: (0.0, 1.0), 2.0: (-1.0, 0.0), 3.0: (0.0, -1.0)}
    cos, sin = exact.get(quarter, (math.cos(math.radians(angle_deg)), math.sin(math.radians(angle_deg))))
    x, y = points[:, 0], -points[:, 1] if mirrored else points[:, 1]
    return np.column_stack((x * cos - y * sin, x * sin + y * cos))


def extent_across_mm(points: Coordinates, angle_deg: float, mirrored: bool = False) -> float:
    """How much of the cloth's width a piece takes at an angle."""
    y = turned(points, angle_deg, mirrored)[:, 1]
    return float(y.max() - y.min())


def coarse_outline(outline: Sequence[Point], error_mm: float = COARSE_MM) -> tuple[Point, ...]:
    """An outline of fewer points that contains the given one and lies within `error_mm` of it.

    Along a run of corners that turn inward, corners are left out; along one that turns outward, edges are left out and
    their neighbours prolonged until they meet.
    """
    points = _without_straight_corners(outline)
    if len(points) < 5:
        return tuple(points)
    around = sum(a.x * b.y - b.x * a.y for a, b in zip(points, points[1:] + points[:1], strict=True))
    outward = [_turn(points, i) * around > 0 for i in range(len(points))]
    starts = [i for i in range(len(points)) if outward[i] != outward[i - 1]]
    if not starts:
        return (*_outward_run(points[-1], points[:-1], points[-1], error_mm), points[-1])
    coarse: list[Point] = []
    for number, start in enumerate(starts):
        end = starts[(number + 1) % len(starts)]
        run = [points[i % len(points)] for i in range(start, end if end > start else end + len(points))]
        if outward[start]:
            coarse += _outward_run(points[start - 1], run, points[end], error_mm)
        else:
            coarse += _inward_run(run, error_mm)
    return tuple(coarse)


def coarse_points(true: Coordinates) -> Coordinates:
    """A coarse outline that is no larger than the true one along, across and on the bias: what fits still fits."""
    coarse = shapely.Polygon(coarse_outline([Point(x, y) for x, y in true]))
    if not coarse.is_valid:
        return true
    upright, askew = shapely.Polygon(true), affinity.rotate(shapely.Polygon(true), 45, origin=(0, 0))
    diamond = affinity.rotate(shapely.box(*askew.bounds), -45, origin=(0, 0))
    kept = coarse.intersection(shapely.box(*upright.bounds)).intersection(diamond)
    return np.array(kept.exterior.coords[:-1]) if isinstance(kept, shapely.Polygon) else true


def _turn(points: Sequence[Point], i: int) -> float:
    before, here, after = points[i - 1], points[i], points[(i + 1) % len(points)]
    return before.to(here).cross(here.to(after))


def _without_straight_corners(outline: Sequence[Point]) -> list[Point]:
    points = [p for p, before in zip(outline, [outline[-1], *outline], strict=False) if p.distance(before) > 1e-6]
    return [p for i, p in enumerate(points) if abs(_turn(points, i)) > 1e-9 * points[i - 1].distance(p)]


def _inward_run(run: list[Point], error_mm: float) -> list[Point]:
    kept, start = [run[0]], 0
    while start < len(run) - 1:
        end = start + 1
        while end + 1 < len(run) and all(
            _off_line(run[start], run[end + 1], p) <= error_mm for p in run[start + 1 : end + 1]
        ):
            end += 1
        kept.append(run[end])
        start = end
    return kept


def _outward_run(before: Point, run: list[Point], after: Point, error_mm: float) -> list[Point]:
    """Corners `run`, all turning outward, between two neighbours that stay where they are."""
    chain = [before, *run, after]
    kept: list[Point] = []
    edge = 0
    while edge < len(run):
        end, corner = edge + 1, run[edge]
        while end < len(run):
            met = _meeting(chain[edge], chain[edge + 1], chain[end + 1], chain[end + 2])
            if met is None or to_line_mm(met, chain[edge + 1 : end + 2]) > error_mm:
                break
            end, corner = end + 1, met
        kept.append(corner)
        edge = end
    return kept


def _meeting(a: Point, b: Point, c: Point, d: Point) -> Point | None:
    """Where the line a b, prolonged past b, meets the line c d, prolonged before c; None where it does not."""
    first, second = a.to(b), c.to(d)
    across = first.cross(second)
    if abs(across) < 1e-12 * first.length * second.length:
        return None
    beyond = b.to(c).cross(second) / across
    before = b.to(c).cross(first) / across
    if beyond < 0 or before > 0:
        return None
    return b.plus(first.scaled(beyond))


def _off_line(a: Point, b: Point, p: Point) -> float:
    run = a.to(b)
    return abs(run.cross(a.to(p))) / run.length if run.length else a.distance(p)

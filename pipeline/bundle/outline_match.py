"""Where a known outline lies among lines, in one of four quarter turns, and how far these lie off it.

Places are found by corners: a corner of the outline is laid on every corner and end of a line whose parts run along its
own, and the place that most corners agree on is taken. It is then shifted to where the lines lie off it least.
"""

import math
from collections.abc import Sequence
from itertools import product
from typing import NamedTuple

import numpy as np
import shapely
from numpy.typing import NDArray

from pipeline.geometry.chains import chord_lengths, passed

Floats = NDArray[np.float64]

_CORNER = math.radians(15)
_ALIKE = math.radians(4)
_CELL_MM = 0.5
_ROW = 10**8
_THIN_MM = 0.012
_STRAIGHT = 0.02
"""Normals that turn by less, in radians, are those of one straight line: it says nothing of where along it one is."""
_QUARTER = np.array(((0, 1), (-1, 0)))
_TRIED = 4
_ALIKE_TRIED = 30
"""Of places that no more corners agree on than on others, as many are glanced at."""
_AS_WELL_MM = 0.05
_GLANCES = 60
_SURELY = 0.8
_COARSE = 5
_LEAST_SHARE = 0.2
_FEWEST = 2
"""So few corners lay an outline on lines, if all goes well; with `_MANY` it is found wherever it is drawn.

A band has four, as others have, and is not found among them for certain: of what is not seen whole nothing is said.
"""
_MANY = 5
_STEP_MM = 2.0
_REACH_MM = 1.0
"""How far beside an outline a line is looked for."""
LEAST_SHOWN = 0.5
"""The share of a cut line that must be there, or of half of it on a fold: texts stand in gaps, folds are no cuts."""
_PARALLEL = math.cos(math.radians(15))


Way = tuple[int, int, int]
"""How an outline was found: which of its halves, on which plane, and whether turned by an odd number of quarters."""


class Match(NamedTuple):
    """How much of an outline is drawn, how far the lines lie off it at the most, and where, in its own frame."""

    shown: float
    off_mm: float
    place: tuple[float, float]
    way: Way | None = None


NOTHING = Match(0.0, 0.0, (0.0, 0.0))


class Lines:
    """The lines of one plane: their corners and ends, and their parts."""

    def __init__(self, lines: Sequence[Floats]) -> None:
        parts = [np.stack((line[:-1], line[1:]), axis=1) for line in lines]
        self.parts: Floats = np.concatenate(parts) if parts else np.empty((0, 2, 2))
        self.tree = shapely.STRtree(shapely.linestrings(self.parts))
        self.corners = _corners(lines)
        self.length_mm = float(np.hypot(*(self.parts[:, 1] - self.parts[:, 0]).T).sum())


class _Place(NamedTuple):
    """Where an outline may lie: on which lines, turned by which matrix, moved by what; how many corners agree."""

    agreed: int
    lines: Lines
    turned: Floats
    move: Floats


class Outline:
    """An outline to be found, or either half of it where it is symmetric and one half is drawn (`halved`).

    `points` is a ring that does not repeat its first point, in mm, y downward.
    """

    def __init__(self, points: Floats, halved: bool) -> None:
        whole = shapely.Polygon(points)
        self.length_mm = whole.length / (2 if halved else 1)
        self.parts: list[tuple[Floats, Floats, Floats]] = []
        for part in _halves(whole) if halved else (whole,):
            corners = _ring_corners(shapely.get_coordinates(part.exterior.simplify(_THIN_MM)))
            samples, normals = _samples(shapely.get_coordinates(part.exterior))
            if halved:  # not along the fold
                edge = whole.exterior
                shapely.prepare(edge)
                cut = shapely.dwithin(edge, shapely.points(samples), _THIN_MM)
                samples, normals = samples[cut], normals[cut]
            if len(corners) >= _FEWEST:
                self.parts.append((corners, samples, normals))


def match(outline: Outline, planes: Sequence[Lines], well_mm: float, first: Way | None = None) -> Match | None:
    """The best match of an outline on any of these planes; None where too few corners tell it from others.

    One that is whole and lies within `well_mm` ends the search: a bag's two sides, or a piece and its fusing, are so
    alike that the first place which seems to fit may be the other's. It begins the way that is tried `first`: other
    sizes of a piece most often lie as one does.
    """
    if not outline.parts:
        return None
    best = NOTHING
    ways = list(product(range(len(outline.parts)), range(len(planes)), (0, 1)))
    for way in sorted(ways, key=lambda way: way != first):
        corners, samples, normals = outline.parts[way[0]]
        for place in _places(corners, way[2], planes[way[1]]):
            glanced = _glanced(place, samples, normals)
            if glanced < _LEAST_SHARE:
                continue
            measured = _measured(place, samples, normals)._replace(way=way)
            if glanced >= _SURELY and measured.off_mm <= well_mm:
                return measured
            best = max(best, measured, key=lambda each: (round(each.shown, 1), -each.off_mm))
    many = max(len(corners) for corners, _, _ in outline.parts) >= _MANY
    return best if many or best.shown >= _SURELY else None


def _halves(whole: shapely.Polygon) -> tuple[shapely.Polygon, ...]:
    """Both halves of a symmetric outline: on either side of each axis that it is mirrored about best.

    The axis of a symmetric shape is one of its principal axes; upright and level ones are tried too.
    """
    samples, _ = _samples(shapely.get_coordinates(whole.exterior))
    middle = samples.mean(axis=0)
    around = samples - middle
    tree = shapely.STRtree(shapely.points(around))
    some = around[:: max(1, len(around) // _GLANCES)]
    axes = [*np.linalg.eigh(np.cov(around.T))[1].T, np.array((0.0, 1.0)), np.array((1.0, 0.0))]

    def off(axis: Floats) -> float:
        mirrored = 2 * np.outer(some @ axis, axis) - some
        return float(tree.query_nearest(shapely.points(mirrored), return_distance=True, all_matches=False)[1].mean())

    offs = [off(axis) for axis in axes]
    reach = 2 * float(np.abs(around).max())
    parts: list[shapely.Geometry] = []
    for axis in _apart([axis for axis, far in zip(axes, offs, strict=True) if far <= min(offs) + _AS_WELL_MM]):
        along, beside = axis * reach, np.array((axis[1], -axis[0])) * reach
        for by in (beside, -beside):
            side = shapely.Polygon([middle - along, middle + along, middle + along + by, middle - along + by])
            parts.append(max(shapely.get_parts(whole.intersection(side)), key=lambda part: part.area))
    return tuple(part for part in parts if part.geom_type == "Polygon")


def _apart(axes: Sequence[Floats]) -> list[Floats]:
    """The first of all axes that are the same but for their sign: a band has two, one along and one across."""
    found: list[Floats] = []
    for axis in axes:
        if all(abs(axis @ other) < _PARALLEL for other in found):
            found.append(axis)
    return found


def _ring_corners(ring: Floats) -> Floats:
    """The corners of a ring that repeats its first point."""
    return _corners([np.vstack((ring, ring[1:2]))])[1:-1]


def _corners(lines: Sequence[Floats]) -> Floats:
    """Corners and ends: x, y, and the ways of the parts before and after, from 0 to π; both the same at an end."""
    points = np.concatenate([np.empty((0, 2)), *lines])
    whose = np.repeat(np.arange(len(lines)), [len(line) for line in lines])
    moved = np.r_[True, (whose[1:] != whose[:-1]) | (np.abs(np.diff(points, axis=0)).max(axis=1) > 1e-6)][: len(points)]
    points, whose = points[moved], whose[moved]
    steps, on = np.diff(points, axis=0), whose[1:] == whose[:-1]
    if not on.any():
        return np.empty((0, 4))
    ways = np.arctan2(steps[:, 1], steps[:, 0])
    first, last = np.r_[True, ~on], np.r_[~on, True]
    before, after = np.concatenate((ways[:1], ways)), np.concatenate((ways, ways[-1:]))
    before[first], after[last] = after[first], before[last]
    turns = np.abs((after - before + math.pi) % (2 * math.pi) - math.pi)
    kept = (first | last | (turns > _CORNER)) & ~(first & last)
    return np.column_stack((points, before % math.pi, after % math.pi))[kept]


def _samples(ring: Floats) -> tuple[Floats, Floats]:
    """Places along an outline, at most 2 mm apart from one to the next, and the normals there."""
    steps = np.diff(ring, axis=0)
    lengths = chord_lengths(ring)
    ends = passed(lengths)[1:]
    count = max(1, math.ceil(ends[-1] / _STEP_MM))
    along = (np.arange(count) + 0.5) * (ends[-1] / count)
    index = np.minimum(np.searchsorted(ends, along), len(steps) - 1)
    units = steps[index] / lengths[index][:, None]
    places = ring[index + 1] - (ends[index] - along)[:, None] * units
    return places, np.column_stack((units[:, 1], -units[:, 0]))


def _places(corners: Floats, quarters: int, lines: Lines) -> list[_Place]:
    """Where the outline may lie, turned by so many quarters or two more: where two of its corners and more agree."""
    ways = (corners[:, 2:] - quarters * math.pi / 2) % math.pi
    fitting = [
        np.flatnonzero(
            (_alike(lines.corners[:, 2:], before) | _alike(lines.corners[:, 2:], after)).all(axis=1),
        )
        for before, after in ways
    ]
    owners = np.repeat(np.arange(len(corners)), [len(found) for found in fitting])
    found = lines.corners[np.concatenate(fitting), :2]
    places = [
        place
        for turn in (quarters, quarters + 2)
        for place in _agreed(found, corners[:, :2], owners, np.linalg.matrix_power(_QUARTER, turn), lines)
    ]
    places = sorted(places, key=lambda place: -place.agreed)
    most = places[0].agreed if places else 0
    return places[: max(_TRIED, sum(place.agreed == most for place in places))]


def _agreed(found: Floats, corners: Floats, owners: NDArray[np.intp], turned: Floats, lines: Lines) -> list[_Place]:
    places = found - (corners @ turned)[owners]
    # a cell and a corner as one whole number: rows of an array are slow to sort
    cells = np.round(places / _CELL_MM).astype(np.int64) @ np.array((_ROW, 1))
    agreed = np.unique(cells * len(corners) + owners) // len(corners)
    kinds, counts = np.unique(agreed, return_counts=True)
    most = int(np.count_nonzero(counts == counts.max())) if len(counts) else 0
    tried = max(_TRIED, min(most, _ALIKE_TRIED))
    order = [k for k in np.argsort(-counts, kind="stable")[:tried] if counts[k] > 1]
    return [_Place(int(counts[k]), lines, turned, np.median(places[cells == kinds[k]], axis=0)) for k in order]


def _alike(ways: Floats, way: float) -> NDArray[np.bool_]:
    """Which ways, from 0 to π, are alike."""
    off = np.abs(ways - way)
    return (off < _ALIKE) | (off > math.pi - _ALIKE)


def _glanced(place: _Place, samples: Floats, normals: Floats) -> float:
    """The share of some places along an outline that a line runs along."""
    some = slice(None, None, max(1, len(samples) // _GLANCES))
    offs = _offs(samples[some] @ place.turned + place.move, normals[some] @ place.turned, place.lines)
    return float(np.isfinite(offs).mean())


def _measured(place: _Place, samples: Floats, normals: Floats) -> Match:
    """Shift the outline to where the lines lie beside it, and measure."""
    places, normals = samples @ place.turned + place.move, normals @ place.turned
    for _ in range(2):
        offs = _offs(places[::_COARSE], normals[::_COARSE], place.lines)
        there = np.isfinite(offs)
        if there.mean() < _LEAST_SHARE:
            return NOTHING
        places = places + np.linalg.lstsq(normals[::_COARSE][there], offs[there], rcond=_STRAIGHT)[0]
    offs = _offs(places, normals, place.lines)
    if not np.isfinite(offs).any():
        return NOTHING
    worst = int(np.nanargmax(np.abs(offs)))
    x, y = samples[worst].tolist()
    return Match(float(np.isfinite(offs).mean()), float(abs(offs[worst])), (x, y))


def _offs(places: Floats, normals: Floats, lines: Lines) -> Floats:
    """How far along its normal the nearest line that runs along an outline crosses it; nan where none does."""
    reach = normals * _REACH_MM
    at, part = lines.tree.query(shapely.linestrings(np.stack((places - reach, places + reach), axis=1)))
    start, step = lines.parts[part, 0], lines.parts[part, 1] - lines.parts[part, 0]
    normal, gap = normals[at], start - places[at]
    cross = step[:, 0] * normal[:, 1] - step[:, 1] * normal[:, 0]
    with np.errstate(divide="ignore", invalid="ignore"):
        along = -(gap[:, 0] * normal[:, 1] - gap[:, 1] * normal[:, 0]) / cross
        off = np.einsum("ij,ij->i", gap + along[:, None] * step, normal)
        fits = (np.abs(cross) > _PARALLEL * np.hypot(*step.T)) & (along >= -1e-6) & (along <= 1 + 1e-6)
    fits &= np.abs(off) <= _REACH_MM
    found = np.full(len(places), np.nan)
    order = np.argsort(-np.abs(off[fits]), kind="stable")  # the nearest comes last, and so is the one that stays
    found[at[fits][order]] = off[fits][order]
    return found

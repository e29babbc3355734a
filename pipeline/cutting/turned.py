"""The end of an allowance that is turned up: the mirror image of the piece beside it, about the edge it turns on; and
mirrored again about every further line on which it is folded back.

A hem whose sides taper by 10° and that is 40 mm deep is 40 tan 10° = 7.05 mm wider a side at the raw edge.
"""

from itertools import pairwise

import msgspec
import numpy as np
import shapely

from pipeline.cutting.runs import make_run
from pipeline.geometry.chains import Array, arc_lengths, chord_lengths, chords_at, closed, places_along
from pipeline.model.turns import Turns, highest_mm

_STEP_MM = 1.0
_NEAR_MM = 0.05
_FINER = 8
_MOST_POINTS = 4000
_DEPTHS = (1.5, 6.0)
"""How far along the neighbour's cut line, in depths of the hem, the end is looked for: nearly always soon."""


class TurnedEnd(msgspec.Struct, frozen=True):
    """An end of edge `hem` that mirrors its neighbour `beside`, whose cut line leaves the hem's line at `start`."""

    hem: int
    at_end: bool
    start: Array | None
    beside: int


def run_on(points: Array, at_end: bool, by_mm: float) -> Array:
    """A chain of points, run on straight past one of its ends."""
    if at_end:
        step = points[-1] - points[-2]
        return np.vstack((points, points[-1] + step / np.hypot(*step) * by_mm))
    step = points[0] - points[1]
    return np.vstack((points[0] + step / np.hypot(*step) * by_mm, points))


def smoothed(points: Array) -> Array:
    """A smooth run with chords an eighth as long, on the cubic through its points: a mirror image shows each chord.

    Its first and last chord stay: they are short, and the lines of the corners beside it run along them.
    """
    steps = np.diff(points, axis=0)
    lengths = chord_lengths(points)[:, None]
    units = steps / lengths
    inner = units[:-1] * lengths[1:] + units[1:] * lengths[:-1]
    tangents = inner / np.hypot(*inner.T)[:, None]
    points, lengths, ends = points[1:-1], lengths[1:-1], (points[:1], points[-1:])
    shares = np.arange(1, _FINER + 1) / _FINER
    weights = _hermite(shares)[:, :, None, None]
    fine = (
        weights[0] * points[:-1]
        + weights[1] * lengths * tangents[:-1]
        + weights[2] * points[1:]
        + weights[3] * lengths * tangents[1:]
    )
    return np.vstack((ends[0], points[:1], fine.transpose(1, 0, 2).reshape(-1, 2), ends[1]))


def _hermite(t: Array) -> Array:
    """Weights of start, start tangent, end and end tangent of a cubic at shares t; shape (4, n)."""
    return np.array([2 * t**3 - 3 * t**2 + 1, t**3 - 2 * t**2 + t, 3 * t**2 - 2 * t**3, t**3 - t**2])


def mirrored_end(hem: Array, base: Array, start: Array, at_end: bool, turns: Turns) -> tuple[Array, Array] | None:
    """The end of a hem's strip: the cut line beside the hem, mirrored about it by nearest points, and again about each
    further fold.

    `hem` is the hem's chain in walking order; `base` the cut line of the piece with no hem at all, walked clockwise;
    `start` where that line leaves the hem's line at the end (or, not `at_end`, the start) of the hem. The answer runs
    from the hem's line out to the last of `turns`, and with it comes a point 1 mm up the line that was mirrored; None
    where the piece beside the hem is not as deep as the hem comes to lie.
    """
    depth_mm = highest_mm(turns)
    gaps = np.hypot(*(base - start).T)
    first = int(np.argmin(gaps))
    if gaps[first] > _NEAR_MM:
        return None
    ring = np.roll(base, -first, axis=0) if at_end else np.roll(base[::-1], first + 1, axis=0)
    beside = float(np.hypot(*(start - (hem[-1] if at_end else hem[0]))))
    for depths in _DEPTHS:
        reach = beside + (depths + 1) * depth_mm
        line = run_on(_near_end(hem, at_end, reach), at_end, reach)
        # A straight line mirrored about a curve is a curve: there the ring needs points between its own.
        points = _beginning(ring, depths * depth_mm, None if _straight(line) else _STEP_MM)
        feet, signed = feet_on(line, points)
        over = np.flatnonzero(signed[1:] >= depth_mm) + 1
        if len(over):
            break
    if not len(over) or (signed[: over[0]] < -_NEAR_MM).any():
        return None
    stop = int(over[0])
    share = (depth_mm - signed[stop - 1]) / (signed[stop] - signed[stop - 1])
    last = points[stop - 1] + (points[stop] - points[stop - 1]) * share
    kept = np.vstack((points[:stop], last))
    feet = np.vstack((feet[:stop], feet_on(line, last[None])[0]))
    inward = kept[1] - kept[0]
    inner = kept[0] + inward / np.hypot(*inward)
    return (2 * feet - kept if len(turns) == 2 else _folded_end(line, kept, turns)), inner


def _folded_end(line: Array, kept: Array, turns: Turns) -> Array:
    """The end of a strip that is folded more than once: for each band, the part of the mirrored line on which it comes
    to lie, up and down again, put as far out from its feet as that band is."""
    heights, places = feet_on(line, kept)[1], np.arange(len(kept), dtype=float)
    at, ends = 0.0, []
    for (out_mm, from_mm), (end_mm, to_mm) in pairwise(turns):
        rises = to_mm > from_mm
        ahead = places[places > at] if rises else places[places < at][::-1]
        passed = heights[ahead.astype(int)] >= to_mm if rises else heights[ahead.astype(int)] <= to_mm
        count = int(np.argmax(passed)) if passed.any() else len(ahead) - 1
        before, last = (at if count == 0 else ahead[count - 1]), ahead[count]
        low, high = (feet_on(line, _between(kept, share)[None])[1][0] for share in (before, last))
        share = 1.0 if high == low else min(1.0, max(0.0, (to_mm - low) / (high - low)))
        stop = before + (last - before) * share
        path = np.vstack([_between(kept, place) for place in (at, *ahead[:count], stop)])
        feet, signed = feet_on(line, path)
        out = np.clip(out_mm + np.abs(signed - from_mm), out_mm, end_mm)
        out[0], out[-1] = out_mm, end_mm
        ends.append(feet + _outward(line, path, feet, signed) * out[:, None])
        at = float(stop)
    return np.vstack([ends[0], *(end[1:] for end in ends[1:])])


def _between(points: Array, place: float) -> Array:
    """The point of a chain at a place that counts its points."""
    first = min(int(place), len(points) - 2)
    return np.asarray(points[first] + (points[first + 1] - points[first]) * (place - first))


def _outward(line: Array, path: Array, feet: Array, signed: Array) -> Array:
    """Unit vectors out of the piece at feet, from the points above them; where these are near, those beside."""
    far = np.flatnonzero(signed > _NEAR_MM)
    if not len(far):
        run = make_run(0, line)
        return np.broadcast_to(run.normals[-1], path.shape)
    nearest = far[np.abs(far[None, :] - np.arange(len(path))[:, None]).argmin(axis=1)]
    steps = feet[nearest] - path[nearest]
    return np.asarray(steps / np.hypot(*steps.T)[:, None])


def cutter(end: Array, inner: Array, hem: Array, at_end: bool, size_mm: float) -> shapely.Geometry:
    """What lies beyond a mirrored end, to be taken from the hem's strip alone: with room on all other sides."""
    step = hem[-1] - hem[-2] if at_end else hem[0] - hem[1]
    unit = step / np.hypot(*step)
    past = unit * size_mm
    across = np.array([unit[1], -unit[0]]) * (size_mm if at_end else -size_mm)
    last = end[-1] - end[-2]
    outer = end[-1] + last / np.hypot(*last)
    beside = [outer + across, outer + across + past, inner - across + past, inner - across]
    return shapely.polygons(np.vstack((inner, end, outer, *beside)))


def _straight(line: Array) -> bool:
    run = line[-1] - line[0]
    offset = line - line[0]
    return bool(np.abs(offset[:, 0] * run[1] - offset[:, 1] * run[0]).max() < 1e-4 * np.hypot(*run))


def _near_end(hem: Array, at_end: bool, length_mm: float) -> Array:
    """The part of a hem's chain within a length of its end: no mirror image of the beginning reaches farther."""
    chain = hem[::-1] if at_end else hem
    kept = chain[: int(np.searchsorted(arc_lengths(chain)[1:], length_mm)) + 2]
    return np.asarray(kept[::-1] if at_end else kept)


def _beginning(ring: Array, length_mm: float, step_mm: float | None) -> Array:
    """The ring's first stretch of a length, with points at most `step_mm` apart where one is given."""
    line = closed(ring)
    along = arc_lengths(line)
    stop = min(length_mm, float(along[-1]))
    steps = 2 if step_mm is None else min(_MOST_POINTS, max(2, int(stop / step_mm)))
    places = np.unique(np.concatenate((along[along <= stop], np.linspace(0.0, stop, steps))))
    return places_along(line, along, places)


def feet_on(line: Array, points: Array) -> tuple[Array, Array]:
    """Nearest points on a chain, shape (n, 2), and the distances there, negative on its outer side, shape (n,)."""
    run = make_run(0, line)
    chain = shapely.linestrings(line)
    places = shapely.line_locate_point(chain, shapely.points(points))
    feet = shapely.get_coordinates(shapely.line_interpolate_point(chain, places))
    gaps = points - feet
    normals = run.normals[chords_at(arc_lengths(line), places)]
    outside = np.einsum("ij,ij->i", gaps, normals) > 0
    return feet, np.where(outside, -1.0, 1.0) * np.hypot(*gaps.T)

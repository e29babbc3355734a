"""Allowances that taper along an edge: their width at every point of the seam line, and how the cut line leaves it.

At the length s along an edge of length L the allowance, taken at right angles to the seam line, is
w(s) = w0 + (w1 - w0) s / L; where the edge has parts, w is a smooth curve (`model/widths.py`). With the outward normal
n, the tangent t and the curvature k (positive where the edge bends outward) the cut line p + n w runs along
t (1 + k w) + n w' (derivative of the offset curve), so that past its end it rises by w' / (1 + k w) for each mm along
the tangent.
"""

import math
from itertools import pairwise

import numpy as np

from pipeline.cutting.corners import Side
from pipeline.cutting.rules import EdgeRule
from pipeline.cutting.runs import GRID_MM, Run
from pipeline.geometry.chains import Array, arc_lengths, places_along, turn_rad
from pipeline.geometry.curves import CHORD_ERROR_MM

_ROOM_MM2 = 0.4
"""On a curve with chords of h the offset of their ends moves along by w h / 2 R, where h² / 8 R is 0.002 mm: by 0.4 / h
for an allowance of 50 mm. Points nearer to the ends than that would lie beyond it."""
_END_SHARE = 1 / 16
_LEAST_STRETCH = 0.5
"""Where an edge bends inward with less than twice its allowance as radius, the cut line is no more than this steep."""


def widths_along(runs: tuple[Run, ...], edges: tuple[EdgeRule, ...]) -> tuple[Array, ...]:
    """The allowance at every point of every run, shape (n,) each; the runs of an edge share it by their lengths."""
    passed = [0.0] * len(edges)
    places = []
    for run in runs:
        places.append(passed[run.edge] + arc_lengths(run.points))
        passed[run.edge] = float(places[-1][-1])
    # An end that is exactly at 1 has exactly its width: a strip that ends at nothing ends on the seam line itself.
    rules = [edges[run.edge] for run in runs]
    return tuple(
        rule.widths_at(along / passed[run.edge]) if rule.tapers else np.full(len(along), rule.width_mm)
        for run, rule, along in zip(runs, rules, places, strict=True)
    )


def knotted(runs: tuple[Run, ...], rule: EdgeRule) -> tuple[Run, ...]:
    """The runs of an edge with more points on long chords where its allowance changes: so many that the cut
    stay within 0.002 mm of it. Over L from w0 to w1, w'' is at most 6 (w1 - w0) / L².

    A chord is shared out evenly, since points close to its ends would turn the offset of a curve back on itself.
    """
    if not rule.between:
        return runs
    length_mm = sum(float(run.lengths.sum()) for run in runs)
    knots = [(share * length_mm, width) for share, width in rule.knots]
    made, at_mm = [], 0.0
    for run in runs:
        along = at_mm + arc_lengths(run.points)
        at_mm = float(along[-1])
        wanted = [_places_on(*chord, knots) for chord in pairwise(along.tolist())]
        # The first and the last chord lie along the tangent there, so that corners find where the cut line goes.
        if wanted[0]:
            wanted[0].insert(0, along[0] + (wanted[0][0] - along[0]) * _END_SHARE)
        if wanted[-1]:
            wanted[-1].append(along[-1] + (wanted[-1][-1] - along[-1]) * _END_SHARE)
        chords = np.repeat(np.arange(1, len(along)), [len(places) for places in wanted])
        places = np.concatenate(wanted)
        points = np.insert(run.points, chords, places_along(run.points, along, places), axis=0)
        normals = np.insert(run.normals, chords, run.normals[chords - 1], axis=0)
        made.append(Run(run.edge, np.round(points / GRID_MM) * GRID_MM, normals))
    return tuple(made)


def _places_on(start: float, end: float, knots: list[tuple[float, float]]) -> list[float]:
    """Places within a chord, in mm along its edge: knots that lie well within it, and even steps between these."""
    room = _ROOM_MM2 / (end - start)
    inner = [place for place, _ in knots if start + room < place < end - room]
    places: list[float] = []
    for low, high in pairwise((start, *inner, end)):
        pair = next(pair for pair in pairwise(knots) if (low + high) / 2 <= pair[1][0] or pair[1] == knots[-1])
        (one, one_mm), (two, two_mm) = pair
        needed = math.sqrt(6 * abs(two_mm - one_mm) / 8 / CHORD_ERROR_MM) * (high - low) / (two - one)
        count = max(1, min(math.ceil(needed), int((high - low) / room)))
        places += [*(low + np.arange(1, count) / count * (high - low)).tolist(), high]
    return places[:-1]


def side_at(run: Run, widths: Array, at_end: bool) -> Side:
    """The end (or start) of a run's strip, as its corner sees it."""
    normal = run.normals[-1 if at_end else 0]
    past = np.array([-normal[1], normal[0]]) * (1 if at_end else -1)
    width = float(widths[-1 if at_end else 0])
    rise = float(widths[-1] - widths[-2] if at_end else widths[0] - widths[1])
    if rise == 0:
        return Side(normal, past, width)
    stretch = max(1 + _curvature(run, at_end) * width, _LEAST_STRETCH)
    return Side(normal, past, width, rise / float(run.lengths[-1 if at_end else 0]) / stretch)


def _curvature(run: Run, at_end: bool) -> float:
    """Turn for each mm at an end of a run, from its first two chords there; positive where it bends outward."""
    if len(run.normals) < 2:
        return 0.0
    one, two = run.normals[-2:] if at_end else run.normals[:2]
    lengths = run.lengths[-2:] if at_end else run.lengths[:2]
    return turn_rad(one, two) / float(lengths.sum() / 2)

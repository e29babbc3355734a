"""Allowances that taper along an edge: their width at every point of the seam line, and how the cut line leaves it.

At the length s along an edge, or a part of it, of length L the allowance, taken at right angles to the seam line, is
w(s) = w0 + (w1 - w0) s / L. With the outward normal n, the tangent t and the curvature k (positive where the edge bends
outward) the cut line p + n w runs along t (1 + k w) + n w' (derivative of the offset curve), so that past its end it
rises by w' / (1 + k w) for each mm along the tangent.
"""

import numpy as np

from pipeline.cutting.corners import Side
from pipeline.cutting.rules import EdgeRule
from pipeline.cutting.runs import GRID_MM, Run
from pipeline.geometry.chains import Array, arc_lengths, places_along, turn_rad

_APART_MM = 0.01
"""A change this close to a point of the run takes place there."""
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
    """The runs of an edge with a point wherever its allowance begins to change otherwise."""
    if not rule.between:
        return runs
    length_mm = sum(float(run.lengths.sum()) for run in runs)
    wanted = np.array([share * length_mm for share, _ in rule.between])
    made, at_mm = [], 0.0
    for run in runs:
        along = at_mm + arc_lengths(run.points)
        at_mm = float(along[-1])
        inner = wanted[(wanted > along[0]) & (wanted < along[-1])]
        inner = inner[[np.abs(along - place).min() > _APART_MM for place in inner]]
        chords = np.searchsorted(along, inner)
        points = np.insert(run.points, chords, places_along(run.points, along, inner), axis=0)
        normals = np.insert(run.normals, chords, run.normals[chords - 1], axis=0)
        made.append(Run(run.edge, np.round(points / GRID_MM) * GRID_MM, normals))
    return tuple(made)


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

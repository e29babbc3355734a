"""Where the allowance of an edge that curves inward must be clipped, after sewing, to lie flat.

Such a cut line is shorter than its seam line by allowance x turn, a share of allowance / radius (arithmetic), so it
cannot spread when the allowance is turned. Common practice: snip it towards the seam. Where the radius is more than ten
allowances, the cloth's own give and the iron do it; on tighter curves a snip stands for every 4 mm that the cut line is
too short. Both values are judgements, not published ones. The person who sews adds snips where the cloth asks for them.
"""

import math

import numpy as np

from pipeline.cutting.corners import Side
from pipeline.cutting.parts import Parts
from pipeline.cutting.rules import EdgeRule
from pipeline.cutting.runs import Run
from pipeline.cutting.tapers import side_at
from pipeline.geometry.chains import Array, turns_rad
from pipeline.geometry.points import Point
from pipeline.model.pieces import Polyline, Slit

FREED_MM = 4.0
"""How much shorter than its seam line the cut line is between two clips."""
GIVE = 0.1
"""Share of its length by which a cut line may be shorter than the seam line, and still lie flat: allowance / radius."""
CLEAR_OF_NOTCH_MM = 12.0
"""Farther from every notch than the strokes of a double notch are from each other."""
_LEFT_MM = 3.0
_LEAST_MM = 5.0
_SHARP_RAD = math.radians(30)


def clip_marks(parts: Parts, slits: tuple[Slit, ...]) -> tuple[tuple[Point, Point], ...]:
    """Clips across the allowance, from the cut line to 3 mm before the seam line, on edges of 5 mm or more.

    None on folds, hems and edges whose rule says no, nor where it could be taken for a notch beside it.
    """
    marks: list[tuple[Point, Point]] = []
    for index, run in enumerate(parts.runs):
        rule = parts.rules.edges[run.edge]
        following = (index + 1) % len(parts.runs)
        if not _clipped(rule) or rule.hem:
            continue
        marks += _along(run, parts.widths[index])
        sides = side_at(run, parts.widths[index], True), side_at(parts.runs[following], parts.widths[following], False)
        both = _clipped(parts.rules.edges[parts.runs[following].edge]) and min(s.width_mm for s in sides) >= _LEAST_MM
        if both and parts.corners[index].turn_rad < -_SHARP_RAD:
            marks.append(_at_corner(run.points[-1], *sides))
    return tuple(mark for mark in marks if all(mark[0].distance(slit.outer) >= CLEAR_OF_NOTCH_MM for slit in slits))


def _clipped(rule: EdgeRule) -> bool:
    return rule.clips and not rule.fold and rule.widest_mm >= _LEAST_MM


def _along(run: Run, widths: Array) -> list[tuple[Point, Point]]:
    """Clips spaced evenly over the turn of each concave stretch, so that they stand closer where it bends more."""
    before, after = run.normals[:-1], run.normals[1:]
    turns = -turns_rad(before, after)
    lengths = run.lengths
    widths = widths[1:-1]
    concave = (widths >= _LEAST_MM) & (turns * widths > GIVE * (lengths[:-1] + lengths[1:]) / 2)
    edges = np.flatnonzero(np.diff(np.concatenate(([0], concave.astype(int), [0]))))
    marks = []
    for start, stop in zip(edges[::2], edges[1::2], strict=True):
        total = np.cumsum(turns[start:stop] * widths[start:stop])
        count = int(total[-1] / FREED_MM)
        for step in range(count):
            vertex = start + int(np.searchsorted(total, total[-1] * (step + 0.5) / count)) + 1
            normal = run.normals[vertex - 1] + run.normals[vertex]
            marks.append(_stroke(run.points[vertex], normal / np.hypot(*normal), float(widths[vertex - 1])))
    return marks


def _at_corner(place: Array, ending: Side, starting: Side) -> tuple[Point, Point]:
    # The meeting point of both offset lines: the solution of x·n0 = d0, x·n1 = d1.
    normals = np.array([ending.line_normal, starting.line_normal])
    meeting = np.linalg.solve(normals, np.array([ending.line_mm, starting.line_mm]))
    distance = float(np.hypot(*meeting))
    return _stroke(place, meeting / distance, distance)


def _stroke(place: Array, outward: Array, width: float) -> tuple[Point, Point]:
    outer, inner = place + outward * width, place + outward * _LEFT_MM
    return _point(outer), _point(inner)


def _point(place: Array) -> Point:
    return Point(round(float(place[0]), 6), round(float(place[1]), 6))


def polyline(points: Array) -> Polyline:
    """Points as the model keeps them, on the grid of 1e-6 mm."""
    return tuple(Point(x, y) for x, y in np.round(points, 6).tolist())

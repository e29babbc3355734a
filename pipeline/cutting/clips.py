"""Where the allowance of a concave edge must be clipped to lie flat.

A concave cut line is shorter than its seam line by width x turn (arithmetic), so it cannot spread when the allowance is
turned. Common practice: clip it towards the seam. What the cloth's own give takes up, 3 % of the length, is left alone;
beyond that each clip frees about 2 mm, and none is drawn for less. Both values are judgements, not published ones.
"""

import math

import numpy as np

from pipeline.cutting.outline import Parts
from pipeline.cutting.runs import Array, Run
from pipeline.model.pieces import Polyline, Slit
from pipeline.model.points import Point

FREED_MM = 2.0
"""How much shorter than its seam line the cut line is between two clips."""
GIVE = 0.03
"""Share of its length by which a cut line may be shorter than the seam line, and still lie flat."""
_LEFT_MM = 3.0
_CLEAR_OF_SLIT_MM = 4.0
_LEAST_MM = 5.0
_SHARP_RAD = math.radians(30)


def clip_marks(parts: Parts, slits: tuple[Slit, ...]) -> tuple[tuple[Point, Point], ...]:
    """Strokes across the allowance, from the cut line to 3 mm before the seam line, on edges of 5 mm or more.

    None stands within 4 mm of a notch's slit, which would not be told from it.
    """
    marks: list[tuple[Point, Point]] = []
    for index, run in enumerate(parts.runs):
        rule = parts.rules.edges[run.edge]
        after = parts.rules.edges[parts.runs[(index + 1) % len(parts.runs)].edge]
        if rule.fold or rule.hem or rule.width_mm < _LEAST_MM:
            continue
        marks += _along(run, rule.width_mm)
        if not after.fold and after.width_mm >= _LEAST_MM and parts.corners[index].turn_rad < -_SHARP_RAD:
            marks.append(_at_corner(run, parts.runs[(index + 1) % len(parts.runs)], rule.width_mm, after.width_mm))
    return tuple(mark for mark in marks if all(mark[0].distance(slit.outer) >= _CLEAR_OF_SLIT_MM for slit in slits))


def _along(run: Run, width: float) -> list[tuple[Point, Point]]:
    """Clips spaced evenly over the turn of each concave stretch, so that they stand closer where it bends more."""
    before, after = run.normals[:-1], run.normals[1:]
    turns = -np.arctan2(before[:, 0] * after[:, 1] - before[:, 1] * after[:, 0], np.einsum("ij,ij->i", before, after))
    lengths = run.lengths
    concave = turns * width > GIVE * (lengths[:-1] + lengths[1:]) / 2
    edges = np.flatnonzero(np.diff(np.concatenate(([0], concave.astype(int), [0]))))
    marks = []
    for start, stop in zip(edges[::2], edges[1::2], strict=True):
        total = np.cumsum(turns[start:stop])
        count = int(total[-1] * width / FREED_MM)
        for step in range(count):
            vertex = start + int(np.searchsorted(total, total[-1] * (step + 0.5) / count)) + 1
            normal = run.normals[vertex - 1] + run.normals[vertex]
            marks.append(_stroke(run.points[vertex], normal / np.hypot(*normal), width))
    return marks


def _at_corner(run: Run, after: Run, width: float, other: float) -> tuple[Point, Point]:
    one, two = run.normals[-1], after.normals[0]
    place = run.points[-1]
    # The meeting point of both offset lines: the solution of x·n0 = d0, x·n1 = d1.
    meeting = np.linalg.solve(np.array([one, two]), np.array([width, other]))
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

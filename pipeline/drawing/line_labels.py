"""Sizes written along lines: where each label stands, and the gaps that lines leave for it.

A label stands in its own line, parallel to it. It never overlaps another label, a notch or a mark; it looks for a place
where no other line passes, and where there is none the lines that pass leave a gap too.
"""

import math
from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
import shapely
from numpy.typing import NDArray

from pipeline.drawing.fonts import CAP_HEIGHT, text_width_mm
from pipeline.drawing.stretches import Stretch
from pipeline.model.points import Point

Floats = NDArray[np.float64]

_STEP_MM = 7.5
_REACH_MM = np.arange(-45.0, 45.1, _STEP_MM)
"""Where a label is tried, about the place where it is wanted."""
_APART_MM = 60.0
"""How far along a line its second label is from its first, where a good place for it was not found."""
_MOST_CROSSED = 2
_STRAIGHT_MM = 1.5
"""How far the line stays straight beyond a label's ends."""
_PROBES = np.array((-1.0, -0.8, -0.4, 0.0, 0.4, 0.8, 1.0))
_BEND_MM = 0.6
_SIDE_MM = 0.8
_ABOVE_MM = 0.45
_CLEAR_MM = 0.9
_STEEP = 0.17
"""Sine of ten degrees: text on a line that is steeper is read from the right, upward."""


class LabelStyle(NamedTuple):
    """Text sizes to try, largest first; how often a label returns along a line; from which length on there are two."""

    text_sizes_mm: tuple[float, ...]
    every_mm: float
    two_from_mm: float


class LineLabel(NamedTuple):
    """A label's text; its baseline's middle; how it is turned, clockwise; the box that lines keep clear of.

    `at_mm` is where its middle lies along its line.
    """

    text: str
    size_mm: float
    baseline: Point
    turned_deg: float
    box: tuple[Point, Point, Point, Point]
    at_mm: float = 0.0


class LabelRequest(NamedTuple):
    """A stretch to be labelled, what is written, where within the period its labels start (0 to 1).

    A text but the last is only written where no other line passes; the last one anywhere.
    """

    stretch: Stretch
    texts: tuple[str, ...]
    phase: float


class Obstacles:
    """Everything a label should not stand on: lines (by the stretch they belong to) and marks (never)."""

    def __init__(self, lines: Sequence[Stretch], marks: Sequence[tuple[Point, Point]]) -> None:
        starts: list[Floats] = []
        owners: list[NDArray[np.int64]] = []
        for index, line in enumerate(lines):
            ring = np.asarray(line.ring)
            starts.append(np.stack((ring[:-1], ring[1:]), axis=1))
            owners.append(np.full(len(ring) - 1, index))
        if marks:
            starts.append(np.asarray(marks))
            owners.append(np.full(len(marks), -1))
        self.count = len(lines)
        self.owners = np.concatenate(owners)
        self.tree = shapely.STRtree(shapely.linestrings(np.concatenate(starts)))


def place_labels(
    requests: Sequence[tuple[int, LabelRequest]],
    obstacles: Obstacles,
    style: LabelStyle,
    taken: Sequence[shapely.Polygon] = (),
) -> tuple[tuple[int, LineLabel], ...]:
    """Labels for stretches (given with their index among the obstacles' lines), each with its request's index.

    A stretch on which too few labels found a good place is searched from end to end, and gets the best there is.
    """
    search = _Search(obstacles, style.text_sizes_mm, taken)
    labels: list[tuple[int, LineLabel]] = []
    for index, (owner, request) in enumerate(requests):
        run = _Run(request.stretch)
        least = 1 if run.length < style.two_from_mm else 2
        count = max(least, round(run.length / style.every_mm))
        wanted = (np.arange(count) + request.phase) * run.length / count
        found: list[LineLabel] = []
        for at_mm in wanted:
            found.extend(search.first(request.texts, run, owner, at_mm + _REACH_MM, _MOST_CROSSED))
        for _ in range(least - len(found)):
            anywhere = np.arange(0.0, run.length, _STEP_MM)
            for label in found:
                anywhere = anywhere[np.abs(anywhere - label.at_mm) > _APART_MM]
            found.extend(search.first(request.texts, run, owner, anywhere, math.inf))
        labels.extend((index, label) for label in found)
    return tuple(labels)


class _Run:
    """A stretch by length."""

    def __init__(self, stretch: Stretch) -> None:
        self.places = np.asarray(stretch.ring)
        steps = np.hypot(*(self.places[1:] - self.places[:-1]).T)
        self.along = np.concatenate(([0.0], np.cumsum(steps)))
        self.length = float(self.along[-1])

    def at(self, along: Floats) -> Floats:
        return np.stack(
            (np.interp(along, self.along, self.places[:, 0]), np.interp(along, self.along, self.places[:, 1])), axis=-1
        )

    def chords(self, along: Floats, half_width: float) -> tuple[Floats, Floats, NDArray[np.bool_]]:
        """For text centred at places along: its centre, its unit direction of reading, whether the run is straight."""
        reach = half_width + _STRAIGHT_MM
        places = self.at(along[None, :] + reach * _PROBES[:, None])
        starts, probes, ends = places[0], places[1:-1], places[-1]
        chords = ends - starts
        lengths = np.maximum(np.hypot(chords[:, 0], chords[:, 1]), 1e-9)
        units = chords / lengths[:, None]
        normals = np.stack((-units[:, 1], units[:, 0]), axis=1)
        offsets = ((probes - starts) * normals).sum(axis=2)
        centres = (starts + ends) / 2 + normals * (offsets[len(offsets) // 2] / 2)[:, None]
        units[(units[:, 0] < -_STEEP) | ((np.abs(units[:, 0]) <= _STEEP) & (units[:, 1] > 0))] *= -1
        return centres, units, (np.abs(offsets).max(axis=0) <= _BEND_MM) & (lengths > 1.9 * reach)


class _Search:
    """The search for places; what it has found is taken."""

    def __init__(self, obstacles: Obstacles, text_sizes_mm: Sequence[float], taken: Sequence[shapely.Polygon]) -> None:
        self.obstacles = obstacles
        self.text_sizes_mm = text_sizes_mm
        self.taken = list(taken)

    def first(self, texts: Sequence[str], run: _Run, owner: int, along: Floats, most_crossed: float) -> list[LineLabel]:
        """The first of the texts that finds a place, with the last as `most_crossed` allows."""
        for text in texts[:-1]:
            found = self.take(text, run, owner, along, 0)
            if found:
                return found
        return self.take(texts[-1], run, owner, along, most_crossed)

    def take(self, text: str, run: _Run, owner: int, along: Floats, most_crossed: float) -> list[LineLabel]:
        """The best of the places (mm along the run), those in the middle first, if there is one.

        Smaller text is tried where that keeps clear of other lines.
        """
        best: tuple[float, LineLabel] | None = None
        for size_mm in self.text_sizes_mm:
            found = self._cheapest(text, size_mm, run, owner, along)
            if found is not None and found[0] < most_crossed + 1 and (best is None or found[0] < best[0]):
                best = found
            if best is not None and best[0] < 1.0:
                break
        if best is None:
            return []
        self.taken.append(shapely.Polygon(best[1].box))
        return [best[1]]

    def _cheapest(
        self, text: str, size_mm: float, run: _Run, owner: int, along: Floats
    ) -> tuple[float, LineLabel] | None:
        """The label of least cost: the lines that pass, and less than 1 for the distance from the middle."""
        if not len(along):
            return None
        half_width = text_width_mm(text, size_mm, bold=True) / 2 + _SIDE_MM
        half_height = CAP_HEIGHT * size_mm / 2 + _ABOVE_MM
        reach = np.abs(along - along.mean()) / (np.ptp(along) + _STEP_MM)
        inside = (along > half_width + 1) & (along < run.length - half_width - 1)
        along, reach = along[inside], reach[inside]
        centres, units, straight = run.chords(along, half_width)
        if not straight.any():
            return None
        along, reach, centres, units = along[straight], reach[straight], centres[straight], units[straight]
        downs = np.stack((-units[:, 1], units[:, 0]), axis=1)
        across, up = units * half_width, downs * half_height
        corners = np.stack(
            (centres - across - up, centres + across - up, centres + across + up, centres - across + up), 1
        )
        crossed, blocked = self._found_in(shapely.polygons(corners), owner)
        if blocked.all():
            return None
        costs = np.where(blocked, np.inf, crossed + reach)
        k = int(costs.argmin())
        a, b, c, d = (Point(*corner) for corner in corners[k].tolist())
        baseline = Point(*(centres[k] + downs[k] * (CAP_HEIGHT * size_mm / 2)).tolist())
        turned = math.degrees(math.atan2(units[k, 1], units[k, 0]))
        return float(costs[k]), LineLabel(text, size_mm, baseline, turned, (a, b, c, d), float(along[k]))

    def _found_in(self, boxes: NDArray[np.object_], owner: int) -> tuple[Floats, NDArray[np.bool_]]:
        """How many other lines pass each box, and whether a mark or another text is in it."""
        at_box, at_line = self.obstacles.tree.query(boxes, predicate="intersects")
        found = self.obstacles.owners[at_line]
        crossed, blocked = np.zeros(len(boxes)), np.zeros(len(boxes), dtype=bool)
        blocked[at_box[found < 0]] = True
        others = (found >= 0) & (found != owner)
        lines = self.obstacles.count
        pairs = np.unique(at_box[others] * lines + found[others])
        crossed += np.bincount(pairs // lines, minlength=len(boxes))
        if self.taken:
            left, top, right, bottom = shapely.total_bounds(boxes)
            area = shapely.box(left - _CLEAR_MM, top - _CLEAR_MM, right + _CLEAR_MM, bottom + _CLEAR_MM)
            near = [box for box in self.taken if box.intersects(area)]
            if near:
                blocked |= shapely.dwithin(boxes[:, None], np.asarray(near)[None, :], _CLEAR_MM).any(axis=1)
        return crossed, blocked


def with_gaps(lines: Sequence[Stretch], boxes: Sequence[shapely.Polygon]) -> tuple[tuple[Stretch, ...], ...]:
    """Each line less what lies in the boxes: a line without one comes back whole."""
    if not boxes:
        return tuple((line,) for line in lines)
    shapes = [shapely.LinearRing(line.points) if line.closed else shapely.LineString(line.points) for line in lines]
    tree = shapely.STRtree(shapes)
    at_box, at_line = tree.query(np.asarray(boxes), predicate="intersects")
    hits: dict[int, list[shapely.Polygon]] = {}
    for box, index in zip(at_box.tolist(), at_line.tolist(), strict=True):
        hits.setdefault(index, []).append(boxes[box])
    return tuple(_less(line, shapes[k], hits[k]) if k in hits else (line,) for k, line in enumerate(lines))


def _less(line: Stretch, shape: shapely.Geometry, boxes: Sequence[shapely.Polygon]) -> tuple[Stretch, ...]:
    whole = shapely.LineString(shape.coords)
    rest = whole.difference(shapely.union_all(boxes))
    if line.closed and rest.geom_type == "MultiLineString":
        rest = _joined(rest, whole)
    parts = [rest] if rest.geom_type == "LineString" else list(rest.geoms)
    return tuple(
        Stretch(line.sizes, tuple(Point(*place) for place in part.coords), False) for part in parts if part.length > 0.2
    )


def _joined(rest: shapely.MultiLineString, whole: shapely.LineString) -> shapely.MultiLineString:
    """The first and the last part of an opened ring are one where they meet at the ring's start."""
    start = whole.coords[0]
    parts = [list(part.coords) for part in rest.geoms]
    if parts[0][0] == start and parts[-1][-1] == start:
        parts = [parts[-1] + parts[0][1:], *parts[1:-1]]
    return shapely.MultiLineString(parts)

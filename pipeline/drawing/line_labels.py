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
from pipeline.sheets.coordinates import coordinates

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
            ring = coordinates(line.ring)
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
        found = search.labels(request.texts, run, owner, wanted[:, None] + _REACH_MM, _MOST_CROSSED)
        for _ in range(least - len(found)):
            anywhere = np.arange(0.0, run.length, _STEP_MM)
            for label in found:
                anywhere = anywhere[np.abs(anywhere - label.at_mm) > _APART_MM]
            if len(anywhere):
                found += search.labels(request.texts, run, owner, anywhere[None, :], math.inf)
        labels.extend((index, label) for label in found)
    return tuple(labels)


class _Run:
    """A stretch by length."""

    def __init__(self, stretch: Stretch) -> None:
        self.places = coordinates(stretch.ring)
        steps = np.hypot(*(self.places[1:] - self.places[:-1]).T)
        self.along = np.concatenate(([0.0], np.cumsum(steps)))
        self.length = float(self.along[-1])

    def at(self, along: Floats) -> Floats:
        return np.stack(
            (np.interp(along, self.along, self.places[:, 0]), np.interp(along, self.along, self.places[:, 1])), axis=-1
        )

    def chords(self, along: Floats, half_widths: Floats) -> tuple[Floats, Floats, NDArray[np.bool_]]:
        """For text centred at places along: its centre, its unit direction of reading, whether the run is straight."""
        reach = half_widths + _STRAIGHT_MM
        places = self.at(along[None, :] + reach[None, :] * _PROBES[:, None])
        starts, probes, ends = places[0], places[1:-1], places[-1]
        chords = ends - starts
        lengths = np.maximum(np.hypot(chords[:, 0], chords[:, 1]), 1e-9)
        units = chords / lengths[:, None]
        normals = np.stack((-units[:, 1], units[:, 0]), axis=1)
        offsets = ((probes - starts) * normals).sum(axis=2)
        centres = (starts + ends) / 2 + normals * (offsets[len(offsets) // 2] / 2)[:, None]
        units[(units[:, 0] < -_STEEP) | ((np.abs(units[:, 0]) <= _STEEP) & (units[:, 1] > 0))] *= -1
        return centres, units, (np.abs(offsets).max(axis=0) <= _BEND_MM) & (lengths > 1.9 * reach)


class _Tried(NamedTuple):
    """Places where a text would stand, each in one size: which of the wanted places it serves, and what it costs.

    The cost is the number of lines that pass, and less than 1 for the distance from the place that is wanted.
    """

    wanted: NDArray[np.intp]
    size: NDArray[np.intp]
    along: Floats
    costs: Floats
    centres: Floats
    units: Floats
    corners: Floats
    boxes: NDArray[np.object_]


class _Search:
    """The search for places; what it has found is taken."""

    def __init__(self, obstacles: Obstacles, text_sizes_mm: Sequence[float], taken: Sequence[shapely.Polygon]) -> None:
        self.obstacles = obstacles
        self.text_sizes_mm = np.asarray(text_sizes_mm)
        self.taken: NDArray[np.object_] = np.asarray(taken, dtype=object)
        self.taken_bounds = shapely.bounds(self.taken).reshape(-1, 4)

    def labels(
        self, texts: Sequence[str], run: _Run, owner: int, along: Floats, most_crossed: float
    ) -> list[LineLabel]:
        """A label for each row of places (mm along the run) that has room for it.

        It is the first of the texts that finds a place, with the last as `most_crossed` allows; smaller text is tried
        where that keeps clear of other lines.
        """
        tried = [self._tried(text, run, owner, along) for text in texts]
        found: list[LineLabel] = []
        for row in range(len(along)):
            for text, places in zip(texts, tried, strict=True):
                best = self._best(places, row, 1.0 if text is not texts[-1] else most_crossed + 1)
                if best is not None:
                    found.append(self._take(text, places, best))
                    break
        return found

    def _tried(self, text: str, run: _Run, owner: int, along: Floats) -> _Tried:
        """Every place at which the run is straight and no mark stands, for every text size."""
        half_widths = np.array([text_width_mm(text, size, bold=True) / 2 + _SIDE_MM for size in self.text_sizes_mm])
        reach = np.abs(along - along.mean(axis=1, keepdims=True)) / (np.ptp(along, axis=1, keepdims=True) + _STEP_MM)
        edge = half_widths[None, :, None] + 1
        inside = (along[:, None, :] > edge) & (along[:, None, :] < run.length - edge)
        wanted, size, step = np.nonzero(inside)
        centres, units, straight = run.chords(along[wanted, step], half_widths[size])
        wanted, size, step = wanted[straight], size[straight], step[straight]
        centres, units = centres[straight], units[straight]
        downs = np.stack((-units[:, 1], units[:, 0]), axis=1)
        half_heights = CAP_HEIGHT * self.text_sizes_mm / 2 + _ABOVE_MM
        across, up = units * half_widths[size, None], downs * half_heights[size, None]
        corners = np.stack(
            (centres - across - up, centres + across - up, centres + across + up, centres - across + up), 1
        )
        boxes = shapely.polygons(corners)
        costs = self._crossed(boxes, owner) + reach[wanted, step]
        return _Tried(wanted, size, along[wanted, step], costs, centres, units, corners, boxes)

    def _crossed(self, boxes: NDArray[np.object_], owner: int) -> Floats:
        """How many other lines pass each box; infinite where a mark is in it."""
        at_box, at_line = self.obstacles.tree.query(boxes, predicate="intersects")
        found = self.obstacles.owners[at_line]
        others = (found >= 0) & (found != owner)
        lines = self.obstacles.count
        pairs = np.unique(at_box[others] * lines + found[others])
        crossed: Floats = np.bincount(pairs // lines, minlength=len(boxes)).astype(np.float64)
        crossed[at_box[found < 0]] = math.inf
        return crossed

    def _best(self, places: _Tried, row: int, below: float) -> int | None:
        """The number of the cheapest place of a row that costs less than `below` and is not taken.

        A smaller size counts where it is cheaper, and only while a line passes.
        """
        best: int | None = None
        for size in range(len(self.text_sizes_mm)):
            limit = below if best is None else min(below, float(places.costs[best]))
            some = np.flatnonzero((places.wanted == row) & (places.size == size) & (places.costs < limit))
            some = some[~self._is_taken(places.boxes[some])]
            if len(some):
                best = int(some[places.costs[some].argmin()])
                if places.costs[best] < 1.0:
                    break
        return best

    def _is_taken(self, boxes: NDArray[np.object_]) -> NDArray[np.bool_]:
        """Whether another text stands in each box, or nearer than texts may."""
        if not len(boxes) or not len(self.taken):
            return np.zeros(len(boxes), dtype=bool)
        left, top, right, bottom = shapely.total_bounds(boxes)
        near = (self.taken_bounds[:, :2] <= (right + _CLEAR_MM, bottom + _CLEAR_MM)).all(axis=1)
        near &= (self.taken_bounds[:, 2:] >= (left - _CLEAR_MM, top - _CLEAR_MM)).all(axis=1)
        if not near.any():
            return np.zeros(len(boxes), dtype=bool)
        taken: NDArray[np.bool_] = shapely.dwithin(boxes[:, None], self.taken[near][None, :], _CLEAR_MM).any(axis=1)
        return taken

    def _take(self, text: str, places: _Tried, k: int) -> LineLabel:
        self.taken = np.append(self.taken, places.boxes[k])
        self.taken_bounds = np.concatenate((self.taken_bounds, shapely.bounds(places.boxes[k])[None, :]))
        size_mm, unit = float(self.text_sizes_mm[places.size[k]]), places.units[k]
        a, b, c, d = (Point(*corner) for corner in places.corners[k].tolist())
        down = np.array((-unit[1], unit[0]))
        baseline = Point(*(places.centres[k] + down * (CAP_HEIGHT * size_mm / 2)).tolist())
        turned = math.degrees(math.atan2(unit[1], unit[0]))
        return LineLabel(text, size_mm, baseline, turned, (a, b, c, d), float(places.along[k]))


def with_gaps(lines: Sequence[Stretch], boxes: Sequence[shapely.Polygon]) -> tuple[tuple[Stretch, ...], ...]:
    """Each line less what lies in the boxes: a line without one comes back whole."""
    if not boxes:
        return tuple((line,) for line in lines)
    shapes = [shapely.linestrings(coordinates(line.ring)) for line in lines]
    tree = shapely.STRtree(shapes)
    at_box, at_line = tree.query(np.asarray(boxes), predicate="intersects")
    hits: dict[int, list[shapely.Polygon]] = {}
    for box, index in zip(at_box.tolist(), at_line.tolist(), strict=True):
        hits.setdefault(index, []).append(boxes[box])
    return tuple(_less(line, shapes[k], hits[k]) if k in hits else (line,) for k, line in enumerate(lines))


def _less(line: Stretch, whole: shapely.LineString, boxes: Sequence[shapely.Polygon]) -> tuple[Stretch, ...]:
    rest = whole.difference(shapely.union_all(boxes) if len(boxes) > 1 else boxes[0])
    if line.closed and rest.geom_type == "MultiLineString":
        rest = _joined(rest, whole)
    return tuple(
        Stretch(line.sizes, tuple(Point(*place) for place in shapely.get_coordinates(part).tolist()), False)
        for part in shapely.get_parts(rest)
        if part.length > 0.2
    )


def _joined(rest: shapely.MultiLineString, whole: shapely.LineString) -> shapely.MultiLineString:
    """The first and the last part of an opened ring are one where they meet at the ring's start."""
    start = whole.coords[0]
    parts = [list(part.coords) for part in rest.geoms]
    if parts[0][0] == start and parts[-1][-1] == start:
        parts = [parts[-1] + parts[0][1:], *parts[1:-1]]
    return shapely.MultiLineString(parts)

"""Sizes written along lines: where each label stands, and the gaps that lines leave for it.

A label stands in its own line, parallel to it, off other labels, notches and marks, where no other line passes. Without
such a place it goes into a row with leaders (`line_rows.py`); without room there, the lines that pass leave a gap too.
On every page that its line crosses it returns, and by every notch of a size that has its line alone; where only seam
lines pass there, as the next size's may all along, they leave a gap.
"""

import math
from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
import shapely
from numpy.typing import NDArray

from pipeline.drawing.fonts import CAP_HEIGHT, DESCENT, text_width_mm
from pipeline.drawing.labels.courses import Course, Obstacles
from pipeline.drawing.nest.stretches import Stretch
from pipeline.geometry.points import Point

Floats = NDArray[np.float64]

_STEP_MM = 7.5
_REACH_MM = np.arange(-45.0, 45.1, _STEP_MM)
"""Where a label is tried, about the place where it is wanted."""
_APART_MM = 60.0
"""How far along a line its second label is from its first, where a good place for it was not found."""
_CLEAR = 1.0
"""What a place costs less than that no other line passes."""
_ON_JOINT = 1.0
"""What a joint of pages costs: as much as a line that passes, so that a label stands on one for want of all else."""
_STRAIGHT_MM = 1.5
"""How far the line stays straight beyond a label's ends."""
_ON_PAGE_MM = 30.0
"""What a line runs on a page at least that has to say its size there."""
BY_MARK_MM = 30.0
"""How far along its line a mark's label is from it at the most."""
_BY_MARK_STEPS_MM = np.arange(-28.0, 28.1, 4.0)
_SIDE_MM = 0.8
_ABOVE_MM = 0.45
_CLEAR_MM = 0.9


class LabelStyle(NamedTuple):
    """Text sizes, largest first; how often a label returns; from which length on there are two; more room at lines.

    `whole`: other lines of a label's own sizes never pass it, since they are not parted for it. `most` is the share of
    a line that one label may take; beyond a label's ends the line stays straight for `straight_mm`.
    """

    text_sizes_mm: tuple[float, ...]
    every_mm: float
    two_from_mm: float
    clear_mm: float = 0.0
    whole: bool = False
    most: float = 1.0
    straight_mm: float = _STRAIGHT_MM

    def least(self, length_mm: float) -> int:
        return 1 if length_mm < self.two_from_mm else 2


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

    The first text is written that finds room; only the last one where other lines pass. `marks_mm` are places along the
    stretch beside which it is told whose line that is.
    """

    stretch: Stretch
    texts: tuple[str, ...]
    phase: float
    marks_mm: tuple[float, ...] = ()


class _Tried(NamedTuple):
    """Places where a text would stand, each in one size: which of the wanted places it serves, and what it costs.

    The cost is the number of lines that pass, one more on a joint of pages, and less than 1 for the distance from the
    place that is wanted.
    """

    wanted: NDArray[np.intp]
    size: NDArray[np.intp]
    along: Floats
    costs: Floats
    centres: Floats
    units: Floats
    corners: Floats
    boxes: NDArray[np.object_]


class LabelSearch:
    """Places for labels; what it has found is taken."""

    def __init__(
        self,
        obstacles: Obstacles,
        style: LabelStyle,
        taken: Sequence[shapely.Geometry],
        joints: shapely.Geometry,
        pages: Sequence[shapely.Geometry] = (),
    ) -> None:
        """`joints` are those of all files, `pages` those of files whose every page says whose lines it shows."""
        self.obstacles, self.style, self.joints, self.pages = obstacles, style, joints, pages
        self.text_sizes_mm = np.asarray(style.text_sizes_mm)
        self.side_mm, self.above_mm = _SIDE_MM + style.clear_mm, _ABOVE_MM + style.clear_mm
        self.taken: NDArray[np.object_] = np.asarray(taken, dtype=object)
        self.taken_bounds = shapely.bounds(self.taken).reshape(-1, 4)

    def place(self, requests: Sequence[tuple[int, LabelRequest]]) -> tuple[tuple[int, LineLabel], ...]:
        """Labels for stretches (given with their index among the obstacles' lines), each with its request's index.

        They stand where no other line and no joint of pages passes. A stretch on which too few found such a
        place near where they are wanted is searched from end to end.
        """
        labels: list[tuple[int, LineLabel]] = []
        for index, (owner, request) in enumerate(requests):
            run = Course(request.stretch)
            least = self.style.least(run.length)
            count = max(least, round(run.length / self.style.every_mm))
            wanted = (np.arange(count) + request.phase) * run.length / count
            found = self._wanted(request.texts, run, owner, wanted)
            if len(found) < least:
                found = self._anywhere(request.texts, run, owner, found, least, _CLEAR)
            found += self._on_pages(request.texts[-1], run, owner, found)
            found += self._at_marks(request, run, owner, found)
            labels.extend((index, label) for label in found)
        return tuple(labels)

    def place_crossed(self, requests: Sequence[tuple[int, LabelRequest]]) -> tuple[tuple[int, LineLabel], ...]:
        """The least labels of each stretch, where fewest other lines pass; as `place` in all else."""
        labels: list[tuple[int, LineLabel]] = []
        for index, (owner, request) in enumerate(requests):
            run = Course(request.stretch)
            found = self._anywhere(request.texts[-1:], run, owner, (), self.style.least(run.length), math.inf)
            labels.extend((index, label) for label in found)
        return tuple(labels)

    def _wanted(self, texts: Sequence[str], run: Course, owner: int, wanted: Floats) -> list[LineLabel]:
        """Near each wanted place (mm along the run) the first of the texts that has room where no other line passes."""
        tried = {text: self._tried(text, run, owner, wanted[:, None] + _REACH_MM) for text in texts}
        found: list[LineLabel] = []
        for row in range(len(wanted)):
            for text, places in tried.items():
                best = self._best(places, places.wanted == row, _CLEAR)
                if best is not None:
                    found.append(self._take(text, places, best))
                    break
        return found

    def _anywhere(
        self, texts: Sequence[str], run: Course, owner: int, found: Sequence[LineLabel], least: int, below: float
    ) -> list[LineLabel]:
        """The labels that were found, and more along the run up to `least`, where they cost less than such a cost."""
        tried = {text: self._tried(text, run, owner, np.arange(0.0, run.length, _STEP_MM)[None, :]) for text in texts}
        labels = list(found)
        for text, places in tried.items():
            while len(labels) < least:
                best = self._best(places, _apart(places.along, labels), below)
                if best is None:
                    break
                labels.append(self._take(text, places, best))
        return labels

    def _on_pages(self, text: str, run: Course, owner: int, found: Sequence[LineLabel]) -> list[LineLabel]:
        """A label for each page of each file that the run crosses and that has none, nearest to the middle there."""
        labels: list[LineLabel] = []
        for joints in self.pages:
            for start, end in run.on_pages(joints):
                told = any(start < label.at_mm < end for label in (*found, *labels))
                if told or end - start < _ON_PAGE_MM:
                    continue
                places = self._tried(text, run, owner, np.arange(start, end, _STEP_MM)[None, :], part_faint=True)
                best = self._best(places, np.ones(len(places.costs), dtype=bool), math.inf)
                if best is not None:
                    labels.append(self._take(text, places, best))
        return labels

    def _at_marks(self, request: LabelRequest, run: Course, owner: int, found: Sequence[LineLabel]) -> list[LineLabel]:
        """A label for each mark that has none near it, as near as there is room; only faint lines give way."""
        labels: list[LineLabel] = []
        for at in request.marks_mm:
            if any(abs(label.at_mm - at) <= BY_MARK_MM for label in (*found, *labels)):
                continue
            along = at + _BY_MARK_STEPS_MM
            places = self._tried(request.texts[-1], run, owner, along[None, :], part_faint=True)
            best = self._best(places, np.ones(len(places.costs), dtype=bool), math.inf)
            if best is not None:
                labels.append(self._take(request.texts[-1], places, best))
        return labels

    def _tried(self, text: str, run: Course, owner: int, along: Floats, part_faint: bool = False) -> _Tried:
        """Every place at which the run is straight, for every text size; `part_faint`: only faint lines may pass."""
        half_widths = text_width_mm(text, 1.0, bold=True) * self.text_sizes_mm / 2 + self.side_mm
        reach = np.abs(along - along.mean(axis=1, keepdims=True)) / (np.ptp(along, axis=1, keepdims=True) + _STEP_MM)
        edge = half_widths[None, :, None] + max(1.0, self.style.straight_mm - _STRAIGHT_MM)
        inside = (along[:, None, :] > edge) & (along[:, None, :] < run.length - edge)
        inside &= 2 * half_widths[None, :, None] <= self.style.most * run.length
        wanted, size, step = np.nonzero(inside)
        centres, units, straight = run.chords(along[wanted, step], half_widths[size], self.style.straight_mm)
        wanted, size, step = wanted[straight], size[straight], step[straight]
        centres, units = centres[straight], units[straight]
        below = DESCENT if any(letter.islower() for letter in text) else 0.0
        half_heights = (CAP_HEIGHT / 2 + below) * self.text_sizes_mm + self.above_mm
        downs = np.stack((-units[:, 1], units[:, 0]), axis=1)
        across, up = units * half_widths[size, None], downs * half_heights[size, None]
        corners = np.stack(
            (centres - across - up, centres + across - up, centres + across + up, centres - across + up), 1
        )
        boxes = shapely.polygons(corners)
        costs = self._crossed(boxes, owner, part_faint) + reach[wanted, step]
        costs[shapely.intersects(self.joints, boxes)] += math.inf if part_faint else _ON_JOINT
        return _Tried(wanted, size, along[wanted, step], costs, centres, units, corners, boxes)

    def _crossed(self, boxes: NDArray[np.object_], owner: int, part_faint: bool) -> Floats:
        """How many other lines pass each box; infinite where a mark is in it, or a line that has to stay whole."""
        at_box, at_line = self.obstacles.tree.query(boxes, predicate="intersects")
        found = self.obstacles.owners[at_line]
        others = (found >= 0) & (found != owner)
        lines = self.obstacles.count
        pairs = np.unique(at_box[others] * lines + found[others])
        crossed: Floats = np.bincount(pairs // lines, minlength=len(boxes)).astype(np.float64)
        crossed[at_box[found < 0]] = math.inf
        if part_faint:
            crossed[at_box[others & ~self.obstacles.faint[found]]] = math.inf
        if self.style.whole:
            crossed[at_box[others & self.obstacles.kin(found, self.obstacles.sizes[owner])]] = math.inf
        return crossed

    def _best(self, places: _Tried, serve: NDArray[np.bool_], below: float) -> int | None:
        """The number of the cheapest place of those that serve that costs less than `below` and is not taken.

        A smaller size counts where it is cheaper, and only while a line passes.
        """
        best: int | None = None
        for size in range(len(self.text_sizes_mm)):
            some = np.flatnonzero(serve & (places.size == size) & (places.costs < below))
            some = some[~self._is_taken(places.boxes[some])]
            if len(some):
                best = int(some[places.costs[some].argmin()])
                below = float(places.costs[best])
                if below < _CLEAR:
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


def _apart(along: Floats, labels: Sequence[LineLabel]) -> NDArray[np.bool_]:
    """Whether places along a run are far enough from the labels that it has."""
    away = np.abs(along[:, None] - np.array([label.at_mm for label in labels]))
    return np.all(away > _APART_MM, axis=1)

"""After the engine: every outline back inside the width, and moved left as far as the others let it."""

import msgspec
import numpy as np
import shapely

from pipeline.lays.items import LayRequest
from pipeline.lays.lay import Placed, Shapes
from pipeline.lays.outlines import Coordinates
from pipeline.lays.proof import shortfall_mm

TOUCH_MM = 0.001
"""What a piece may come too near when it is moved; what the engine already left nearer stays as it is."""
_STEPS_MM = tuple(2.0**-power for power in range(-5, 11))
_PASSES = 3
_ENOUGH_MM = 0.02


def compacted(request: LayRequest, coarse: Shapes, placed: list[Placed]) -> tuple[float, tuple[Placed, ...]]:
    """(length_mm of the true outlines, where everything lies), from left to right, the leftmost at x = 0."""
    compacting = _Compacting(request, coarse, placed)
    for _ in range(_PASSES):
        if compacting.push_left() < _ENOUGH_MM:
            break
    true = Shapes(request)
    extents = [true.placed(place)[:, 0] + dx for place, (dx, _) in zip(placed, compacting.moved, strict=True)]
    left, right = min(float(xs.min()) for xs in extents), max(float(xs.max()) for xs in extents)
    places = [
        msgspec.structs.replace(place, x_mm=place.x_mm + float(dx) - left, y_mm=place.y_mm + float(dy))
        for place, (dx, dy) in zip(placed, compacting.moved, strict=True)
    ]
    return right - left, tuple(sorted(places, key=lambda place: (place.x_mm, place.y_mm, place.item)))


def _inside(outlines: list[Coordinates], placed: list[Placed], height_mm: float) -> Coordinates:
    """Moves that bring all outlines between y = 0 and the width, and the leftmost to x = 0.

    The engine was given a little slack: where it was used, everything draws together in proportion.
    """
    left = min(float(points[:, 0].min()) for points in outlines)
    bottoms = np.array([points[:, 1].max() for points in outlines])
    tops = np.array([points[:, 1].min() for points in outlines])
    down = np.maximum(0.0, -tops) - max(0.0, bottoms.max() - height_mm) * bottoms / bottoms.max()
    on_fold = np.array([place.layers == "fold" for place in placed])
    down[on_fold] = [-place.y_mm for place in placed if place.layers == "fold"]
    return np.column_stack((np.full(len(placed), -left), down))


class _Compacting:
    """Outlines on the cloth, how far each was moved, and the rectangles around them (left, top, right, bottom)."""

    def __init__(self, request: LayRequest, coarse: Shapes, placed: list[Placed]) -> None:
        outlines = [coarse.placed(place) for place in placed]
        self.request, self.placed = request, placed
        self.moved = _inside(outlines, placed, request.height_mm)
        self.polygons = [shapely.Polygon(points + move) for points, move in zip(outlines, self.moved, strict=True)]
        self.boxes = shapely.bounds(self.polygons)

    def push_left(self) -> float:
        """Move each outline left by ever smaller steps, from the leftmost on; returns by how much the lay is shorter.

        Where straight left is barred, a small step may go left and across: so pieces slide along slanting edges.
        """
        before = self.boxes[:, 2].max()
        for index in np.argsort(self.boxes[:, 0], kind="stable"):
            for step in _STEPS_MM:
                across = () if self.placed[index].layers == "fold" or step > 1 else (-step, step)
                while any(self._step(index, -step, dy) for dy in (0.0, *across)):
                    pass
        return float(before - self.boxes[:, 2].max())

    def _step(self, index: int, dx: float, dy: float) -> bool:
        box = self.boxes[index] + (dx, dy, dx, dy)
        if box[0] < 0 or (dy and not 0 <= box[1] <= box[3] <= self.request.height_mm):
            return False
        gap = self.request.gap_mm
        left, top, right, bottom = self.boxes.T
        near = (left < box[2] + gap) & (right > box[0] - gap) & (top < box[3] + gap) & (bottom > box[1] - gap)
        near[index] = False
        here = self.polygons[index]
        there = shapely.transform(here, lambda points: points + np.array((dx, dy)))
        if not all(self._free(here, there, self.polygons[other]) for other in np.flatnonzero(near)):
            return False
        self.polygons[index] = there
        self.boxes[index] = box
        self.moved[index] += (dx, dy)
        return True

    def _free(self, here: shapely.Polygon, there: shapely.Polygon, other: shapely.Polygon) -> bool:
        gap = self.request.gap_mm
        if gap > TOUCH_MM and shapely.distance(there, other) >= gap - TOUCH_MM:
            return True
        short = shortfall_mm(there, other, gap)
        return short <= TOUCH_MM or short <= shortfall_mm(here, other, gap) + 1e-9

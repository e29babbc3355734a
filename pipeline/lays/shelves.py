"""A plain lay without the engine: boxes in columns across the cloth, longest first.

The engine is poor at exact fits, where it has no room to move things about, and breaks on a lay that is hardly longer
than the gap: there the plain lay can be the best, or all there is.
"""

from collections import Counter

import numpy as np

from pipeline.lays.fit import EXACT_MM, fitting_angles, lies_on_fold
from pipeline.lays.items import LayRequest
from pipeline.lays.lay import Placed, Shapes
from pipeline.lays.open_lay import Member


def shelved(request: LayRequest, coarse: Shapes, members: Counter[Member]) -> list[Placed]:
    """Every member once as often as counted, and what lies on the fold, in columns that each keep to their length."""
    columns = _on_fold(request, coarse)
    boxes = []
    for number, member in enumerate(members.elements()):
        place, box = _shortest(request, coarse, member)
        boxes.append((box[0] - box[2], number, place, box))
    placed = [column.first for column in columns if column.first]
    for negative_length, _, place, (left, top, right, bottom) in sorted(boxes, key=lambda each: each[:2]):
        tall = bottom - top
        free = (c for c in columns if c.length >= -negative_length and c.filled + tall <= request.height_mm + EXACT_MM)
        column = next(free, None)
        if column is None:
            column = _Column(columns[-1].x + columns[-1].length + request.gap_mm if columns else 0.0, right - left)
            columns.append(column)
        placed.append(_moved(place, column.x - left, column.filled - top))
        column.filled += tall + request.gap_mm
    return placed


class _Column:
    def __init__(self, x: float, length: float) -> None:
        self.x, self.length, self.filled = x, length, 0.0
        self.first: Placed | None = None


def _on_fold(request: LayRequest, coarse: Shapes) -> list[_Column]:
    columns: list[_Column] = []
    for item in request.items:
        for _ in range(item.count if lies_on_fold(request, item) else 0):
            place = Placed(item=item.name, x_mm=0.0, y_mm=0.0, angle_deg=0.0, layers="fold")
            left, _, right, bottom = _box(coarse, place)
            column = _Column(columns[-1].x + columns[-1].length + request.gap_mm if columns else 0.0, right - left)
            column.first = _moved(place, column.x - left, 0.0)
            column.filled = bottom + request.gap_mm
            columns.append(column)
    return columns


def _shortest(request: LayRequest, coarse: Shapes, member: Member) -> tuple[Placed, tuple[float, ...]]:
    """A member at the angle that takes the least of the cloth's length."""
    places = [
        Placed(
            item=member.item,
            x_mm=0.0,
            y_mm=0.0,
            angle_deg=-angle % 360 if member.mirrored else angle,
            mirrored=member.mirrored,
            layers=member.layers,
        )
        for angle in fitting_angles(request, request.item(member.item))
    ]
    boxes = [_box(coarse, place) for place in places]
    best = min(range(len(places)), key=lambda number: (round(boxes[number][2] - boxes[number][0], 3), number))
    return places[best], boxes[best]


def _box(coarse: Shapes, place: Placed) -> tuple[float, ...]:
    points = coarse.placed(place)
    return tuple(float(each) for each in np.concatenate((points.min(axis=0), points.max(axis=0))))


def _moved(place: Placed, x: float, y: float) -> Placed:
    return Placed(
        item=place.item, x_mm=x, y_mm=y, angle_deg=place.angle_deg, mirrored=place.mirrored, layers=place.layers
    )

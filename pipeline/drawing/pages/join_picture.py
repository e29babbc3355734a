"""The picture that tells how pages are joined: one joint, and the order of all."""

import math
from collections.abc import Sequence

from pipeline.drawing import scene
from pipeline.drawing.fonts import CAP_HEIGHT
from pipeline.drawing.pages.frame import TINT
from pipeline.drawing.scene import Shape
from pipeline.drawing.styles import BLACK, WHITE
from pipeline.geometry.points import Point
from pipeline.sheets.windows import page_label

HEIGHT_MM = 27.0
_LINE_MM = 0.18
_HEAD_MM = 1.8


def join_picture(left: float, top: float, width_mm: float) -> list[Shape]:
    """Left, the cut margin of a page and the neighbour's line that it goes to; right, rows first, then columns."""
    return _one_joint(left + 1, top + 2.5) + _order(left + width_mm - 34, top + 1)


def _one_joint(left: float, top: float) -> list[Shape]:
    """Two pages of 15 x 21 mm whose joint has three ticks; the right one has its left margin cut off."""
    wide, high, margin, apart = 15.0, 21.0, 2.0, 7.5
    second = left + wide + apart
    cut = second + margin
    drawn: list[Shape] = [
        *_sheet(left, top, wide, high),
        *_sheet(second, top, wide, high),
        scene.rectangle(second + 0.1, top + 0.1, margin - 0.1, high - 0.2, TINT),
        scene.line(
            Point(left + wide - margin, top + 0.5),
            Point(left + wide - margin, top + high - 0.5),
            BLACK,
            0.25,
            (1.6, 0.8),
        ),
        scene.line(Point(cut, top - 1.5), Point(cut, top + high + 1.5), BLACK, 0.3),
    ]
    for at in (-2.0, -0.8, 1.4):
        y = top + high * 0.62 + at
        for x in (left + wide - margin, cut):
            drawn.append(scene.line(Point(x - 1.1, y), Point(x + 1.1, y), BLACK, _LINE_MM))
    drawn += _arrow((Point(cut - 0.6, top + high * 0.3), Point(left + wide - margin + 0.4, top + high * 0.3)))
    for x, label in ((left, "2A"), (cut - margin, "3A")):
        drawn.append(scene.text(Point(x + margin + 1.2, top + 5), label, 3, bold=True))
    return drawn


def _order(left: float, top: float) -> list[Shape]:
    """Two rows of three pages: an arrow along each row, then one from row to row."""
    wide, high, row_gap = 9.0, 10.5, 2.0
    drawn: list[Shape] = []
    for row in range(2):
        y = top + row * (high + row_gap)
        for column in range(3):
            drawn += _sheet(left + column * wide, y, wide, high)
            label = page_label(2 + 3 * row + column, row + 1)
            drawn.append(
                scene.text(Point(left + column * wide + wide / 2, y + 3.4), label, 2.2, anchor="middle", bold=True)
            )
        drawn += _arrow((Point(left + 2, y + 6.6), Point(left + 3 * wide - 2, y + 6.6)))
        drawn += _numbered(Point(left + 1.5 * wide, y + 6.6), row + 1)
    x = left + 3 * wide + 3
    drawn += _arrow((Point(x, top + 2), Point(x, top + 2 * high + row_gap - 2)))
    drawn += _numbered(Point(x, top + high + row_gap / 2), 3)
    return drawn


def _sheet(left: float, top: float, wide: float, high: float) -> list[Shape]:
    corners = (Point(left, top), Point(left + wide, top), Point(left + wide, top + high), Point(left, top + high))
    return [scene.polygon(corners, WHITE), scene.polyline(corners, BLACK, _LINE_MM, closed=True)]


def _numbered(place: Point, number: int) -> list[Shape]:
    size = 2.4
    return [
        scene.rectangle(place.x - 1.6, place.y - 1.5, 3.2, 3.0, WHITE),
        scene.text(Point(place.x, place.y + CAP_HEIGHT * size / 2), f"{number}.", size, anchor="middle"),
    ]


def _arrow(ends: Sequence[Point]) -> list[Shape]:
    start, end = ends
    angle = math.atan2(end.y - start.y, end.x - start.x)
    barbs = [
        Point(end.x - _HEAD_MM * math.cos(angle + turn), end.y - _HEAD_MM * math.sin(angle + turn))
        for turn in (-0.4, 0.4)
    ]
    return [scene.line(start, end, BLACK, 0.3), scene.polygon((end, *barbs), BLACK)]

"""The key of marks: a sample of each mark that stands on pieces, with its name."""

import math
from collections.abc import Callable, Sequence
from typing import NamedTuple

from pipeline.drawing import scene
from pipeline.drawing.fonts import ASCENT, DESCENT, text_width_mm
from pipeline.drawing.panels.column import LINE, Column
from pipeline.drawing.panels.words import SEPARATOR, Languages
from pipeline.drawing.scene import Shape
from pipeline.drawing.styles import BLACK, FOLD_EDGE_DASH_MM, NESTED, PLAIN, Look
from pipeline.drawing.text_lines import fitted
from pipeline.model.points import Point
from pipeline.words import say, say_all

_SAMPLE_MM = 13.0
_ROW_MM = 4.6
_BESIDE_MM = 1.5
_STEP_GAP_MM = 4.0
_LEAD_MM = 0.9
_LEAST_TEXT_MM = 1.5


class _Rows(NamedTuple):
    """How the key is set: marks in a row, how far apart they and the rows begin, and the lines of each mark's name."""

    in_row: int
    step_mm: float
    row_mm: float
    names: tuple[tuple[str, ...], ...]

    @property
    def height_mm(self) -> float:
        """Of all rows."""
        return math.ceil(len(self.names) / self.in_row) * self.row_mm


def marks_key(column: Column, sizes: Sequence[str], languages: Languages) -> None:
    """All marks as a file of `sizes` shows them, in the fewest rows: a name is one line, or one a language."""
    look = NESTED if len(sizes) > 1 else PLAIN
    column.heading(say_all(languages, "start.marks-head", SEPARATOR))
    together = [(say_all(languages, word, SEPARATOR),) for word, _ in _MARKS]
    apart = [tuple(dict.fromkeys(say(language, word) for language in languages)) for word, _ in _MARKS]
    size, top, room = column.size_mm, column.y, column.width_mm - _SAMPLE_MM - _BESIDE_MM
    fitting = [names for names in (together, apart) if _widest_mm(names, size) <= room] or [apart]
    rows = min((_rows(column, names) for names in fitting), key=lambda rows: rows.height_mm)
    for number, ((_, draw), lines) in enumerate(zip(_MARKS, rows.names, strict=True)):
        left, middle = (
            column.left + number % rows.in_row * rows.step_mm,
            top + (number // rows.in_row + 0.5) * rows.row_mm,
        )
        column.body += draw(look, left, left + _SAMPLE_MM, middle)
        first = middle + (ASCENT - DESCENT / 2) * size / 2 - (len(lines) - 1) * LINE * size / 2
        for at, line in enumerate(lines):
            name, small = fitted([line], room, size, _LEAST_TEXT_MM)
            place = Point(left + _SAMPLE_MM + _BESIDE_MM, first + at * LINE * size)
            column.body.append(scene.text(place, name, small))
    column.y += rows.height_mm


def _rows(column: Column, names: Sequence[tuple[str, ...]]) -> _Rows:
    step = _SAMPLE_MM + _BESIDE_MM + _widest_mm(names, column.size_mm) + _STEP_GAP_MM
    count = max(1, int((column.width_mm + _STEP_GAP_MM) // step))
    most = max(len(lines) for lines in names)
    row = max(_ROW_MM, (most - 1) * LINE * column.size_mm + 1.3 * column.size_mm + (_LEAD_MM if most > 1 else 0.0))
    return _Rows(min(count, len(names)), step, row, tuple(names))


def _widest_mm(names: Sequence[tuple[str, ...]], size_mm: float) -> float:
    return max(text_width_mm(line, size_mm) for lines in names for line in lines)


def _across(left: float, right: float, y: float, width_mm: float, dash_mm: Sequence[float] = ()) -> Shape:
    return scene.line(Point(left, y), Point(right, y), BLACK, width_mm, dash_mm)


def _cut(look: Look, left: float, right: float, y: float) -> list[Shape]:
    return [_across(left, right, y, look.cut_mm)]


def _seam(look: Look, left: float, right: float, y: float) -> list[Shape]:
    return [_across(left, right, y, look.seam_mm or 0.0, look.seam_dash_mm)]


def _notch(look: Look, left: float, right: float, y: float) -> list[Shape]:
    middle = (left + right) / 2
    stroke = scene.line(Point(middle, y - 1.5), Point(middle, y + 1.5), BLACK, look.mark_mm)
    return [_across(left, right, y - 1.5, look.cut_mm), stroke]


def _clip(look: Look, left: float, right: float, y: float) -> list[Shape]:
    strokes = [((x, y - 1.5), (x, y + 1.3)) for x in (left + 3 + 2.5 * n for n in range(4))]
    clips = [scene.line(Point(*start), Point(*end), BLACK, look.clip_mm) for start, end in strokes]
    return [_across(left, right, y - 1.5, look.cut_mm), *clips]


def _fold(look: Look, left: float, right: float, y: float) -> list[Shape]:
    inner, top = y - 1.5, y + 1.2
    bracket = (Point(left + 2, top), Point(left + 2, inner), Point(right - 2, inner), Point(right - 2, top))
    heads = [
        scene.polygon((Point(x, top), Point(x - 0.5, top - 1.4), Point(x + 0.5, top - 1.4)), BLACK)
        for x in (left + 2, right - 2)
    ]
    edge = _across(left, right, top, look.fold_mm, tuple(part / 3 for part in FOLD_EDGE_DASH_MM))
    return [edge, scene.polyline(bracket, BLACK, look.mark_mm), *heads]


def _point(look: Look, left: float, right: float, y: float) -> list[Shape]:
    middle, arm, radius = (left + right) / 2, 1.9, 1.3
    return [
        _across(middle - arm, middle + arm, y, look.mark_mm),
        scene.line(Point(middle, y - arm), Point(middle, y + arm), BLACK, look.mark_mm),
        scene.circle(Point(middle, y), radius, BLACK, look.mark_mm),
    ]


def _grain(look: Look, left: float, right: float, y: float) -> list[Shape]:
    heads = [
        scene.polygon((Point(tip, y), Point(tip + inward, y - 0.8), Point(tip + inward, y + 0.8)), BLACK)
        for tip, inward in ((left, 3.0), (right, -3.0))
    ]
    return [_across(left + 3, right - 3, y, look.mark_mm), *heads]


_MARKS: tuple[tuple[str, Callable[[Look, float, float, float], list[Shape]]], ...] = (
    ("start.mark-cut", _cut),
    ("start.mark-seam", _seam),
    ("start.mark-notch", _notch),
    ("start.mark-fold", _fold),
    ("start.mark-point", _point),
    ("start.mark-grain", _grain),
    ("start.mark-clip", _clip),
)

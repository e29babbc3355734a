"""The key of marks: a sample of each mark that stands on pieces, with its name."""

from collections.abc import Callable, Sequence

from pipeline.drawing import svg
from pipeline.drawing.fonts import ASCENT
from pipeline.drawing.page_column import Column
from pipeline.drawing.page_text import fitted
from pipeline.drawing.styles import BLACK, FOLD_EDGE_DASH_MM, Look
from pipeline.model.points import Point
from pipeline.words import say, say_all

_SAMPLE_MM = 13.0
_ROW_MM = 4.6
_STEP_MM = 60.0
_LEAST_TEXT_MM = 1.5


def marks_key(column: Column, look: Look, languages: tuple[str, ...]) -> None:
    """All marks, as many in a row as there is room for."""
    column.heading(say_all(languages, "start.marks-head", " / "))
    count = max(1, int(column.width_mm // _STEP_MM))
    step = column.width_mm / count
    row = max(_ROW_MM, 1.3 * column.size_mm)
    for number, (word, draw) in enumerate(_MARKS):
        left, middle = column.left + number % count * step, column.y + row / 2
        column.body += draw(look, left, left + _SAMPLE_MM, middle)
        names = [say_all(languages, word, " / "), say(languages[0], word)]
        room = step - _SAMPLE_MM - 3
        name, size = fitted(names[: len(languages)], room, column.size_mm, _LEAST_TEXT_MM)
        baseline = middle + 0.36 * ASCENT * size
        column.body.append(svg.text(Point(left + _SAMPLE_MM + 1.5, baseline), name, size))
        if number % count == count - 1 or number == len(_MARKS) - 1:
            column.y += row


def _across(left: float, right: float, y: float, width_mm: float, dash_mm: Sequence[float] = ()) -> str:
    return svg.line(Point(left, y), Point(right, y), BLACK, width_mm, dash_mm)


def _cut(look: Look, left: float, right: float, y: float) -> list[str]:
    return [_across(left, right, y, look.cut_mm)]


def _seam(look: Look, left: float, right: float, y: float) -> list[str]:
    return [_across(left, right, y, look.seam_mm or 0.0, look.seam_dash_mm)]


def _notch(look: Look, left: float, right: float, y: float) -> list[str]:
    middle = (left + right) / 2
    stroke = svg.line(Point(middle, y - 1.5), Point(middle, y + 1.5), BLACK, look.mark_mm)
    return [_across(left, right, y - 1.5, look.cut_mm), stroke]


def _clip(look: Look, left: float, right: float, y: float) -> list[str]:
    strokes = [((x, y - 1.5), (x, y + 1.3)) for x in (left + 3 + 2.5 * n for n in range(4))]
    clips = [svg.line(Point(*start), Point(*end), BLACK, look.clip_mm) for start, end in strokes]
    return [_across(left, right, y - 1.5, look.cut_mm), *clips]


def _fold(look: Look, left: float, right: float, y: float) -> list[str]:
    inner, top = y - 1.5, y + 1.2
    bracket = (Point(left + 2, top), Point(left + 2, inner), Point(right - 2, inner), Point(right - 2, top))
    heads = [
        svg.polygon((Point(x, top), Point(x - 0.5, top - 1.4), Point(x + 0.5, top - 1.4)), BLACK)
        for x in (left + 2, right - 2)
    ]
    edge = _across(left, right, top, look.fold_mm, tuple(part / 3 for part in FOLD_EDGE_DASH_MM))
    return [edge, svg.polyline(bracket, BLACK, look.mark_mm), *heads]


def _point(look: Look, left: float, right: float, y: float) -> list[str]:
    middle, arm, radius = (left + right) / 2, 1.9, 1.3
    return [
        _across(middle - arm, middle + arm, y, look.mark_mm),
        svg.line(Point(middle, y - arm), Point(middle, y + arm), BLACK, look.mark_mm),
        svg.circle(Point(middle, y), radius, BLACK, look.mark_mm),
    ]


def _grain(look: Look, left: float, right: float, y: float) -> list[str]:
    heads = [
        svg.polygon((Point(tip, y), Point(tip + inward, y - 0.8), Point(tip + inward, y + 0.8)), BLACK)
        for tip, inward in ((left, 3.0), (right, -3.0))
    ]
    return [_across(left + 3, right - 3, y, look.mark_mm), *heads]


_MARKS: tuple[tuple[str, Callable[[Look, float, float, float], list[str]]], ...] = (
    ("start.mark-cut", _cut),
    ("start.mark-seam", _seam),
    ("start.mark-notch", _notch),
    ("start.mark-fold", _fold),
    ("start.mark-point", _point),
    ("start.mark-grain", _grain),
    ("start.mark-clip", _clip),
)

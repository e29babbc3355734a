"""The key: how figures tell the sides of cloths apart, and what their lines mean."""

from collections.abc import Callable

import shapely

from pipeline.booklet.figures.figure import Figure, Letters
from pipeline.booklet.figures.ink import (
    ACCENT,
    FINE_MM,
    FOLD_DASH_MM,
    MEET_DASH_MM,
    NOTCH_MM,
    OUTLINE_MM,
    ROW_DASH_MM,
    SEAM_DASH_MM,
    SEAM_MM,
    break_lines,
    lines_at,
    lines_of,
    whole_scene,
)
from pipeline.booklet.figures.looks import Surface, filled, hatchings
from pipeline.checks.garment import Garment
from pipeline.drawing import scene
from pipeline.drawing.scene import Shape
from pipeline.drawing.styles import BLACK
from pipeline.drawing.wording import told_apart, told_of
from pipeline.geometry.points import Point
from pipeline.model.pattern import in_language
from pipeline.model.topstitching import topstitched_names
from pipeline.words import say

_SAMPLE_MM, _TALL_MM, _ROW_MM = 14.0, 6.0, 8.2
_COLUMN_MM = 80.0


def _across(
    width_mm: float, dash: tuple[float, ...] = (), colour: str = BLACK
) -> Callable[[float, float], list[Shape]]:
    return lambda left, y: [scene.line(Point(left, y), Point(left + _SAMPLE_MM, y), colour, width_mm, dash)]


def _notch(left: float, y: float) -> list[Shape]:
    outer = scene.line(Point(left, y + 1.5), Point(left + _SAMPLE_MM, y + 1.5), BLACK, OUTLINE_MM)
    inner = scene.line(Point(left, y - 1.5), Point(left + _SAMPLE_MM, y - 1.5), BLACK, SEAM_MM, SEAM_DASH_MM)
    x = left + _SAMPLE_MM / 2
    return [outer, inner, scene.line(Point(x, y - 1.5), Point(x, y + 1.5), BLACK, NOTCH_MM)]


def _goes_on(left: float, y: float) -> list[Shape]:
    return list(break_lines(shapely.LineString([(left, y), (left + _SAMPLE_MM, y)])))


_LINES: dict[str, Callable[[float, float], list[Shape]]] = {
    "start.sign-cut": _across(OUTLINE_MM),
    "figure.key-seam": _across(SEAM_MM, SEAM_DASH_MM),
    "figure.key-fold": _across(OUTLINE_MM, FOLD_DASH_MM),
    "start.sign-notch": _notch,
    "figure.key-meet": _across(0.25, MEET_DASH_MM, ACCENT),
    "figure.key-sewn": _across(1.5 * FINE_MM),
    "figure.key-break": _goes_on,
}


def key_figure(garment: Garment, language: str, letters: Letters) -> Figure:
    """Both sides of every material of the pattern, and every kind of line."""
    pattern = garment.pattern
    rows: list[tuple[str, Callable[[float, float], list[Shape]]]] = []
    for name, hatching in hatchings(pattern).items():
        title = in_language(pattern.materials[name].title, language)
        for right in (True, False):
            side = say(language, "figure.right-side" if right else "figure.wrong-side")
            rows.append((told_of(language, title, side), _sample(Surface(hatching, right))))
    rows += [(say(language, key), draw) for key, draw in _LINES.items()]
    if topstitched_names(pattern):
        text = say(language, "mark.topstitch")
        rows.append((text[:1].upper() + text[1:], _across(FINE_MM * 2, ROW_DASH_MM, ACCENT)))
    shapes: list[Shape] = []
    columns = max(1, int(letters.width_mm // (_COLUMN_MM * letters.grown)))
    column = letters.width_mm / columns
    room, deep = column - _SAMPLE_MM - 4, -(-len(rows) // columns)
    y = 0.0
    for k, (text, draw) in enumerate(rows):
        place, line = divmod(k, deep)
        left = place * column
        _, tall = lines_at(Point(0.0, 0.0), text, room, letters.small_mm)
        y = y if line else 0.0
        middle = y + max(_TALL_MM, tall) / 2
        shapes += draw(left, middle)
        shapes += lines_at(Point(left + _SAMPLE_MM + 2, middle - tall / 2), text, room, letters.small_mm)[0]
        y += max(_ROW_MM, tall + 0.3)
    alt = say(language, "figure.alt-key", rows=told_apart(language, (text for text, _ in rows)))
    return Figure(whole_scene(shapes), alt)


def _sample(surface: Surface) -> Callable[[float, float], list[Shape]]:
    def draw(left: float, y: float) -> list[Shape]:
        box = shapely.box(left, y - _TALL_MM / 2, left + _SAMPLE_MM, y + _TALL_MM / 2)
        return [*filled(box, surface), *lines_of(box.exterior, FINE_MM)]

    return draw

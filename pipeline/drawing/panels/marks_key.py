"""The key of signs: a sample of each sign that stands on the pieces of a file, drawn by what draws it there, named."""

import math
from collections.abc import Callable, Collection, Sequence
from typing import NamedTuple, get_args

from pipeline.drawing import scene
from pipeline.drawing.fonts import ASCENT, DESCENT, text_width_mm
from pipeline.drawing.nest.marks import Heads, fold_ink, grain_ink, head_mm, place_ink, slit_ink
from pipeline.drawing.nest.sewing_marks import arrow_ink, clip_ink, tip_ink
from pipeline.drawing.nest.stretch_sign import stretch_ink
from pipeline.drawing.panels.column import LINE, Column
from pipeline.drawing.panels.words import SEPARATOR, Languages
from pipeline.drawing.scene import Scene, Shape
from pipeline.drawing.styles import (
    BLACK,
    BLEND_DASH_MM,
    FOLD_EDGE_DASH_MM,
    INSIDE_DASH_MM,
    LineStyle,
    Look,
    nested,
    plain,
)
from pipeline.drawing.text_lines import wrapped
from pipeline.geometry.points import Point
from pipeline.model.outputs import USUAL_STYLE, StyleSpec
from pipeline.model.piece_specs import LineKind
from pipeline.words import say, say_all

Draw = Callable[[Look, float, float, float], list[Shape]]
"""Shapes of a sample for a look, between left and right about a middle y, in mm."""

_SAMPLE_MM = 13.0
_ROW_MM, _FLAT_MM = 5.4, 3.0
"""Heights of rows: with a sign that is tall, and with lines alone."""
_UP_MM = 1.9
"""How far above or below its middle a sample's line may lie."""
_CROWDED_MM = 2.6
"""How far apart the places are, of which one is shown as a small cross."""
_BAR_MM = 1.3
_BESIDE_MM = 1.5
_STEP_GAP_MM = 4.0
_LEAD_MM = 0.9


class _Rows(NamedTuple):
    """How the key is set: signs in a row, how far apart they begin, heights of the rows, and the lines of each name."""

    in_row: int
    step_mm: float
    heights_mm: tuple[float, ...]
    names: tuple[tuple[str, ...], ...]


def marks_key(
    column: Column,
    sizes: Sequence[str],
    languages: Languages,
    signs: Collection[str],
    style: StyleSpec = USUAL_STYLE,
) -> None:
    """The signs that a file of `sizes` shows, as it shows them, in the fewest rows: a name is one line, or one a
    language."""
    shown = [sign for sign in _SIGNS if sign in signs]
    if not shown:
        return
    look = nested(False, style) if len(sizes) > 1 else plain(style)
    column.heading(say_all(languages, "start.marks-head", SEPARATOR))
    # where no point has its circle, a small cross is simply how points are shown
    named = ["point" if sign == "point-small" and "point" not in signs else sign for sign in shown]
    together = [(say_all(languages, f"start.sign-{sign}", SEPARATOR),) for sign in named]
    size, room = column.size_mm, column.width_mm - _SAMPLE_MM - _BESIDE_MM
    own = [dict.fromkeys(say(language, f"start.sign-{sign}") for language in languages) for sign in named]
    apart = [tuple(line for name in names for line in wrapped(name, size, room)) for names in own]
    fitting = [names for names in (together, apart) if _widest_mm(names, size) <= room] or [apart]
    rows = min((_rows(column, shown, names) for names in fitting), key=lambda rows: sum(rows.heights_mm))
    for number, (sign, lines) in enumerate(zip(shown, rows.names, strict=True)):
        row, place = divmod(number, rows.in_row)
        left = column.left + place * rows.step_mm
        middle = column.y + sum(rows.heights_mm[:row]) + rows.heights_mm[row] / 2
        column.body += _SIGNS[sign](look, left, left + _SAMPLE_MM, middle)
        first = middle + (ASCENT - DESCENT / 2) * size / 2 - (len(lines) - 1) * LINE * size / 2
        for at, line in enumerate(lines):
            baseline = Point(left + _SAMPLE_MM + _BESIDE_MM, first + at * LINE * size)
            column.body.append(scene.text(baseline, line, size))
    column.y += sum(rows.heights_mm)


def _rows(column: Column, shown: Sequence[str], names: Sequence[tuple[str, ...]]) -> _Rows:
    step = _SAMPLE_MM + _BESIDE_MM + _widest_mm(names, column.size_mm) + _STEP_GAP_MM
    in_row = min(len(names), max(1, int((column.width_mm + _STEP_GAP_MM) // step)))
    most = max(len(lines) for lines in names)
    text = (most - 1) * LINE * column.size_mm + 1.3 * column.size_mm + (_LEAD_MM if most > 1 else 0.0)
    tall = [any(sign in _TALL for sign in shown[at : at + in_row]) for at in range(0, len(shown), in_row)]
    return _Rows(in_row, step, tuple(max(_ROW_MM if high else _FLAT_MM, text) for high in tall), tuple(names))


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
    stroke = scene.line(Point(middle, y - _UP_MM), Point(middle, y + 1.3), BLACK, look.mark_mm)
    return [_across(left, right, y - _UP_MM, look.cut_mm), stroke]


def _notch_on_seam(look: Look, left: float, right: float, y: float) -> list[Shape]:
    middle = (left + right) / 2
    stroke = scene.line(Point(middle, y - _UP_MM), Point(middle, y + _UP_MM), BLACK, look.mark_mm)
    return [*_seam(look, left, right, y), stroke]


def _clip(look: Look, left: float, right: float, y: float) -> list[Shape]:
    """The V between both lines, which it touches nowhere."""
    middle, seam = (left + right) / 2, y + _UP_MM
    clip = clip_ink((Point(middle, y - _UP_MM), Point(middle, seam - 0.8)), (), BLACK, look)
    return [_across(left, right, y - _UP_MM, look.cut_mm), *_seam(look, left, right, seam), *clip.shapes]


def _fold(look: Look, left: float, right: float, y: float) -> list[Shape]:
    top, inner = y + 1.4, y - 1.6
    bracket = (Point(left + 2, top), Point(left + 2, inner), Point(right - 2, inner), Point(right - 2, top))
    edge = _across(left, right, top, look.fold_mm, _fitted(FOLD_EDGE_DASH_MM))
    return [edge, *fold_ink((), bracket, LineStyle(BLACK, look.mark_mm)).shapes]


def _point(nearest_mm: float) -> Draw:
    def draw(look: Look, left: float, right: float, y: float) -> list[Shape]:
        return list(place_ink(Point((left + right) / 2, y), nearest_mm, (), BLACK, look).shapes)

    return draw


def _buttonhole(look: Look, left: float, right: float, y: float) -> list[Shape]:
    ends = Point((left + right) / 2 - 4, y), Point((left + right) / 2 + 4, y)
    return list(slit_ink(ends, (), LineStyle(BLACK, look.mark_mm), _BAR_MM).shapes)


def _grain(heads: Heads) -> Draw:
    def draw(look: Look, left: float, right: float, y: float) -> list[Shape]:
        line = Point(left, y), Point(right, y)
        return list(grain_ink((), line, heads, LineStyle(BLACK, look.mark_mm), head_mm(line, look)).shapes)

    return draw


def _stretch(look: Look, left: float, right: float, y: float) -> list[Shape]:
    return list(stretch_ink((), (Point(left, y), Point(right, y)), LineStyle(BLACK, look.mark_mm), look).shapes)


def _pleat(look: Look, left: float, right: float, y: float) -> list[Shape]:
    return list(arrow_ink((Point(left + 1, y), Point(right - 1, y)), (), BLACK, look).shapes)


def _dart_tip(look: Look, left: float, right: float, y: float) -> list[Shape]:
    return list(tip_ink(Point((left + right) / 2, y), (), BLACK, look).shapes)


def _inside(kind: LineKind) -> Draw:
    def draw(look: Look, left: float, right: float, y: float) -> list[Shape]:
        return [_across(left, right, y, look.inside_mm, _fitted(INSIDE_DASH_MM[kind]))]

    return draw


def _blend(look: Look, left: float, right: float, y: float) -> list[Shape]:
    return [_across(left, right, y, look.clip_mm, BLEND_DASH_MM)]


def _fitted(dash_mm: Sequence[float]) -> tuple[float, ...]:
    """Dashes so small that a sample shows one repeat and where the next begins."""
    scale = min(1.0, 0.8 * _SAMPLE_MM / sum(dash_mm)) if dash_mm else 1.0
    return tuple(scale * part for part in dash_mm)


_FLAT: dict[str, Draw] = {
    "cut": _cut,
    "seam": _seam,
    "grain-one": _grain("one"),
    "grain-two": _grain("two"),
    "grain-open": _grain("open"),
    "stretch": _stretch,
    **{f"line-{kind}": _inside(kind) for kind in get_args(LineKind)},
    "buttonhole": _buttonhole,
    "dart-tip": _dart_tip,
    "pleat": _pleat,
    "blend": _blend,
}
_TALL: dict[str, Draw] = {
    "notch": _notch,
    "notch-on-seam": _notch_on_seam,
    "clip": _clip,
    "fold": _fold,
    "point": _point(math.inf),
    "point-small": _point(_CROWDED_MM),
}
_SIGNS = _FLAT | _TALL
"""How each sign of a drawing is shown, in the order of the key; `start.sign-…` says what it means."""
ALL_SIGNS = tuple(_SIGNS)


def sign_picture(sign: str, several: bool, style: StyleSpec = USUAL_STYLE) -> Scene:
    """One sign alone, as drawings of `several` sizes, or of one, show it. Raises KeyError."""
    height = _ROW_MM if sign in _TALL else _FLAT_MM
    shapes = _SIGNS[sign](nested(False, style) if several else plain(style), 0.5, 0.5 + _SAMPLE_MM, height / 2)
    return scene.of(0, 0, _SAMPLE_MM + 1.0, height, shapes)

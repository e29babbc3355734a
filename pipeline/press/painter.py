"""Paints scenes onto a cairo surface. A text starts, ends or is centred by its advances, as it was measured."""

import math
from collections.abc import Iterable
from typing import assert_never

import cairocffi

from pipeline.drawing.fonts import FAMILY, text_width_mm
from pipeline.drawing.scene import Circle, Group, Path, Rectangle, Scene, Shape, Text
from pipeline.drawing.styles import Colour, LineStyle

_BEFORE = {"start": 0.0, "middle": 0.5, "end": 1.0}
"""The share of a text that stands before its place."""
_FACES = {
    bold: cairocffi.ToyFontFace(FAMILY, weight=cairocffi.FONT_WEIGHT_BOLD if bold else cairocffi.FONT_WEIGHT_NORMAL)
    for bold in (False, True)
}


def paint(context: cairocffi.Context, scene: Scene, scale: float) -> None:
    """Paint all of a scene; its top left corner lies on the surface's, a mm is `scale` units of the surface."""
    options = cairocffi.FontOptions(hint_style=cairocffi.HINT_STYLE_NONE, hint_metrics=cairocffi.HINT_METRICS_OFF)
    context.set_font_options(options)
    context.set_line_join(cairocffi.LINE_JOIN_ROUND)
    context.scale(scale, scale)
    context.translate(-scene.left_mm, -scene.top_mm)
    _paint_all(context, scene.shapes)


def _paint_all(context: cairocffi.Context, shapes: Iterable[Shape]) -> None:
    for shape in shapes:
        match shape:
            case Path():
                _trace(context, shape)
                _fill_and_stroke(context, shape.fill, shape.stroke)
            case Text():
                _write(context, shape)
            case Rectangle():
                context.rectangle(shape.left_mm, shape.top_mm, shape.width_mm, shape.height_mm)
                _fill_and_stroke(context, shape.fill, None)
            case Circle():
                context.new_sub_path()
                context.arc(*shape.centre, shape.radius_mm, 0.0, 2 * math.pi)
                context.close_path()
                _fill_and_stroke(context, None, shape.stroke)
            case Group():
                context.save()
                context.transform(cairocffi.Matrix(*shape.affine))
                _paint_all(context, shape.shapes)
                context.restore()
            case _:
                assert_never(shape)


def _trace(context: cairocffi.Context, path: Path) -> None:
    for run in path.runs:
        first, *others = run.points
        context.move_to(*first)
        for x, y in others:
            context.line_to(x, y)
        if run.closed:
            context.close_path()


def _fill_and_stroke(context: cairocffi.Context, fill: Colour | None, stroke: LineStyle | None) -> None:
    if fill is not None:
        context.set_source_rgb(*_parts(fill))
        context.fill_preserve()
    if stroke is not None:
        context.set_source_rgb(*_parts(stroke.colour))
        context.set_line_width(stroke.width_mm)
        context.set_dash(list(stroke.dash_mm))
        context.stroke_preserve()
    context.new_path()


def _write(context: cairocffi.Context, text: Text) -> None:
    share = _BEFORE[text.anchor]
    before = share * text_width_mm(text.content, text.size_mm, text.bold) if share else 0.0
    context.set_source_rgb(*_parts(text.fill))
    context.set_font_face(_FACES[text.bold])
    context.set_font_size(text.size_mm)
    if text.turned_deg:
        context.save()
        context.translate(*text.place)
        context.rotate(math.radians(text.turned_deg))
        context.move_to(-before, 0.0)
        context.show_text(text.content)
        context.restore()
    else:
        context.move_to(text.place.x - before, text.place.y)
        context.show_text(text.content)
    context.new_path()


def _parts(colour: Colour) -> tuple[float, float, float]:
    red, green, blue = (int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5))
    return red, green, blue

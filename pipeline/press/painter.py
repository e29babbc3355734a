"""Paints SVG text as `pipeline.drawing.svg` writes it, and nothing else, onto a cairo surface.

A general renderer spends most of its time on what never occurs here: style sheets, letters placed one by one, path data
of every kind. A text starts, ends or is centred by its advances, as it was measured.
"""

import math
from typing import NamedTuple
from xml.etree import ElementTree

import cairocffi

from pipeline.drawing.fonts import FAMILY, text_width_mm

_SPACE = "{http://www.w3.org/2000/svg}"
_CAPS = {"butt": cairocffi.LINE_CAP_BUTT, "round": cairocffi.LINE_CAP_ROUND}
_FACES = {
    bold: cairocffi.ToyFontFace(FAMILY, weight=cairocffi.FONT_WEIGHT_BOLD if bold else cairocffi.FONT_WEIGHT_NORMAL)
    for bold in (False, True)
}


class Picture(NamedTuple):
    """An SVG that was read: the coordinates of its top left corner and its sides, in mm."""

    left_mm: float
    top_mm: float
    width_mm: float
    height_mm: float
    root: ElementTree.Element


def read_picture(svg: str) -> Picture:
    """Read an SVG of `svg.document`. Raises ValueError for any other."""
    root = ElementTree.fromstring(svg)
    if root.tag != f"{_SPACE}svg":
        raise ValueError(f"not an SVG: {root.tag}")
    left, top, width, height = (float(part) for part in root.attrib["viewBox"].split(" "))
    return Picture(left, top, width, height, root)


def paint(context: cairocffi.Context, picture: Picture, scale: float) -> None:
    """Paint all of a picture; its top left corner lies on the surface's, a mm is `scale` units of the surface.

    Raises ValueError for an element that `pipeline.drawing.svg` does not write.
    """
    options = cairocffi.FontOptions(hint_style=cairocffi.HINT_STYLE_NONE, hint_metrics=cairocffi.HINT_METRICS_OFF)
    context.set_font_options(options)
    context.set_line_join(cairocffi.LINE_JOIN_ROUND)
    context.scale(scale, scale)
    context.translate(-picture.left_mm, -picture.top_mm)
    _paint_all(context, picture.root)


def _paint_all(context: cairocffi.Context, parent: ElementTree.Element) -> None:
    for element in parent:
        kind, given = element.tag.removeprefix(_SPACE), element.attrib
        if kind == "path":
            _trace(context, given["d"])
            _fill_and_stroke(context, given)
        elif kind == "text":
            _write(context, element.text or "", given)
        elif kind == "rect":
            context.rectangle(*(float(given[name]) for name in ("x", "y", "width", "height")))
            _fill_and_stroke(context, given)
        elif kind == "circle":
            context.new_sub_path()
            context.arc(float(given["cx"]), float(given["cy"]), float(given["r"]), 0.0, 2 * math.pi)
            context.close_path()
            _fill_and_stroke(context, given)
        elif kind == "g":
            context.save()
            if "transform" in given:
                context.transform(cairocffi.Matrix(*_arguments(given["transform"], "matrix")))
            _paint_all(context, element)
            context.restore()
        else:
            raise ValueError(f"no such element is ever drawn: {element.tag}")


def _trace(context: cairocffi.Context, data: str) -> None:
    """Polylines of `svg.path_d`: "Mx,y x,y x,yZ", one after the other."""
    for line in data.split("M")[1:]:
        line = line.rstrip()
        first, *others = line.removesuffix("Z").split(" ")
        context.move_to(*map(float, first.split(",")))
        for place in others:
            x, y = place.split(",")
            context.line_to(float(x), float(y))
        if line.endswith("Z"):
            context.close_path()


def _fill_and_stroke(context: cairocffi.Context, given: dict[str, str]) -> None:
    if given["fill"] != "none":
        context.set_source_rgb(*_colour(given["fill"]))
        context.fill_preserve()
    if "stroke" in given:
        context.set_source_rgb(*_colour(given["stroke"]))
        context.set_line_width(float(given["stroke-width"]))
        context.set_line_cap(_CAPS[given.get("stroke-linecap", "butt")])
        context.set_dash([float(part) for part in given.get("stroke-dasharray", "").split()])
        context.stroke_preserve()
    context.new_path()


def _write(context: cairocffi.Context, text: str, given: dict[str, str]) -> None:
    size, bold = float(given["font-size"]), "font-weight" in given
    x, y = float(given["x"]), float(given["y"])
    share = {"start": 0.0, "middle": 0.5, "end": 1.0}[given.get("text-anchor", "start")]
    before = share * text_width_mm(text, size, bold) if share else 0.0
    context.set_source_rgb(*_colour(given["fill"]))
    context.set_font_face(_FACES[bold])
    context.set_font_size(size)
    if "transform" in given:
        turned, about_x, about_y = _arguments(given["transform"], "rotate")
        context.save()
        context.translate(about_x, about_y)
        context.rotate(math.radians(turned))
        context.move_to(x - about_x - before, y - about_y)
        context.show_text(text)
        context.restore()
    else:
        context.move_to(x - before, y)
        context.show_text(text)
    context.new_path()


def _arguments(transform: str, name: str) -> list[float]:
    if not transform.startswith(f"{name}("):
        raise ValueError(f"no such transform is ever written: {transform}")
    return [float(part) for part in transform[len(name) + 1 : -1].split(" ")]


def _colour(colour: str) -> tuple[float, float, float]:
    red, green, blue = (int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5))
    return red, green, blue

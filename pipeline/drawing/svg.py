"""A scene as SVG, for files that are looked at as SVG."""

from collections.abc import Iterable
from html import escape
from typing import assert_never

from pipeline.drawing.fonts import FAMILY
from pipeline.drawing.scene import Circle, Group, Path, Rectangle, Run, Scene, Shape, Text
from pipeline.drawing.styles import LineStyle


def document(scene: Scene, title: str = "", language: str = "") -> str:
    """A whole SVG whose user units are mm, with the title that programs and screen readers show."""
    box = " ".join(number(part) for part in (scene.left_mm, scene.top_mm, scene.width_mm, scene.height_mm))
    named = f"<title>{escape(title)}</title>" if title else ""
    spoken = f' xml:lang="{escape(language)}"' if language else ""
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{number(scene.width_mm)}mm"'
        f' height="{number(scene.height_mm)}mm" viewBox="{box}"{spoken}>{named}{_elements(scene.shapes)}</svg>'
    )


def number(value: float) -> str:
    """A number with at most three decimals and no negative zero: 12.5, 0.001, -3."""
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _elements(shapes: Iterable[Shape]) -> str:
    return "".join(map(_element, shapes))


def _element(shape: Shape) -> str:
    match shape:
        case Path():
            return _path(shape)
        case Text():
            return _text(shape)
        case Rectangle():
            left, top, width, height = map(number, (shape.left_mm, shape.top_mm, shape.width_mm, shape.height_mm))
            return f'<rect x="{left}" y="{top}" width="{width}" height="{height}" fill="{shape.fill}"/>'
        case Circle():
            centre, stroke = shape.centre, shape.stroke
            return (
                f'<circle cx="{number(centre.x)}" cy="{number(centre.y)}" r="{number(shape.radius_mm)}" fill="none"'
                f' stroke="{stroke.colour}" stroke-width="{number(stroke.width_mm)}"/>'
            )
        case Group():
            matrix = " ".join(f"{part:.6g}" for part in shape.affine)
            return f'<g transform="matrix({matrix})">{_elements(shape.shapes)}</g>'
        case _:
            assert_never(shape)


def _path(shape: Path) -> str:
    drawn = f'<path d="{"".join(map(_data, shape.runs))}" fill="{shape.fill or "none"}"'
    return f"{drawn}{_stroke(shape.stroke) if shape.stroke else ''}/>"


def _data(run: Run) -> str:
    places = " ".join(f"{number(x)},{number(y)}" for x, y in run.points)
    return f"M{places}{'Z' if run.closed else ''}"


def _stroke(style: LineStyle) -> str:
    dash = f' stroke-dasharray="{" ".join(map(number, style.dash_mm))}"' if style.dash_mm else ""
    return f' stroke="{style.colour}" stroke-width="{number(style.width_mm)}" stroke-linejoin="round"{dash}'


def _text(shape: Text) -> str:
    x, y = number(shape.place.x), number(shape.place.y)
    drawn = f'<text x="{x}" y="{y}" font-family="{FAMILY}" font-size="{number(shape.size_mm)}" fill="{shape.fill}"'
    if shape.bold:
        drawn += ' font-weight="bold"'
    if shape.anchor != "start":
        drawn += f' text-anchor="{shape.anchor}"'
    if shape.turned_deg:
        drawn += f' transform="rotate({number(shape.turned_deg)} {x} {y})"'
    return f"{drawn}>{escape(shape.content, quote=False)}</text>"

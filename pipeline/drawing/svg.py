"""Small pieces of SVG text, in mm: only what the renderer is known to draw as written.

Coordinates are written to three decimals. Colours are "#rrggbb". Nothing here measures or decides.
"""

from collections.abc import Iterable, Sequence
from html import escape
from typing import Literal

from pipeline.drawing.fonts import FAMILY, check_glyphs
from pipeline.model.points import Affine, Point

Anchor = Literal["start", "middle", "end"]


def number(value: float) -> str:
    """A number with at most three decimals and no negative zero: 12.5, 0.001, -3."""
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def path_d(points: Sequence[Point], closed: bool = False) -> str:
    """Path data of a polyline."""
    places = " ".join(f"{number(x)},{number(y)}" for x, y in points)
    return f"M{places}{'Z' if closed else ''}"


def path(
    data: str,
    stroke: str | None,
    width_mm: float = 0.0,
    dash_mm: Sequence[float] = (),
    fill: str = "none",
    cap: Literal["butt", "round"] = "butt",
) -> str:
    """A path with its own data: several strokes of one style can share one element."""
    drawn = f'<path d="{data}" fill="{fill}"'
    if stroke is not None:
        drawn += f' stroke="{stroke}" stroke-width="{number(width_mm)}"'
        if cap == "round":
            drawn += ' stroke-linecap="round"'
        drawn += ' stroke-linejoin="round"'
        if dash_mm:
            drawn += f' stroke-dasharray="{" ".join(number(part) for part in dash_mm)}"'
    return drawn + "/>"


def polyline(
    points: Sequence[Point], stroke: str, width_mm: float, dash_mm: Sequence[float] = (), closed: bool = False
) -> str:
    """A line through points."""
    return path(path_d(points, closed), stroke, width_mm, dash_mm)


def line(start: Point, end: Point, stroke: str, width_mm: float, dash_mm: Sequence[float] = ()) -> str:
    """A straight stroke."""
    return polyline((start, end), stroke, width_mm, dash_mm)


def polygon(points: Sequence[Point], fill: str) -> str:
    """A filled area without an outline."""
    return path(path_d(points, closed=True), None, fill=fill)


def rectangle(left: float, top: float, width: float, height: float, fill: str) -> str:
    """A filled rectangle without an outline."""
    return (
        f'<rect x="{number(left)}" y="{number(top)}" width="{number(width)}" height="{number(height)}" fill="{fill}"/>'
    )


def circle(centre: Point, radius_mm: float, stroke: str, width_mm: float, fill: str = "none") -> str:
    """A circle's outline, optionally filled."""
    return (
        f'<circle cx="{number(centre.x)}" cy="{number(centre.y)}" r="{number(radius_mm)}" fill="{fill}"'
        f' stroke="{stroke}" stroke-width="{number(width_mm)}"/>'
    )


def text(
    place: Point,
    content: str,
    size_mm: float,
    anchor: Anchor = "start",
    turned_deg: float = 0.0,
    bold: bool = False,
    fill: str = "#000000",
) -> str:
    """One line of text whose baseline starts, is centred or ends at `place`, turned clockwise about it.

    Raises ValueError naming the characters that the font lacks.
    """
    x, y = number(place.x), number(place.y)
    drawn = f'<text x="{x}" y="{y}" font-family="{FAMILY}" font-size="{number(size_mm)}" fill="{fill}"'
    if bold:
        drawn += ' font-weight="bold"'
    if anchor != "start":
        drawn += f' text-anchor="{anchor}"'
    if turned_deg:
        drawn += f' transform="rotate({number(turned_deg)} {x} {y})"'
    return f"{drawn}>{escape(check_glyphs(content), quote=False)}</text>"


def group(body: Iterable[str], affine: Affine | None = None, name: str | None = None) -> str:
    """Elements under one transform, optionally with an id."""
    opening = "<g"
    if name is not None:
        opening += f' id="{escape(name)}"'
    if affine is not None:
        opening += f' transform="matrix({" ".join(f"{part:.6g}" for part in affine)})"'
    return f"{opening}>{''.join(body)}</g>"


def document(left: float, top: float, width: float, height: float, body: Iterable[str]) -> str:
    """A whole SVG in mm: user units are mm, and its top left corner has the coordinates (left, top)."""
    box = " ".join(number(part) for part in (left, top, width, height))
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{number(width)}mm" height="{number(height)}mm"'
        f' viewBox="{box}">{"".join(body)}</svg>'
    )

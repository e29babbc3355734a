"""What is drawn, as values: strokes, fills and texts in mm, and the picture that they make.

What is made by the functions below is quantised: lengths and degrees to three decimals, transforms to six digits, texts
to the form in which they are printed. So a scene is the same wherever it goes: onto paper, into an SVG, to a file and
back, to a test. Nothing here measures or decides.
"""

from collections.abc import Iterable, Mapping, Sequence
from typing import Literal, NamedTuple

import msgspec

from pipeline.drawing.fonts import check_glyphs
from pipeline.drawing.styles import BLACK, Colour, LineStyle
from pipeline.geometry.points import Affine, Point

Anchor = Literal["start", "middle", "end"]


class Run(NamedTuple):
    """A polyline, which may return to its start."""

    points: tuple[Point, ...]
    closed: bool = False


class Path(msgspec.Struct, frozen=True, tag=True, omit_defaults=True):
    """Runs that are filled, stroked or both, in one go."""

    runs: tuple[Run, ...]
    stroke: LineStyle | None = None
    fill: Colour | None = None


class Rectangle(msgspec.Struct, frozen=True, tag=True):
    """An area without an outline."""

    left_mm: float
    top_mm: float
    width_mm: float
    height_mm: float
    fill: Colour


class Circle(msgspec.Struct, frozen=True, tag=True):
    """An outline."""

    centre: Point
    radius_mm: float
    stroke: LineStyle


class Text(msgspec.Struct, frozen=True, tag=True, omit_defaults=True):
    """One line of text whose baseline starts, is centred or ends at `place`, turned clockwise about it."""

    place: Point
    content: str
    size_mm: float
    anchor: Anchor = "start"
    turned_deg: float = 0.0
    bold: bool = False
    fill: Colour = BLACK


class Group(msgspec.Struct, frozen=True, tag=True):
    """Shapes under one transform."""

    shapes: "tuple[Shape, ...]"
    affine: Affine


Shape = Path | Rectangle | Circle | Text | Group


class Scene(msgspec.Struct, frozen=True):
    """A whole picture: the coordinates of its top left corner, its sides, and its shapes, the lowest first."""

    left_mm: float
    top_mm: float
    width_mm: float
    height_mm: float
    shapes: tuple[Shape, ...]


def of(left: float, top: float, width: float, height: float, shapes: Iterable[Shape]) -> Scene:
    """A picture whose top left corner has the coordinates (left, top)."""
    return Scene(_mm(left), _mm(top), _mm(width), _mm(height), tuple(shapes))


def path(runs: Iterable[Run], stroke: LineStyle | None, fill: Colour | None = None) -> Path:
    """Runs of one style."""
    return Path(tuple(Run(_places(run.points), run.closed) for run in runs), stroke and _style(stroke), fill)


def strokes(lines: Iterable[Sequence[Point]], stroke: Colour, width_mm: float) -> Path:
    """Open lines of one style."""
    return path([Run(tuple(points)) for points in lines], LineStyle(stroke, width_mm))


def polyline(
    points: Sequence[Point], stroke: Colour, width_mm: float, dash_mm: Sequence[float] = (), closed: bool = False
) -> Path:
    """A line through points."""
    return path([Run(tuple(points), closed)], LineStyle(stroke, width_mm, tuple(dash_mm)))


def line(start: Point, end: Point, stroke: Colour, width_mm: float, dash_mm: Sequence[float] = ()) -> Path:
    """A straight stroke."""
    return polyline((start, end), stroke, width_mm, dash_mm)


def polygon(points: Sequence[Point], fill: Colour) -> Path:
    """A filled area without an outline."""
    return path([Run(tuple(points), closed=True)], None, fill)


def rectangle(left: float, top: float, width: float, height: float, fill: Colour) -> Rectangle:
    """A filled rectangle without an outline."""
    return Rectangle(_mm(left), _mm(top), _mm(width), _mm(height), fill)


def circle(centre: Point, radius_mm: float, stroke: Colour, width_mm: float) -> Circle:
    """A circle's outline."""
    return Circle(Point(*map(_mm, centre)), _mm(radius_mm), _style(LineStyle(stroke, width_mm)))


def text(
    place: Point,
    content: str,
    size_mm: float,
    anchor: Anchor = "start",
    turned_deg: float = 0.0,
    bold: bool = False,
    fill: Colour = BLACK,
) -> Text:
    """One line of text. Raises PatternFaultError naming the characters that the font lacks."""
    at = Point(*map(_mm, place))
    return Text(at, check_glyphs(content), _mm(size_mm), anchor, _mm(turned_deg), bold, fill)


def group(shapes: Iterable[Shape], affine: Affine) -> Group:
    """Shapes that are moved, turned or scaled together."""
    return Group(tuple(shapes), Affine(*(float(f"{part:.6g}") for part in affine)))


def recoloured(shapes: Iterable[Shape], colours: Mapping[Colour, Colour]) -> tuple[Shape, ...]:
    """The same shapes, each colour that `colours` names replaced."""
    return tuple(_recoloured(shape, colours) for shape in shapes)


def _recoloured(shape: Shape, colours: Mapping[Colour, Colour]) -> Shape:
    if isinstance(shape, Group):
        return Group(recoloured(shape.shapes, colours), shape.affine)
    changed: dict[str, object] = {}
    if not isinstance(shape, Circle) and shape.fill is not None:
        changed["fill"] = colours.get(shape.fill, shape.fill)
    if isinstance(shape, Path | Circle) and shape.stroke is not None:
        changed["stroke"] = shape.stroke._replace(colour=colours.get(shape.stroke.colour, shape.stroke.colour))
    return msgspec.structs.replace(shape, **changed)


def _mm(value: float) -> float:
    """To a micrometre, without a negative zero."""
    return round(float(value), 3) + 0.0


def _places(points: Iterable[Point]) -> tuple[Point, ...]:
    return tuple([Point(round(float(x), 3) + 0.0, round(float(y), 3) + 0.0) for x, y in points])


def _style(style: LineStyle) -> LineStyle:
    return LineStyle(style.colour, _mm(style.width_mm), tuple(map(_mm, style.dash_mm)))

"""What is seen of scenes: texts as boxes, strokes as lines, fills as areas, without the code that drew them."""

import math
from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

import shapely

from pipeline.drawing.drawing import Drawing
from pipeline.drawing.fonts import text_width_mm
from pipeline.drawing.scene import Circle, Group, Path, Run, Scene, Shape, Text
from pipeline.drawing.styles import WHITE

CAP, BELOW = 0.714, 0.0
"""What digits and capitals cover above and below the baseline, as shares of the text size."""


class SeenText(NamedTuple):
    """A line of text; `start` is its baseline's left end, `box` what its capitals and digits cover."""

    content: str
    sizes: tuple[str, ...]
    start: tuple[float, float]
    width_mm: float
    box: shapely.Polygon
    turned_deg: float
    size_mm: float
    bold: bool
    fill: str
    anchor: str


class SeenFill(NamedTuple):
    """A filled area, or all that a circle encloses."""

    sizes: tuple[str, ...]
    shape: shapely.Polygon


class SeenLine(NamedTuple):
    """A stroked run."""

    sizes: tuple[str, ...]
    shape: shapely.LineString
    width_mm: float
    dash_mm: tuple[float, ...]
    stroke: str


def flat(shapes: Iterable[Shape]) -> Iterator[Shape]:
    """All shapes, those of groups where the group stands; they keep the group's coordinates."""
    for shape in shapes:
        if isinstance(shape, Group):
            yield from flat(shape.shapes)
        else:
            yield shape


def written(scene: Scene | Sequence[Shape]) -> list[Text]:
    """Every line of text of a scene."""
    shapes = scene.shapes if isinstance(scene, Scene) else scene
    return [shape for shape in flat(shapes) if isinstance(shape, Text)]


def contents(scene: Scene | Sequence[Shape]) -> list[str]:
    """What the texts of a scene say."""
    return [text.content for text in written(scene)]


def paths(scene: Scene | Sequence[Shape]) -> list[Path]:
    """Every path of a scene."""
    shapes = scene.shapes if isinstance(scene, Scene) else scene
    return [shape for shape in flat(shapes) if isinstance(shape, Path)]


def line_of(run: Run) -> shapely.LineString:
    """A run as a line that ends where it ends."""
    return shapely.LineString((*run.points, *run.points[:1]) if run.closed else run.points)


def texts(drawings: Iterable[Drawing]) -> list[SeenText]:
    """Every line of text."""
    found = []
    for drawing in drawings:
        for text in written(drawing.shapes):
            width = text_width_mm(text.content, text.size_mm, text.bold)
            angle = math.radians(text.turned_deg)
            back = {"start": 0.0, "middle": width / 2, "end": width}[text.anchor]
            start = text.place.x - back * math.cos(angle), text.place.y - back * math.sin(angle)
            box = text_box(start, width, text.turned_deg, CAP * text.size_mm, BELOW * text.size_mm)
            style = text.turned_deg, text.size_mm, text.bold, text.fill, text.anchor
            found.append(SeenText(text.content, drawing.sizes, start, width, box, *style))
    return found


def text_box(
    start: tuple[float, float], width_mm: float, turned_deg: float, above_mm: float, below_mm: float
) -> shapely.Polygon:
    """The box about a baseline, given by its left end."""
    angle = math.radians(turned_deg)
    cos, sin = math.cos(angle), math.sin(angle)
    corners = ((0.0, -above_mm), (width_mm, -above_mm), (width_mm, below_mm), (0.0, below_mm))
    x, y = start
    return shapely.Polygon([(x + u * cos - v * sin, y + u * sin + v * cos) for u, v in corners])


def lines(drawings: Iterable[Drawing]) -> list[SeenLine]:
    """Every stroked run of every path."""
    return [
        SeenLine(drawing.sizes, line_of(run), path.stroke.width_mm, path.stroke.dash_mm, path.stroke.colour)
        for drawing in drawings
        for path in paths(drawing.shapes)
        if path.stroke is not None
        for run in path.runs
    ]


def patches(drawings: Iterable[Drawing]) -> list[SeenFill]:
    """What hides the lines under texts."""
    return [
        SeenFill(drawing.sizes, shapely.Polygon(run.points))
        for drawing in drawings
        if drawing.above
        for path in paths(drawing.shapes)
        if path.fill == WHITE
        for run in path.runs
    ]


def fills(drawings: Iterable[Drawing]) -> list[SeenFill]:
    """Every filled path, and every circle; not the patches under texts."""
    found = []
    for drawing in drawings:
        for path in paths(drawing.shapes):
            if path.fill not in {None, WHITE}:
                found += [SeenFill(drawing.sizes, shapely.Polygon(run.points)) for run in path.runs]
        for circle in circles(drawing):
            radius = circle.radius_mm + circle.stroke.width_mm / 2
            found.append(SeenFill(drawing.sizes, shapely.Point(circle.centre).buffer(radius)))
    return found


def circles(drawing: Drawing) -> list[Circle]:
    """Every circle."""
    return [shape for shape in flat(drawing.shapes) if isinstance(shape, Circle)]

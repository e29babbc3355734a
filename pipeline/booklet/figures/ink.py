"""Strokes and texts that several figures share. All lengths are mm on paper."""

from collections.abc import Iterator, Sequence

import numpy as np
import shapely

from pipeline.booklet.figures.looks import stretches
from pipeline.booklet.unbroken import unbroken_lines
from pipeline.drawing import scene
from pipeline.drawing.fonts import ASCENT, DESCENT, text_width_mm
from pipeline.drawing.nest.marks import arrow_head
from pipeline.drawing.scene import Circle, Group, Rectangle, Scene, Shape, Text
from pipeline.drawing.styles import BLACK, Colour
from pipeline.geometry.points import Point, bounds

OUTLINE_MM, SEAM_MM, FINE_MM, NOTCH_MM = 0.3, 0.3, 0.13, 0.55
SEAM_DASH_MM, FOLD_DASH_MM, MEET_DASH_MM, ROW_DASH_MM = (1.8, 0.9), (4.0, 1.0), (0.3, 0.8), (1.0, 0.6)
ACCENT = "#a03c00"
"""The one colour: what meets, or is done. 6.6:1 against white, 4.8:1 against the tone of the right side (WCAG 2.2)."""
LEADING = 1.25
_WAVE_MM, _SWING_MM = 3.0, 0.45
_HEAD_MM = 1.6


def break_lines(lines: shapely.Geometry) -> Iterator[Shape]:
    """Where a piece goes on beyond the figure: a thin wavy line (ISO 128-2: freehand line for a partial view)."""
    for points in stretches(lines):
        line = shapely.LineString(points)
        waves = max(1, round(line.length / _WAVE_MM))
        steps = np.arange(8 * waves + 1)
        places = shapely.get_coordinates(shapely.line_interpolate_point(line, steps / (8 * waves), normalized=True))
        way = np.vstack((places[1:], places[-1:])) - np.vstack((places[:1], places[:-1]))
        length = np.hypot(way[:, 0], way[:, 1])
        swing = np.divide(_SWING_MM * np.sin(2 * np.pi * steps / 8), length, out=np.zeros(len(steps)), where=length > 0)
        bent = places + swing[:, None] * np.column_stack((way[:, 1], -way[:, 0]))  # to the left as seen on the page
        yield scene.polyline([Point(x, y) for x, y in bent.tolist()], BLACK, FINE_MM)


def lines_of(
    lines: shapely.Geometry, width_mm: float, dash_mm: Sequence[float] = (), colour: Colour = BLACK
) -> Iterator[Shape]:
    """The lines of whatever shape in one style."""
    for points in stretches(lines):
        yield scene.polyline(points, colour, width_mm, dash_mm)


def arrow(start: Point, end: Point, colour: Colour = BLACK, width_mm: float = 0.3) -> list[Shape]:
    """A stroke with a head at its end."""
    along = start.to(end).unit()
    return [
        scene.line(start, end.plus(along.scaled(-0.8 * _HEAD_MM)), colour, width_mm),
        scene.polygon(arrow_head(end, along, _HEAD_MM), colour),
    ]


def measured(start: Point, end: Point) -> list[Shape]:
    """A dimension line with a head at both ends (ISO 129-1), its text left to the caller."""
    along = start.to(end).unit()
    head = min(_HEAD_MM, 0.35 * start.distance(end))
    return [
        scene.line(start, end, BLACK, FINE_MM),
        scene.polygon(arrow_head(end, along, head), BLACK),
        scene.polygon(arrow_head(start, along.scaled(-1), head), BLACK),
    ]


def text_area(shape: Text) -> shapely.Polygon:
    """The box of a text that is not turned."""
    return shapely.box(*text_bounds(shape))


def text_bounds(shape: Text) -> tuple[float, float, float, float]:
    """Left, top, right and bottom of a text that is not turned."""
    width = text_width_mm(shape.content, shape.size_mm, shape.bold)
    left = shape.place.x - {"start": 0.0, "middle": 0.5, "end": 1.0}[shape.anchor] * width
    top, bottom = shape.place.y - ASCENT * shape.size_mm, shape.place.y + DESCENT * shape.size_mm
    return left, top, left + width, bottom


def lines_at(
    place: Point,
    content: str,
    width_mm: float,
    size_mm: float,
    bold: bool = False,
    anchor: scene.Anchor = "start",
) -> tuple[list[Shape], float]:
    """(a text wrapped to a width under a place, the y where it ends)."""
    lines = unbroken_lines(content, size_mm, width_mm, bold)
    first = place.y + ASCENT * size_mm
    drawn: list[Shape] = [
        scene.text(Point(place.x, first + k * LEADING * size_mm), line, size_mm, anchor, bold=bold)
        for k, line in enumerate(lines)
    ]
    return drawn, place.y + len(lines) * LEADING * size_mm


def whole_scene(shapes: Sequence[Shape], margin_mm: float = 0.6) -> Scene:
    """The picture that shapes make, its top left corner the origin's own, with a narrow margin."""
    boxes = [box for shape in shapes for box in _bounds(shape)]
    left, top = min(box[0] for box in boxes) - margin_mm, min(box[1] for box in boxes) - margin_mm
    right, bottom = max(box[2] for box in boxes) + margin_mm, max(box[3] for box in boxes) + margin_mm
    return scene.of(left, top, right - left, bottom - top, shapes)


def _bounds(shape: Shape) -> Iterator[tuple[float, float, float, float]]:
    match shape:
        case Text():
            yield text_bounds(shape)
        case Rectangle():
            yield (
                shape.left_mm,
                shape.top_mm,
                shape.left_mm + shape.width_mm,
                shape.top_mm + shape.height_mm,
            )
        case Circle():
            yield shapely.Point(shape.centre).buffer(shape.radius_mm).bounds
        case Group():
            raise TypeError("figures are drawn without groups")
        case _:
            half = shape.stroke.width_mm / 2 if shape.stroke else 0.0
            for run in shape.runs:
                left, top, right, bottom = bounds(run.points)
                yield left - half, top - half, right + half, bottom + half

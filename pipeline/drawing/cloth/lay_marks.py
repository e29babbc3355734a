"""Where a piece of a lay has room for its name and its grain line, and how these and rulers are drawn."""

from collections.abc import Iterator
from itertools import pairwise

import numpy as np
import shapely

from pipeline.drawing import scene
from pipeline.drawing.fonts import CAP_HEIGHT, text_width_mm
from pipeline.drawing.scene import Shape
from pipeline.drawing.styles import BLACK, Colour
from pipeline.drawing.text_lines import fitted
from pipeline.geometry.points import Point, Vector

LINE_MM = 0.18
SMALL_MM = 3.4


def arrow_ends(
    polygon: shapely.Polygon, middle: Point, along: Vector, beside: tuple[float, float] | None
) -> tuple[Point, Point] | None:
    """From where to where a grain line lies inside a piece and off its text; None where there is no room."""
    angle = float(np.degrees(np.arctan2(along.dy, along.dx)))
    if beside is None:
        through = middle.plus(Vector(0, -3.2))
        half = min(9.0, 0.42 * width_at(polygon, through, angle))
        if half < 1.0 or not polygon.contains(shapely.Point(through)):
            return None
        return through.plus(along.scaled(-half)), through.plus(along.scaled(half))
    aside, half_text = unit(beside[0]), beside[1]
    level = abs(aside.dot(along))
    for half in (9.0, 6.0, 4.0, 2.5, 1.5):
        for side in (1, -1):
            through = middle.plus(aside.scaled(side * (half_text + 2.0 + half * level)))
            ends = through.plus(along.scaled(-half)), through.plus(along.scaled(half))
            if polygon.contains(shapely.LineString(ends)):
                return ends
    return None


def arrow_head(tip: Point, along: Vector, length: float) -> tuple[Point, Point, Point]:
    """The three corners of an arrow head."""
    back = tip.plus(along.scaled(-length))
    wing = along.left().scaled(length * 0.4)
    return tip, back.plus(wing), back.plus(wing.scaled(-1))


def broadest(polygon: shapely.Polygon) -> tuple[Point, float]:
    """The middle of the broadest place and its half width; of the centroid, where it is about as broad there."""
    circle = shapely.maximum_inscribed_circle(polygon, tolerance=0.1)
    radius = float(shapely.length(circle))
    centre = polygon.centroid
    if polygon.contains(centre) and polygon.exterior.distance(centre) > 0.8 * radius:
        return Point(centre.x, centre.y), float(polygon.exterior.distance(centre))
    return Point(*circle.coords[0]), radius


def unit(angle_deg: float) -> Vector:
    """A vector of length 1 along an angle."""
    return Vector(float(np.cos(np.radians(angle_deg))), float(np.sin(np.radians(angle_deg))))


def reading_angle(polygon: shapely.Polygon) -> float:
    """Text runs along the longer side, read from below or from the right."""
    box = shapely.minimum_rotated_rectangle(polygon)
    corners = [Point(x, y) for x, y in box.exterior.coords]
    longest = max((a.to(b) for a, b in pairwise(corners[:3])), key=lambda side: side.length)
    angle = float(np.degrees(np.arctan2(longest.dy, longest.dx)))
    angle = (angle + 90) % 180 - 90
    return 0.0 if abs(angle) < 1 else angle


def width_at(polygon: shapely.Polygon, middle: Point, angle_deg: float) -> float:
    """How far a polygon reaches both ways from a point along an angle: twice the shorter way."""
    way = unit(angle_deg).scaled(1000)
    here = shapely.Point(middle)
    reaches = []
    for sign in (1, -1):
        crossing = shapely.LineString([middle, middle.plus(way.scaled(sign))]).intersection(polygon.exterior)
        reaches.append(0.0 if crossing.is_empty else shapely.distance(here, crossing))
    return 2 * float(min(reaches))


def on_ground(middle: Point, text: str, size: float, turned_deg: float, tone: Colour) -> Iterator[Shape]:
    """A text centred on a point, on a ground that keeps hatching away."""
    turn = np.radians(turned_deg)
    down = Vector(float(-np.sin(turn)), float(np.cos(turn)))
    along = Vector(down.dy, -down.dx)
    half_width, half_height = text_width_mm(text, size) / 2 + 0.3, size * 0.55
    corners = [(-1, -1), (1, -1), (1, 1), (-1, 1)]
    yield scene.polygon(
        [middle.plus(along.scaled(a * half_width)).plus(down.scaled(b * half_height)) for a, b in corners], tone
    )
    yield scene.text(middle.plus(down.scaled(size * CAP_HEIGHT / 2)), text, size, "middle", turned_deg)


def ruler(start: Point, end: Point, text: str) -> Iterator[Shape]:
    """A measured stretch from end to end, its length beside it."""
    run = start.to(end).unit()
    across = run.left().scaled(1.2)
    yield scene.line(start, end, BLACK, LINE_MM)
    for place in (start, end):
        yield scene.line(place.plus(across), place.plus(across.scaled(-1)), BLACK, LINE_MM)
    middle = Point((start.x + end.x) / 2, (start.y + end.y) / 2).plus(run.left().scaled(1.0))
    turned = float(np.degrees(np.arctan2(run.dy, run.dx)))
    text, size = fitted([text], 0.95 * start.distance(end), SMALL_MM, 1.0)
    yield scene.text(middle, text, size, "middle", turned)

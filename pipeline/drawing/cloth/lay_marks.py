"""Where a piece of a lay has room for its name and its grain line, and how these and rulers are drawn."""

from collections.abc import Iterator, Sequence
from itertools import pairwise

import numpy as np
import shapely

from pipeline.drawing import scene
from pipeline.drawing.fonts import CAP_HEIGHT, text_width_mm
from pipeline.drawing.scene import Shape
from pipeline.drawing.styles import BLACK, Colour
from pipeline.geometry.points import Point, Vector

LINE_MM = 0.18
SMALL_MM = 3.4
_HALF_ARROWS_MM = (9.0, 6.0, 4.0, 2.5, 1.5, 1.0)
_GOOD_ARROW_MM = 4.0
"""Half a grain line that is rather taken at the text than a longer one elsewhere."""
_ARROW_OFF_MM = 1.4
_ARROW_FREE_MM = 0.35
"""How far a grain line stands off the text in general, and keeps from it and from the piece's edge at least."""
_GRID = 17
"""So many places each way are tried for a grain line that finds none at the text."""


def arrow_ends(polygon: shapely.Polygon, text: shapely.Polygon, along: Vector) -> tuple[Point, Point] | None:
    """From where to where a grain line lies inside a piece and off its text, the longest, near the text.

    Over the text where it is level and there is room, else beside it, else wherever in the piece there is room. None
    where there is none even for the shortest.
    """
    middle = np.array(text.centroid.coords[0])
    aside, way = np.array((-along.dy, along.dx)), np.array(along)
    if aside[1] > 0 or (aside[1] == 0 and aside[0] > 0):
        aside = -aside
    broad = _half_extent(text, Point(*aside)) + _ARROW_OFF_MM
    shapely.prepare(polygon)
    left, top, right, bottom = polygon.bounds
    grid = np.stack(np.meshgrid(np.linspace(left, right, _GRID), np.linspace(top, bottom, _GRID)), -1).reshape(-1, 2)
    grid = grid[np.argsort(np.hypot(*(grid - middle).T), kind="stable")]
    tried = [(half, False) for half in _HALF_ARROWS_MM if half >= _GOOD_ARROW_MM] + [
        (half, True) for half in _HALF_ARROWS_MM
    ]
    for half, anywhere in tried:
        long = _half_extent(text, along) + _ARROW_OFF_MM + half
        near = [middle + broad * aside, middle - broad * aside, middle + long * way, middle - long * way]
        through = np.concatenate((near, grid)) if anywhere else np.stack(near)
        lines = shapely.linestrings(np.stack((through - half * way, through + half * way), axis=1))
        lines = lines[shapely.contains_properly(polygon, lines)]  # distances are dear: of few only
        lines = lines[shapely.distance(lines, text) >= _ARROW_FREE_MM]
        lines = lines[shapely.distance(lines, polygon.exterior) >= _ARROW_FREE_MM]
        if len(lines):
            start, end = shapely.get_coordinates(lines[0]).tolist()
            return Point(*start), Point(*end)
    return None


def _half_extent(text: shapely.Polygon, way: Vector | Point) -> float:
    """Half of what a text covers along a direction."""
    reach = shapely.get_coordinates(text) @ np.array(way)
    return float(np.ptp(reach)) / 2


def arrow_head(tip: Point, along: Vector, length: float) -> tuple[Point, Point, Point]:
    """The three corners of an arrow head."""
    back = tip.plus(along.scaled(-length))
    wing = along.left().scaled(length * 0.4)
    return tip, back.plus(wing), back.plus(wing.scaled(-1))


def broadest(polygon: shapely.Polygon, nearly_mm: float = 0.1) -> tuple[Point, float]:
    """The middle of the broadest place and its half width; of the centroid, where it is about as broad there."""
    circle = shapely.maximum_inscribed_circle(polygon, tolerance=nearly_mm)
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


def text_ground(middle: Point, text: str, size: float, turned_deg: float) -> shapely.Polygon:
    """What a text that is centred on a point covers, and a little more."""
    along = unit(turned_deg)
    down = Vector(-along.dy, along.dx)
    half_width, half_height = text_width_mm(text, size) / 2 + 0.3, size * 0.55
    corners = [(-1, -1), (1, -1), (1, 1), (-1, 1)]
    return shapely.Polygon(
        [middle.plus(along.scaled(a * half_width)).plus(down.scaled(b * half_height)) for a, b in corners]
    )


def on_ground(middle: Point, text: str, size: float, turned_deg: float, tone: Colour) -> Iterator[Shape]:
    """A text centred on a point, on a ground that keeps hatching away."""
    along = unit(turned_deg)
    down = Vector(-along.dy, along.dx)
    ground = text_ground(middle, text, size, turned_deg)
    yield scene.polygon([Point(*corner) for corner in ground.exterior.coords[:-1]], tone)
    yield scene.text(middle.plus(down.scaled(size * CAP_HEIGHT / 2)), text, size, "middle", turned_deg)


def stacked(
    wordings: Sequence[Sequence[str]], room_mm: float, middle: Point, turned_deg: float, least_mm: float
) -> Iterator[Shape]:
    """The first of several wordings (lines of text) that fits a width in some size, its last line ending at the middle.

    Where none fits, the last one in the least size.
    """
    size = least_mm
    for lines in wordings:
        widest = max(text_width_mm(line, 1.0) for line in lines)
        size = min(SMALL_MM, room_mm / widest)
        if size >= least_mm:
            break
    up = unit(turned_deg - 90)
    size = max(size, least_mm)
    for number, line in enumerate(reversed(lines)):
        yield scene.text(middle.plus(up.scaled(1.2 * size * number)), line, size, "middle", turned_deg)


def ruler(start: Point, end: Point, text: str, least_mm: float, past_mm: float) -> Iterator[Shape]:
    """A measured stretch from end to end, its length beside it, no smaller than `least_mm`: between the ends, else up
    to `past_mm` beyond each of them, else on two lines."""
    run = start.to(end).unit()
    across = run.left().scaled(1.2)
    yield scene.line(start, end, BLACK, LINE_MM)
    for place in (start, end):
        yield scene.line(place.plus(across), place.plus(across.scaled(-1)), BLACK, LINE_MM)
    middle = Point((start.x + end.x) / 2, (start.y + end.y) / 2).plus(run.left().scaled(1.0))
    turned = float(np.degrees(np.arctan2(run.dy, run.dx)))
    room = 0.95 * start.distance(end)
    if text_width_mm(text, least_mm) > room:
        room = start.distance(end) + 2 * past_mm
    first, _, other = text.partition(" (")
    yield from stacked([[text], [first, other.removesuffix(")")]], room, middle, turned, least_mm)

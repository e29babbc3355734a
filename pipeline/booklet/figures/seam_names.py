"""Names of the pieces in the figure of a seam: in each piece, or below it where another hides it."""

import shapely

from pipeline.booklet.figures.figure import Letters
from pipeline.booklet.figures.ink import FINE_MM, LEADING
from pipeline.booklet.figures.looks import polygons, surface_of
from pipeline.booklet.figures.naming import numbered
from pipeline.booklet.figures.room import Room
from pipeline.booklet.figures.seam_sides import ShownPiece, Side
from pipeline.booklet.unbroken import unbroken_lines
from pipeline.checks.garment import Garment
from pipeline.drawing import scene
from pipeline.drawing.fonts import text_width_mm
from pipeline.drawing.scene import Shape
from pipeline.drawing.styles import BLACK
from pipeline.geometry.points import Point
from pipeline.words import say


def named(garment: Garment, shown: ShownPiece, room: Room, language: str, letters: Letters) -> tuple[list[Shape], str]:
    """(a piece's number and title, and which side of the cloth is up; what is told under the figure where only its
    number finds room in it)."""
    surface = surface_of(garment.pattern, shown.piece, shown.right)
    name = numbered(garment.pattern, shown.piece, language)
    more = say(language, "figure.right-side" if shown.right else "figure.wrong-side")
    if (block := room.name(name, more, surface.tone, letters)) is not None:
        return block, ""
    number = str(garment.pattern.pieces[shown.piece].number)
    return room.name(number, "", surface.tone, letters) or [], name


def named_below(garment: Garment, side: Side, hidden: shapely.Geometry, language: str, letters: Letters) -> list[Shape]:
    """Names of pieces that another lies on, under all of it, each with a line to what is seen of it: a piece that is
    shown in two places near each other is named once."""
    left, _, right, bottom = shapely.total_bounds([hidden, *(shown.area for shown in side)])
    size, room = letters.text_mm, letters.width_mm - 2
    shapes: list[Shape] = []
    named: list[tuple[str, list[float]]] = []
    for shown in side:
        seen = max(polygons(shown.area.difference(hidden)), key=lambda part: part.area, default=shown.area)
        middle = shown.area.centroid.x
        foot = seen.intersection(shapely.LineString([(middle, seen.bounds[1]), (middle, bottom)]))
        at = Point(middle, bottom - 0.5) if foot.is_empty else Point(middle, foot.bounds[3] - 0.8)
        more = say(language, "figure.right-side" if shown.right else "figure.wrong-side")
        shapes.append(scene.line(at, Point(middle, bottom + 1.6), BLACK, FINE_MM))
        name = f"{numbered(garment.pattern, shown.piece, language)}, {more}"
        reach = text_width_mm(name, size, bold=True) + 2.0
        near = next((places for told, places in named if told == name and abs(places[-1] - middle) < reach), None)
        if near is None:
            named.append((name, [middle]))
        else:
            near.append(middle)
    boxes: list[shapely.Polygon] = []
    for name, places in named:
        rows = unbroken_lines(name, size, room, bold=True)
        half = max(text_width_mm(row, size, bold=True) for row in rows) / 2
        middle = (left + right) / 2
        x = min(max(sum(places) / len(places), middle - room / 2 + half), middle + room / 2 - half)
        y = bottom + 1.8
        while taken := [box for box in boxes if box.intersects(shapely.box(x - half - 1, y, x + half + 1, y + 0.1))]:
            y = max(box.bounds[3] for box in taken) + 0.1
        for k, row in enumerate(rows):
            shapes.append(scene.text(Point(x, y + (1 + k * LEADING) * size), row, size, "middle", bold=True))
        boxes.append(shapely.box(x - half, y, x + half, y + len(rows) * LEADING * size))
    return shapes

"""A picture of a piece with its edges named, for who is about to name them: as the base size lies in the drawing."""

from pipeline.drawing import scene
from pipeline.drawing.fonts import missing_glyphs
from pipeline.drawing.scene import Scene, Shape
from pipeline.drawing.text_lines import wrapped
from pipeline.geometry.curves import flattened, path_length_mm, point_along
from pipeline.geometry.points import Point, Vector, bounds
from pipeline.model.pieces import DrawnPiece
from pipeline.proof.finding_picture import PALE, SIDE_COLOURS

_TEXT_SHARE = 0.028
"""Of the piece's longer side: the picture is looked at as a whole."""
_LETTER = 0.6
"""Of the height of a text, about the width of a letter."""
_SIDEWAYS = 0.3
"""A text stands beside an edge whose outward direction has more than this share across the page, else over it."""


def edges_picture(piece: DrawnPiece, title: str) -> Scene:
    """The outline, its edges in two colours in turn, each named beside its middle; a dot where the first begins."""
    left, top, right, bottom = bounds([place for edge in piece.edges for place in flattened(edge.path, 0.2)])
    text_mm = _TEXT_SHARE * max(right - left, bottom - top)
    line_mm = text_mm / 8
    body: list[Shape] = [scene.line(piece.grain.bottom, piece.grain.top, PALE, line_mm)]
    body += [scene.circle(notch.place, text_mm / 3, PALE, line_mm) for notch in piece.notches]
    places: list[Point] = []
    for number, edge in enumerate(piece.edges):
        line = flattened(edge.path, 0.2)
        colour = SIDE_COLOURS[number % 2]
        at, along = point_along(edge.path, path_length_mm(edge.path) / 2)
        out = Vector(along.dy, -along.dx)  # the outline is walked clockwise on the page
        place = at.plus(out.scaled(text_mm)).plus(Vector(0.0, text_mm / 3))
        beside = abs(out.dx) > _SIDEWAYS
        anchor: scene.Anchor = ("start" if out.dx > 0 else "end") if beside else "middle"
        body += [scene.polyline(line, colour, 2 * line_mm), scene.text(place, edge.name, text_mm, anchor, fill=colour)]
        width = text_mm * _LETTER * len(edge.name) * (1.0 if beside else 0.5)
        places += [*line, Point(place.x - width, place.y - text_mm), Point(place.x + width, place.y + text_mm)]
    said = f"{title}, size {piece.size}: " + (
        f"{piece.edges[0].name} begins at the dot, the others follow clockwise"
        if len(piece.edges) > 1
        else "the outline is one edge"
    )
    body.append(scene.circle(piece.edges[0].path[0].start, text_mm / 2, SIDE_COLOURS[1], 2 * line_mm))
    return _captioned(said, body, places, text_mm)


def _captioned(said: str, body: list[Shape], places: list[Point], text_mm: float) -> Scene:
    left, top, right, bottom = bounds(places)
    printable = "".join(" " if letter in missing_glyphs(said) else letter for letter in said)
    lines = wrapped(printable, text_mm, right - left)
    first = top - (len(lines) + 1) * 1.5 * text_mm
    head = [scene.text(Point(left, first + (i + 1) * 1.5 * text_mm), line, text_mm) for i, line in enumerate(lines)]
    wide, high = right - left + 2 * text_mm, bottom - first + text_mm
    return scene.of(left - text_mm, first, wide, high, [*head, *body])

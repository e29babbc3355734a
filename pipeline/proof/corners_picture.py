"""A picture at scale of an outline whose edges could not be named: it over the size beside it, corners numbered."""

from collections.abc import Sequence

from pipeline.drawing import scene
from pipeline.drawing.scene import Scene, Shape, Text
from pipeline.geometry.points import Point, Vector, bounds
from pipeline.masters.drawings.result import Doubt
from pipeline.proof.finding_picture import PALE, SIDE_COLOURS, captioned

_LINE_MM = 0.6
_DOT_MM = 2.0
_TEXT_MM = 5.0
_LETTER = 0.6
"""Of the height of a text, about the width of a letter."""


def corners_picture(doubt: Doubt, head: str) -> Scene:
    """The outline in colour, numbered outside; the one beside it in grey, numbered inside, moved onto it."""
    body: list[Shape] = []
    places = list(doubt.outline)
    if doubt.beside:
        move = _middle(doubt.beside).to(_middle(doubt.outline))
        beside = [place.plus(move) for place in doubt.beside]
        body.append(scene.polyline(beside, PALE, _LINE_MM, closed=True))
        body += _numbers([place.plus(move) for place in doubt.beside_corners], beside, PALE, -1, doubt.names)
        places += beside
    body.append(scene.polyline(doubt.outline, SIDE_COLOURS[1], _LINE_MM, closed=True))
    body += _numbers(doubt.corners, doubt.outline, SIDE_COLOURS[1], 1, ())
    return captioned(head, body, [*places, *(end for text in body if isinstance(text, Text) for end in _ends(text))])


def _ends(text: Text) -> tuple[Point, Point]:
    """Where a number and a name beside a corner begin and end, about."""
    long = _LETTER * text.size_mm * len(text.content)
    return text.place, Point(text.place.x + (long if text.anchor == "start" else -long), text.place.y)


def _numbers(
    corners: Sequence[Point], outline: Sequence[Point], colour: str, side: int, names: Sequence[str]
) -> list[Shape]:
    """A dot and a number at each corner, beside it outward or inward; with it the edge that follows."""
    middle = _middle(outline)
    shapes: list[Shape] = []
    for number, place in enumerate(corners, start=1):
        away = middle.to(place)
        way = away.scaled(side * 2 * _TEXT_MM / away.length) if away.length > 1e-6 else Vector(0.0, -_TEXT_MM)
        name = f" {names[number - 1]}" if number <= len(names) else ""
        shapes += [
            scene.circle(place, _DOT_MM, colour, _LINE_MM),
            scene.text(place.plus(way), f"{number}{name}", _TEXT_MM, "start" if way.dx >= 0 else "end", fill=colour),
        ]
    return shapes


def _middle(places: Sequence[Point]) -> Point:
    left, top, right, bottom = bounds(places)
    return Point((left + right) / 2, (top + bottom) / 2)

"""Small pictures of pieces, each with its number: in the cut list, and all together on the cover."""

from collections.abc import Iterable, Sequence

import numpy as np
import shapely

from pipeline.drawing import scene
from pipeline.drawing.fonts import CAP_HEIGHT, text_width_mm
from pipeline.drawing.scene import Run, Scene, Shape
from pipeline.drawing.styles import BLACK, FOLD_EDGE_DASH_MM, LineStyle
from pipeline.geometry.points import Point
from pipeline.model.pattern import Pattern
from pipeline.model.pieces import CutPiece, Cuts

PICTURE_MM = (26.0, 20.0)
_COVER_MM, _LARGE_COVER_MM = (150.0, 120.0), (150.0, 112.0)
_LINE_MM = 0.35
_NUMBER_MM, _LEAST_NUMBER_MM, _LARGE_NUMBER_MM = 4.2, 2.2, 6.5
"""Sizes of numbers; those of large print are 18 pt."""
_COARSE_MM = 0.1
"""How far the outline of a picture may lie from the piece's own, on paper."""
_GAP_MM = 4.0
_PALE = "#f2f2f0"
Box = tuple[float, float, float, float]


class PiecePictures:
    """The pictures of a pattern's pieces in its base size, each drawn once for all languages and editions."""

    def __init__(self, pattern: Pattern, cuts: Cuts) -> None:
        self.pattern = pattern
        self.cuts = {name: own.get(pattern.base) or next(iter(own.values())) for name, own in cuts.items() if own}
        self._drawn: dict[tuple[str, bool], Scene] = {}
        self._covers: dict[bool, Scene] = {}

    def piece(self, name: str, large: bool) -> Scene:
        """One piece, its number in large print or not. Raises KeyError for one that is cut in no size."""
        if (name, large) not in self._drawn:
            self._drawn[name, large] = piece_picture(self.cuts[name], self.pattern.pieces[name].number, large)
        return self._drawn[name, large]

    def cover(self, large: bool) -> Scene:
        """All pieces; of those that share an outline, the one that is drawn."""
        if large not in self._covers:
            drawn = [spec for name, spec in self.pattern.pieces.items() if spec.source is None and name in self.cuts]
            self._covers[large] = cover_picture([(self.cuts[spec.name], spec.number) for spec in drawn], large)
        return self._covers[large]


def piece_picture(cut: CutPiece, number: int, large: bool) -> Scene:
    """A piece as it is drawn, its fold dashed, with its number, as large as a small box allows."""
    left, top, right, bottom = _whole(cut).bounds
    scale = min(PICTURE_MM[0] / (right - left), PICTURE_MM[1] / (bottom - top))
    width, height = (right - left) * scale, (bottom - top) * scale
    shapes = _piece(cut, number, scale, Point(-left * scale, -top * scale), large)
    above = max(1.0, (_LARGE_NUMBER_MM - height) / 2) if large else 1.0
    return scene.of(-1, -above, width + 2, height + 2 * above, shapes)


def cover_picture(pieces: Sequence[tuple[CutPiece, int]], large: bool) -> Scene:
    """All pieces of a size at one scale, in rows, the tallest first in each."""
    bounds = {cut.piece: _whole(cut).bounds for cut, _ in pieces}
    room = _LARGE_COVER_MM if large else _COVER_MM
    scale = _scale_of(list(bounds.values()), room)
    shapes: list[Shape] = []
    x = y = tallest = widest = 0.0
    for cut, number in sorted(pieces, key=lambda one: (-_box(bounds[one[0].piece], scale)[3], one[1])):
        left, top, width, height = _box(bounds[cut.piece], scale)
        if x and x + width > room[0]:
            x, y, tallest = 0.0, y + tallest + _GAP_MM, 0.0
        shapes += _piece(cut, number, scale, Point(x - left, y - top), large)
        tallest, x = max(tallest, height), x + width + _GAP_MM
        widest = max(widest, x - _GAP_MM)
    below = (_LARGE_NUMBER_MM if large else 2.0) / 2
    return scene.of(-1, -1, widest + 2, y + tallest + 1 + below, shapes)


def _whole(cut: CutPiece) -> shapely.Polygon:
    return shapely.Polygon(np.array(cut.cut_drawn))


def _box(bounds: Box, scale: float) -> Box:
    """Left, top, width and height at a scale."""
    left, top, right, bottom = bounds
    return left * scale, top * scale, (right - left) * scale, (bottom - top) * scale


def _scale_of(bounds: Sequence[Box], room: tuple[float, float]) -> float:
    """The largest scale, of a row of them, at which all rows find room."""
    scale = 0.5
    while scale > 0.01 and not _fits([_box(each, scale) for each in bounds], room):
        scale *= 0.95
    return scale


def _fits(boxes: Iterable[Box], room: tuple[float, float]) -> bool:
    x = y = tallest = 0.0
    for _, _, width, height in sorted(boxes, key=lambda box: -box[3]):
        if x and x + width > room[0]:
            x, y, tallest = 0.0, y + tallest + _GAP_MM, 0.0
        tallest, x = max(tallest, height), x + width + _GAP_MM
        if width > room[0]:
            return False
    return y + tallest <= room[1]


def _piece(cut: CutPiece, number: int, scale: float, move: Point, large: bool) -> list[Shape]:
    def placed(points: Iterable[Sequence[float]]) -> tuple[Point, ...]:
        return tuple(Point(x * scale + move.x, y * scale + move.y) for x, y in points)

    whole = _whole(cut)
    left, top, right, bottom = whole.bounds
    coarse = whole.simplify(_COARSE_MM / scale)
    outline = placed(coarse.exterior.coords[:-1])
    shapes: list[Shape] = [scene.path([Run(outline, closed=True)], LineStyle(BLACK, _LINE_MM), _PALE)]
    if cut.fold is not None:
        dash = tuple(part * 0.2 for part in FOLD_EDGE_DASH_MM)
        shapes += [
            scene.polyline(placed(cut.fold), "#ffffff", 2 * _LINE_MM),
            scene.polyline(placed(cut.fold), BLACK, _LINE_MM, dash),
        ]
    circle = shapely.maximum_inscribed_circle(coarse, tolerance=max(right - left, bottom - top) / 50)
    (centre, _), room = circle.coords, circle.length * scale
    size = max(_LEAST_NUMBER_MM, min(_NUMBER_MM, 1.1 * room))
    text = str(number)
    x, y = placed([centre])[0]
    if large:  # a number that does not fit stands on a ground that keeps the outline away
        size = _LARGE_NUMBER_MM
        half = text_width_mm(text, size, bold=True) / 2 + 0.4
        shapes.append(scene.rectangle(x - half, y - 0.4 * size, 2 * half, 0.8 * size, _PALE))
    elif text_width_mm(text, size, bold=True) > 2.4 * room:
        size = _LEAST_NUMBER_MM
    shapes.append(scene.text(Point(x, y + CAP_HEIGHT * size / 2), text, size, "middle", bold=True))
    return shapes

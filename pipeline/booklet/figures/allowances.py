"""The figure of allowances: a corner of a piece, its seam line, its cut line, and how far they are apart."""

from typing import NamedTuple

import shapely
from shapely.ops import nearest_points

from pipeline.booklet.figures.figure import Figure, FigureError, Letters
from pipeline.booklet.figures.ink import (
    OUTLINE_MM,
    SEAM_DASH_MM,
    lines_at,
    measured,
    whole_scene,
)
from pipeline.booklet.figures.looks import surface_of
from pipeline.booklet.figures.naming import allowance_told, numbered
from pipeline.booklet.figures.on_piece import PieceView, drawn_piece, piece_view
from pipeline.booklet.figures.room import Room
from pipeline.checks.garment import Garment
from pipeline.drawing import scene
from pipeline.drawing.fonts import CAP_HEIGHT
from pipeline.drawing.scene import Shape
from pipeline.drawing.styles import BLACK
from pipeline.drawing.wording import told_apart, told_of
from pipeline.geometry.curves import flattened
from pipeline.geometry.points import Point
from pipeline.model.pieces import CutPiece
from pipeline.words import say

_HIGH_MM, _WIDE_MM, _LARGEST_SCALE = 50.0, 90.0, 0.7
_AROUND_MM, _ASIDE_MM, _CHORD_MM = 95.0, 45.0, 0.05
"""How much of the piece is seen around the corner, and how far from it allowances are measured, in mm of cloth."""
_SAMPLE_MM, _ROW_MM = 14.0, 1.0


class _Corner(NamedTuple):
    """Two edges that follow each other, both with an allowance."""

    cut: CutPiece
    before: str
    after: str
    place: Point


def allowances_figure(garment: Garment, language: str, letters: Letters) -> Figure:
    """The corner of a piece at which allowances differ most. Raises FigureError where none has any."""
    corner = _shown(garment)
    if corner is None:
        raise FigureError(
            "no-allowances",
            "No piece has two edges with an allowance that follow each other, so none can be shown.",
            "Take the figure out.",
            "allowances",
            "a corner with allowances",
        )
    pattern, cut = garment.pattern, corner.cut
    x, y = corner.place
    part = shapely.box(x - _AROUND_MM, y - _AROUND_MM, x + _AROUND_MM, y + _AROUND_MM)
    view = piece_view(
        cut, min(_WIDE_MM, letters.width_mm - 20), _HIGH_MM * max(1.0, letters.grown / 2), _LARGEST_SCALE, part
    )
    surface = surface_of(pattern, cut.piece)
    shapes = list(drawn_piece(view, surface))
    told: list[str] = []
    for edge in (corner.before, corner.after):
        length = say(language, "figure.allowance", length=allowance_told(pattern, cut.edge(edge), language))
        if length not in told:
            told.append(length)
            shapes += _across(view, corner, edge, str(len(told)), letters.text_mm)
    title = numbered(pattern, cut.piece, language)
    more = say(language, "figure.right-side")
    shapes += Room(view.area, [view.seam]).name(title, more, surface.tone, letters) or []
    numbers = [told_of(language, str(k), length) for k, length in enumerate(told, 1)]
    signs = [say(language, "start.sign-cut"), say(language, "figure.key-seam")]
    shapes += _legend(shapes, signs, numbers, letters)
    return Figure(whole_scene(shapes), f"{title}. {told_apart(language, (*signs, *numbers))}.")


def _shown(garment: Garment) -> _Corner | None:
    found: list[tuple[float, _Corner]] = []
    for name, by_size in garment.cuts.items():
        cut = by_size.get(garment.pattern.base) or next(iter(by_size.values()), None)
        edges = () if cut is None else cut.drawn.edges
        for before, after in zip(edges, (*edges[1:], *edges[:1]), strict=True):
            assert cut is not None
            widths = [cut.edge(edge.name).widest_mm for edge in (before, after)]
            if any(cut.edge(edge.name).grown_on for edge in (before, after)):
                continue
            if before.name != after.name and min(widths) > 0 and garment.pattern.pieces[name].source is None:
                place = before.path[-1].end
                found.append((abs(widths[0] - widths[1]), _Corner(cut, before.name, after.name, place)))
    return max(found, key=lambda one: one[0])[1] if found else None


def _across(view: PieceView, corner: _Corner, edge: str, number: str, size: float) -> list[Shape]:
    """How wide an allowance is, its number beyond the cut line."""
    path = next(found.path for found in corner.cut.drawn.edges if found.name == edge)
    line = shapely.LineString(flattened(path, _CHORD_MM))
    aside = min(_ASIDE_MM, line.length / 2)
    at = line.interpolate(aside if edge == corner.after else line.length - aside)
    seam = view.point(Point(at.x, at.y))
    _, outer = nearest_points(shapely.Point(seam), view.outline)
    cut = Point(outer.x, outer.y)
    beyond = cut.plus(seam.to(cut).unit().scaled(0.9 * size))
    text = scene.text(Point(beyond.x, beyond.y + CAP_HEIGHT * size / 2), number, size, "middle", bold=True)
    return [*measured(seam, cut), text]


def _legend(shapes: list[Shape], signs: list[str], numbers: list[str], letters: Letters) -> list[Shape]:
    """Both lines by name, then every number with its width, under the figure."""
    whole, size = whole_scene(shapes, 0.0), letters.small_mm
    left, y = whole.left_mm, whole.top_mm + whole.height_mm + 2.0
    found: list[Shape] = []
    for text, dash in zip(signs, ((), SEAM_DASH_MM), strict=True):
        lines, end = lines_at(Point(left + _SAMPLE_MM + 2, y), text, letters.width_mm - _SAMPLE_MM - 6, size)
        middle = (y + end) / 2
        found += [scene.line(Point(left, middle), Point(left + _SAMPLE_MM, middle), BLACK, OUTLINE_MM, dash), *lines]
        y = end + _ROW_MM
    for text in numbers:
        lines, end = lines_at(Point(left, y), text, letters.width_mm - 4, size, bold=True)
        found += lines
        y = end + _ROW_MM
    return found

"""All pieces that are cut of a material, in one scale, in the order of their numbers."""

from collections.abc import Iterator, Sequence
from typing import NamedTuple

import numpy as np
import shapely

from pipeline.booklet.figures.figure import Figure, Letters
from pipeline.booklet.figures.ink import FINE_MM, FOLD_DASH_MM, LEADING, OUTLINE_MM, lines_of, whole_scene
from pipeline.booklet.figures.looks import Surface, filled, hatchings
from pipeline.booklet.figures.naming import and_list, numbered
from pipeline.booklet.figures.on_piece import mapped
from pipeline.booklet.unbroken import unbroken_lines
from pipeline.checks.garment import Garment
from pipeline.drawing import scene
from pipeline.drawing.cloth.lay_marks import broadest, on_ground
from pipeline.drawing.fonts import text_width_mm
from pipeline.drawing.scene import Shape
from pipeline.geometry.points import Affine, Point
from pipeline.model.pattern import in_language
from pipeline.model.pieces import CutPiece
from pipeline.model.questions import copies
from pipeline.words import say

_HIGHEST_MM = 150.0
_LARGEST_SCALE, _LEAST_SCALE = 0.35, 0.01
_GAP_MM, _COLUMN_GAP_MM = 4.0, 5.0
_NUMBER_MM = 4.0


class _Item(NamedTuple):
    """A piece upright, its whole cut line with its corner at (0, 0), and the line of its fold, in mm of cloth."""

    cut: CutPiece
    area: shapely.Polygon
    fold: shapely.Geometry


def pieces_figure(garment: Garment, cuts: Sequence[CutPiece], material: str, language: str, letters: Letters) -> Figure:
    """The pieces of a material with their numbers, and what each number is called and how often it is cut."""
    items = [_item(cut) for cut in cuts]
    legend, legend_mm = _legend(garment, cuts, material, language, letters)
    if legend_mm > letters.most_mm / 2:
        legend, legend_mm = [], 0.0  # the cut list has the numbers too
    scale = _scale(items, min(_HIGHEST_MM, letters.most_mm - legend_mm - 2 * _GAP_MM - letters.text_mm), letters)
    surface = Surface(hatchings(garment.pattern)[material], right=True)
    shapes: list[Shape] = []
    x = y = tall = 0.0
    for item in items:
        wide, high = _room(item, scale, letters)
        if x and x + wide > letters.width_mm - 2:
            x, y, tall = 0.0, y + tall + _GAP_MM, 0.0
        shapes += _drawn(garment, item, surface, Affine(a=scale, d=scale, e=x, f=y), letters)
        x, tall = x + wide + _GAP_MM, max(tall, high)
    top = y + tall + _GAP_MM
    shapes += [scene.text(Point(place.x, top + place.y), row, letters.small_mm) for place, row in legend]
    names = and_list([numbered(garment.pattern, cut.piece, language) for cut in cuts], language)
    cloth = in_language(garment.pattern.materials[material].title, language)
    return Figure(whole_scene(shapes), say(language, "figure.alt-pieces", material=cloth, pieces=names))


def _item(cut: CutPiece) -> _Item:
    run = cut.drawn.grain.bottom.to(cut.drawn.grain.top).unit()
    turn = Affine(-run.dy, -run.dx, run.dx, -run.dy)
    area = mapped(shapely.Polygon(np.array(cut.cut_outline)).buffer(0).simplify(0.1), turn)
    left, top, _, _ = area.bounds
    shift = Affine(e=-left, f=-top)
    fold = shapely.LineString(cut.fold) if cut.fold is not None else shapely.LineString()
    return _Item(cut, mapped(area, shift), mapped(fold, shift.after(turn)))


def _scale(items: Sequence[_Item], high_mm: float, letters: Letters) -> float:
    """The largest scale at which rows of all pieces are no higher than there is room for."""
    scale = min(_LARGEST_SCALE, *((letters.width_mm - 2) / item.area.bounds[2] for item in items))
    while _high(items, scale, letters) > high_mm and scale > _LEAST_SCALE:
        scale *= 0.97
    return scale


def _room(item: _Item, scale: float, letters: Letters) -> tuple[float, float]:
    """How wide and high a piece is on paper, with its number."""
    _, _, wide, high = item.area.bounds
    return max(wide * scale, 1.3 * letters.least_mm), max(high * scale, letters.least_mm)


def _high(items: Sequence[_Item], scale: float, letters: Letters) -> float:
    x = y = tall = 0.0
    for item in items:
        wide, high = _room(item, scale, letters)
        if x and x + wide > letters.width_mm - 2:
            x, y, tall = 0.0, y + tall + _GAP_MM, 0.0
        x, tall = x + wide + _GAP_MM, max(tall, high)
    return y + tall


def _drawn(garment: Garment, item: _Item, surface: Surface, to_paper: Affine, letters: Letters) -> Iterator[Shape]:
    area = mapped(item.area, to_paper)
    yield from filled(area, surface)
    yield from lines_of(area.exterior, 0.8 * OUTLINE_MM)
    yield from lines_of(mapped(item.fold, to_paper), 1.5 * FINE_MM, FOLD_DASH_MM)
    middle, radius = broadest(area)
    number = str(garment.pattern.pieces[item.cut.piece].number)
    size = max(letters.least_mm, min(_NUMBER_MM, 1.2 * radius))
    yield from on_ground(middle, number, size, 0.0, surface.tone)


def _legend(
    garment: Garment, cuts: Sequence[CutPiece], material: str, language: str, letters: Letters
) -> tuple[list[tuple[Point, str]], float]:
    """(the numbers in columns, "1 Front, 2 ×", with the place of each line from the top; how deep they are)."""
    rows = []
    size, wide = letters.small_mm, letters.width_mm - 2
    for cut in cuts:
        count = copies(garment.pattern.pieces[cut.piece].cut, cut.size, material).copies
        rows.append(f"{numbered(garment.pattern, cut.piece, language)}, {say(language, 'lay.times', count=count)}")
    widest = max(text_width_mm(row, size) for row in rows)
    columns = max(1, min(3, int((wide + _COLUMN_GAP_MM) // (widest + _COLUMN_GAP_MM))))
    column, deep = wide / columns, -(-len(rows) // columns)
    found, deepest = [], 0
    for place in range(columns):
        parts = [part for row in rows[place * deep : (place + 1) * deep] for part in unbroken_lines(row, size, column)]
        for line, part in enumerate(parts):
            found.append((Point(place * column, letters.text_mm + line * LEADING * size * 1.1), part))
        deepest = max(deepest, len(parts))
    return found, deepest * LEADING * size * 1.1

"""A piece, or a part of one, upright on paper as it is worn: what figures of places and darts are drawn on."""

from collections.abc import Iterator
from typing import NamedTuple

import numpy as np
import shapely
import shapely.affinity

from pipeline.booklet.figures.ink import FOLD_DASH_MM, OUTLINE_MM, SEAM_DASH_MM, break_lines, lines_of
from pipeline.booklet.figures.looks import Surface, filled
from pipeline.drawing.scene import Shape
from pipeline.geometry.curves import Path, flattened
from pipeline.geometry.points import Affine, Point
from pipeline.model.pieces import CutPiece

_CHORD_MM = 0.05
_COARSE_MM = 0.1
"""How far, in mm of cloth, an outline may be drawn from itself: a thirtieth of a millimetre on paper."""


class PieceView(NamedTuple):
    """A piece in mm on paper: what is shown of it, its cut line, seam line and fold in it, and the map to paper."""

    area: shapely.Geometry
    outline: shapely.Geometry
    seam: shapely.Geometry
    fold: shapely.Geometry
    to_paper: Affine

    def point(self, place: Point) -> Point:
        return self.to_paper.point(place)

    def line(self, path: Path) -> shapely.LineString:
        return shapely.LineString([self.point(place) for place in flattened(path, _CHORD_MM)])


def piece_view(
    cut: CutPiece, wide_mm: float, high_mm: float, largest: float, part: shapely.Geometry | None = None
) -> PieceView:
    """A piece with the upper end of its grain up, as large as fits; `part`, in the piece's coordinates, is all that is
    shown of it."""
    run = cut.drawn.grain.bottom.to(cut.drawn.grain.top).unit()
    turn = Affine(-run.dy, -run.dx, run.dx, -run.dy)
    ground = shapely.Polygon(np.array(cut.cut_drawn)).simplify(_COARSE_MM).buffer(0)
    area = ground if part is None else max(shapely.get_parts(ground.intersection(part)), key=lambda p: p.area)
    shown = mapped(area, turn)
    left, top, right, bottom = shown.bounds
    scale = min(wide_mm / (right - left), high_mm / (bottom - top), largest)
    to_paper = Affine(a=scale, d=scale, e=-left * scale, f=-top * scale).after(turn)
    seam_line = shapely.Polygon(np.array(cut.seam_drawn)).exterior.simplify(_COARSE_MM)
    seam = mapped(seam_line.intersection(area), to_paper)
    outline = mapped(ground.exterior.intersection(area.buffer(0.01)), to_paper)
    fold: shapely.Geometry = shapely.LineString()
    if cut.fold is not None:
        near = mapped(shapely.LineString(cut.fold), to_paper).buffer(0.1)
        fold = outline.intersection(near)
        outline, seam = outline.difference(near), seam.difference(near)
    return PieceView(mapped(area, to_paper), outline, seam, fold, to_paper)


def mapped(shape: shapely.Geometry, by: Affine) -> shapely.Geometry:
    """A shape under an affine map."""
    return shapely.affinity.affine_transform(shape, (by.a, by.c, by.b, by.d, by.e, by.f))


def drawn_piece(view: PieceView, surface: Surface) -> Iterator[Shape]:
    """The piece in the look of a side of its cloth, its cut line solid, its seam line dashed, broken off where it goes
    on."""
    yield from filled(view.area, surface)
    yield from break_lines(view.area.boundary.difference(view.outline.buffer(0.1)).difference(view.fold.buffer(0.1)))
    yield from lines_of(view.outline, OUTLINE_MM)
    yield from lines_of(view.fold, OUTLINE_MM, FOLD_DASH_MM)
    yield from lines_of(view.seam, 0.5 * OUTLINE_MM, SEAM_DASH_MM)

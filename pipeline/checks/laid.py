"""Pieces that are laid flat on another, as a facing on a pocket bag: what ends within the other is not seen."""

import numpy as np
import shapely

from pipeline.checks.corners import at_corner
from pipeline.checks.garment import Garment
from pipeline.geometry.points import Point
from pipeline.model.pieces import CutPiece

_ON_MM = 1.0
_WELL_INSIDE_MM = 5.0
_SMALLER = 0.8


def ends_within_another(garment: Garment, piece: str, edge: str) -> bool:
    """Whether an edge runs across a larger piece on which its own is laid, in the base size or the first there is.

    The two share a corner: edges of the same names meet at it in both, and laid corner on corner, as they are drawn,
    the piece lies within the other. Geometry; the limits from memory.
    """
    by_size = garment.cuts[piece]
    size = garment.pattern.base if garment.pattern.base in by_size else next(iter(by_size))
    own = by_size[size]
    others = (garment.cut(name, size) for name in garment.pattern.pieces if name != piece)
    return any(other is not None and _lies_on(own, other, edge) for other in others)


def _lies_on(own: CutPiece, other: CutPiece, edge: str) -> bool:
    corners = _corners(other)
    for names, place in _corners(own).items():
        if names in corners and edge not in names:
            by = (corners[names].x - place.x, corners[names].y - place.y)
            small, large = _polygon(own, by), _polygon(other, (0.0, 0.0))
            line = own.drawn.edge(edge).path
            middles = [segment.at(0.5) for segment in line]
            inside = [shapely.Point(spot.x + by[0], spot.y + by[1]) for spot in middles]
            if (
                shapely.area(small) <= _SMALLER * shapely.area(large)
                and shapely.covers(shapely.buffer(large, _ON_MM), small)
                and all(shapely.covers(shapely.buffer(large, -_WELL_INSIDE_MM), spot) for spot in inside)
            ):
                return True
    return False


def _corners(cut: CutPiece) -> dict[frozenset[str], Point]:
    """The corners between two named edges."""
    pairs = (at_corner(cut, edge.name, True) for edge in cut.drawn.edges) if len(cut.drawn.edges) > 2 else ()
    return {frozenset({before.name, after.name}): after.path[0].start for before, after in pairs}


def _polygon(cut: CutPiece, by: tuple[float, float]) -> shapely.Geometry:
    ring = np.array([(place.x, place.y) for place in cut.seam_drawn]) + np.array(by)
    return shapely.make_valid(shapely.polygons(ring))

"""The pieces of `stack_factory` drawn as a nest, once for all tests."""

import shapely

from pipeline.drawing.piece.pieces import draw_nest
from pipeline.geometry.points import Point
from pipeline.model.pieces import CutPiece
from pipeline.sheets.layout import nest_affine
from tests.drawing.stack_factory import back, collar, front, pattern_of, pocket, stack, tab

NAMES = ("front", "back", "collar", "pocket", "tab")
MAKES = [front, back, collar, pocket, tab]
PATTERN = pattern_of(*NAMES)
NESTS = {make.__name__: draw_nest(PATTERN, stack(make), 0) for make in MAKES}


def in_nest(places: tuple[Point, ...], cut: CutPiece, turns: int = 0) -> shapely.Polygon:
    affine = nest_affine(cut.drawn.anchor, turns)
    return shapely.Polygon([affine.point(place) for place in places])


def ids(make: object) -> str:
    return getattr(make, "__name__", str(make))

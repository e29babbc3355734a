"""All sizes of a piece in one nest, taken apart once."""

from collections.abc import Iterable, Mapping
from typing import Literal, NamedTuple

import shapely

from pipeline.drawing.nest.one_size import NestPiece, in_nest
from pipeline.drawing.nest.opened import BOTH_HALVES, OneHalf
from pipeline.drawing.nest.takes import take_marks
from pipeline.drawing.size_codes import size_codes
from pipeline.drawing.styles import Look, SizeCodes
from pipeline.model.pattern import Pattern
from pipeline.model.pieces import CutPiece
from pipeline.model.questions import drawn_half, mark_spec


class Nest(NamedTuple):
    """All sizes of a piece as they are drawn on each other.

    `cut_ground` is what lies inside every size's cut line, `ground` what lies inside every seam line too.
    """

    pattern: Pattern
    name: str
    pieces: Mapping[str, NestPiece]
    sizes: tuple[str, ...]
    codes: SizeCodes
    cut_ground: shapely.Geometry
    ground: shapely.Geometry
    look: Look


def nest_of(pattern: Pattern, cuts: Mapping[str, CutPiece], quarter_turns: int, look: Look, whole: bool) -> Nest:
    """The nest of a piece's sizes; `whole`: with folds opened."""
    pieces = {
        size: in_nest(cut, quarter_turns, whole, take_marks(pattern, cut), _one_half(pattern, cut))
        for size, cut in cuts.items()
    }
    cut_ground = shapely.intersection_all([shapely.Polygon(piece.cut_ground) for piece in pieces.values()])
    ground = shapely.intersection_all([cut_ground, *(shapely.Polygon(piece.ground) for piece in pieces.values())])
    return Nest(
        pattern=pattern,
        name=next(iter(cuts.values())).piece,
        pieces=pieces,
        sizes=tuple(pieces),
        codes=size_codes(pattern, pieces),
        cut_ground=cut_ground,
        ground=ground,
        look=look,
    )


def _one_half(pattern: Pattern, cut: CutPiece) -> OneHalf:
    """The marks that one half of a piece on the fold has, where it is said which half is drawn."""
    drawn = drawn_half(pattern, cut.piece)
    if drawn is None:
        return BOTH_HALVES

    def on_drawn(group: Literal["lines", "points"], names: Iterable[str | None]) -> dict[str | None, bool]:
        sides = {name: mark_spec(pattern, cut.piece, name, group).side for name in names if name}
        return {name: side == drawn for name, side in sides.items() if side}

    return OneHalf(
        lines=on_drawn("lines", (line.name for line in cut.inside)),
        points=on_drawn("points", (mark.name for mark in cut.drawn.points)),
    )

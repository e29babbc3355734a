"""Stacks: all sizes of one piece on top of each other, aligned at their anchors, and the room they take."""

from collections.abc import Mapping

import msgspec
import shapely
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry

from pipeline.geometry.chains import coordinates
from pipeline.geometry.points import Affine, Point
from pipeline.model.pattern import Pattern
from pipeline.model.pieces import CutPiece, Cuts, Polyline
from pipeline.sheets.layout import Placement, nest_affine

LINE_ROOM_MM = 0.5
"""Half of a thick line."""
LABEL_ROOM_MM = 2.0
"""What a size that is written along its line takes outside the line."""
FOLD_ROOM_MM = 8.0
"""What the fold sign takes beyond the fold."""
_SIMPLER_MM = 0.05


class Stack(msgspec.Struct, frozen=True, kw_only=True):
    """One piece in all its sizes, in nest coordinates without a turn.

    `region` is all that its drawing may touch: cut lines, sizes along the lines, fold sign. `lines` is, by size, what
    lies within the cut line and the line itself. `marks` are what no joint should cross: notches, points, text places.
    `grain` is the grain of the first size, from its lower end up. `views` are those that need the piece.
    """

    piece: str
    views: tuple[str, ...]
    region: BaseGeometry
    lines: dict[str, BaseGeometry]
    marks: tuple[BaseGeometry, ...]
    grain: tuple[Point, Point]

    @property
    def sizes(self) -> tuple[str, ...]:
        """The sizes of the stack, in the order that they came in."""
        return tuple(self.lines)


def stacks_of(
    pattern: Pattern,
    cut: Cuts,
    whole: bool = False,
    label_room_mm: float = LABEL_ROOM_MM,
) -> tuple[Stack, ...]:
    """Stacks of all pieces, given by piece and size. `whole` opens folds, for projectors."""
    return tuple(
        _stack(piece, views_of(pattern, piece), sizes, whole, label_room_mm) for piece, sizes in cut.items() if sizes
    )


def views_of(pattern: Pattern, piece: str) -> tuple[str, ...]:
    """The views to which a piece or drawn strip belongs: all where it names none."""
    spec = pattern.pieces.get(piece) or pattern.strips.get(piece)
    return (spec.views if spec is not None else ()) or tuple(pattern.views)


def _stack(piece: str, views: tuple[str, ...], sizes: Mapping[str, CutPiece], whole: bool, room_mm: float) -> Stack:
    nest = {size: nest_affine(cut.drawn.anchor, 0) for size, cut in sizes.items()}
    outlines = {
        size: _polygon(cut.cut_outline if whole else cut.cut_drawn, nest[size]).simplify(_SIMPLER_MM)
        for size, cut in sizes.items()
    }
    room = {size: _grown(outline, room_mm) for size, outline in outlines.items()}
    drawn_folded = [] if whole else [(cut, nest[size]) for size, cut in sizes.items() if cut.fold is not None]
    folds = [_beyond_fold(cut, affine) for cut, affine in drawn_folded]
    first = next(iter(sizes.values()))
    return Stack(
        piece=piece,
        views=views,
        region=shapely.union_all([*room.values(), *folds]),
        lines={size: _grown(outline, LINE_ROOM_MM) for size, outline in outlines.items()},
        marks=tuple(mark for size, cut in sizes.items() for mark in _marks(cut, nest[size])),
        grain=(nest[first.size].point(first.drawn.grain.bottom), nest[first.size].point(first.drawn.grain.top)),
    )


def _polygon(outline: Polyline, affine: Affine) -> Polygon:
    a, b, c, d, e, f = affine
    return shapely.polygons(coordinates(outline) @ ((a, b), (c, d)) + (e, f))


def _grown(outline: BaseGeometry, room_mm: float) -> BaseGeometry:
    return outline.buffer(room_mm + _SIMPLER_MM, join_style="mitre", mitre_limit=2.0)


def _beyond_fold(cut: CutPiece, affine: Affine) -> Polygon:
    assert cut.fold is not None
    start, end = (affine.point(place) for place in cut.fold)
    outward = start.to(end).unit().left().scaled(FOLD_ROOM_MM)
    return Polygon([start, end, end.plus(outward), start.plus(outward)])


def _marks(cut: CutPiece, affine: Affine) -> list[BaseGeometry]:
    strokes = [(slit.outer, slit.inner) for slit in cut.slits]
    strokes.extend(point.slit for point in cut.drawn.points if point.slit is not None)
    marks: list[BaseGeometry] = [shapely.LineString([affine.point(a), affine.point(b)]) for a, b in strokes]
    marks.extend(
        shapely.Point(affine.point(point.place)).buffer(1.0) for point in cut.drawn.points if point.slit is None
    )
    if cut.drawn.label is not None:
        marks.append(_polygon(cut.drawn.label, affine))
    return marks


def turned(shape: BaseGeometry, quarter_turns: int) -> BaseGeometry:
    """A shape of nest coordinates, turned clockwise by quarter turns."""
    return moved(shape, Placement("", 0.0, 0.0, quarter_turns))


def moved(shape: BaseGeometry, placement: Placement) -> BaseGeometry:
    """A shape of nest coordinates, as it lies on the sheet."""
    a, b, c, d, _, _ = nest_affine(Point(0.0, 0.0), placement.quarter_turns)
    # shapely's matrix is row by row, ours column by column
    return shapely.transform(shape, lambda at: at @ [[a, b], [c, d]] + [placement.x_mm, placement.y_mm])

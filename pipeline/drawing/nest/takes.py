"""What is sewn away between two notches, as it is shown: which way a pleat is laid, where a dart ends."""

from collections.abc import Iterator
from typing import NamedTuple

import shapely

from pipeline.cutting.dart_legs import legs_of
from pipeline.geometry.points import Point
from pipeline.model.pattern import Pattern
from pipeline.model.piece_specs import Take
from pipeline.model.pieces import CutPiece

_INSIDE_MM = 12.0
"""How far inside the seam line an arrow lies."""
_LEAST_ARROW_MM = 4.0
_SAME_MM = 3.0


class TakeMarks(NamedTuple):
    """Arrows of pleats, each from its tail to its head, and the points of darts, in the piece's own coordinates."""

    arrows: tuple[tuple[Point, Point], ...] = ()
    tips: tuple[Point, ...] = ()


NOTHING_TAKEN = TakeMarks()


def take_marks(pattern: Pattern, cut: CutPiece) -> TakeMarks:
    """A pleat's arrow points from its first notch, where the cloth is folded, to the second, on which it is laid."""
    arrows: list[tuple[Point, Point]] = []
    tips: list[Point] = []
    for take, start, end in _taken(pattern, cut):
        if take.kind == "pleat" and start.distance(end) >= _LEAST_ARROW_MM:
            arrows.append(_inward(cut, start, end))
        if take.kind == "dart" and (legs := legs_of(cut.drawn.inside, start, end)) is not None:
            tip = legs[0][-1].end
            # a point that the designer drew there says it already
            tips += [tip] if all(mark.place.distance(tip) > _SAME_MM for mark in cut.drawn.points) else []
    return TakeMarks(tuple(arrows), tuple(tips))


def _taken(pattern: Pattern, cut: CutPiece) -> Iterator[tuple[Take, Point, Point]]:
    """All that the piece, or the one whose outline it takes, says is taken up, with the places of both notches."""
    spec = pattern.pieces.get(cut.piece)
    if spec is not None and spec.source is not None:
        spec = pattern.pieces.get(spec.source)
    for name, edge in spec.edges.items() if spec is not None else ():
        places = {notch.name: notch.place for notch in cut.drawn.notches if notch.edge == name}
        for take in edge.takes:
            if take.start_notch in places and take.end_notch in places:
                yield take, places[take.start_notch], places[take.end_notch]


def _inward(cut: CutPiece, start: Point, end: Point) -> tuple[Point, Point]:
    """The stroke between two places of the outline, moved to the side where more of it lies in the piece."""
    seam = shapely.Polygon(cut.seam_drawn).buffer(0)
    beside = start.to(end).unit().left().scaled(_INSIDE_MM)
    moved = [(start.plus(by), end.plus(by)) for by in (beside, beside.scaled(-1))]
    return max(moved, key=lambda stroke: seam.intersection(shapely.LineString(stroke)).length)

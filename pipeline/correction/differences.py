"""How far the cut line of a piece lies farther out or in than before, edge by edge."""

from collections.abc import Iterable
from typing import NamedTuple

import numpy as np
import shapely

from pipeline.ledger.before import Former
from pipeline.ledger.changes import Change
from pipeline.ledger.measure import shape_of
from pipeline.ledger.packed import Line, Shape, unpacked
from pipeline.ledger.shapes import TOLD_MM, laid_on
from pipeline.model.pieces import Cuts

_EVERY_MM = 2.0
_FELT_MM = 0.3
"""What an edge that moved farther out goes in elsewhere by less than a pencil line is not told, nor the other way."""


class EdgeMove(NamedTuple):
    """How far the new cut line lies outside and inside of the old one at most, in mm, and where on the new one."""

    out_mm: float
    out_at: tuple[float, float]
    in_mm: float
    in_at: tuple[float, float]


class Difference(NamedTuple):
    """A piece in one size, in two versions; the old one lies on the new one. `edges` are those that moved."""

    piece: str
    size: str
    old: Shape
    new: Shape
    edges: dict[str, EdgeMove]

    @property
    def most_mm(self) -> float:
        """The largest distance of any edge."""
        return max((max(move.out_mm, move.in_mm) for move in self.edges.values()), default=0.0)


def outline(shape: Shape) -> shapely.Polygon:
    """The cut line as an area."""
    places = [place for lines in shape.edges.values() for line in lines for place in line]
    return shapely.Polygon(places).buffer(0)


def differences(changes: Iterable[Change], former: Former, cuts: Cuts) -> tuple[Difference, ...]:
    """Every piece and size whose shape was changed, in the order of the changes; `cuts` are the new cut pieces."""
    changes = tuple(changes)
    wanted = dict.fromkeys(
        (change.piece, change.size) for change in changes if change.piece and change.size and change.mm is not None
    )
    found = []
    for piece, size in wanted:
        new = shape_of(cuts[piece][size])
        old = laid_on(unpacked(former.shapes[former.facts.pieces[piece][size].shape]), new)
        moved = [change.name for change in changes if (change.piece, change.size, change.what) == (piece, size, "edge")]
        edges = {name: _move(old.edges[name], new.edges[name], outline(old), outline(new)) for name in moved}
        found.append(Difference(piece, size, old, new, edges))
    return tuple(found)


def _move(old: tuple[Line, ...], new: tuple[Line, ...], was: shapely.Geometry, now: shapely.Geometry) -> EdgeMove:
    """The new edge against the old area, and the old one against the new: where that is out, the new is in."""
    out_mm, out_at = _farthest(new, was)
    in_mm, in_at = _farthest(old, now)
    if min(out_mm, in_mm) < _FELT_MM <= max(out_mm, in_mm):
        out_mm, in_mm = (out_mm, 0.0) if out_mm > in_mm else (0.0, in_mm)
    return EdgeMove(out_mm, out_at, in_mm, in_at)


def _farthest(lines: tuple[Line, ...], area: shapely.Geometry) -> tuple[float, tuple[float, float]]:
    """How far these lines reach beyond an area, and where; 0 where they do not."""
    line = shapely.segmentize(shapely.MultiLineString([line for line in lines if len(line) > 1]), _EVERY_MM)
    places = shapely.get_coordinates(line)
    if not len(places):
        return 0.0, (0.0, 0.0)
    far = np.round(shapely.distance(shapely.points(places), area), 2)
    worst = int(np.argmax(far))
    if far[worst] <= TOLD_MM:
        return 0.0, (0.0, 0.0)
    return float(far[worst]), (float(places[worst, 0]), float(places[worst, 1]))

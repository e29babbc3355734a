"""Two marks between which a piece is sewn on: as far apart as the edge of it that runs from one to the other."""

import math
import re
from collections.abc import Iterator
from statistics import median
from typing import NamedTuple

from pipeline.checks.catalogue import CHECKS
from pipeline.checks.garment import Garment
from pipeline.checks.registry import Outcome
from pipeline.checks.uses import counts_of, named_after
from pipeline.geometry.points import Vector
from pipeline.model.pieces import CutPiece, DrawnPiece, MarkPoint
from pipeline.model.questions import mark_spec, side_of

_BEYOND_MM = 2.0
_ALONG_DEG = 5.0
_ENDS = ({"inner", "outer"}, {"left", "right"}, {"upper", "lower"}, {"top", "bottom"}, {"start", "end"})
_SUFFIX = re.compile(r"-([a-z]+)$")


class _Pair(NamedTuple):
    """Two marks on a piece in one size, how far they are apart, and how long the edge is that lies between them."""

    cut: CutPiece
    names: tuple[str, str]
    edge: str
    apart_mm: float
    edge_mm: float

    @property
    def beyond_mm(self) -> float:
        """How much farther apart the marks are than the edge is long."""
        return self.apart_mm - self.edge_mm


@CHECKS.register(
    id="mark-pairs",
    title="Two marks for a piece are as far apart as the edge of it that lies between them",
    rationale="Marks farther apart than the pocket is wide show beside it, or the pocket is stretched to them.",
    remedy="move the marks to where the piece's corners come, or correct the piece",
    severity="warn",
    source=(
        f"up to {_BEYOND_MM:g} mm beyond it; within it where holes are to be hidden: common practice, the limit from"
        " memory"
    ),
)
def mark_pairs(garment: Garment) -> Iterator[Outcome]:
    """Points named `<piece>-inner` and `-outer`, `-left` and `-right` and the like, of a piece that is there once for
    each place, where an edge of it runs as they do, both seen from the grain. In all sizes and against each other.
    """
    for piece, by_size in garment.cuts.items():
        spec = garment.pattern.pieces.get(piece)
        if spec is None or spec.source is not None:
            continue
        found: dict[tuple[str, str], list[_Pair]] = {}
        for cut in by_size.values():
            for pair in _pairs(garment, cut):
                found.setdefault((pair.names[0], pair.edge), []).append(pair)
        for pairs in found.values():
            usual = median(pair.beyond_mm for pair in pairs)
            for pair in pairs:
                off = pair.beyond_mm - min(usual, 0.0)
                if pair.beyond_mm > _BEYOND_MM or abs(off) > _BEYOND_MM >= abs(usual):
                    yield _told(pair)


def _pairs(garment: Garment, cut: CutPiece) -> Iterator[_Pair]:
    marks: dict[str, list[MarkPoint]] = {}
    for point in cut.drawn.points:
        owner = named_after(garment, point.name or "")
        if owner is not None and owner != cut.piece and not point.slit:
            marks.setdefault(owner, []).append(point)
    for owner, points in marks.items():
        own = garment.cut(owner, cut.size)
        if own is None or len(points) != 2 or not _are_ends(points) or not _once_each(garment, cut, own, points):
            continue
        between = points[0].place.to(points[1].place)
        apart = math.hypot(between.dx, between.dy)
        along = _along(own.drawn, _from_grain(cut.drawn, between))
        if along:
            edge, edge_mm = min(along.items(), key=lambda item: abs(item[1] - apart))
            yield _Pair(cut, (points[0].name or "", points[1].name or ""), f"{owner}.{edge}", apart, edge_mm)


def _are_ends(points: list[MarkPoint]) -> bool:
    found = [_SUFFIX.search(point.name or "") for point in points]
    return {match.group(1) for match in found if match} in _ENDS


def _once_each(garment: Garment, cut: CutPiece, own: CutPiece, points: list[MarkPoint]) -> bool:
    """Whether a piece is there once for each place that is marked: two marks can be one of two pieces each."""
    there, places = counts_of(garment, own), counts_of(garment, cut)
    sides = {mark_spec(garment.pattern, cut.piece, point.name or "", "points").side for point in points}
    if len(sides) > 1 or own.fold is not None:
        return False
    if sides != {None} or side_of(garment.pattern.pieces[own.piece].cut):
        return set(there.values()) == {1}
    return any(there.get(material) == count for material, count in places.items())


def _along(drawn: DrawnPiece, degrees: float) -> dict[str, float]:
    """The lengths from end to end of the edges that run so, seen from the grain, whichever way they are walked."""
    found = {}
    for edge in drawn.edges:
        run = edge.path[0].start.to(edge.path[-1].end)
        turn = (_from_grain(drawn, run) - degrees + 90.0) % 180.0 - 90.0
        mirrored = (_from_grain(drawn, run) + degrees + 90.0) % 180.0 - 90.0
        if min(abs(turn), abs(mirrored)) <= _ALONG_DEG:
            found[edge.name] = math.hypot(run.dx, run.dy)
    return found


def _from_grain(drawn: DrawnPiece, run: Vector) -> float:
    up = drawn.grain.bottom.to(drawn.grain.top)
    return math.degrees(math.atan2(up.cross(run), up.dot(run)))


def _told(pair: _Pair) -> Outcome:
    size, beyond = pair.cut.size, pair.beyond_mm
    return Outcome(
        code="apart",
        size=size,
        piece=pair.cut.piece,
        where=pair.names[0],
        file=pair.cut.drawn.file,
        object=" and ".join(pair.names),
        found=f"{pair.apart_mm:.1f} mm",
        allowed=f"{pair.edge_mm:.1f} mm, the length of {pair.edge}",
        message=(
            f"{' and '.join(pair.names)} are {abs(beyond):.1f} mm {'farther apart' if beyond > 0 else 'nearer'} than"
            f" {pair.edge} is long"
        ),
    )

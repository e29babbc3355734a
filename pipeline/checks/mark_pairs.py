"""Two marks between which a piece is sewn on: as far apart as the edge of it that runs from one to the other."""

import math
import re
from collections.abc import Iterator
from statistics import median
from typing import NamedTuple

import shapely
import shapely.affinity

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
    """Two marks on a piece in one size, how far they are apart, and what they can be apart for: the edges that run as
    they do, and the width of the piece there, by what they are called."""

    cut: CutPiece
    names: tuple[str, str]
    apart_mm: float
    held_mm: dict[str, float]


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
    each place, where an edge of it runs as they do, both seen from the grain. In all sizes and against each other. Of a
    piece that lies once across a fold, one end and its mirror image.
    """
    for piece, by_size in garment.cuts.items():
        spec = garment.pattern.pieces.get(piece)
        if spec is None or spec.source is not None:
            continue
        found: dict[tuple[str, str], list[_Pair]] = {}
        for cut in by_size.values():
            for pair in _pairs(garment, cut):
                found.setdefault(pair.names, []).append(pair)
        for pairs in found.values():
            yield from _off(pairs)


def _off(pairs: list[_Pair]) -> Iterator[Outcome]:
    """Pairs that lie beyond all that they can be apart for, and those unlike the other sizes, which meet their edge."""
    common = [name for name in pairs[0].held_mm if all(name in pair.held_mm for pair in pairs)]
    if not common:
        return
    usual = {name: median(pair.apart_mm - pair.held_mm[name] for pair in pairs) for name in common}
    name = min(common, key=lambda each: abs(usual[each]))
    for pair in pairs:
        off = pair.apart_mm - pair.held_mm[name]
        beyond = pair.apart_mm - max(pair.held_mm.values()) > _BEYOND_MM
        if beyond or abs(off) > _BEYOND_MM >= abs(usual[name]):
            yield _told(pair, name, off)


def _pairs(garment: Garment, cut: CutPiece) -> Iterator[_Pair]:
    marks: dict[str, list[MarkPoint]] = {}
    for point in cut.drawn.points:
        owner = named_after(garment, point.name or "")
        if owner is not None and owner != cut.piece and not point.slit:
            marks.setdefault(owner, []).append(point)
    for owner, points in marks.items():
        own = garment.cut(owner, cut.size)
        if own is not None and (across := _across_fold(garment, cut, own, points)) is not None:
            name, turn = points[0].name or "", _from_grain(cut.drawn, across)
            held = {f"{owner}.{edge}": mm for edge, mm in _along(own.drawn, turn).items()}
            held[owner] = _widest_mm(own, turn)
            yield _Pair(cut, (name, "its mirror image"), math.hypot(across.dx, across.dy), held)
            continue
        if own is None or len(points) != 2 or not _are_ends(points) or not _once_each(garment, cut, own, points):
            continue
        between = points[0].place.to(points[1].place)
        turn = _from_grain(cut.drawn, between)
        if along := _along(own.drawn, turn):
            held = {f"{owner}.{edge}": mm for edge, mm in along.items()} | {owner: _widest_mm(own, turn)}
            names = points[0].name or "", points[1].name or ""
            yield _Pair(cut, names, math.hypot(between.dx, between.dy), held)


def _across_fold(garment: Garment, cut: CutPiece, own: CutPiece, points: list[MarkPoint]) -> Vector | None:
    """From one end of a piece that lies across another's fold to its mirror image, where one end is marked on the half:
    the piece is there once, so that its other end lies on the other half."""
    ends = {name for pair in _ENDS for name in pair}
    match = _SUFFIX.search(points[0].name or "")
    if cut.fold is None or own.fold is not None or len(points) != 1 or match is None or match.group(1) not in ends:
        return None
    sided = mark_spec(garment.pattern, cut.piece, points[0].name or "", "points").side is not None
    once = {1} == set(counts_of(garment, own).values()) == {count // 2 for count in counts_of(garment, cut).values()}
    out = cut.fold[0].to(cut.fold[1]).unit().left()
    off_mm = out.dot(cut.fold[0].to(points[0].place))
    return out.scaled(-2 * off_mm) if once and not sided and abs(off_mm) > _BEYOND_MM else None


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


def _widest_mm(own: CutPiece, degrees: float) -> float:
    """The longest line across a piece that runs so, seen from the grain, on the one side up or on the other."""
    up = math.degrees(math.atan2(*reversed(own.drawn.grain.bottom.to(own.drawn.grain.top))))
    ring = shapely.Polygon(own.seam_outline)
    widest = 0.0
    for turn in (up + degrees, up - degrees):
        level = shapely.affinity.rotate(ring, -turn, origin=(0, 0))
        left, _, right, _ = level.bounds
        corners = shapely.get_coordinates(level)[:, 1]
        across = (shapely.LineString(((left - 1, y), (right + 1, y))).intersection(level) for y in corners)
        widest = max(widest, *(line.length for line in across))
    return widest


def _from_grain(drawn: DrawnPiece, run: Vector) -> float:
    up = drawn.grain.bottom.to(drawn.grain.top)
    return math.degrees(math.atan2(up.cross(run), up.dot(run)))


def _told(pair: _Pair, name: str, off_mm: float) -> Outcome:
    what = f"{name} is {'long' if '.' in name else 'wide'}"
    return Outcome(
        code="apart",
        size=pair.cut.size,
        piece=pair.cut.piece,
        where=pair.names[0],
        file=pair.cut.drawn.file,
        object=" and ".join(pair.names),
        found=f"{pair.apart_mm:.1f} mm",
        allowed=f"{pair.held_mm[name]:.1f} mm, as {what}",
        message=(
            f"{' and '.join(pair.names)} are {abs(off_mm):.1f} mm {'farther apart' if off_mm > 0 else 'nearer'} than"
            f" {what}"
        ),
    )

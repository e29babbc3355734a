"""What lies beyond the ends of a seam: a line that runs on, one piece that lies on the other, or a shape that bends.

Opened flat, the two corners at an end make the line beside the seam run on: they add up to 180 degrees. A facing, a
fly or a pocket bag is turned onto its partner instead: the corners are equal, for the edges beside the seam lie on each
other. Where a seam goes round the wearer (a waist, a cuff) and the edges beside it are seams too, as those of sides and
sleeves are, the garment may change its shape there. All of it is common practice, the limits from memory.
"""

import math
from itertools import pairwise
from typing import Literal, NamedTuple

import numpy as np
import shapely

from pipeline.checks.corners import bend_deg, corner_deg, neighbour
from pipeline.checks.garment import Garment
from pipeline.checks.seam_walk import Direction, is_complete
from pipeline.model.pattern import Seam, SideEdge
from pipeline.model.pieces import CutEdge, CutPiece

ANGLE_LIMIT_DEG = 3.0
"""How far two joined corners may miss a straight line, or each other; common practice, the limit from memory."""
HEM_MM = 20.0
_TURNED_DEG = 45.0
"""Side seams over a hip bend both outward, by less; necklines, armholes and bags by more."""
_ALIKE_DEG = 30.0
_SMALLER = 0.6
_INSIDE = 0.98
_ACROSS_DEG = 60.0
_STRAIGHT_ON_DEG = 15.0

Lie = Literal["runs on", "lies on", "bends"]


class SideEnd(NamedTuple):
    """One side of a seam at one of its ends: the piece, the edge, and whether this is the edge's last point."""

    cut: CutPiece
    edge: str
    last: bool

    @property
    def beside(self) -> CutEdge:
        """The edge beside the seam."""
        return self.cut.edge(neighbour(self.cut, self.edge, self.last).name)

    @property
    def place(self) -> tuple[str, str]:
        """Piece and name of the edge beside the seam."""
        return self.cut.piece, self.beside.name

    @property
    def deg(self) -> float:
        """The interior angle of the corner."""
        return corner_deg(self.cut, self.edge, self.last)


def seam_end(garment: Garment, seam: Seam, way: Direction, size: str, at_end: bool) -> tuple[SideEnd, SideEnd]:
    """Both sides of a seam at its start or end, in one size."""
    one, two = side_ends(seam, way, at_end)
    return side_end(garment, size, at_end, *one), side_end(garment, size, at_end, *two)


def side_end(garment: Garment, size: str, at_end: bool, step: SideEdge, turned: bool) -> SideEnd:
    """An edge at the end (or start) of its stretch of a side; `turned` where it runs against its outline's order."""
    return SideEnd(garment.cuts[step.piece][size], step.edge, at_end != turned)


def side_ends(seam: Seam, way: Direction, at_end: bool) -> tuple[tuple[SideEdge, bool], tuple[SideEdge, bool]]:
    """The edge of each side at the start (or end) of a seam, and whether it is walked against its outline's order."""
    which = -1 if at_end else 0
    return (seam.a[which], way.a[which]), (seam.b[which], way.b[which])


def lie(garment: Garment, seam: Seam, way: Direction, size: str, at_end: bool) -> Lie:
    """How the two pieces lie beyond an end of a seam."""
    one, two = seam_end(garment, seam, way, size, at_end)
    if _turned_onto(garment, seam, way):
        return "lies on"
    both_sewn = one.place in _sewn(garment) and two.place in _sewn(garment)
    if both_sewn and not in_one_line(garment, one, two) and any(_goes_round(end) for end in (one, two)):
        return "bends"
    return "runs on"


def end_miss_deg(garment: Garment, seam: Seam, way: Direction, size: str, at_end: bool) -> float:
    """How far the corners at an end are off what they should be, as the pieces lie there: 0 where all is well."""
    one, two = seam_end(garment, seam, way, size, at_end)
    off = abs(one.deg + two.deg - 180)
    # A piece that goes straight on past the seam (a slit, a fly, an underlap) has no corner there; at a fold each
    # corner is held against 90 degrees.
    goes_on = any(abs(end.deg - 180) <= _STRAIGHT_ON_DEG for end in (one, two))
    if off <= ANGLE_LIMIT_DEG or goes_on or (one.beside.fold and two.beside.fold):
        return 0.0
    lies = lie(garment, seam, way, size, at_end)
    if lies == "runs on":
        return off
    apart = abs(one.deg - two.deg)
    # An edge that is caught in nothing may end on the other piece at any angle, as that of a fly does.
    free = any(_is_free(garment, end) for end in (one, two))
    return 0.0 if lies == "bends" or free or apart <= ANGLE_LIMIT_DEG else apart


def turned_pieces(garment: Garment, seam: Seam, way: Direction, size: str) -> frozenset[str]:
    """The pieces that are turned onto others by a seam, as facings and bags are: the smaller one at each end."""
    if not _turned_onto(garment, seam, way):
        return frozenset()
    pairs = (seam_end(garment, seam, way, size, at_end) for at_end in (False, True))
    return frozenset(min(pair, key=lambda end: end.cut.seam_area_mm2).cut.piece for pair in pairs)


def _sewn(garment: Garment) -> frozenset[tuple[str, str]]:
    """Every edge in a sewn seam, by piece and name."""

    def make() -> frozenset[tuple[str, str]]:
        seams = (seam for seam in garment.pattern.seams.values() if seam.kind == "sewn")
        return frozenset((step.piece, step.edge) for seam in seams for step in (*seam.a, *seam.b))

    return garment.once("sewn edges", make)


def in_one_line(garment: Garment, one: SideEnd, two: SideEnd) -> bool:
    """Whether the edges beside a seam follow each other in a side of another one, so that they are one line there."""
    wanted = {(one.place, two.place), (two.place, one.place)}
    sides = (side for seam in garment.pattern.seams.values() for side in (seam.a, seam.b))
    steps = (pair for side in sides for pair in pairwise((step.piece, step.edge) for step in side))
    return one.place == two.place or any(pair in wanted for pair in steps)


def _goes_round(end: SideEnd) -> bool:
    """Whether a seam runs across the grain: round the wearer."""
    path = end.cut.drawn.edge(end.edge).path
    chord, run = path[0].start.to(path[-1].end), end.cut.drawn.grain.bottom.to(end.cut.drawn.grain.top)
    off = abs(math.degrees(math.atan2(run.cross(chord), run.dot(chord))))
    return chord.length > 0 and min(off, 180 - off) >= _ACROSS_DEG


def _is_free(garment: Garment, end: SideEnd) -> bool:
    """Whether the edge beside a seam is raw, or only neatened: in no seam, no hem, no fold."""
    beside = end.beside
    return end.place not in _sewn(garment) and not beside.fold and not beside.hem and beside.allowance_mm < HEM_MM


def _turned_onto(garment: Garment, seam: Seam, way: Direction) -> bool:
    """Whether one side is turned onto the other once it is sewn, as a facing is: what one size tells holds for all."""
    sizes = (garment.pattern.base, *garment.pattern.sizes)
    size = next(size for size in sizes if is_complete(garment, seam, size))
    return garment.once(("turned onto", seam.name, way), lambda: _is_turned_onto(garment, seam, way, size))


def _is_turned_onto(garment: Garment, seam: Seam, way: Direction, size: str) -> bool:
    edges = [[(step.piece, step.edge) for step in side] for side in (seam.a, seam.b)]
    if edges[0] == edges[1]:
        return False  # a piece and its own mirror image open flat
    turns = [_turn_deg(garment, side, turned, size) for side, turned in ((seam.a, way.a), (seam.b, way.b))]
    if min(turns) >= _TURNED_DEG or max(turns) <= -_TURNED_DEG:
        return abs(turns[0] - turns[1]) <= _ALIKE_DEG
    pieces = [{piece for piece, _ in side} for side in edges]
    if len(pieces[0]) > 1 or len(pieces[1]) > 1:
        return False
    ends = [seam_end(garment, seam, way, size, at_end) for at_end in (False, True)]
    if pieces[0] == pieces[1]:
        return any(_same_corner(one, two) for one, two in ends)
    equal = [abs(one.deg - two.deg) <= ANGLE_LIMIT_DEG for one, two in ends]
    small = min((0, 1), key=lambda side: ends[0][side].cut.seam_area_mm2)
    loose = [_is_free(garment, pair[small]) for pair in ends]
    hemmed = any(edge.hem or edge.allowance_mm >= HEM_MM for edge in ends[0][small].cut.edges)
    fits = any(equal) and all(same or free for same, free in zip(equal, loose, strict=True))
    return fits and not hemmed and _lies_within(ends, small)


def _turn_deg(garment: Garment, side: tuple[SideEdge, ...], reverse: tuple[bool, ...], size: str) -> float:
    """How far a side turns from its start to its end, laid out flat; positive where it goes round its pieces."""
    total = 0.0
    for step in side:
        total += bend_deg(garment.cuts[step.piece][size].drawn.edge(step.edge).path, False, math.inf)
    for (one, one_turned), (two, two_turned) in pairwise(zip(side, reverse, strict=True)):
        ends = (side_end(garment, size, True, one, one_turned), side_end(garment, size, False, two, two_turned))
        total += 180 - (ends[0].deg if _same_corner(*ends) else sum(end.deg for end in ends))
    return total


def _same_corner(one: SideEnd, two: SideEnd) -> bool:
    """Whether two edges of one piece meet at their ends."""
    return (
        one.cut.piece == two.cut.piece and one.edge != two.edge and one.beside.name == two.edge and one.last != two.last
    )


def _lies_within(ends: list[tuple[SideEnd, SideEnd]], small: int) -> bool:
    """Whether the smaller piece, turned onto the larger one along the seam, lies on it and covers but a part of it."""
    shapes = []
    for side in (0, 1):
        start, stop = ends[0][side], ends[1][side]
        ring = np.array([(p.x, p.y) for p in start.cut.seam_drawn]) @ np.array([1, 1j])
        first, last = (complex(*_corner(end)) for end in (start, stop))
        placed = (ring - first) / (last - first) if first != last else ring
        # walked against its outline's order a piece lies to the left of the seam: both are laid to the right
        placed = np.conj(placed) if start.last else placed
        shapes.append(shapely.make_valid(shapely.polygons(np.column_stack((placed.real, placed.imag)))))
    inner, outer = shapes[small], shapes[1 - small]
    area = shapely.area(inner)
    within = shapely.area(shapely.intersection(inner, outer))
    return bool(area <= _SMALLER * shapely.area(outer) and within >= _INSIDE * area)


def _corner(end: SideEnd) -> tuple[float, float]:
    path = end.cut.drawn.edge(end.edge).path
    place = path[-1].end if end.last else path[0].start
    return place.x, place.y

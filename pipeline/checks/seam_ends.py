"""What lies beyond the ends of a seam: a line that runs on, one piece that lies on the other, or a shape that bends.

Opened flat, the two corners at an end make the line beside the seam run on: they add up to 180 degrees. A facing, a
fly or a pocket bag is turned onto its partner instead: the corners are equal, for the edges beside the seam lie on each
other. Where a seam goes round the wearer (a waist, a cuff) and the edges beside it are seams too, as those of sides and
sleeves are, the garment may change its shape there. Where a third piece fills the corner, as a gusset does, or one
corner is set into the other, no line runs on at all (`sewn_points.py`). All of it is common practice, the limits from
memory.
"""

import math
from itertools import pairwise
from typing import Literal

import numpy as np
import shapely

from pipeline.checks.corners import across_grain, bend_deg
from pipeline.checks.garment import Garment
from pipeline.checks.seam_parts import path_of
from pipeline.checks.seam_walk import Direction, is_complete, is_of_one_cloth
from pipeline.checks.sewn_points import POINT_DEG, STRAIGHT_ON_DEG, filling
from pipeline.checks.side_ends import SideEnd, in_one_line, seam_end, sewn_edges, side_end
from pipeline.model.pattern import Seam, SideEdge

ANGLE_LIMIT_DEG = 3.0
"""How far two joined corners may miss a straight line, or each other; common practice, the limit from memory."""
HEM_MM = 20.0
_TURNED_DEG = 45.0
"""Side seams over a hip bend both outward, by less; necklines, armholes and bags by more."""
_ALIKE_DEG = 30.0
_SMALLER = 0.6
_INSIDE = 0.98

Lie = Literal["runs on", "lies on", "is set in", "bends"]


def lie(garment: Garment, seam: Seam, way: Direction, size: str, at_end: bool) -> Lie:
    """How the two pieces lie beyond an end of a seam."""
    one, two = seam_end(garment, seam, way, size, at_end)
    if _turned_onto(garment, seam, way):
        return "lies on"
    if not one.at_corner or not two.at_corner:
        return "runs on"
    if (closed := _closed(garment, one, two)) is not None:
        return closed
    both_sewn = one.place in sewn_edges(garment) and two.place in sewn_edges(garment)
    if both_sewn and not in_one_line(garment, one, two) and any(across_grain(end.cut, end.edge) for end in (one, two)):
        return "bends"
    return "runs on"


def _closed(garment: Garment, one: SideEnd, two: SideEnd) -> Lie | None:
    """How the pieces lie where two or three seams close the ring of corners; None where a line runs on."""
    filled = filling(garment, one, two)
    if filled is None:
        return None
    narrowest = min(one.deg, two.deg)
    if filled.by == "nothing more":
        if max(one.deg, two.deg) > 180 + STRAIGHT_ON_DEG and narrowest < 180:
            return "bends" if narrowest <= POINT_DEG else "is set in"
        return "lies on"
    if filled.by == "itself":
        return "bends" if 2 * narrowest <= POINT_DEG else None
    if filled.by == "a pair":
        return "bends" if abs(one.deg + two.deg + filled.deg - 360) <= ANGLE_LIMIT_DEG else None
    return None if abs(filled.deg - 180) <= STRAIGHT_ON_DEG else "bends"


def end_miss_deg(garment: Garment, seam: Seam, way: Direction, size: str, at_end: bool) -> float:
    """How far the corners at an end are off what they should be, as the pieces lie there: 0 where all is well."""
    one, two = seam_end(garment, seam, way, size, at_end)
    off = abs(one.deg - two.deg) if seam.facing else abs(one.deg + two.deg - 180)
    # A piece that goes straight on past the seam (a slit, a fly, an underlap) has no corner there; at a fold each
    # corner is held against 90 degrees.
    goes_on = any(abs(end.deg - 180) <= STRAIGHT_ON_DEG for end in (one, two))
    if off <= ANGLE_LIMIT_DEG or goes_on or (one.beside.fold and two.beside.fold):
        return 0.0
    if seam.facing:
        return off if one.at_corner and two.at_corner else 0.0
    if is_of_one_cloth(seam) and (is_turned_onto_itself(garment, seam, way) or abs(one.deg - 90) > _ALIKE_DEG):
        return 0.0  # of two layers that lie on each other all corners are equal; a point as sharp as this is meant
    lies = lie(garment, seam, way, size, at_end)
    # An edge that is caught in nothing may end on the other piece at any angle, as that of a fly does.
    if lies == "bends" or (lies == "lies on" and any(_is_free(garment, end) for end in (one, two))):
        return 0.0
    off = {"runs on": off, "lies on": abs(one.deg - two.deg), "is set in": abs(one.deg + two.deg - 360)}[lies]
    return off if off > ANGLE_LIMIT_DEG else 0.0


def turned_pieces(garment: Garment, seam: Seam, way: Direction, size: str) -> frozenset[str]:
    """The pieces that are turned onto others by a seam, as facings and bags are: the smaller one at each end."""
    if not _turned_onto(garment, seam, way):
        return frozenset()
    pairs = (seam_end(garment, seam, way, size, at_end) for at_end in (False, True))
    return frozenset(min(pair, key=lambda end: end.cut.seam_area_mm2).cut.piece for pair in pairs)


def is_turned_onto_itself(garment: Garment, seam: Seam, way: Direction) -> bool:
    """Whether the two copies that a seam joins are turned onto each other, as both layers of a collar, flap or bag are:
    the seam goes round its pieces, where a middle seam runs straight on or hollows them out."""

    def found() -> bool:
        sizes = (garment.pattern.base, *garment.pattern.sizes)
        size = next((size for size in sizes if is_complete(garment, seam, size)), None)
        return size is not None and _turn_deg(garment, seam.a, way.a, size) >= _TURNED_DEG

    return is_of_one_cloth(seam) and garment.once(("turned onto itself", seam.name, way), found)


def _is_free(garment: Garment, end: SideEnd) -> bool:
    """Whether the edge beside a seam is raw or neatened: in no seam, no hem, no fold; or is the same edge, going on."""
    beside = end.beside
    if not end.at_corner:
        return True
    return end.place not in sewn_edges(garment) and not beside.fold and not beside.hem and beside.widest_mm < HEM_MM


def _turned_onto(garment: Garment, seam: Seam, way: Direction) -> bool:
    """Whether one side is turned onto the other once it is sewn, as a facing is: the seam says so, or what one size
    tells holds for all."""
    if seam.facing:
        return True
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
    hemmed = any(edge.hem or edge.widest_mm >= HEM_MM for edge in ends[0][small].cut.edges)
    fits = any(equal) and all(same or free for same, free in zip(equal, loose, strict=True))
    return fits and not hemmed and _lies_within(ends, small)


def _turn_deg(garment: Garment, side: tuple[SideEdge, ...], reverse: tuple[bool, ...], size: str) -> float:
    """How far a side turns from its start to its end, laid out flat; positive where it goes round its pieces."""
    total = 0.0
    for step in side:
        total += bend_deg(path_of(garment.cuts[step.piece][size], step), False, math.inf)
    for (one, one_turned), (two, two_turned) in pairwise(zip(side, reverse, strict=True)):
        ends = (side_end(garment, size, True, one, one_turned), side_end(garment, size, False, two, two_turned))
        total += 180 - (ends[0].deg if _same_corner(*ends) else sum(end.deg for end in ends))
    return total


def _same_corner(one: SideEnd, two: SideEnd) -> bool:
    """Whether two edges of one piece meet at their ends."""
    corners = one.at_corner and two.at_corner and one.last != two.last
    return corners and one.cut.piece == two.cut.piece and one.edge != two.edge and one.beside.name == two.edge


def _lies_within(ends: list[tuple[SideEnd, SideEnd]], small: int) -> bool:
    """Whether the smaller piece, turned onto the larger one along the seam, lies on it and covers but a part of it."""
    shapes = []
    for side in (0, 1):
        start, stop = ends[0][side], ends[1][side]
        ring = np.array([(p.x, p.y) for p in start.cut.seam_drawn]) @ np.array([1, 1j])
        first, last = (complex(end.point.x, end.point.y) for end in (start, stop))
        placed = (ring - first) / (last - first) if first != last else ring
        # walked against its outline's order a piece lies to the left of the seam: both are laid to the right
        placed = np.conj(placed) if start.last else placed
        shapes.append(shapely.make_valid(shapely.polygons(np.column_stack((placed.real, placed.imag)))))
    inner, outer = shapes[small], shapes[1 - small]
    area = shapely.area(inner)
    within = shapely.area(shapely.intersection(inner, outer))
    return bool(area <= _SMALLER * shapely.area(outer) and within >= _INSIDE * area)

"""Walking a seam: each side as one line from end to end, with its notches and joints, as it is sewn.

Lengths are of the seam line (common practice: seams are walked along the seam line, never the cut line); what darts
and pleats take up is closed before the walk.
"""

from itertools import product

import msgspec

from pipeline.checks.garment import Garment
from pipeline.checks.seam_parts import known_reach_mm, reach_mm, runs_back
from pipeline.model.edge_places import net_position_mm
from pipeline.model.pattern import Seam, SideEdge
from pipeline.model.pieces import CutPiece, Notch

_MOST_WAYS = 256


class WalkedNotch(msgspec.Struct, frozen=True):
    """A notch met on the walk, `at_mm` from the side's start. `bounds_take`: it is one end of a dart or pleat."""

    name: str | None
    at_mm: float
    piece: str
    edge: str
    style: str
    bounds_take: bool


class WalkedSide(msgspec.Struct, frozen=True):
    """One side of a seam in one size. `joints_mm` are where its edges meet, ends included."""

    length_mm: float
    joints_mm: tuple[float, ...]
    notches: tuple[WalkedNotch, ...]


class Direction(msgspec.Struct, frozen=True):
    """Which edges of both sides run against their outline's walking order."""

    a: tuple[bool, ...]
    b: tuple[bool, ...]


def length_mm(garment: Garment, step: SideEdge, size: str) -> float:
    """How long an edge of a side, or the part of it, is once darts and pleats are closed. Raises KeyError."""
    cut = garment.cuts[step.piece][size]
    if step.part is None:
        return cut.edge(step.edge).length_mm
    takes = garment.takes(step.piece, step.edge)
    low, high = (net_position_mm(cut.drawn.notches, step.edge, place, takes) for place in known_reach_mm(cut, step))
    return high - low


def walk_side(garment: Garment, side: tuple[SideEdge, ...], reverse: tuple[bool, ...], size: str) -> WalkedSide:
    """A side in one size. Raises KeyError where a piece of it does not exist in that size."""
    return garment.once(("side", side, reverse, size), lambda: _walked(garment, side, reverse, size))


def _walked(garment: Garment, side: tuple[SideEdge, ...], reverse: tuple[bool, ...], size: str) -> WalkedSide:
    at_mm, joints, notches = 0.0, [0.0], []
    for step, turned in zip(side, reverse, strict=True):
        cut = garment.cuts[step.piece][size]
        takes = garment.takes(step.piece, step.edge)
        reach, whole_mm = known_reach_mm(cut, step), length_mm(garment, step, size)
        bounds = {name for take in takes for name in (take.start_notch, take.end_notch)}
        for notch in _on_edge(cut, step.edge):
            if step.part is not None and not reach[0] <= notch.at_mm <= reach[1]:
                continue
            along = net_position_mm(cut.drawn.notches, step.edge, notch.at_mm, takes)
            if step.part is not None:
                along -= net_position_mm(cut.drawn.notches, step.edge, reach[0], takes)
            place = at_mm + (whole_mm - along if turned else along)
            notches.append(WalkedNotch(notch.name, place, step.piece, step.edge, notch.style, notch.name in bounds))
        at_mm += whole_mm
        joints.append(at_mm)
    return WalkedSide(at_mm, tuple(joints), tuple(sorted(notches, key=lambda notch: notch.at_mm)))


def _on_edge(cut: CutPiece, edge: str) -> list[Notch]:
    return [notch for notch in cut.drawn.notches if notch.edge == edge]


def open_ways(garment: Garment, seam: Seam) -> dict[Direction, float]:
    """Every way in which a seam can be walked, one choice over all sizes, and how far its notch names lie apart so.

    Edges of one piece that follow each other in a side meet at their shared corner; a part of an edge runs as it says.
    Walking the whole seam from its other end is the same way.
    """
    sizes = [size for size in garment.pattern.sizes if is_complete(garment, seam, size)]
    if not sizes:
        return {}
    a_ways, b_ways = _ways(garment, seam.a, sizes[0]), _ways(garment, seam.b, sizes[0])
    costs: dict[Direction, float] = {}
    for a, b in product(a_ways, b_ways):
        if _from_other_end(seam, Direction(a, b)) not in costs:
            costs[Direction(a, b)] = sum(_disagreement(garment, seam, a, b, size) for size in sizes)
    if is_of_one_cloth(seam):
        mirrored = {way: cost for way, cost in costs.items() if way.a == way.b}  # a pair sewn to its own mirror image
        costs = mirrored or costs
    return costs


def is_of_one_cloth(seam: Seam) -> bool:
    """Whether a seam joins edges to the same edges of another copy of their pieces."""
    return len(seam.a) == len(seam.b) and all(map(SideEdge.is_same_cloth, seam.a, seam.b))


def is_complete(garment: Garment, seam: Seam, size: str) -> bool:
    """Whether a size has every piece and edge of a seam, and every place that parts of edges lie between."""
    cuts = ((garment.cut(step.piece, size), step) for step in (*seam.a, *seam.b))
    return all(cut is not None and reach_mm(cut, step) is not None for cut, step in cuts)


def _ways(garment: Garment, side: tuple[SideEdge, ...], size: str) -> list[tuple[bool, ...]]:
    """All ways in which a side can be walked: every chain of edges of one piece turns as a whole."""
    ways: list[tuple[bool, ...]] = [()]
    index = 0
    while index < len(side):
        chain = _chain(garment, side[index:], size)
        ways = [(*way, *turned) for way in ways for turned in chain]
        if len(ways) > _MOST_WAYS:
            ways = ways[:_MOST_WAYS]
        index += len(chain[0])
    return ways


def _chain(garment: Garment, side: tuple[SideEdge, ...], size: str) -> list[tuple[bool, ...]]:
    """The ways of the first edges of a side that hang together in one piece, or that are two halves of one edge."""
    cut = garment.cuts[side[0].piece][size]
    names = [edge.name for edge in cut.drawn.edges]
    alone: list[tuple[bool, ...]] = [(True,)] if side[0].turned else [(False,), (True,)]
    if side[0].part is not None:
        return [(runs_back(cut, side[0]),)]
    if len(side) == 1 or side[1].piece != side[0].piece or side[1].part is not None:
        return alone
    if side[1].edge == side[0].edge:  # the second is the mirror image of the first
        return [(way, not way) for (way,) in alone]
    if len(names) == 2:
        return [(way, way) for (way,) in alone]
    step = (names.index(side[1].edge) - names.index(side[0].edge)) % len(names)
    if step not in (1, len(names) - 1):
        return alone
    count, last = 2, side[1]
    while count < len(side) and side[count].piece == last.piece and side[count].part is None:
        if (names.index(side[count].edge) - names.index(last.edge)) % len(names) != step:
            break
        count, last = count + 1, side[count]
    return [(step != 1,) * count]


def _from_other_end(seam: Seam, way: Direction) -> Direction | None:
    """The same walk from the seam's other end, where both sides read the same backwards, as one edge a side does."""
    if seam.a == seam.a[::-1] and seam.b == seam.b[::-1]:
        return Direction(tuple(not turned for turned in way.a[::-1]), tuple(not turned for turned in way.b[::-1]))
    return None


def _disagreement(garment: Garment, seam: Seam, a: tuple[bool, ...], b: tuple[bool, ...], size: str) -> float:
    """How far shared notch names lie apart, as shares of their sides, summed."""
    one, other = walk_side(garment, seam.a, a, size), walk_side(garment, seam.b, b, size)
    if not one.length_mm or not other.length_mm:
        return 0.0
    places: dict[str, list[float]] = {}
    for notch in other.notches:
        if notch.name is not None:
            places.setdefault(notch.name, []).append(notch.at_mm / other.length_mm)
    return sum(
        min(abs(share - notch.at_mm / one.length_mm) for share in places[notch.name])
        for notch in one.notches
        if notch.name in places
    )

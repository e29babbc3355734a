"""Which pairs of edges of equal length are sewn to each other; none where two ways fit."""

import math
from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import Literal

from pipeline.geometry.points import Point, bounds
from pipeline.model.pieces import DrawnPiece, Edge
from pipeline.starting.piece_words import are_twins, family, is_back, is_front, is_layer, version

LEVEL_DEG = 8.0
"""A waist or hem is drawn as level as this from end to end; shoulders slope by more (common practice)."""
END_SHARE = 0.1
"""The ends of a waist or hem lie within this share of a piece's height of its top or foot."""
SHORT_MM = 60.0
"""Edges below it that are alike in all sizes agree by chance: ends of bands and facings are as wide as each other."""

Pair = tuple[str, str]
End = Literal["top", "foot"]


def pairs_of(edges: Iterable[str], agree: Callable[[str, str], bool]) -> list[Pair]:
    """Edges that agree with each other and with no other, but for those of versions of a piece.

    A version is sewn to the version of the same name, and to what is there once.
    """
    names = list(edges)
    alike = {one: [two for two in names if _may_meet(one, two) and agree(one, two)] for one in names}
    sure = {one for one, twos in alike.items() if are_versions(twos)}
    return [(one, two) for one, twos in alike.items() for two in twos if one < two and one in sure and two in sure]


def _may_meet(one: str, two: str) -> bool:
    """Whether edges are of pieces that are in one version of the garment."""
    a, b = _piece(one), _piece(two)
    return a != b and family(a) != family(b) and (not (version(a) and version(b)) or version(a) == version(b))


def are_versions(edges: Iterable[str]) -> bool:
    """Whether edges are each of another version of one piece; also where there is one alone."""
    pieces = list(map(_piece, edges))
    return bool(pieces) and len(set(pieces)) == len(pieces) and len(set(map(family, pieces))) == 1


def unlikely(pairs: Iterable[Pair], drawn: Mapping[str, DrawnPiece], constant: Callable[[str], bool]) -> set[Pair]:
    """Pairs that are of equal length and not sewn together."""
    found = list(pairs)
    between: dict[frozenset[str], list[Pair]] = {}
    for pair in found:
        between.setdefault(frozenset(map(_piece, pair)), []).append(pair)
    ends = {pair for pair in found if _run_on(pair, between[frozenset(map(_piece, pair))], drawn, level=True)}
    if not ends:  # what is level is told apart first: a side seam lies between waist and hem
        ends = {pair for pair in found if _run_on(pair, between[frozenset(map(_piece, pair))], drawn, level=False)}
    twins = {
        pair
        for pieces, of in between.items()
        if are_twins(*pieces) and len([pair for pair in of if pair not in ends]) > 1
        for pair in of
    }
    chance = {
        pair
        for pairs_there in between.values()
        if len(pairs_there) == 1 and _by_chance(pairs_there[0], constant)
        for pair in pairs_there
    }
    return ends | twins | chance


def _by_chance(pair: Pair, constant: Callable[[str], bool]) -> bool:
    one, two = map(_piece, pair)
    sides = (is_front(one) and is_back(two)) or (is_back(one) and is_front(two))
    return not sides and all(map(constant, pair))


def _run_on(pair: Pair, between: Iterable[Pair], drawn: Mapping[str, DrawnPiece], level: bool) -> bool:
    """Whether two edges run on in each other, as waists, hems and armholes do, or are those of two fronts.

    Either they are `level` at the same end of their pieces, and what is beside them on one side is sewn together; or
    that is so on both sides: they are the opening between. Of what lies on another piece, as a facing, nothing is said:
    it may be sewn to it all round.
    """
    (one, e), (two, f) = (name.split(".") for name in pair)
    if is_layer(one) or is_layer(two):
        return False
    end = end_of(drawn[one], e)
    if level and (end is None or end != end_of(drawn[two], f)):
        return False
    alike = (is_front(one) and is_front(two)) or (is_back(one) and is_back(two))
    sewn = {(_edge_of(other, one), _edge_of(other, two)) for other in between if other != pair}
    beside = [(a.name, b.name) for a in neighbours_of(drawn[one], e) for b in neighbours_of(drawn[two], f)]
    return (level and alike) or len(sewn.intersection(beside)) >= (1 if level else 2)


def end_of(piece: DrawnPiece, name: str) -> End | None:
    """The end of a piece, as it lies on the page, at which an edge is the one that is level; None for others."""
    _, top, _, foot = bounds(list(_corners(piece)))
    edge = piece.edge(name)
    a, b = edge.path[0].start, edge.path[-1].end
    run = a.to(b)
    if abs(run.dy) > math.tan(math.radians(LEVEL_DEG)) * abs(run.dx):
        return None
    near = END_SHARE * (foot - top)
    if run.dx > 0 and max(a.y, b.y) <= top + near:
        return "top"
    return "foot" if run.dx < 0 and min(a.y, b.y) >= foot - near else None


def _corners(piece: DrawnPiece) -> Iterator[Point]:
    return (edge.path[0].start for edge in piece.edges)


def _edge_of(pair: Pair, piece: str) -> str:
    return next(edge for own, edge in (name.split(".") for name in pair) if own == piece)


def _piece(edge: str) -> str:
    return edge.split(".")[0]


def neighbours_of(piece: DrawnPiece, name: str) -> tuple[Edge, Edge]:
    """The edges before and after one."""
    at = next(i for i, edge in enumerate(piece.edges) if edge.name == name)
    return piece.edges[at - 1], piece.edges[(at + 1) % len(piece.edges)]

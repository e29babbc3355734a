"""An edge along which something is grown on, parted into stretches: each is cut as an edge of its own.

What is grown on is a turned hem at the corners of the piece, so that it mirrors the piece there, and ends in a step, or
round, where it ends within its edge, or where that runs on into another. It is folded on the seam line.
"""

import math
from itertools import pairwise

import msgspec
import numpy as np

from pipeline.cutting.along import knots_between
from pipeline.cutting.corners import REACH
from pipeline.cutting.outline import FOLD, CutLine
from pipeline.cutting.rules import CornerRule, EdgeRule, PieceRules
from pipeline.cutting.runs import Run
from pipeline.cutting.telling import Teller
from pipeline.geometry.curves import path_length_mm, turn_between_rad
from pipeline.geometry.parts import part_of
from pipeline.model.pieces import DrawnPiece, Edge, GrownPart

_NEAR = 1e-9
_RUNS_ON_RAD = math.asin(1 / REACH)
"""An outline that turns by less has no corner that an allowance could be led round to a fold (`corners.py`)."""


class Stretches(msgspec.Struct, frozen=True):
    """A piece whose edges are stretches, their rules, and of which of the piece's own edges each is a stretch."""

    drawn: DrawnPiece
    rules: PieceRules
    owners: tuple[int, ...]

    def runs_by_edge(self, runs: tuple[tuple[Run, ...], ...]) -> tuple[tuple[Run, ...], ...]:
        """The runs of the piece's own edges, from those of the stretches."""
        by_edge: list[list[Run]] = [[] for _ in set(self.owners)]
        for owner, own in zip(self.owners, runs, strict=True):
            by_edge[owner] += own
        return tuple(map(tuple, by_edge))

    def line_by_edge(self, line: CutLine) -> CutLine:
        """A cut line whose segments belong to the piece's own edges."""
        owners = np.array(self.owners)
        return CutLine(line.ring, np.where(line.edges == FOLD, FOLD, owners[line.edges]))


def in_stretches(drawn: DrawnPiece, rules: PieceRules, teller: Teller) -> Stretches:
    """A piece in stretches: it is itself where nothing is grown on."""
    if not any(rule.grown for rule in rules.edges):
        return Stretches(drawn, rules, tuple(range(len(rules.edges))))
    edges: list[Edge] = []
    said: list[EdgeRule] = []
    owners: list[int] = []
    for index, (edge, rule) in enumerate(zip(drawn.edges, rules.edges, strict=True)):
        length_mm = path_length_mm(edge.path)
        for low, high, part in _spans(rule.grown):
            whole = low == 0 and high == 1
            edges.append(edge if whole else Edge(edge.name, part_of(edge.path, low * length_mm, high * length_mm)))
            said.append(_rule(rule, low, high, part))
            owners.append(index)
    corners = _corners(edges, said, owners, rules.corners, teller)
    parted = msgspec.structs.replace(drawn, edges=tuple(edges))
    return Stretches(parted, PieceRules(tuple(said), corners, rules.trim_mm), tuple(owners))


def _spans(grown: tuple[GrownPart, ...]) -> list[tuple[float, float, GrownPart | None]]:
    """The stretches of an edge in order: from and to which share of it, and what is grown on there."""
    ends = sorted({0.0, 1.0, *(share for part in grown for share in (part.start, part.end))})
    spans = [(low, high) for low, high in pairwise(ends) if high - low > _NEAR]
    return [(low, high, next((p for p in grown if p.start <= low and high <= p.end), None)) for low, high in spans]


def _rule(rule: EdgeRule, low: float, high: float, part: GrownPart | None) -> EdgeRule:
    if part is not None:
        folds_mm = (part.width_mm,) if part.turn_in_mm > 0 else ()
        ends_mm = part.cut_at(low), part.cut_at(high)
        return EdgeRule(rule.name, *ends_mm, False, False, False, (), folds_mm, (), part)
    (_, first), *between, (_, last) = knots_between(rule.knots, low, high)
    return msgspec.structs.replace(rule, width_mm=first, end_mm=last, between=tuple(between), grown=())


def _corners(
    edges: list[Edge], said: list[EdgeRule], owners: list[int], corners: tuple[CornerRule, ...], teller: Teller
) -> tuple[CornerRule, ...]:
    """The corner at the end of each stretch: what is grown on decides, as a hem whose corners are turned. Where the
    outline runs on into the next edge, it ends as within its own."""
    found = []
    for index, (rule, owner) in enumerate(zip(said, owners, strict=True)):
        after = (index + 1) % len(said)
        grown = [rule.extension is not None, said[after].extension is not None]
        within = owner == owners[after] and after > index
        if within or (any(grown) and _runs_on(edges[index], edges[after])):
            found.append(CornerRule("step", 0))
            continue
        if all(grown):
            teller.tell(
                "grown-meet",
                "block",
                f"what is grown onto it meets what is grown onto {said[after].name}: neither can mirror the other.",
                "Let one of the two end before the corner that they share.",
                where=rule.name,
                found=f"both at the corner of {rule.name} and {said[after].name}",
                allowed="one of the two",
            )
        found.append(CornerRule("turned", 0 if grown[0] else 1) if any(grown) else corners[owner])
    return tuple(found)


def _runs_on(before: Edge, after: Edge) -> bool:
    """Whether the outline runs on from an edge into the next, without a corner to speak of."""
    return bool(before.path and after.path) and abs(turn_between_rad(before.path[-1], after.path[0])) < _RUNS_ON_RAD

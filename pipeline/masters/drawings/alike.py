"""Which node of an outline is which corner of the same piece in another size: a cyclic alignment, solved exactly.

Corners keep their order round the piece, so an assignment is a rising walk through the nodes, begun anywhere. Its cost
is a sum over corners (turn, mark, place in the box) and over the edges between them (share of length, notches, corners
passed over); a dynamic program over every beginning finds the least, and with the costs from behind the second best.
"""

import math
from collections.abc import Sequence
from typing import NamedTuple

import msgspec
import numpy as np
import numpy.typing as npt

from pipeline.masters.drawings.outline import FAINT_DEG, Node, Outline

TURN_DEG = 12.0
"""Between neighbouring sizes a corner may turn otherwise by about so much; costs grow with the square."""
SHARE = 0.12
"""An edge may have another share of the outline, by about an eighth of itself."""
_SHARE_FLOOR = 0.02
"""What is shorter than this share of the outline is held against it less strictly."""
PLACE = 0.08
"""Where a corner lies in the outline's box, as a share of its sides."""
NOTCH_COST = 4.0
"""Of each notch that an edge has more or less, and at most of notches that stand elsewhere on it."""
NOTCH_SHARE = 0.04
"""How far notches may move along an edge, on average, as a share of its length."""
MARK_COST = 9.0
PASSED_COST = 30.0
"""Of a sharp corner that no corner of the other size answers to; always told."""
_MOST_COST = 40.0
"""Of one term, so that one odd corner does not drown all others."""
MOST_NODES = 120
"""Nodes that may be corners; traced outlines have more, and are told."""

Floats = npt.NDArray[np.float64]


class Corners(msgspec.Struct, frozen=True):
    """An outline as far as it is compared: nodes that may be corners, and notches, by their place along it in mm."""

    outline: Outline
    nodes: tuple[Node, ...]
    notches_mm: tuple[float, ...] = ()


class Match(msgspec.Struct, frozen=True):
    """An assignment: for each corner of the one the index of a node of the other, its cost and the second best's."""

    nodes: tuple[int, ...]
    cost: float
    second: float


def candidates(outline: Outline, all_nodes: bool) -> tuple[Node, ...]:
    """The nodes that may answer to a corner: all, or those that turn or are marked."""
    return tuple(node for node in outline.nodes if all_nodes or node.corner or abs(node.turn_deg) >= FAINT_DEG)


def match(base: Corners, other: Corners, placed: bool) -> Match | None:
    """The best assignment of `other`'s nodes to all corners of `base`; None where it has too few nodes.

    `placed` counts also where corners lie on the page, each outline in its own box: so neither may be turned.
    """
    count, there = len(base.nodes), len(other.nodes)
    if there < count:
        return None
    node_costs = _node_costs(base, other, placed)
    known = _edges_of(base)
    best: tuple[float, tuple[int, ...]] | None = None
    marginals: list[tuple[int, Floats]] = []
    for begun in range(there):
        order = [(begun + i) % there for i in range(there)]
        edges = _edge_costs(known, base, other, order)
        total, walk, through = _walk(node_costs[:, order], edges)
        marginals.append((begun, through))
        if best is None or total < best[0]:
            best = total, tuple(order[i] for i in walk)
    if best is None:
        return None
    second = math.inf
    for begun, through in marginals:
        order = [(begun + i) % there for i in range(there)]
        for k in range(count):
            others = [through[k, i] for i in range(there) if order[i] != best[1][k]]
            second = min(second, *others) if others else second
    return Match(best[1], best[0], float(second))


def cost_of(base: Corners, other: Corners, nodes: Sequence[int], placed: bool) -> float:
    """What a given assignment costs."""
    there = len(other.nodes)
    order = [(nodes[0] + i) % there for i in range(there)]
    edges = _edge_costs(_edges_of(base), base, other, order)
    at = [(node - nodes[0]) % there for node in nodes]
    along = sum(float(edge[i, j]) for edge, i, j in zip(edges, at, (*at[1:], there), strict=True))
    return along + float(_node_costs(base, other, placed)[range(len(nodes)), list(nodes)].sum())


def _walk(costs: Floats, edges: list[Floats]) -> tuple[float, list[int], Floats]:
    """The cheapest rising walk from node 0, and for each corner and node the cost of the best walk through both."""
    count, there = costs.shape
    ahead = np.full((count, there), np.inf)
    ahead[0, 0] = costs[0, 0]
    came = np.zeros((count, there), dtype=int)
    for k in range(1, count):
        steps = ahead[k - 1][:, None] + edges[k - 1][:, :there]
        came[k] = steps.argmin(axis=0)
        ahead[k] = steps.min(axis=0) + costs[k]
    behind = np.full((count, there), np.inf)
    behind[-1] = edges[-1][:, there]
    for k in range(count - 2, -1, -1):
        behind[k] = (edges[k][:, :there] + costs[k + 1][None, :] + behind[k + 1][None, :]).min(axis=1)
    through = ahead + behind
    last = int(through[-1].argmin())
    walk = [last]
    for k in range(count - 1, 0, -1):
        walk.append(int(came[k, walk[-1]]))
    return float(through[-1, last]), walk[::-1], through


def _node_costs(base: Corners, other: Corners, placed: bool) -> Floats:
    """By corner and node: turn, marks, and the place in the box."""
    turns = np.array([n.turn_deg for n in base.nodes])[:, None] - np.array([n.turn_deg for n in other.nodes])[None, :]
    costs = np.minimum((turns / TURN_DEG) ** 2, _MOST_COST)
    if any(node.marked for node in other.nodes):
        soft = np.array([not node.sharp for node in base.nodes])[:, None]
        unmarked = np.array([not node.corner for node in other.nodes])[None, :]
        costs = costs + MARK_COST * (soft & unmarked)
    if placed:
        away = _in_box(base)[:, None, :] - _in_box(other)[None, :, :]
        costs = costs + np.minimum((away**2).sum(axis=2) / PLACE**2, _MOST_COST)
    return costs


def _in_box(corners: Corners) -> Floats:
    left, top, right, bottom = corners.outline.box()
    size = max(right - left, 1e-6), max(bottom - top, 1e-6)
    return np.array([((n.place.x - left) / size[0], (n.place.y - top) / size[1]) for n in corners.nodes])


class _Edge(NamedTuple):
    """Of an edge the share of the outline, how many notches are on it, and how far along it they are on average."""

    share: float
    notches: int
    mean: float


def _edges_of(base: Corners) -> list[_Edge]:
    at = [node.at_mm for node in base.nodes]
    length = base.outline.length_mm
    runs = [(end - start) % length for start, end in zip(at, (*at[1:], at[0]), strict=True)]
    return [_edge(base, start, run) for start, run in zip(at, runs, strict=True)]


def _edge(corners: Corners, start: float, run: float) -> _Edge:
    length = corners.outline.length_mm
    along = [(place - start) % length for place in corners.notches_mm]
    on = [place / run for place in along if 0 < place < run]
    return _Edge(run / length, len(on), sum(on) / len(on) if on else 0.0)


def _edge_costs(known: list[_Edge], base: Corners, other: Corners, order: list[int]) -> list[Floats]:
    """By edge of the base: what it costs from node i to node j, the last column being the first node come round."""
    length, there = other.outline.length_mm, len(order)
    first = other.nodes[order[0]].at_mm
    at = np.array([(other.nodes[i].at_mm - first) % length for i in order] + [length])
    sharp = np.array([0.0, *(float(other.nodes[i].sharp) for i in order)])
    until = sharp.cumsum()  # sharp nodes before each
    passed = np.maximum(until[None, :] - until[1:, None], 0.0)
    places = np.sort([(place - first) % length for place in other.notches_mm])
    index = np.searchsorted(places, at)
    before, summed = index.astype(float), np.concatenate(([0.0], places.cumsum()))[index]
    share = (at[None, :] - at[:there, None]) / length
    behind = np.arange(there + 1)[None, :] <= np.arange(there)[:, None]
    common = PASSED_COST * passed
    notches = before[None, :] - before[:there, None]
    run = np.maximum(at[None, :] - at[:there, None], 1e-9)
    mean = (summed[None, :] - summed[:there, None]) / np.maximum(notches, 1.0) / run - at[:there, None] / run
    compare = bool(base.notches_mm) and bool(other.notches_mm)
    costs = []
    for edge in known:
        ratio = np.log((np.maximum(share, 0.0) + _SHARE_FLOOR) / (edge.share + _SHARE_FLOOR))
        cost = np.minimum((ratio / SHARE) ** 2, _MOST_COST) + common
        if compare:
            cost = cost + NOTCH_COST * np.minimum(np.abs(notches - edge.notches), 3.0)
            off = np.minimum(((mean - edge.mean) / NOTCH_SHARE) ** 2, NOTCH_COST)
            cost = cost + np.where((notches == edge.notches) & (notches > 0), off, 0.0)
        costs.append(np.where(behind, np.inf, cost))
    return costs

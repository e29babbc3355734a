"""The corners of a piece, where one edge of the seam line ends and the next starts, and which way edges run."""

import math
from itertools import pairwise

from pipeline.geometry.curves import Line, Path, direction, turn_between_rad
from pipeline.model.pieces import CutPiece, Edge

BEND_WINDOW_MM = 10.0
"""How far from a corner the bend of an edge is taken: what a sewer sees as the line running on."""
_STEPS = 16
_ACROSS_DEG = 60.0


def edge_index(cut: CutPiece, edge: str) -> int:
    """Where an edge stands in walking order. Raises KeyError."""
    for index, drawn in enumerate(cut.drawn.edges):
        if drawn.name == edge:
            return index
    raise KeyError(edge)


def at_corner(cut: CutPiece, edge: str, at_end: bool) -> tuple[Edge, Edge]:
    """The two edges that meet at the end (or start) of an edge, in walking order."""
    edges, index = cut.drawn.edges, edge_index(cut, edge)
    return (edges[index], edges[(index + 1) % len(edges)]) if at_end else (edges[index - 1], edges[index])


def neighbour(cut: CutPiece, edge: str, at_end: bool) -> Edge:
    """The edge beside this one at its end (or start) in walking order."""
    before, after = at_corner(cut, edge, at_end)
    return after if at_end else before


def interior_deg(before: Edge, after: Edge) -> float:
    """The angle inside the piece where one edge ends and the next starts: 180 where the outline runs straight on."""
    return 180 - math.degrees(turn_between_rad(before.path[-1], after.path[0]))


def corner_deg(cut: CutPiece, edge: str, at_end: bool) -> float:
    """The interior angle at the end (or start) of an edge."""
    return interior_deg(*at_corner(cut, edge, at_end))


def bend_deg(path: Path, at_end: bool, window_mm: float = BEND_WINDOW_MM) -> float:
    """How far an edge turns within a window at its end (or start), positive towards the inside of its piece.

    The edge is walked with its piece on the right, so the sign is the same whichever way a seam runs.
    """
    turned, rest, before = 0.0, window_mm, None
    for segment in reversed(path) if at_end else path:
        count = 1 if isinstance(segment, Line) else _STEPS
        parameters = [(count - i if at_end else i) / count for i in range(count + 1)]
        for first, second in pairwise(parameters):
            one, two = direction(segment, first), direction(segment, second)
            if before is not None:
                turned += before.turn_rad(one)
            step_mm = segment.at(first).distance(segment.at(second))
            turned += one.turn_rad(two) * min(1.0, rest / step_mm if step_mm else 1.0)
            before, rest = two, rest - step_mm
            if rest <= 0:
                return math.degrees(-turned if at_end else turned)
    return math.degrees(-turned if at_end else turned)


def across_grain(cut: CutPiece, edge: str) -> bool:
    """Whether an edge runs across the grain for the most part, round the wearer: a girth."""
    path = cut.drawn.edge(edge).path
    chord, run = path[0].start.to(path[-1].end), cut.drawn.grain.bottom.to(cut.drawn.grain.top)
    off = abs(run.turn_deg(chord))
    return chord.length > 0 and min(off, 180 - off) >= _ACROSS_DEG

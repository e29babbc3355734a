"""Which pieces may be legs of trousers: what is straight and upright there is a side, and no fold."""

from collections.abc import Collection, Mapping
from itertools import combinations

from pipeline.geometry.curves import path_length_mm, point_along
from pipeline.geometry.points import bounds
from pipeline.masters.marks import bend_mm
from pipeline.model.pieces import DrawnPiece, Edge
from pipeline.starting.likely import END_SHARE, end_of, neighbours_of
from pipeline.starting.piece_words import is_layer, is_of_trousers, is_small

CURVED = 0.1
"""A crotch, armhole or neck bends by this share of its length or more; an inseam, a side or a waist by less."""
SAME_MM = 0.5
"""Edges that are sewn together without ease agree within this in every size, as masters are drawn."""


def legs(pieces: Mapping[str, DrawnPiece], garment: Collection[str]) -> frozenset[str]:
    """Pieces that are called as legs, or are of a `garment` that is, and have the curve of a fork."""
    named = {piece for piece in pieces if is_of_trousers(piece)}
    may_be = named or {piece for piece in pieces if any(map(is_of_trousers, garment))}
    return frozenset(
        piece for piece in may_be if not (is_layer(piece) or is_small(piece)) and _curves_in(pieces[piece])
    )


def open_folds(
    folds: Mapping[str, str], pieces: Mapping[str, DrawnPiece], lengths: Mapping[str, Mapping[str, float]]
) -> frozenset[str]:
    """Pieces whose fold may as well be the side of trousers, though nothing is called so.

    Two have such an edge, as long as each other, and a curve that runs in from a level upper edge: the armhole below a
    yoke looks as a fork does, and what lies opposite is then the fold of one garment and the side of another.
    """
    doubtful = [piece for piece in folds if any(_is_level(pieces[piece], e) for e in _curves_in(pieces[piece]))]
    alike = [
        pair
        for pair in combinations(doubtful, 2)
        if _same(*(lengths.get(f"{piece}.{folds[piece]}", {}) for piece in pair))
    ]
    return frozenset(piece for pair in alike for piece in pair)


def _same(one: Mapping[str, float], other: Mapping[str, float]) -> bool:
    return bool(one) and one.keys() == other.keys() and all(abs(one[size] - other[size]) <= SAME_MM for size in one)


def _curves_in(piece: DrawnPiece) -> list[Edge]:
    """The edges that run in a hollow from above to a point that sticks out to a side, above the foot of the piece."""
    left, top, right, foot = bounds([edge.path[0].start for edge in piece.edges])
    near, high = END_SHARE * (right - left), END_SHARE * (foot - top)
    found: list[Edge] = []
    for edge in piece.edges:
        lower = max(edge.path[0].start, edge.path[-1].end, key=lambda point: point.y)
        outermost = min(lower.x - left, right - lower.x) <= near
        if _is_hollow(edge) and outermost and top + high < lower.y < foot - high:
            found.append(edge)
    return found


def _is_hollow(edge: Edge) -> bool:
    """Whether an edge bends into the piece, which lies to its right as outlines are walked on the page."""
    length = path_length_mm(edge.path)
    start = edge.path[0].start
    across = start.to(edge.path[-1].end).cross(start.to(point_along(edge.path, length / 2)[0]))
    return across > 0 and bend_mm(edge.path) >= CURVED * length


def _is_level(piece: DrawnPiece, curve: Edge) -> bool:
    """Whether a level upper edge runs into the curve, as a waist or the edge below a yoke does."""
    return any(end_of(piece, beside.name) == "top" for beside in neighbours_of(piece, curve.name))

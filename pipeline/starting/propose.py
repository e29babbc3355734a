"""What may be said of the pieces that were found: folds, and seams between edges of equal length. All is proposed."""

from collections.abc import Mapping

import msgspec

from pipeline.geometry.curves import path_length_mm
from pipeline.masters.marks import bend_mm
from pipeline.model.pieces import DrawnPiece, Edge

SAME_MM = 0.5
"""Edges that are sewn together without ease agree within this in every size, as masters are drawn."""
SHORTEST_MM = 30.0
STRAIGHT_MM = 0.1
PARALLEL = 0.02
"""The sine of the angle between a fold and the grain: about a degree."""


class Proposed(msgspec.Struct, frozen=True):
    """Edges that may lie on the fold, by piece, and pairs of edges that may be sewn together."""

    folds: dict[str, str]
    seams: tuple[tuple[str, str], ...]


def propose(sizes: Mapping[str, Mapping[str, DrawnPiece]]) -> Proposed:
    """By size and piece."""
    pieces = list(dict.fromkeys(piece for there in sizes.values() for piece in there))
    folds = {piece: fold for piece in pieces if (fold := _fold([s[piece] for s in sizes.values() if piece in s]))}
    lengths = _lengths(sizes)
    on_fold = {f"{piece}.{edge}" for piece, edge in folds.items()}
    alike: dict[str, list[str]] = {}
    for one, of_one in lengths.items():
        for two, of_two in lengths.items():
            if one.split(".")[0] == two.split(".")[0] or {one, two} & on_fold or of_one.keys() != of_two.keys():
                continue
            if all(abs(of_one[size] - of_two[size]) <= SAME_MM for size in of_one):
                alike.setdefault(one, []).append(two)
    pairs = [(one, twos[0]) for one, twos in alike.items() if len(twos) == 1 and alike[twos[0]] == [one]]
    return Proposed(folds, tuple(pair for pair in pairs if pair[0] < pair[1]))


def _lengths(sizes: Mapping[str, Mapping[str, DrawnPiece]]) -> dict[str, dict[str, float]]:
    found: dict[str, dict[str, float]] = {}
    for size, there in sizes.items():
        for piece, drawn in there.items():
            for edge in drawn.edges:
                length = path_length_mm(edge.path)
                if length >= SHORTEST_MM:
                    found.setdefault(f"{piece}.{edge.name}", {})[size] = length
    return found


def _fold(drawn: list[DrawnPiece]) -> str | None:
    """The one edge that is straight, along the grain and outermost to a side, in every size."""
    names = [{edge.name for edge in piece.edges if _may_be_fold(piece, edge)} for piece in drawn]
    common = set.intersection(*names) if names else set()
    return next(iter(common)) if len(common) == 1 else None


def _may_be_fold(piece: DrawnPiece, edge: Edge) -> bool:
    if bend_mm(edge.path) > STRAIGHT_MM or len(piece.edges) < 2 or not piece.grain.drawn:
        return False
    run, grain = edge.path[0].start.to(edge.path[-1].end), piece.grain.bottom.to(piece.grain.top)
    if abs(run.unit().cross(grain.unit())) > PARALLEL:
        return False
    along = grain.unit()
    at = along.cross(piece.grain.bottom.to(edge.path[0].start))
    others = [along.cross(piece.grain.bottom.to(other.path[0].start)) for other in piece.edges]
    return abs(at - min(others)) < 1.0 or abs(at - max(others)) < 1.0

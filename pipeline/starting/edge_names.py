"""The trade's usual names for edges, where the drawing makes them certain enough; the rest keep their numbers."""

from collections.abc import Mapping

import msgspec

from pipeline.geometry.curves import path_length_mm
from pipeline.masters.marks import bend_mm
from pipeline.model.pieces import DrawnPiece
from pipeline.starting.forks import CURVED
from pipeline.starting.likely import END_SHARE, end_of, neighbours_of
from pipeline.starting.piece_words import is_back, is_below, is_front, is_layer, is_of_legs, is_small
from pipeline.starting.propose import Proposed

LONGEST_SHARE = 0.6
"""A hem or waist is at least as long as this share of its piece's width."""


def usual_names(pieces: Mapping[str, DrawnPiece], proposed: Proposed) -> dict[str, dict[str, str]]:
    """By piece, the names of edges that are certain enough: cf and cb on the fold, hem, waist and neck at its ends."""
    return {name: _one_each(_named(pieces, name, proposed)) for name in pieces}


def _one_each(found: Mapping[str, str]) -> dict[str, str]:
    """A name that two edges would have is neither's."""
    names = list(found.values())
    return {edge: name for edge, name in found.items() if names.count(name) == 1}


def _named(pieces: Mapping[str, DrawnPiece], piece: str, proposed: Proposed) -> dict[str, str]:
    if is_layer(piece) or is_small(piece) or not (is_front(piece) or is_back(piece) or is_of_legs(piece)):
        return {}
    drawn, fold = pieces[piece], proposed.folds.get(piece)
    found: dict[str, str] = {}
    if fold and (is_front(piece) or is_back(piece)):
        found[fold] = "cf" if is_front(piece) else "cb"
    sewn = {edge for pair in proposed.seams for edge in pair}
    for edge in drawn.edges:
        end = end_of(drawn, edge.name) if edge.name != fold else None
        is_open = f"{piece}.{edge.name}" not in sewn
        if end == "foot" and is_open and _is_wide(drawn, edge.name) and _is_lowest(piece, pieces):
            found[edge.name] = "hem"
        elif end == "top" and is_of_legs(piece) and _is_wide(drawn, edge.name):
            found[edge.name] = "waist"
    if fold and (neck := _neck(drawn, fold)) is not None:
        found.setdefault(neck, "neck")
    return found


def _is_wide(piece: DrawnPiece, name: str) -> bool:
    edge = piece.edge(name)
    across = [corner.path[0].start.x for corner in piece.edges]
    run = edge.path[0].start.to(edge.path[-1].end)
    return abs(run.dx) >= LONGEST_SHARE * (max(across) - min(across)) and bend_mm(edge.path) < CURVED * abs(run.dx)


def _is_lowest(piece: str, pieces: Mapping[str, DrawnPiece]) -> bool:
    """Whether nothing in the garment is called what is sewn to the lower edge of such a piece."""
    return is_of_legs(piece) or not any(is_below(other) for other in pieces)


def _neck(piece: DrawnPiece, fold: str) -> str | None:
    """The hollow edge at the upper end of the fold, where the piece is called a front or back."""
    ends = piece.edge(fold).path
    upper_first = ends[0].start.y < ends[-1].end.y
    edge = neighbours_of(piece, fold)[0 if upper_first else 1]
    length = path_length_mm(edge.path)
    high = [corner.path[0].start.y for corner in piece.edges]
    near = min(high) + 2 * END_SHARE * (max(high) - min(high))
    hollow = bend_mm(edge.path) >= CURVED * length and max(edge.path[0].start.y, edge.path[-1].end.y) <= near
    return edge.name if hollow else None


def renamed(piece: DrawnPiece, names: Mapping[str, str]) -> DrawnPiece:
    """The piece with its edges so called."""
    edges = tuple(msgspec.structs.replace(edge, name=names.get(edge.name, edge.name)) for edge in piece.edges)
    notches = tuple(msgspec.structs.replace(notch, edge=names.get(notch.edge, notch.edge)) for notch in piece.notches)
    return msgspec.structs.replace(piece, edges=edges, notches=notches)


def proposed_by(proposed: Proposed, names: Mapping[str, Mapping[str, str]]) -> Proposed:
    """The same proposals with edges so called."""

    def named(edge: str) -> str:
        piece, own = edge.split(".")
        return f"{piece}.{names.get(piece, {}).get(own, own)}"

    return Proposed(
        folds={piece: names.get(piece, {}).get(fold, fold) for piece, fold in proposed.folds.items()},
        seams=tuple((named(one), named(two)) for one, two in proposed.seams),
        takes={named(edge): takes for edge, takes in proposed.takes.items()},
    )

"""Rows of stitching that are seen from the right side: which edges of a piece have them, how far from the seam line,
and what their lines are called."""

from typing import NamedTuple

from pipeline.model.pattern import Pattern, Seam, SideEdge
from pipeline.model.piece_specs import EdgePart, Side

_WORD = "topstitch"


class Rows(NamedTuple):
    """The rows along an edge, or a part of it: their distances from the seam line, into the piece. `of` is the seam
    that has them, none where the edge itself says so; `side` the one side of the wearer that has them."""

    edge: str
    part: EdgePart | None
    inside_mm: tuple[float, ...]
    of: str | None
    side: Side | None = None


def rows_of(pattern: Pattern, piece: str) -> tuple[Rows, ...]:
    """All rows on a piece: those of its edges, then those of seams in their order. What takes the outline of another
    piece, as an interfacing, has none of that piece's."""
    spec = pattern.pieces.get(piece)
    own = spec.edges.items() if spec is not None and spec.source is None else ()
    found = [Rows(edge, None, told.topstitch_mm, None) for edge, told in own if told.topstitch_mm]
    for seam in pattern.seams.values():
        side: Side | None = seam.pressed if seam.pressed in ("left", "right") else None
        steps = dict.fromkeys(step for step in topstitched(seam) if step.piece == piece)
        found += [Rows(step.edge, step.part, seam.topstitch_mm, seam.name, side) for step in steps]
    return tuple(found)


def topstitched(seam: Seam) -> tuple[SideEdge, ...]:
    """The edges on which the rows of a seam lie: the side to which its allowances are pressed, or both."""
    if not seam.topstitch_mm:
        return ()
    return seam.a if seam.pressed == "a" else seam.b if seam.pressed == "b" else (*seam.a, *seam.b)


def topstitched_names(pattern: Pattern) -> tuple[str, ...]:
    """What has rows, in words: seams, and edges as `piece.edge`."""
    edges = [f"{piece}.{rows.edge}" for piece in pattern.pieces for rows in rows_of(pattern, piece) if rows.of is None]
    return (*(name for name, seam in pattern.seams.items() if seam.topstitch_mm), *edges)


def row_name(edge: str, number: int) -> str:
    """What the line of a row is called; rows of an edge are counted from the seam line inward."""
    return f"{edge}-{_WORD}-{number}"


def row_of(pattern: Pattern, piece: str, line: str) -> Rows | None:
    """The rows to which an inside line of a piece belongs; None for any other line."""
    edge, _, number = line.rpartition(f"-{_WORD}-")
    there = [rows for rows in rows_of(pattern, piece) if rows.edge == edge for _ in rows.inside_mm]
    return there[int(number) - 1] if number.isascii() and number.isdigit() and 0 < int(number) <= len(there) else None

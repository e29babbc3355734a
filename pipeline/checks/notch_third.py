"""Notches without a partner that need none: those that mark where a third piece, strip or elastic is caught."""

from pipeline.checks.garment import Garment
from pipeline.checks.registry import Outcome
from pipeline.model.pattern import Seam


def is_for_a_third(garment: Garment, seam: Seam, outcome: Outcome) -> bool:
    """Whether a lonely notch is called after a piece that is not in the seam, or as a notch of one that is sewn there,
    or after a strip or an elastic.

    A notch that the other side has in any size is one that was lost: it is told.
    """
    if outcome.code != "no-partner" or outcome.piece is None:
        return False
    name = (outcome.object or "").rpartition(", ")[2]
    sides = [frozenset(step.piece for step in side) for side in (seam.a, seam.b)]
    others = sides[1] if outcome.piece in sides[0] else sides[0]
    if others == sides[0] == sides[1] or any(name in _names(garment, piece) for piece in others):
        return False
    third = [piece for piece in garment.pattern.pieces if piece not in sides[0] | sides[1]]
    elastics = (notion.name for notion in garment.pattern.notions.values() if notion.casings or notion.stretched)
    caught = (*third, *garment.pattern.strips, *elastics)
    called = any(name == other or name.startswith(f"{other}-") for other in caught)
    return called or any(
        name in _names(garment, piece) for piece in third if _is_sewn_to(garment, piece, outcome.piece)
    )


def _names(garment: Garment, piece: str) -> set[str | None]:
    """Names of all notches of a piece, in all sizes."""
    return {notch.name for cut in garment.cuts.get(piece, {}).values() for notch in cut.drawn.notches}


def _is_sewn_to(garment: Garment, piece: str, other: str) -> bool:
    """Whether some seam joins two pieces."""
    seams = ({step.piece for step in (*seam.a, *seam.b)} for seam in garment.pattern.seams.values())
    return any({piece, other} <= pieces for pieces in seams)

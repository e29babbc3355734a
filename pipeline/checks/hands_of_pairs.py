"""Pieces for one side of the wearer on a pair: which of its two copies each of them fits.

Sewn right sides together, a piece runs round the shared seam against the copy that is cut as drawn, and along with
the outline as drawn on the copy that is cut mirrored. So all pieces for the right fit one copy, and all for the left
the other: a fly's facing and its shield, both parts of a waistband. Geometry; no name of a side is needed for the pair.
"""

from collections.abc import Iterator
from typing import NamedTuple

from pipeline.checks.counts import symmetric
from pipeline.checks.garment import Garment
from pipeline.checks.seam_walk import is_complete
from pipeline.checks.seam_way import directions
from pipeline.model.pattern import Seam
from pipeline.model.questions import copies_of, side_of


class Fit(NamedTuple):
    """A piece for one side, a seam that joins it to a pair, and which copy the pair's right would be by it."""

    piece: str
    seam: str
    right: int


def hand(garment: Garment, piece: str, materials: frozenset[str] | None = None) -> int:
    """+1 for a piece that is only cut as drawn, −1 for one that is only cut mirrored, 0 for one cut both ways; of these
    materials, or of all."""
    spec = garment.pattern.pieces.get(piece)
    cuts = garment.cuts.get(piece, {})
    if spec is None or any(edge.fold for cut in cuts.values() for edge in cut.edges):
        return 0
    hands = set()
    for cut in spec.cut:
        for size in cut.count if materials is None or cut.material in materials else ():
            count, mirrored = copies_of(cut, size)
            if count and size in cuts:
                hands.add(1 if not mirrored else -1 if mirrored == count else 0)
    return hands.pop() if len(hands) == 1 else 0


def misfits(garment: Garment) -> Iterator[tuple[str, tuple[Fit, ...], tuple[Fit, ...]]]:
    """(pair, pieces that are turned over, pieces that they are held against), the fewer first; as many of both where
    nothing tells which are wrong."""
    told: set[frozenset[str]] = set()
    for pair, fits in _fits(garment).items():
        one, two = (tuple(fit for fit in fits if fit.right == right) for right in (1, -1))
        wrong, held = sorted((one, two), key=lambda of: (len(of), [fits.index(fit) for fit in of]))
        pieces = frozenset(fit.piece for fit in (wrong if len(wrong) < len(held) else fits))
        if wrong and pieces not in told:
            told.add(pieces)
            yield pair, wrong, held


def _fits(garment: Garment) -> dict[str, tuple[Fit, ...]]:
    """By pair: the pieces for one side that are sewn to it, each once. Pairs with most pieces first: they tell most."""
    found: dict[str, dict[tuple[str, int], Fit]] = {}
    for seam in garment.pattern.seams.values():
        for pair, fit in _of_seam(garment, seam) if seam.kind == "sewn" else ():
            found.setdefault(pair, {}).setdefault((fit.piece, fit.right), fit)
    return {pair: tuple(found[pair].values()) for pair in sorted(found, key=lambda pair: -len(found[pair]))}


def _of_seam(garment: Garment, seam: Seam) -> Iterator[tuple[str, Fit]]:
    ways = directions(garment, seam)
    if len(ways) != 1:
        return
    sides = tuple(zip(seam.a, ways[0].a, strict=True)), tuple(zip(seam.b, ways[0].b, strict=True))
    size = next(size for size in garment.pattern.sizes if is_complete(garment, seam, size))
    for own, other in (sides, sides[::-1]):
        for step, turned in own:
            pair = garment.pattern.pieces.get(step.piece)
            if pair is None or not _is_pair(garment, step.piece, size):
                continue
            if len({reverse for of, reverse in own if of.piece == step.piece}) > 1:
                continue  # both copies, one after the other
            materials = frozenset(entry.material for entry in pair.cut)
            for theirs, reverse in other:
                side = side_of(garment.pattern.pieces[theirs.piece].cut)
                turns = hand(garment, theirs.piece, materials) if side else 0
                if turns and not symmetric(garment, garment.cuts[theirs.piece][size]):
                    fitted = turns if turned == reverse else -turns
                    yield step.piece, Fit(theirs.piece, seam.name, fitted if side == "right" else -fitted)


def _is_pair(garment: Garment, piece: str, size: str) -> bool:
    """Whether a piece is cut as drawn and mirrored, for both sides."""
    spec, cut = garment.pattern.pieces[piece], garment.cuts[piece][size]
    there = [copies_of(entry, size) for entry in spec.cut if entry.side is None]
    return cut.fold is None and any(of.as_drawn and of.mirrored for of in there) and not symmetric(garment, cut)

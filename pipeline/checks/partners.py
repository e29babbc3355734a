"""How often each edge of a seam is there, drawn and mirrored, and which pieces do not fit those they are sewn to."""

from collections.abc import Callable
from itertools import combinations

import msgspec

from pipeline.checks.garment import Garment
from pipeline.model.pattern import PieceSpec, Seam, SideEdge
from pipeline.model.pieces import CutPiece

Hands = tuple[int, int]
"""How often an edge is there as drawn, and how often mirrored. A piece on the fold has one of each a piece."""


class Quarrel(msgspec.Struct, frozen=True, kw_only=True):
    """A piece that is not cut as often as its partners in these seams; the first of them in detail."""

    piece: str
    edge: str
    partner: str
    mine: Hands
    theirs: Hands
    seams: tuple[str, ...]

    @property
    def is_multiple(self) -> bool:
        """Whether one of the two is there a whole number of times for each of the other, in both hands."""
        one, other = sorted((sorted(self.mine), sorted(self.theirs)), key=sum)
        if self.edge == self.partner or not sum(one) or sum(other) % sum(one):
            return False
        times = sum(other) // sum(one)
        return times > 1 and (other == [times * hand for hand in one] or (0 in self.mine and 0 in self.theirs))


class _Disagreement(msgspec.Struct, frozen=True):
    seam: str
    one: SideEdge
    other: SideEdge
    hands: tuple[Hands, Hands]


def quarrels(garment: Garment, size: str, symmetric: Callable[[CutPiece], bool]) -> list[Quarrel]:
    """The fewest pieces that explain what disagrees in one size: those that disagree with most partners first."""
    open_ones = [
        found
        for seam in garment.pattern.seams.values()
        if seam.kind == "sewn"
        for found in _disagreements(garment, seam, size, symmetric)
    ]
    told = []
    while open_ones:
        pieces = dict.fromkeys(step.piece for found in open_ones for step in (found.one, found.other))
        counts = {piece: sum(piece in (f.one.piece, f.other.piece) for f in open_ones) for piece in pieces}
        worst = max(counts, key=lambda piece: counts[piece])
        mine = [found for found in open_ones if worst in (found.one.piece, found.other.piece)]
        told.append(_quarrel(worst, mine))
        open_ones = [found for found in open_ones if found not in mine]
    return told


def _quarrel(piece: str, found: list[_Disagreement]) -> Quarrel:
    first = found[0]
    steps, hands = (first.one, first.other), first.hands
    if first.one.piece != piece:
        steps, hands = steps[::-1], hands[::-1]
    return Quarrel(
        piece=piece,
        edge=f"{piece}.{steps[0].edge}",
        partner=f"{steps[1].piece}.{steps[1].edge}",
        mine=hands[0],
        theirs=hands[1],
        seams=tuple(item.seam for item in found),
    )


def _disagreements(
    garment: Garment, seam: Seam, size: str, symmetric: Callable[[CutPiece], bool]
) -> list[_Disagreement]:
    steps = (*seam.a, *seam.b)
    cuts = {step.piece: garment.cut(step.piece, size) for step in steps}
    if any(cut is None for cut in cuts.values()):
        return []
    options, odd = {}, []
    for step in dict.fromkeys(steps):
        cut, times = cuts[step.piece], steps.count(step)
        assert cut is not None
        there = _hands(garment.pattern.pieces[step.piece], cut)
        if all(sum(hands) % times for hands in there):  # one of them finds no partner
            wanted = -(-sum(there[0]) // times) * times
            odd.append(_Disagreement(seam.name, step, step, (there[0], (wanted, 0))))
        # the halves of one seam are of both hands: only their number counts
        options[step] = there if times == 1 else [(sum(hands) // times, 0) for hands in there]
    return odd + [
        _Disagreement(seam.name, one, other, (options[one][0], options[other][0]))
        for one, other in combinations(options, 2)
        if one.piece != other.piece and not _agree(options[one], options[other], cuts, one, other, symmetric)
    ]


def _hands(spec: PieceSpec, cut: CutPiece) -> list[Hands]:
    """What an edge can be there for: all materials together first, then each of them (a lining sewn like its shell)."""
    entries = [(e.count.get(cut.size, 0), e.mirrored.get(cut.size, 0)) for e in spec.cut]
    sums = [(sum(count for count, _ in entries), sum(mirrored for _, mirrored in entries)), *entries]
    hands = [(count, count) if cut.fold is not None else (count - mirrored, mirrored) for count, mirrored in sums]
    return list(dict.fromkeys(hands))


def _agree(
    mine: list[Hands],
    theirs: list[Hands],
    cuts: dict[str, CutPiece | None],
    one: SideEdge,
    other: SideEdge,
    symmetric: Callable[[CutPiece], bool],
) -> bool:
    """Which hand is drawn is the designer's choice for each piece: both hands may be swapped."""
    if any(sorted(a) == sorted(b) for a in mine for b in theirs):
        return True
    if not any(sum(a) == sum(b) for a in mine for b in theirs):
        return False
    sides = (cuts[one.piece], cuts[other.piece])
    return any(cut is not None and cut.fold is None and symmetric(cut) for cut in sides)

"""How often each edge of a seam is there, drawn and mirrored, and which pieces do not fit those they are sewn to."""

from collections.abc import Callable
from itertools import combinations

import msgspec

from pipeline.checks.corners import neighbour
from pipeline.checks.garment import Garment
from pipeline.model.pattern import PieceSpec, Seam, SideEdge
from pipeline.model.pieces import CutPiece
from pipeline.model.questions import Copies, copies, copies_of, side_of, worn_of

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
        if _is_lined_with_itself(garment, step.piece) or _is_doubled(garment, step, cut):
            options[step] += [(one // 2, other // 2) for one, other in options[step] if one % 2 == other % 2 == 0]
        if _is_folded_over_once(garment, step.piece, cut):
            options[step] += [(1, 0)]
    if any(side_of(garment.pattern.pieces[step.piece].cut) for step in steps):  # it takes one of a pair
        options = {step: there + [(max(hands), 0) for hands in there if min(hands)] for step, there in options.items()}
    # of what there is of an edge in several seams each takes as many as it needs
    out = [step for step in options if _shared_out(garment, step, size) or _folded_takers(garment, step, size)]
    needs = next((options[step] for step in options if step not in out), None)
    options |= {step: needs for step in out if needs is not None}
    return odd + [
        _Disagreement(seam.name, one, other, (options[one][0], options[other][0]))
        for one, other in combinations(options, 2)
        if one.piece != other.piece and not _agree(options[one], options[other], cuts, one, other, symmetric)
    ]


def _seams_of(garment: Garment, step: SideEdge) -> list[Seam]:
    """The sewn seams that an edge is in: those of a right and of a left front, or of a band round front and back. Seams
    of other parts of the edge take nothing of it."""
    return garment.once(("seams of", step.piece, step.edge, step.part), lambda: _found_seams(garment, step))


def _found_seams(garment: Garment, step: SideEdge) -> list[Seam]:
    seams = (seam for seam in garment.pattern.seams.values() if seam.kind == "sewn")
    return [seam for seam in seams if any(_may_be_of(step, other) for other in (*seam.a, *seam.b))]


def _may_be_of(step: SideEdge, other: SideEdge) -> bool:
    whole = step.part is None or other.part is None
    return step.is_same_cloth(other) or (whole and (step.piece, step.edge) == (other.piece, other.edge))


def _shared_out(garment: Garment, step: SideEdge, size: str, folded: str | None = None) -> bool:
    """Whether an edge is in several seams that take all there are of it; right and left may be drawn apart.

    Of a piece that is `folded` over, both copies of an edge lie in one seam.
    """
    seams, own = _seams_of(garment, step), garment.cut(step.piece, size)
    if len(seams) < 2 or own is None:
        return False
    taken = {0}
    for seam in seams:
        others = [other for other in (*seam.a, *seam.b) if other.piece != step.piece]
        single = [other for other in others if len(_seams_of(garment, other)) == 1]
        needs = [_numbers(garment, other, seam, size, folded) for other in single or others]
        taken = {one + more for one in taken for more in frozenset.intersection(*needs)} if needs else set()
    return bool(taken & {sum(hands) for hands in _hands(garment.pattern.pieces[step.piece], own)})


def _folded_takers(garment: Garment, step: SideEdge, size: str) -> frozenset[str]:
    """The pieces on the fold that must be folded over for an edge in several seams to be shared out: a fly's shield."""

    def found() -> frozenset[str]:
        if _shared_out(garment, step, size):
            return frozenset()
        others = {other.piece for seam in _seams_of(garment, step) for other in (*seam.a, *seam.b)} - {step.piece}
        cuts = {piece: garment.cut(piece, size) for piece in others}
        on_fold = (piece for piece, cut in cuts.items() if cut is not None and cut.fold is not None)
        return frozenset(piece for piece in on_fold if _shared_out(garment, step, size, piece))

    return garment.once(("folded takers", step.piece, step.edge, size), found)


def _numbers(garment: Garment, step: SideEdge, seam: Seam, size: str, folded: str | None) -> frozenset[int]:
    """How many of a seam an edge is there for: of all its materials together, or of one of them."""
    cut = garment.cut(step.piece, size)
    times = (*seam.a, *seam.b).count(step) * (2 if step.piece == folded else 1)
    hands = _hands(garment.pattern.pieces[step.piece], cut) if cut is not None else []
    return frozenset(sum(hand) // times for hand in hands)


def _is_lined_with_itself(garment: Garment, piece: str) -> bool:
    """Whether a seam of several pieces, this one among them, is sewn to second copies of them, as a hood's edge is."""
    for seam in garment.pattern.seams.values():
        one, other = ([(step.piece, step.edge) for step in side] for side in (seam.a, seam.b))
        if one == other and len({name for name, _ in one}) > 1 and piece in {name for name, _ in one}:
            return True
    return False


def _is_doubled(garment: Garment, step: SideEdge, cut: CutPiece) -> bool:
    """Whether a piece is folded over, so that both copies of an edge lie in one seam, as those of a welt do.

    Its ends, the edges beside the fold, are then sewn to nothing else: they are closed when it is turned.
    """
    fold = next((edge.name for edge in cut.edges if edge.fold), None)
    if fold is None or len(cut.edges) < 3:
        return False
    ends = [neighbour(cut, fold, at_end).name for at_end in (False, True)]
    closed = not any(_seams_of(garment, SideEdge(step.piece, end)) or cut.edge(end).hem for end in ends)
    return closed and step.edge not in (*ends, fold)


def _is_folded_over_once(garment: Garment, piece: str, cut: CutPiece) -> bool:
    """Whether a piece that is cut once on the fold is there once when it is worn, as the shield of a fly.

    What it is sewn to is shared out among several pieces, and only so does each have its own.
    """
    if cut.fold is None or _hands(garment.pattern.pieces[piece], cut)[0] != (1, 1):
        return False
    seams = [seam for edge in cut.edges for seam in _seams_of(garment, SideEdge(piece, edge.name))]
    beside = {other for seam in seams for other in (*seam.a, *seam.b) if other.piece != piece}
    return any(piece in _folded_takers(garment, other, cut.size) for other in beside)


def _hands(spec: PieceSpec, cut: CutPiece) -> list[Hands]:
    """What an edge can be there for: all materials together first, then each of them (a lining sewn like its shell);
    and the same with layers that lie on each other counted once."""
    counts = [copies(spec.cut, cut.size), *(copies_of(entry, cut.size) for entry in spec.cut)]
    worn = [worn_of(entry, cut.size) for entry in spec.cut]
    counts += [Copies(sum(one.copies for one in worn), sum(one.mirrored for one in worn)), *worn]
    hands = [(n.copies, n.copies) if cut.fold is not None else (n.as_drawn, n.mirrored) for n in counts]
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

"""How often each edge of a seam is there, drawn and mirrored, and which pieces do not fit those they are sewn to."""

from collections.abc import Callable
from itertools import combinations

import msgspec

from pipeline.checks.corners import neighbour
from pipeline.checks.edge_seams import seams_in, seams_of, sewn_to_itself, views_of
from pipeline.checks.garment import Garment
from pipeline.checks.seam_ends import is_turned_onto_itself
from pipeline.checks.seam_way import decided_direction
from pipeline.model.pattern import Seam, SideEdge
from pipeline.model.piece_specs import PieceSpec
from pipeline.model.pieces import CutPiece
from pipeline.model.questions import Copies, copies, copies_of, shown_views, side_of, worn_of

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
    together: bool = False
    """Whether it is held against all that it is sewn to in these seams together, not against one of them."""

    @property
    def is_multiple(self) -> bool:
        """Whether one of the two is there a whole number of times for each of the other, in both hands."""
        one, other = sorted((sorted(self.mine), sorted(self.theirs)), key=sum)
        if self.together or self.edge == self.partner or not sum(one) or sum(other) % sum(one):
            return False
        times = sum(other) // sum(one)
        return times > 1 and (other == [times * hand for hand in one] or (0 in self.mine and 0 in self.theirs))


class _Disagreement(msgspec.Struct, frozen=True):
    seam: str
    one: SideEdge
    other: SideEdge
    hands: tuple[Hands, Hands]
    beside: tuple[SideEdge, ...] = ()
    """What else `one` is sewn to, where the second hands are those of all of it together."""


def quarrels(garment: Garment, size: str, symmetric: Callable[[CutPiece], bool]) -> list[Quarrel]:
    """The fewest pieces that explain what disagrees in one size: those that disagree with most partners first."""
    open_ones = [
        found
        for seam in garment.pattern.seams.values()
        if seam.is_sewn
        for found in _disagreements(garment, seam, size, symmetric)
    ]
    open_ones = [found for found in open_ones if not _is_of_two_layers(garment, found, open_ones, size)]
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
        partner=" + ".join(f"{step.piece}.{step.edge}" for step in (steps[1], *first.beside)),
        mine=hands[0],
        theirs=hands[1],
        seams=tuple(item.seam for item in found),
        together=bool(first.beside),
    )


def _is_of_two_layers(garment: Garment, found: _Disagreement, open_ones: list[_Disagreement], size: str) -> bool:
    """Whether a piece is there twice for each of its partner because a seam sews it to another layer of itself.

    A left and a right that are sewn to each other, as backs are, have a hem or do not fit at several edges.
    """
    for mine, hands in ((found.one, found.hands), (found.other, found.hands[::-1])):
        if sum(hands[0]) != 2 * sum(hands[1]) or not sewn_to_itself(garment, mine.piece) or found.beside:
            continue
        cut = garment.cuts[mine.piece][size]
        off = {step.edge for each in open_ones for step in (each.one, each.other) if step.piece == mine.piece}
        # the two halves of a piece on the fold may be sewn into a ring: a layer of it would leave its edges raw
        loose = (SideEdge(mine.piece, edge.name) for edge in cut.edges if cut.fold is not None and not edge.fold)
        if len(off) == 1 and not any(edge.hem for edge in cut.edges) and all(seams_of(garment, e) for e in loose):
            return True
    return False


def _too_few_for_both(garment: Garment, seam: Seam, step: SideEdge, size: str) -> _Disagreement | None:
    """An edge of a bag or the like, turned onto another copy of its piece, of which two seams need one layer each."""
    cut = garment.cuts[step.piece][size]
    own, there = sewn_to_itself(garment, step.piece), _hands(garment.pattern.pieces[step.piece], cut)
    ways = ((one, decided_direction(garment, one)) for one in own)
    if not any(way is not None and is_turned_onto_itself(garment, one, way) for one, way in ways):
        return None
    for view in views_of(garment, seam):
        seams = sorted(seams_in(garment, step, view), key=lambda one: one != seam)
        others = [[each for each in (*one.a, *one.b) if each.piece != step.piece] for one in seams]
        if len(seams) != 2 or seam not in seams or any(len(of) != 1 for of in others):
            continue
        first, second = (of[0] for of in others)
        if first.piece == second.piece or any(len(seams_in(garment, other, view)) > 1 for other in (first, second)):
            continue
        needs = [min(_numbers(garment, of[0], one, size, None)) for of, one in zip(others, seams, strict=True)]
        if needs[0] == needs[1] == max(map(sum, there)):
            return _Disagreement(seam.name, step, first, ((needs[0], 0), (sum(needs), 0)), (second,))
    return None


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
    views = views_of(garment, seam)
    out = [step for step in options if _shared_out(garment, step, size, views) or _folded_takers(garment, step, size)]
    # which of the others is wrong, they tell among themselves: such an edge is as any of them
    if needs := [hands for step in options if step not in out for hands in options[step]]:
        options |= dict.fromkeys(out, needs)
    odd += [found for step in options if (found := _too_few_for_both(garment, seam, step, size)) is not None]
    return odd + [
        _Disagreement(seam.name, one, other, (options[one][0], options[other][0]))
        for one, other in combinations(options, 2)
        if one.piece != other.piece and not _agree(options[one], options[other], cuts, one, other, symmetric)
    ]


def _shared_out(
    garment: Garment, step: SideEdge, size: str, views: tuple[str | None, ...], folded: str | None = None
) -> bool:
    """Whether an edge is in several seams of one of these views that take all there are of it; right and left may be
    drawn apart.

    Of a piece that is `folded` over, both copies of an edge lie in one seam.
    """
    own = garment.cut(step.piece, size)
    if own is None or len(seams_of(garment, step)) < 2:
        return False
    there = {sum(hands) for hands in _hands(garment.pattern.pieces[step.piece], own)}
    return any(not there.isdisjoint(_taken(garment, step, size, view, folded)) for view in views)


def _taken(garment: Garment, step: SideEdge, size: str, view: str | None, folded: str | None) -> set[int]:
    """How many of an edge all its seams in a view may take together; nothing where there are not several."""
    seams = seams_in(garment, step, view)
    taken = {0} if len(seams) > 1 else set()
    for seam in seams:
        others = [other for other in (*seam.a, *seam.b) if other.piece != step.piece]
        single = [other for other in others if len(seams_in(garment, other, view)) == 1]
        needs = [_numbers(garment, other, seam, size, folded) for other in single or others]
        taken = {one + more for one in taken for more in frozenset.intersection(*needs)} if needs else set()
    return taken


def _folded_takers(garment: Garment, step: SideEdge, size: str) -> frozenset[str]:
    """The pieces on the fold that must be folded over for an edge in several seams to be shared out: a fly's shield."""

    def found() -> frozenset[str]:
        views = shown_views(garment.pattern)
        if _shared_out(garment, step, size, views):
            return frozenset()
        apart = (seam for seam in seams_of(garment, step) if not _has_both_halves(garment, seam, step, size))
        others = {other.piece for seam in apart for other in (*seam.a, *seam.b)} - {step.piece}
        cuts = {piece: garment.cut(piece, size) for piece in others}
        on_fold = (piece for piece, cut in cuts.items() if cut is not None and cut.fold is not None)
        return frozenset(piece for piece in on_fold if _shared_out(garment, step, size, views, piece))

    return garment.once(("folded takers", step.piece, step.edge, size), found)


def _has_both_halves(garment: Garment, seam: Seam, step: SideEdge, size: str) -> bool:
    """Whether left and right lie in one seam at an edge: it, or one in line with it, is of a piece on the fold, as a
    yoke's neck between those of two fronts."""
    cuts = (garment.cut(other.piece, size) for other in (seam.a if step in seam.a else seam.b))
    return any(cut is not None and cut.fold is not None for cut in cuts)


def needed(garment: Garment, step: SideEdge, seam: Seam, size: str) -> int:
    """How many of a seam an edge is there for, of one of its materials: as many as one layer of its partner."""
    return min(_numbers(garment, step, seam, size, None), default=0)


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
    closed = not any(seams_of(garment, SideEdge(step.piece, end)) or cut.edge(end).hem for end in ends)
    return closed and step.edge not in (*ends, fold)


def _is_folded_over_once(garment: Garment, piece: str, cut: CutPiece) -> bool:
    """Whether a piece that is cut once on the fold is there once when it is worn, as the shield of a fly.

    What it is sewn to is shared out among several pieces, and only so does each have its own.
    """
    if cut.fold is None or _hands(garment.pattern.pieces[piece], cut)[0] != (1, 1):
        return False
    seams = [seam for edge in cut.edges for seam in seams_of(garment, SideEdge(piece, edge.name))]
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

"""Pieces that fit one side only: turned over in the drawing, they are cut for the wrong side."""

from collections.abc import Iterator

from pipeline.checks.catalogue import CHECKS
from pipeline.checks.garment import Garment
from pipeline.checks.hands_of_pairs import Fit, hand, misfits
from pipeline.checks.registry import Outcome
from pipeline.checks.seam_way import directions
from pipeline.model.pattern import Seam, SideEdge
from pipeline.model.questions import side_of


@CHECKS.register(
    id="piece-hands",
    title="Pieces that are cut one way only fit their partners right side to right side",
    rationale="A one-sided piece drawn from the back measures right; only its turning sense gives it away.",
    remedy="turn the piece over in its master, or set mirrored in its cut entry; waive a seam of right to wrong side",
    severity="block",
    source="two pieces sewn right sides together run round their shared seam in opposite senses (calc)",
    needs=("seams",),
)
def piece_hands(garment: Garment) -> Iterator[Outcome]:
    """Seams whose way is decided by shared corners or notches, between pieces that are cut all one way; and pieces for
    the left and for the right of the wearer that fit the same copy of a pair."""
    for seam in garment.pattern.seams.values():
        ways = directions(garment, seam)
        if len(ways) != 1 or seam.kind != "sewn":
            continue
        a, b = _senses(garment, seam.a, ways[0].a), _senses(garment, seam.b, ways[0].b)
        if a and b and set(a.values()) & set(b.values()):
            yield _wrong(garment, seam, [*a, *b])
    for pair, wrong, held in misfits(garment):
        yield _on_pair(garment, pair, wrong, held)


def _wrong(garment: Garment, seam: Seam, pieces: list[str]) -> Outcome:
    drawn = next(iter(garment.cuts[pieces[0]].values())).drawn
    names = " and ".join(dict.fromkeys(pieces))
    return Outcome(
        code="flipped",
        where=f"seams.{seam.name}",
        file=drawn.file,
        object=names,
        found="both run round the seam the same way",
        allowed="opposite ways",
        message=f"in seam {seam.name} one of {names} is drawn or cut turned over",
    )


def _on_pair(garment: Garment, pair: str, wrong: tuple[Fit, ...], held: tuple[Fit, ...]) -> Outcome:
    turned, others = (" and ".join(_for_side(garment, fit.piece) for fit in of) for of in (wrong, held))
    message = f"{turned}: drawn or cut turned over, as {others} tell{'s' if len(held) == 1 else ''}"
    if len(wrong) == len(held):
        wrong, message = (*wrong, *held), f"one of {turned} and {others} is drawn or cut turned over"
    names = (" or " if held[0] in wrong else " and ").join(dict.fromkeys(fit.piece for fit in wrong))
    return Outcome(
        code="flipped",
        where=f"seams.{wrong[0].seam}",
        file=next(iter(garment.cuts[wrong[0].piece].values())).drawn.file,
        object=names,
        found=f"pieces for the left and for the right that fit the same copy of {pair}",
        allowed=f"all for the left fit one copy of {pair}, all for the right the other",
        message=message,
        remedy=f"turn {names} over in the master, or set mirrored in its cut entry; if its side is wrong correct that",
    )


def _for_side(garment: Garment, piece: str) -> str:
    return f"{piece} (for the {side_of(garment.pattern.pieces[piece].cut)})"


def _senses(garment: Garment, side: tuple[SideEdge, ...], turned: tuple[bool, ...]) -> dict[str, int]:
    """For pieces cut one way only: +1 where the side is walked as the piece's own outline, once it is cut, else −1."""
    turns = ((step.piece, hand(garment, step.piece), reverse) for step, reverse in zip(side, turned, strict=True))
    return {piece: -turn if reverse else turn for piece, turn, reverse in turns if turn}

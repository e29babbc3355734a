"""Pieces that fit one side only: turned over in the drawing, they are cut for the wrong side."""

from collections.abc import Iterator

from pipeline.checks.catalogue import CHECKS
from pipeline.checks.garment import Garment
from pipeline.checks.registry import Outcome
from pipeline.checks.seam_way import directions
from pipeline.model.pattern import Seam, SideEdge
from pipeline.model.questions import copies_of


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
    """Seams whose way is decided by shared corners or notches, between pieces that are cut all one way."""
    for seam in garment.pattern.seams.values():
        ways = directions(garment, seam)
        if len(ways) != 1 or seam.kind != "sewn":
            continue
        a, b = _senses(garment, seam.a, ways[0].a), _senses(garment, seam.b, ways[0].b)
        if a and b and set(a.values()) & set(b.values()):
            yield _wrong(garment, seam, [*a, *b])


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


def _senses(garment: Garment, side: tuple[SideEdge, ...], turned: tuple[bool, ...]) -> dict[str, int]:
    """For pieces cut one way only: +1 where the side is walked as the piece's own outline, once it is cut, else −1."""
    hands = ((step.piece, _hand(garment, step.piece), reverse) for step, reverse in zip(side, turned, strict=True))
    return {piece: -hand if reverse else hand for piece, hand, reverse in hands if hand}


def _hand(garment: Garment, piece: str) -> int:
    """+1 for a piece that is only cut as drawn, −1 for one that is only cut mirrored, 0 for one cut both ways."""
    spec = garment.pattern.pieces.get(piece)
    cuts = garment.cuts.get(piece, {})
    if spec is None or any(edge.fold for cut in cuts.values() for edge in cut.edges):
        return 0
    hands = set()
    for cut in spec.cut:
        for size in cut.count:
            count, mirrored = copies_of(cut, size)
            if count and size in cuts:
                hands.add(1 if not mirrored else -1 if mirrored == count else 0)
    return hands.pop() if len(hands) == 1 else 0

"""How often a piece is cut, against how often `pattern.toml` and the masters themselves use it."""

from collections.abc import Container, Iterator
from typing import Literal

import msgspec

from pipeline.checks.catalogue import CHECKS
from pipeline.checks.garment import Garment
from pipeline.checks.registry import Outcome
from pipeline.geometry.points import Point
from pipeline.model.pattern import Reference, Sum
from pipeline.model.pieces import CutPiece
from pipeline.model.questions import in_view, mark_spec, shown_views, worn_of

_UPPER = ("armhole", "neck", "shoulder")
"""Beginnings of the names that edges of an upper part have, those that allowances are told by."""


class Use(msgspec.Struct, frozen=True):
    """So many times a piece is needed, half pieces on the fold counted twice, and who says so.

    `least` is less where one half of what is marked may do without.
    """

    piece: str
    times: int
    told: str
    least: int


@CHECKS.register(
    id="cut-uses",
    title="Every piece is cut as often as measures and marks use it",
    rationale=(
        "A patch pocket is sewn into no seam, and a skirt of equal panels only to itself: that a measure takes two"
        " panels, or that two fronts have a mark for the pocket, is all that tells a wrong count."
    ),
    remedy="correct the count in the piece's cut, or the sum; waive this where both are meant",
    severity="warn",
    source="one piece for each use; a whole multiple can be a second layer: common practice",
)
def cut_uses(garment: Garment) -> Iterator[Outcome]:
    """Whole factors in sums of finished measures and of what strips go round; marks named after a piece."""
    for size in garment.pattern.sizes:
        told: set[str] = set()
        for use in (*_measured(garment), *placed(garment, size, _unsewn(garment, size))):
            cut = garment.cut(use.piece, size)
            if cut is None or use.piece in told or use.piece not in garment.pattern.pieces:
                continue
            there = counts_of(garment, cut)
            if there and not {use.times, use.least} & set(there.values()):
                told.add(use.piece)
                layers = any(count % use.times == 0 for count in there.values())
                halves = " halves" if cut.fold is not None else ""
                yield Outcome(
                    code="another-layer" if layers else "used-otherwise",
                    size=size,
                    piece=use.piece,
                    file="pattern.toml",
                    object=f"pieces.{use.piece}.cut",
                    found=f"{' and '.join(map(str, there.values()))}{halves}",
                    allowed=f"{use.times}{halves}",
                    message=f"{use.piece} is not cut as often as {use.told}",
                    remedy="correct the count; where it is a second layer, say layers = 2" if layers else None,
                )


def counts_of(garment: Garment, cut: CutPiece) -> dict[str, int]:
    """How often a piece is there of each material, halves where it lies on the fold."""
    counts: dict[str, int] = {}
    for entry in garment.pattern.pieces[cut.piece].cut:
        if count := worn_of(entry, cut.size).copies:
            counts[entry.material] = counts.get(entry.material, 0) + count * (1 if cut.fold is None else 2)
    return counts


def _measured(garment: Garment) -> Iterator[Use]:
    sums: dict[str, Sum] = {f"finished.{name}": each.sum for name, each in garment.pattern.finished.items()}
    strips = garment.pattern.strips.items()
    sums |= {f"strips.{name}.goes_round": strip.goes_round for name, strip in strips if strip.goes_round is not None}
    for place, total in sums.items():
        for term in total.terms:
            times = round(abs(term.factor))
            if isinstance(term.of, Reference) and times > 1 and times == abs(term.factor):
                yield Use(term.of.piece, times, f"{place} takes it: {total.text}", times)


def _unsewn(garment: Garment, size: str) -> set[str]:
    """Pieces in no seam. One on the fold is none: a bag that is folded takes in both sides of a seam, and each has a
    mark."""
    sewn = {step.piece for seam in garment.pattern.seams.values() for step in (*seam.a, *seam.b)}
    cuts = {piece: garment.cut(piece, size) for piece in garment.pattern.pieces if piece not in sewn}
    return {piece for piece, cut in cuts.items() if cut is not None and cut.fold is None}


def placed(garment: Garment, size: str, patches: Container[str]) -> Iterator[Use]:
    """Of these pieces, those after which marks on other pieces of the same material are named: they are sewn on there.

    A mark that one side of the wearer has is there once for two of its piece.
    """
    for view in shown_views(garment.pattern):
        marked: dict[str, dict[str, int]] = {}
        chest: dict[str, bool] = {}
        for spec, cut in garment.each():
            if cut.size != size or spec.source is not None or not in_view(spec.views, view):
                continue
            for name, place, group in marks_of(cut):
                patch = named_after(garment, name or "")
                own = garment.cut(patch, size) if patch and patch in patches else None
                if own is not None:
                    of = counts_of(garment, own)
                    there = [count for material, count in counts_of(garment, cut).items() if material in of]
                    times = max(there, default=0)
                    sided = mark_spec(garment.pattern, spec.name, name or "", group).side is not None
                    marked.setdefault(own.piece, {})[spec.name] = -(-times // 2) if sided else times
                    chest[own.piece] = chest.get(own.piece, True) and not sided and _at_the_chest(cut, place)
        for patch, places in marked.items():
            if (times := sum(places.values())) > 1:
                told = f"there are marks for it: on {' and '.join(places)}"
                yield Use(patch, times, told, times // 2 if chest[patch] else times)


def marks_of(cut: CutPiece) -> Iterator[tuple[str | None, Point, Literal["lines", "points"]]]:
    """Points and inside lines by name, with a place of each."""
    yield from ((point.name, point.place, "points") for point in cut.drawn.points)
    yield from ((line.name, line.path[0].start, "lines") for line in cut.drawn.inside)


def _at_the_chest(cut: CutPiece, place: Point) -> bool:
    """Whether a mark lies in the upper half of a piece with an armhole, a neck or a shoulder.

    A pocket there is often sewn to one half only (common practice), though the halves have one drawing.
    """
    if not any(edge.name.startswith(_UPPER) for edge in cut.drawn.edges):
        return False
    up = cut.drawn.grain.bottom.to(cut.drawn.grain.top)
    heights = [cut.drawn.anchor.to(corner).dot(up) for corner in cut.seam_drawn]
    return cut.drawn.anchor.to(place).dot(up) > (min(heights) + max(heights)) / 2


def named_after(garment: Garment, name: str) -> str | None:
    """The piece whose name a mark's name is or begins with; the longest, of pocket and pocket-flap."""
    pieces = [piece for piece in garment.pattern.pieces if name == piece or name.startswith(f"{piece}-")]
    return max(pieces, key=len, default=None)

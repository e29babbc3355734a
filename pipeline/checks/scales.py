"""A size of which everything is smaller or larger than it should be: a drawing that was scaled when it was exported."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import pairwise
from statistics import median
from typing import NamedTuple

from pipeline.checks.catalogue import CHECKS
from pipeline.checks.garment import Garment
from pipeline.checks.registry import Outcome
from pipeline.checks.size_groups import groups_of
from pipeline.checks.size_rows import Row, rows
from pipeline.model.pieces import CutPiece
from pipeline.model.sizes import Ladder

_LEAST_SHARE = 0.015
_ALIKE_SHARE = 0.01
_STEADY_SHARE = 0.01
_LEAST_MM = 50.0
_LEAST_SIZES = 4
_LEAST_EDGES = 3
_LEAST_PIECES = 2

_NEAR_SHARE = 0.005
_USUAL = {
    72 / 96: "72 units to the inch, read at 96",
    96 / 72: "96 units to the inch, read at 72",
    90 / 96: "90 units to the inch, read at 96",
    96 / 90: "96 units to the inch, read at 90",
    25.4 / 72: "millimetres, read as points of 1/72 in",
    72 / 25.4: "points of 1/72 in, read as millimetres",
    25.4 / 96: "millimetres, read as pixels of 1/96 in",
    96 / 25.4: "pixels of 1/96 in, read as millimetres",
    1 / 25.4: "inches, read as millimetres",
    25.4: "millimetres, read as inches",
    0.1: "centimetres, read as millimetres",
    10.0: "millimetres, read as centimetres",
    0.5: "half scale",
    2.0: "twice its size",
}
"""Scales that a drawing comes to when its unit is mistaken: geometry."""


@CHECKS.register(
    id="size-scales",
    title="No size is drawn smaller or larger as a whole",
    rationale="A drawing that was exported at another scale fits in itself; only the other sizes show it.",
    remedy="export that size at 100 %, or look at what its drawing says of its size; waive this where it is meant",
    severity="warn",
    source=(
        f"edges that hardly grade, all off their row by the same {_LEAST_SHARE:.1%} or more, within {_ALIKE_SHARE:.0%}:"
        " common practice, the limits from memory"
    ),
)
def size_scales(garment: Garment) -> Iterator[Outcome]:
    """Edges of 50 mm and more against the line of their row: those that change by up to 1 % a size, of two pieces or
    more, tell the scale, and no other may gainsay it by more than half of its own step."""
    found: dict[str, _Scaled] = {}
    for ladder in garment.ladders:
        by_size: dict[str, list[_Share]] = {}
        for row in rows(garment):
            for share in _shares(garment, row, ladder) if groups_of(garment, row) is None else ():
                by_size.setdefault(share.size, []).append(share)
        off = {size: scale for size, shares in by_size.items() if (scale := _common(shares)) is not None}
        if len(off) == 1:
            ((size, scale),) = off.items()
            found.setdefault(size, _Scaled(size, scale, _steady(by_size[size])))
    for one in found.values():
        yield _told(one, [each.size for each in found.values() if one.is_like(each)])


class _Share(NamedTuple):
    """An edge of a size, and the step of its row, as shares of what the line through most of the sizes has there."""

    size: str
    piece: str
    of: float
    step: float


class _Scaled(NamedTuple):
    """A size that is off as a whole, and the edges that tell it."""

    size: str
    scale: float
    steady: Sequence[_Share]

    def is_like(self, other: "_Scaled") -> bool:
        """Whether both are at one scale, as all sizes of one drawing are."""
        return abs(self.scale - other.scale) <= _ALIKE_SHARE


def _shares(garment: Garment, row: Row, ladder: Ladder) -> Iterator[_Share]:
    there = _drawn_along(garment.cuts[row.piece], ladder)
    sizes = list(there)
    for edge in row.cuts[0].edges if len(sizes) >= _LEAST_SIZES else ():
        by_name = [{own.name: own.length_mm for own in there[size].edges} for size in sizes]
        lengths = [of[edge.name] for of in by_name if edge.name in of]
        if len(lengths) < len(sizes) or min(lengths) < _LEAST_MM:
            continue
        step = median(b - a for a, b in pairwise(lengths))
        first = median(length - step * place for place, length in enumerate(lengths))
        for place, (size, length) in enumerate(zip(sizes, lengths, strict=True)):
            line = first + step * place
            yield _Share(size, row.piece, length / line, abs(step) / line)


def _drawn_along(cuts: Mapping[str, CutPiece], ladder: Ladder) -> dict[str, CutPiece]:
    """What a piece is cut to on a ladder; a row keeps one of several ladders on which the piece is the same."""
    there = {size: cuts[size] for size in ladder.sizes if size in cuts}
    first = {there[size].drawn.file: size for size in reversed(there)}
    return {size: cut for size, cut in there.items() if first[cut.drawn.file] == size}


def _steady(shares: Iterable[_Share]) -> list[_Share]:
    return [share for share in shares if share.step <= _STEADY_SHARE]


def _common(shares: Sequence[_Share]) -> float | None:
    """The scale at which all of a size is drawn; None where that is its own, or too little tells it."""
    steady = _steady(shares)
    if len(steady) < _LEAST_EDGES or len({share.piece for share in steady}) < _LEAST_PIECES:
        return None
    scale = median(share.of for share in steady)
    alike = all(abs(share.of - scale) <= _ALIKE_SHARE + max(0.0, share.step - _STEADY_SHARE) / 2 for share in shares)
    return scale if alike and abs(scale - 1.0) >= _LEAST_SHARE else None


def _told(one: _Scaled, sizes: Sequence[str]) -> Outcome:
    """What is told of a size, with all that are at its scale: one drawing may hold them."""
    pieces = dict.fromkeys(share.piece for share in one.steady)
    named = f"size {one.size} is" if len(sizes) == 1 else f"sizes {', '.join(sizes)} is"
    return Outcome(
        code="scaled",
        size=one.size,
        found=f"{len(one.steady)} edges of {', '.join(pieces)} at {one.scale:.1%} of their rows",
        allowed="100 %",
        message=(
            f"all of {named} about {abs(one.scale - 1.0) * 100:.0f} % {'larger' if one.scale > 1.0 else 'smaller'} than"
            f" the other sizes let expect: was its drawing {_called(one.scale)}?"
        ),
    )


def _called(scale: float) -> str:
    """How a drawing came to its scale, where that is one of those that a mistaken unit gives."""
    usual = min(_USUAL, key=lambda each: abs(scale / each - 1.0))
    near = abs(scale / usual - 1.0) <= _NEAR_SHARE
    return f"scaled, by {usual:.3g}: {_USUAL[usual]}" if near else "scaled"

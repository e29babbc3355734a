"""Smoothness over the sizes: second differences of what is graded, and which size breaks them."""

import math
from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple

import msgspec

from pipeline.model.lengths import MM_PER_INCH

STEP_LIMIT_MM = MM_PER_INCH / 8
"""Second difference of a measure over the sizes: at most 1/8 in inside one grade band (common practice)."""
STEP_ALLOWED = f"a second difference of up to {STEP_LIMIT_MM:.2f} mm"
"""The limit as findings say it; what is found is rounded as it is before the two are compared."""
STEP_SOURCE = "second difference at most 1/8 in inside one grade band: common practice"
_ROUNDING = 1e-6
_DECIMALS = 6
_EXPLAINS = 0.85
"""A changed step, seen as one size that is off, explains at most 4/5 of the squares of its second differences."""

Value = tuple[float, ...]


class Triple(NamedTuple):
    """Positions in a row of three neighbouring sizes, the ladder that they stand on, and how that one is told."""

    before: int
    at: int
    after: int
    ladder: int = 0
    along: str = ""


class Break(msgspec.Struct, frozen=True):
    """What breaks a row: the position in it, by how much it is off, and the second difference that tells it.

    Not `alone` where the step itself changes. `along` ends a sentence with the ladder, where there are several.
    """

    index: int
    off_mm: float
    alone: bool
    bend_mm: float
    along: str = ""

    @property
    def found(self) -> str:
        """What is held against STEP_ALLOWED."""
        off = f", which {self.off_mm:.2f} mm at this size explain" if self.alone else ""
        return f"a second difference of {self.bend_mm:.2f} mm{off}"


def bands(sizes: Sequence[str], ends: Sequence[str]) -> list[tuple[int, int]]:
    """(first, last) positions of each band; the last size of one is the first of the next."""
    cuts = [0, *(i for i in range(1, len(sizes) - 1) if sizes[i] in ends), len(sizes) - 1]
    return list(pairwise(cuts))


def triples(sizes: Sequence[str], ends: Sequence[str]) -> tuple[int, ...]:
    """The middles of three neighbouring sizes inside one band; `ends` are the last sizes of bands."""
    return tuple(i for i in range(1, len(sizes) - 1) if sizes[i] not in ends)


def off_line(row: Sequence[float], index: int) -> float:
    """How far a value lies off the line through its two neighbours, or through the two beside a last one; 0 for two."""
    if len(row) < 3:
        return 0.0
    first = min(max(index - 1, 0), len(row) - 3)
    one, two = (i for i in range(first, first + 3) if i != index)
    return row[index] - (row[one] + (row[two] - row[one]) * (index - one) / (two - one))


def breaks(row: Sequence[Value], middles: Sequence[int], limit_mm: float = STEP_LIMIT_MM) -> list[Break]:
    """`uneven` of a row that is one ladder, by the middles of three neighbours."""
    return uneven(row, [Triple(k - 1, k, k + 1) for k in middles], limit_mm)


def uneven(
    row: Sequence[Value], triples: Sequence[Triple], limit_mm: float = STEP_LIMIT_MM, beside: Sequence[Triple] = ()
) -> list[Break]:
    """Where second differences exceed the limit, told as the sizes that explain most of them, at most three.

    Of three sizes alone each explains all: what lies `beside` them, which may step, then tells which of them it is.

    A size that stands on several ladders is off on all of them: it is told once, along the one that shows it best.
    """
    bends = _bends(row, triples)
    found: list[Break] = []
    while bends and len(found) < 3:
        worst = max(bends, key=lambda k: math.hypot(*bends[k]))
        bend = math.hypot(*bends[worst])
        if round(bend - _ROUNDING, 2) <= round(limit_mm, 2):
            break
        wider = _bends(row, beside)
        index, off = min(
            ((j, _off(bends, j)) for j in range(len(row))),
            key=lambda item: (
                round(_squares(_without(bends, *item)), _DECIMALS),
                _squares(_without(wider, *item)),
                item[0],
            ),
        )
        rest = _without(bends, index, off)
        there = {triple.ladder for triple in bends if index in triple[:3]}  # other ladders say nothing of this size
        before, after = (_squares({t: of[t] for t in of if t.ladder in there}) for of in (bends, rest))
        if len(row) > 3 and math.hypot(*off) > 0 and after <= (1 - _EXPLAINS) * before:
            found.append(Break(index, math.hypot(*off), True, bend, worst.along))
            bends = rest
        else:
            found.append(Break(worst.at, bend, False, bend, worst.along))
            del bends[worst]
    return found


def left_mm2(row: Sequence[Value], triples: Sequence[Triple], index: int) -> float:
    """The squares of the second differences that are left where one size is put as near to its neighbours as it can."""
    bends = _bends(row, triples)
    return _squares(_without(bends, index, _off(bends, index))) if bends else 0.0


def _bends(row: Sequence[Value], triples: Sequence[Triple]) -> dict[Triple, list[float]]:
    return {t: [a - 2 * b + c for a, b, c in zip(row[t.before], row[t.at], row[t.after], strict=True)] for t in triples}


def _shares(bends: dict[Triple, list[float]], size: int) -> dict[Triple, float]:
    """What a fault of 1 mm in one size does to each second difference."""
    return {k: -2.0 if size == k.at else 1.0 if size in (k.before, k.after) else 0.0 for k in bends}


def _off(bends: dict[Triple, list[float]], size: int) -> list[float]:
    shares = _shares(bends, size)
    square = sum(share * share for share in shares.values())
    width = len(next(iter(bends.values())))
    return [sum(shares[k] * bends[k][i] for k in bends) / square if square else 0.0 for i in range(width)]


def _without(bends: dict[Triple, list[float]], size: int, off: Sequence[float]) -> dict[Triple, list[float]]:
    shares = _shares(bends, size)
    return {k: [v - shares[k] * o for v, o in zip(values, off, strict=True)] for k, values in bends.items()}


def _squares(bends: dict[Triple, list[float]]) -> float:
    return sum(value * value for values in bends.values() for value in values)

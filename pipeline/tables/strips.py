"""Strips: what is cut of each, in how many pieces, and the square that a continuous bias strip takes."""

import math
from collections.abc import Mapping

import msgspec

from pipeline.cutting.strips import CutSize
from pipeline.lays.strip_pieces import strip_pieces
from pipeline.model.lengths import MM_PER_INCH
from pipeline.model.pattern import Pattern, Strip, StripGrain, Units
from pipeline.model.questions import copies_of, in_view, shown_views

SQUARE_STEP_MM: dict[Units, float] = {"metric": 10.0, "imperial": MM_PER_INCH}
"""Squares of cloth are told in whole cm, or whole inches."""
_CROOKED = 0.1
"""Of a strip's width: what lines marked by hand may take of the last round (estimated)."""


class StripRow(msgspec.Struct, frozen=True, kw_only=True):
    """One strip of one size and material. `cut_length_mm` is of one strip, in one piece, as if there were no joins.

    `total_length_mm` is of all of them and counts what joins take; `pieces` and `joins` are of one strip.
    `square_mm` is the side of the square from which all of them can be cut as one continuous bias strip.
    """

    view: str | None
    strip: str
    size: str
    material: str
    count: int
    cut_width_mm: float
    cut_length_mm: float
    grain: StripGrain
    joins: int
    total_length_mm: float
    pieces: int
    square_mm: float | None
    title: dict[str, str]


class StripTotal(msgspec.Struct, frozen=True, kw_only=True):
    """All strips of one width, grain and material in one size."""

    view: str | None
    size: str
    material: str
    grain: StripGrain
    cut_width_mm: float
    total_length_mm: float


def continuous_bias_length_mm(side_mm: float, width_mm: float, join_mm: float) -> float:
    """The bias strip that a square yields when its halves are sewn to a tube and that is cut in one spiral.

    Both seams run along sides of the square and take two allowances each, so a round is √2 (side - 4 joins) long; the
    tube, side / √2 wide, has as many rounds as whole strip widths with a tenth of one to spare; one width is lost by
    cutting both ends square (calculated). Common practice tells side² / width, which is more than any square yields.
    """
    rounds = math.floor(side_mm / math.sqrt(2) / width_mm - _CROOKED)
    return max(0.0, rounds * math.sqrt(2) * (side_mm - 4 * join_mm) - width_mm)


def bias_square_mm(length_mm: float, width_mm: float, join_mm: float, step_mm: float) -> float:
    """The side of the smallest square, in whole steps, whose continuous bias strip is long enough.

    It is sought from √(length x width) upward, the square of common practice, which is never enough.
    """
    steps = math.floor(math.sqrt(length_mm * width_mm) / step_mm)
    while continuous_bias_length_mm(steps * step_mm, width_mm, join_mm) < length_mm:
        steps += 1
    return steps * step_mm


def strip_rows(pattern: Pattern, sizes: Mapping[str, Mapping[str, CutSize]]) -> tuple[StripRow, ...]:
    """Every strip of every view and size; `sizes` has the cut size of each strip by size and name."""
    return tuple(
        row
        for view in shown_views(pattern)
        for strip in pattern.strips.values()
        if in_view(strip.views, view)
        for size in pattern.sizes
        if strip.name in sizes.get(size, {})
        for row in _rows(pattern, view, strip, size, sizes[size][strip.name])
    )


def _rows(pattern: Pattern, view: str | None, strip: Strip, size: str, measured: CutSize) -> list[StripRow]:
    rows = []
    for cut in strip.cut:
        count = copies_of(cut, size).copies
        if not count:
            continue
        made = strip_pieces(strip, measured.width_mm, measured.length_mm, pattern.materials[cut.material])
        total = count * made.pieces * made.length_mm
        square = None
        if strip.grain == "bias":
            square = bias_square_mm(total, measured.width_mm, strip.join_mm or 0.0, SQUARE_STEP_MM[pattern.units])
        rows.append(
            StripRow(
                view=view,
                strip=strip.name,
                size=size,
                material=cut.material,
                count=count,
                cut_width_mm=round(measured.width_mm, 2),
                cut_length_mm=round(measured.length_mm, 2),
                grain=strip.grain,
                joins=made.joins,
                total_length_mm=round(total, 2),
                pieces=made.pieces,
                square_mm=square,
                title=strip.title,
            )
        )
    return rows


def strip_totals(rows: tuple[StripRow, ...]) -> tuple[StripTotal, ...]:
    """Totals by material: what is alike in width and grain can be cut as one."""
    totals: dict[tuple[str | None, str, str, StripGrain, float], float] = {}
    for row in rows:
        key = row.view, row.size, row.material, row.grain, row.cut_width_mm
        totals[key] = totals.get(key, 0.0) + row.total_length_mm
    return tuple(
        StripTotal(
            view=view, size=size, material=material, grain=grain, cut_width_mm=width, total_length_mm=round(total, 2)
        )
        for (view, size, material, grain, width), total in totals.items()
    )

"""Strips as people cut them: blocks of what can be cut as one, lengths rounded up, sizes of like figures together."""

import math
from collections.abc import Hashable, Iterable
from typing import NamedTuple, TypeVar

import msgspec

from pipeline.model.lengths import MM_PER_INCH, next_mm
from pipeline.model.pattern import Pattern, StripGrain
from pipeline.tables.strips import (
    SQUARE_STEP_MM,
    StripRow,
    bias_square_mm,
    continuous_bias_length_mm,
    strip_totals,
)

METRIC_STEP_MM = 1.0
IMPERIAL_STEP_MM = MM_PER_INCH / 16
"""What a ruler shows of either system: to these steps lengths are rounded."""
_Figures = TypeVar("_Figures", bound=Hashable)


class Rounded(NamedTuple):
    """One length in mm, rounded by itself in each system: to whole mm, and to 1/16 in."""

    metric_mm: float
    imperial_mm: float


class StripFigures(msgspec.Struct, frozen=True, kw_only=True):
    """One strip: `cut` is the length of one as if there were no joins, `piece` of one of its pieces, `total` of all."""

    strip: str
    count: int
    cut: Rounded
    pieces: int
    piece: Rounded
    total: Rounded


class Square(NamedTuple):
    """The square for one continuous bias strip, rounded up, and what it surely yields, rounded down."""

    side: Rounded
    yields: Rounded


class StripBlock(msgspec.Struct, frozen=True, kw_only=True):
    """Strips of one view, material, grain and cut width; `view` is None where all views have them alike. Figures have
    the sizes that they hold for.

    `together` is empty where the block has one strip. `squares` is empty off the bias, and where a strip of the block
    may not be joined: a continuous strip has joins.
    """

    view: str | None
    material: str
    grain: StripGrain
    cut_width_mm: float
    strips: dict[StripFigures, tuple[str, ...]]
    together: dict[Rounded, tuple[str, ...]]
    squares: dict[Square, tuple[str, ...]]


def strip_blocks(pattern: Pattern, rows: Iterable[StripRow]) -> tuple[StripBlock, ...]:
    """What all views have alike, once, then all else in the order of `rows`. A total is the sum of lengths as they are
    rounded, so that it adds up."""
    blocks: dict[tuple[object, ...], dict[tuple[str, str], StripRow]] = {}
    for row in rows:
        block = blocks.setdefault((row.view, row.material, row.grain, row.cut_width_mm), {})
        key = row.strip, row.size
        block[key] = _added(block[key], row) if key in block else row
    return _once(tuple(_block(pattern, tuple(block.values())) for block in blocks.values()), len(pattern.views))


def _once(blocks: tuple[StripBlock, ...], views: int) -> tuple[StripBlock, ...]:
    """Of blocks that all of several views have alike one, of no view, before all others."""
    of_none = [msgspec.structs.replace(block, view=None) for block in blocks]
    shared: list[StripBlock] = []
    for block in of_none:
        if of_none.count(block) == views > 1 and block not in shared:
            shared.append(block)
    return (*shared, *(block for block, same in zip(blocks, of_none, strict=True) if same not in shared))


def _added(row: StripRow, other: StripRow) -> StripRow:
    """Several entries of one material add up."""
    return msgspec.structs.replace(
        row, count=row.count + other.count, total_length_mm=row.total_length_mm + other.total_length_mm
    )


def _block(pattern: Pattern, rows: tuple[StripRow, ...]) -> StripBlock:
    first = rows[0]
    metric = tuple(rounded_up(row, METRIC_STEP_MM) for row in rows)
    imperial = tuple(rounded_up(row, IMPERIAL_STEP_MM) for row in rows)
    totals = {
        one.size: Rounded(one.total_length_mm, other.total_length_mm)
        for one, other in zip(strip_totals(metric), strip_totals(imperial), strict=True)
    }
    names = dict.fromkeys(row.strip for row in rows)
    joins = [pattern.strips[name].join_mm for name in names]
    joined = first.grain == "bias" and None not in joins
    join_mm = max((join for join in joins if join is not None), default=0.0)
    return StripBlock(
        view=first.view,
        material=first.material,
        grain=first.grain,
        cut_width_mm=first.cut_width_mm,
        strips=_alike((row.size, _figures(row, other)) for row, other in zip(metric, imperial, strict=True)),
        together=_alike(totals.items() if len(names) > 1 else ()),
        squares=_alike((size, _square(pattern, total, first, join_mm)) for size, total in totals.items())
        if joined
        else {},
    )


def rounded_up(row: StripRow, step_mm: float) -> StripRow:
    """The row with the lengths that are cut on the next step, and the total of these."""
    pieces = row.count * row.pieces
    piece_mm = row.cut_length_mm if row.pieces == 1 else row.total_length_mm / pieces
    return msgspec.structs.replace(
        row,
        cut_length_mm=next_mm(row.cut_length_mm, step_mm),
        total_length_mm=next_mm(piece_mm, step_mm) * pieces,
    )


def _figures(metric: StripRow, imperial: StripRow) -> StripFigures:
    pieces = metric.count * metric.pieces
    return StripFigures(
        strip=metric.strip,
        count=metric.count,
        cut=Rounded(metric.cut_length_mm, imperial.cut_length_mm),
        pieces=metric.pieces,
        piece=Rounded(metric.total_length_mm / pieces, imperial.total_length_mm / pieces),
        total=Rounded(metric.total_length_mm, imperial.total_length_mm),
    )


def _square(pattern: Pattern, total: Rounded, row: StripRow, join_mm: float) -> Square:
    side_mm = bias_square_mm(max(total), row.cut_width_mm, join_mm, SQUARE_STEP_MM[pattern.units])
    yields_mm = continuous_bias_length_mm(side_mm, row.cut_width_mm, join_mm)
    return Square(
        side=Rounded(*(next_mm(side_mm, step) for step in (METRIC_STEP_MM, IMPERIAL_STEP_MM))),
        yields=Rounded(*(math.floor(yields_mm / step + 1e-9) * step for step in (METRIC_STEP_MM, IMPERIAL_STEP_MM))),
    )


def _alike(sizes: Iterable[tuple[str, _Figures]]) -> dict[_Figures, tuple[str, ...]]:
    groups: dict[_Figures, tuple[str, ...]] = {}
    for size, figures in sizes:
        groups[figures] = (*groups.get(figures, ()), size)
    return groups

"""Sizes: what the wearer measures and what the garment measures."""

from typing import Literal

import msgspec

from pipeline.model.lengths import imperial_text
from pipeline.model.pattern import Pattern
from pipeline.model.pieces import Cuts, in_size
from pipeline.model.sums import lengths_of, sum_mm
from pipeline.tables.measures import cm_text, half_cm, written_cm_text, written_in_inches, written_inches_text


class SizeRow(msgspec.Struct, frozen=True, kw_only=True):
    """One measure in one size: of the garment `metric` to 0.5 cm, `imperial` to 1/8 in (common practice).

    Of the body both as the designer wrote it, in what it was written in.
    """

    of: Literal["body", "finished"]
    measure: str
    size: str
    length_mm: float
    metric: str
    imperial: str
    title: dict[str, str]

    @property
    def told_cm(self) -> float:
        """The number of `metric`."""
        return float(self.metric.removesuffix(" cm"))


def size_rows(pattern: Pattern, cuts: Cuts) -> tuple[SizeRow, ...]:
    """Body measures, then finished ones."""
    lengths = {size: lengths_of(pattern, size, in_size(cuts, size)) for size in pattern.sizes}
    body = [
        _row("body", measure.name, measure.title, size, measure.sizes_mm.get(size), in_inches)
        for measure in pattern.body.values()
        for in_inches in (written_in_inches(measure.sizes_mm.values()),)
        for size in pattern.sizes
    ]
    finished = [
        _row("finished", measure.name, measure.title, size, sum_mm(measure.sum, lengths[size]))
        for measure in pattern.finished.values()
        for size in pattern.sizes
    ]
    return tuple(row for row in (*body, *finished) if row is not None)


def _row(
    of: Literal["body", "finished"],
    name: str,
    title: dict[str, str],
    size: str,
    length_mm: float | None,
    in_inches: bool = False,
) -> SizeRow | None:
    if length_mm is None:
        return None
    body = of == "body"
    return SizeRow(
        of=of,
        measure=name,
        size=size,
        length_mm=round(length_mm, 1),
        metric=written_cm_text(length_mm, in_inches) if body else cm_text(half_cm(length_mm)),
        imperial=written_inches_text(length_mm) if body else imperial_text(length_mm, 8),
        title=title,
    )

"""Sizes: what the wearer measures and what the garment measures."""

from fractions import Fraction
from typing import Literal

import msgspec

from pipeline.model.lengths import MM_PER_INCH, imperial_text
from pipeline.model.pattern import Pattern, Units
from pipeline.model.pieces import Cuts, in_size
from pipeline.model.sums import lengths_of, sum_mm
from pipeline.tables.measures import (
    HALF_CM_MM,
    cm_text,
    half_cm,
    written_cm_text,
    written_in_inches,
    written_inches_text,
)


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

    @property
    def told_inches(self) -> Fraction:
        """The number of `imperial`."""
        return sum((Fraction(part) for part in self.imperial.removesuffix(" in").split()), Fraction(0))


class Ease(msgspec.Struct, frozen=True):
    """What the garment measures more than the body, in both systems; below zero where it measures less."""

    metric: str
    imperial: str

    @property
    def less(self) -> bool:
        """Whether a minus is told in either."""
        return self.metric.startswith("-") or self.imperial.startswith("-")


def ease_of(body: SizeRow, finished: SizeRow, units: Units) -> Ease:
    """In the pattern's own units the difference of what the tables tell of both, so that a reader's own sum comes to
    the same; in the others what that is, so that sizes of one ease share one row.

    Where the body is told between the steps of finished measures, as 25.6 cm or 10 1/16 in, no such sum is exact: there
    it is what the garment truly has more, to the nearest 0.5 cm or 1/8 in (common practice).
    """
    true_mm = round(finished.length_mm - body.length_mm, 1)
    if units == "metric":
        adds_up = _in_steps(body.told_cm * 10 / HALF_CM_MM)
        told_mm = 10 * (finished.told_cm - body.told_cm) if adds_up else half_cm(true_mm)
        return Ease(cm_text(told_mm), imperial_text(told_mm, 8))
    adds_up = _in_steps(float(body.told_inches * 8))
    told_mm = float(finished.told_inches - body.told_inches) * MM_PER_INCH if adds_up else true_mm
    return Ease(cm_text(half_cm(told_mm)), imperial_text(told_mm, 8))


def _in_steps(steps: float) -> bool:
    return abs(steps - round(steps)) < 1e-6


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

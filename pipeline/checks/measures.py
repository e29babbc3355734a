"""What the garment measures, against the body and its ease, and how it grows from size to size."""

from collections.abc import Iterator
from itertools import pairwise
from statistics import median

from pipeline.checks.catalogue import CHECKS
from pipeline.checks.garment import Garment
from pipeline.checks.registry import Outcome
from pipeline.checks.smooth import breaks
from pipeline.checks.totals import outstanding_term, total_mm
from pipeline.model.findings import Severity
from pipeline.model.pattern import FinishedMeasure, Range

TOLERANCE_MM = 0.5
CONSTANT_MM = 1.0
_RISE_MM = 0.01


@CHECKS.register(
    id="finished-measures",
    title="Finished measures lie where ease and limits say, in every size",
    rationale="A size with too little ease, or far too much, does not fit the person it is sold to.",
    remedy="correct the outlines of that size, the body measure, or the ease that is declared",
    severity="block",
    source="the designer's own range, within 0.5 mm (half the tolerance of a seam: common practice)",
    needs=("finished",),
)
def finished_measures(garment: Garment) -> Iterator[Outcome]:
    """Each measure minus its body measure against `ease`, and the measure itself against `allowed`."""
    for measure in garment.pattern.finished.values():
        if measure.ease is None and measure.allowed is None:
            yield _outcome(
                measure, "not-held", None, "", "ease or allowed", "nothing says what it must measure", "skip"
            )
        for size in garment.pattern.sizes:
            value_mm = total_mm(garment, measure.sum, size)
            if value_mm is None:
                yield _outcome(
                    measure,
                    "no-value",
                    size,
                    f"no length for all of {measure.sum.text}",
                    "pieces and lines that this size has",
                    "it cannot be worked out in this size",
                )
                continue
            if measure.ease is not None:
                body_mm = garment.pattern.body[measure.name].sizes_mm[size]
                text = f"body {body_mm / 10:.1f} cm"
                yield from _held(garment, measure, size, value_mm - body_mm, measure.ease, body_mm, "ease", text)
            if measure.allowed is not None:
                yield from _held(garment, measure, size, value_mm, measure.allowed, 0.0, "measure", "as declared")


def _held(
    garment: Garment,
    measure: FinishedMeasure,
    size: str,
    found_mm: float,
    band: Range,
    of_mm: float,
    what: str,
    text: str,
) -> Iterator[Outcome]:
    factor = of_mm if band.percent else 1.0
    low, high = band.low * factor, band.high * factor
    if low - TOLERANCE_MM <= found_mm <= high + TOLERANCE_MM:
        return
    off = low - found_mm if found_mm < low else found_mm - high
    term = outstanding_term(garment, measure.sum, size)
    yield _outcome(
        measure,
        "too-small" if found_mm < low else "too-large",
        size,
        f"{what} {found_mm / 10:.2f} cm ({text})",
        f"{low / 10:.2f} to {high / 10:.2f} cm",
        f"the {what} is {off:.1f} mm {'below' if found_mm < low else 'above'} what is declared"
        f"{f'; of its lines {term} breaks the grading' if term else ''}",
    )


@CHECKS.register(
    id="finished-grade",
    title="Finished measures rise, or stay, from size to size as declared",
    rationale="A girth that does not grow from one size to the next is one size drawn with another's outline.",
    remedy='correct the size that breaks the row, or say grade = "free"',
    severity="block",
    source="girths rise, lengths never fall, constants stay: common practice; constant within 1 mm",
    needs=("finished",),
)
def finished_grade(garment: Garment) -> Iterator[Outcome]:
    """`rises`: larger than in the size before (of several axes, along one at least); `constant`: as in the base size;
    `free`: anything.
    """
    for measure in garment.pattern.finished.values():
        if measure.grade is None:
            yield _outcome(measure, "not-held", None, "", "grade", "nothing says how it grows", "skip")
            continue
        values = {size: total_mm(garment, measure.sum, size) for size in garment.pattern.sizes}
        known = {size: value for size, value in values.items() if value is not None}
        if measure.grade == "rises":
            for before, size, along in _not_risen(garment, known):
                yield _not_rising(garment, measure, known, (before, size), along)
        elif measure.grade == "constant":
            base = known.get(garment.pattern.base)
            for size, value in known.items():
                if base is not None and abs(value - base) > CONSTANT_MM:
                    text = f"{base:.1f} ± {CONSTANT_MM:g} mm, as in size {garment.pattern.base}"
                    yield _outcome(
                        measure, "not-constant", size, f"{value:.1f} mm", text, "it should be alike in all sizes"
                    )


def _not_rising(
    garment: Garment, measure: FinishedMeasure, known: dict[str, float], pair: tuple[str, str], along: str
) -> Outcome:
    """Told of the larger of two neighbours, or of the one that alone breaks the row of a ladder that both stand on."""
    before, size = pair
    alone = _alone(garment, known, pair)
    if alone == before:
        text = f"less than {known[size]:.1f} mm, as in size {size}"
        told = f"it is no smaller than in size {size}{along}"
    else:
        text = f"more than {known[before]:.1f} mm, as in size {before}"
        told = f"it does not rise from size {before}{along}"
    term = outstanding_term(garment, measure.sum, alone) if alone else None
    told += f"; of its lines {term} breaks the grading" if term else ""
    return _outcome(measure, "does-not-rise", alone or size, f"{known[alone or size]:.1f} mm", text, told)


def _alone(garment: Garment, known: dict[str, float], pair: tuple[str, str]) -> str | None:
    """Which of two sizes explains, if it is off, what is uneven in a row; None where neither does."""
    for ladder in garment.ladders:
        sizes = [each for each in ladder.sizes if each in known]
        if set(pair) <= set(sizes):
            found = breaks([(known[each],) for each in sizes], range(1, len(sizes) - 1), 0.0)
            if found and found[0].alone and sizes[found[0].index] in pair:
                return sizes[found[0].index]
    return None


def _not_risen(garment: Garment, known: dict[str, float]) -> Iterator[tuple[str, str, str]]:
    """Neighbours of which the larger is no larger, and the ladder in words.

    Of several axes one may leave a measure as it is, as heights do a girth: along such a one it may not fall.
    """
    steps: dict[str, list[tuple[str, str]]] = {}
    for ladder in garment.ladders:
        steps.setdefault(ladder.along, []).extend(pairwise(size for size in ladder.sizes if size in known))
    usual = {along: median(known[b] - known[a] for a, b in pairs) for along, pairs in steps.items() if pairs}
    rising = {along for along, step in usual.items() if len(steps) == 1 or step > CONSTANT_MM} or set(usual)
    for along in usual:
        least = _RISE_MM if along in rising else -CONSTANT_MM
        yield from ((before, size, along) for before, size in steps[along] if known[size] < known[before] + least)


def _outcome(
    measure: FinishedMeasure,
    code: str,
    size: str | None,
    found: str,
    allowed: str,
    text: str,
    severity: Severity | None = None,
) -> Outcome:
    return Outcome(
        code=code,
        severity=severity,
        size=size,
        where=f"finished.{measure.name}",
        file="pattern.toml",
        object=f"finished.{measure.name}",
        found=found,
        allowed=allowed,
        message=text,
    )

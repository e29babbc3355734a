"""Strips: long enough for what they go round, and for what must pass through."""

from collections.abc import Iterator

from pipeline.checks.catalogue import CHECKS
from pipeline.checks.garment import Garment
from pipeline.checks.registry import Outcome
from pipeline.checks.tied_strips import is_tied
from pipeline.checks.totals import total_mm
from pipeline.model.findings import Severity
from pipeline.model.pattern import Strip, Sum

TOLERANCE_MM = 1.0
TUCK_MM = 6.0
_FULLNESS = 1.5
_TIED = 5.0
"""A bow at the wrist is the longest for what it goes round."""
_STRETCHED = 0.7
_LYING = 2.0


@CHECKS.register(
    id="strip-lengths",
    title="Every strip has a length in every size that does what it is for",
    rationale="A waistband that does not reach round, or a loop that the belt does not pass through, is cut again.",
    remedy="correct the strip's length, or what it goes round",
    severity="block",
    source=(
        "loop: opening + 2 tucks, calc; a tuck of at least 6 mm: common practice; "
        "a band that is stretched at least 7/10 x the edge: common practice, from memory; "
        'at most 1 1/2 x the edge, as a ruffle: "Clothing for Women" (1916); '
        f"at most {_TIED:g} x where it is tied, as a sash: from memory; "
        f"at most {_LYING:g} times as wide as long: from memory"
    ),
    needs=("strips",),
)
def strip_lengths(garment: Garment) -> Iterator[Outcome]:
    """`length` against `goes_round`, `opening` and the width. Across or on the bias it may be stretched: it warns."""
    for strip in garment.pattern.strips.values():
        if strip.goes_round is None and strip.opening is None:
            text = "nothing says what it goes round or what passes through it, so its length was held against nothing"
            yield strip_outcome(strip, "not-held", None, "", "goes_round or opening", text, "skip")
        for size in garment.pattern.sizes:
            length_mm = total_mm(garment, strip.length, size)
            if length_mm is None or length_mm <= 0:
                found = "no length" if length_mm is None else f"{length_mm:.1f} mm"
                text = f"its length, {strip.length.text}, comes to nothing in this size"
                yield strip_outcome(strip, "no-length", size, found, "more than 0 mm", text)
                continue
            yield from _lies_along(strip, size, length_mm)
            yield from _reaches_round(garment, strip, size, length_mm)
            yield from _lets_through(garment, strip, size, length_mm)


def _lies_along(strip: Strip, size: str, length_mm: float) -> Iterator[Outcome]:
    if strip.width_mm > _LYING * length_mm:
        text = f"it is {strip.width_mm / length_mm:.1f} times as wide as it is long: were width and length exchanged?"
        found, allowed = f"{strip.width_mm:.1f} mm wide", f"at most {_LYING * length_mm:.1f} mm"
        yield strip_outcome(strip, "wider-than-long", size, found, allowed, text, "warn")


def _reaches_round(garment: Garment, strip: Strip, size: str, length_mm: float) -> Iterator[Outcome]:
    if strip.goes_round is None:
        return
    round_mm = total_mm(garment, strip.goes_round, size)
    if round_mm is None:
        yield _unknown(strip, size, "goes_round", strip.goes_round)
    elif strip.stretched is not None:
        return  # held against its own share, see knits.py
    elif length_mm < round_mm - TOLERANCE_MM:
        stretched = strip.grain in ("across", "bias")
        share = _declared_share(strip.length, strip.goes_round)
        if stretched and share is not None and share >= _STRETCHED:
            return  # said to be so much shorter: it is stretched as it is sewn on
        text = f"it is {round_mm - length_mm:.1f} mm too short for what it goes round"
        found, allowed = f"{length_mm:.1f} mm", f"at least {round_mm:.1f} mm"
        yield strip_outcome(strip, "too-short", size, found, allowed, text, "warn" if stretched else None)
    elif length_mm > (most_mm := (_TIED if is_tied(strip) else _FULLNESS) * round_mm) + TOLERANCE_MM:
        text = f"it is {length_mm / round_mm:.1f} times as long as what it goes round"
        allowed = f"at most {most_mm:.1f} mm"
        yield strip_outcome(strip, "too-long", size, f"{length_mm:.1f} mm", allowed, text, "warn")


def _declared_share(length: Sum, goes_round: Sum) -> float | None:
    """By what every term of one sum has to be multiplied to have the other; None where they are not in proportion."""
    one, other = ({term.of: term.factor for term in total.terms} for total in (length, goes_round))
    shares = {round(one[of] / other[of], 6) for of in other if other[of] and of in one}
    return shares.pop() if one.keys() == other.keys() and len(shares) == 1 else None


def _lets_through(garment: Garment, strip: Strip, size: str, length_mm: float) -> Iterator[Outcome]:
    """What is left of the strip's cut length beside the opening is sewn in at its two ends."""
    if strip.opening is None:
        return
    opening_mm = total_mm(garment, strip.opening, size)
    if opening_mm is None:
        yield _unknown(strip, size, "opening", strip.opening)
        return
    cut_mm = length_mm + 2 * strip.allowance_mm
    found = f"{cut_mm:.1f} mm with its allowances"
    if cut_mm < opening_mm:
        text = f"it is {opening_mm - cut_mm:.1f} mm shorter than what must pass through"
        yield strip_outcome(
            strip, "opening-too-small", size, found, f"at least {opening_mm + 2 * TUCK_MM:.1f} mm", text
        )
    elif cut_mm < opening_mm + 2 * TUCK_MM:
        text = f"only {(cut_mm - opening_mm) / 2:.1f} mm are left at each end to sew it on"
        allowed = f"at least {opening_mm + 2 * TUCK_MM:.1f} mm"
        yield strip_outcome(strip, "no-tucks", size, found, allowed, text, "warn")


def _unknown(strip: Strip, size: str, key: str, total: Sum) -> Outcome:
    text = f"{key}, {total.text}, cannot be worked out in this size"
    return strip_outcome(strip, "no-value", size, "no length", "pieces and lines that this size has", text)


def strip_outcome(
    strip: Strip, code: str, size: str | None, found: str, allowed: str, text: str, severity: Severity | None = None
) -> Outcome:
    """What is told of a strip, at its key."""
    return Outcome(
        code=code,
        severity=severity,
        size=size,
        where=f"strips.{strip.name}",
        file="pattern.toml",
        object=f"strips.{strip.name}",
        found=found,
        allowed=allowed,
        message=text,
    )

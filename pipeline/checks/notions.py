"""Notions: every size has each of them, and none is longer than what it is sewn into."""

from collections.abc import Iterator, Mapping
from itertools import pairwise

import msgspec

from pipeline.checks.catalogue import CHECKS
from pipeline.checks.garment import Garment
from pipeline.checks.registry import Outcome
from pipeline.checks.totals import total_mm
from pipeline.model.findings import Severity
from pipeline.model.lengths import nearest_mm
from pipeline.model.mark_counts import notion_count
from pipeline.model.mark_sums import is_called
from pipeline.model.pattern import Notion, Sum
from pipeline.model.pieces import in_size
from pipeline.model.questions import in_view, shown_views

_FALL_MM = 1.0
FITS_MM = 5.0
_FALLS = "correct the amount of this size, or of the one before; waive this where less is meant"


@CHECKS.register(
    id="notions",
    title="Every notion has a count or a length in every size",
    rationale="A buyer who has bought for the list stands without the zip that her size was left out of.",
    remedy="give the notion a count above 0, marks or a sum that this size has, in every size",
    severity="block",
    source="common practice",
    needs=("notions",),
)
def notions(garment: Garment) -> Iterator[Outcome]:
    """Missing and null amounts block; an amount that falls from one size to the next warns.

    Marks are counted view by view. A view that has none of them in any size takes none, and so does a size that
    pattern.toml says has no such mark.
    """
    for notion in garment.pattern.notions.values():
        found = (outcome for amounts in _amounts(garment, notion) for outcome in _of_amounts(garment, notion, amounts))
        yield from dict.fromkeys(found)


def _amounts(garment: Garment, notion: Notion) -> list[dict[str, float | None]]:
    """What every size takes, in all views at once, or of marks in each that has some."""
    if notion.marks is None:
        return [{size: amount_of(garment, notion, size) for size in garment.pattern.sizes}]
    views = [view for view in shown_views(garment.pattern) if in_view(notion.views, view)]
    by_view = [{size: _marked(garment, notion, view, size) for size in garment.pattern.sizes} for view in views]
    return [amounts for amounts in by_view if any(amounts.values())] or by_view[:1]


def _marked(garment: Garment, notion: Notion, view: str | None, size: str) -> float | None:
    return notion_count(garment.pattern, notion, view, size, in_size(garment.cuts, size))


def _of_amounts(garment: Garment, notion: Notion, amounts: Mapping[str, float | None]) -> Iterator[Outcome]:
    unit = "" if notion.length is None else " mm"
    for size, amount in amounts.items():
        if (amount is None or amount <= 0) and not (amount == 0 and _is_said_to_lack(garment, notion, size)):
            found = "nothing" if amount is None else f"{amount:g}{unit}"
            yield notion_outcome(notion, "missing", size, found, "more than 0", "this size has none of it")
    slack = 0.0 if notion.length is None else _FALL_MM
    known = {size: amount for size, amount in amounts.items() if amount}
    pairs = {
        (before, size): ladder.along
        for ladder in garment.ladders
        for before, size in pairwise(size for size in ladder.sizes if size in known)
    }
    for (before, size), along in pairs.items():
        if known[size] < known[before] - slack:
            text = f"it needs less than size {before}{along}"
            found, allowed = f"{known[size]:g}{unit}", f"at least {known[before]:g}{unit}"
            yield msgspec.structs.replace(
                notion_outcome(notion, "falls", size, found, allowed, text, "warn"), remedy=_FALLS
            )


def _is_said_to_lack(garment: Garment, notion: Notion, size: str) -> bool:
    """Whether marks that are counted, or their piece, say that other sizes alone have them."""
    for piece, name in notion.marks.named if notion.marks is not None else ():
        spec = garment.pattern.pieces[piece]
        marks = [mark for point, mark in spec.point_marks.items() if is_called(point, name)]
        if size not in spec.sizes or any(mark.sizes and size not in mark.sizes for mark in marks):
            return True
    return False


@CHECKS.register(
    id="notion-fits",
    title="A zip is no longer than its opening, and sold in about the length that is needed",
    rationale="A zip that is longer than its slit ends inside the seam, or has to be cut down by whoever bought it.",
    remedy="give the length that is sold for this opening, or lengthen the opening; waive this where it is meant",
    severity="warn",
    source=f"longer by at most {FITS_MM:g} mm, the step between zips that are sold: common practice, from memory",
    needs=("notions",),
)
def notion_fits(garment: Garment) -> Iterator[Outcome]:
    """What is needed against `lengths`, and the longer of both against `opening`, in every size.

    A concealed zip that is meant to be longer needs a waiver.
    """
    for notion in garment.pattern.notions.values():
        for size in garment.pattern.sizes:
            length_mm = None if notion.length is None else amount_of(garment, notion, size)
            if length_mm is not None and notion.sold_mm:
                yield from _sold(notion, size, length_mm)
                length_mm = max(length_mm, nearest_mm(length_mm, notion.sold_mm))
            if notion.opening is not None:
                yield from _opening(garment, notion, notion.opening, size, length_mm)


def _sold(notion: Notion, size: str, length_mm: float) -> Iterator[Outcome]:
    """Nothing is told of a length between two that are sold."""
    shortest, longest = notion.sold_mm[0], notion.sold_mm[-1]
    if not shortest - FITS_MM <= length_mm <= longest + FITS_MM:
        text = "no length that it is sold in is near the one that is needed"
        allowed = f"{shortest:.1f} mm" if shortest == longest else f"{shortest:.1f} to {longest:.1f} mm"
        yield notion_outcome(notion, "not-sold", size, f"{length_mm:.1f} mm", allowed, text)


def _opening(garment: Garment, notion: Notion, opening: Sum, size: str, length_mm: float | None) -> Iterator[Outcome]:
    opening_mm = total_mm(garment, opening, size)
    if opening_mm is None:
        text = f"its opening, {opening.text}, cannot be worked out in this size"
        yield notion_outcome(notion, "no-opening", size, "no length", "pieces and lines that this size has", text)
    elif length_mm is not None and length_mm > opening_mm + FITS_MM:
        text = f"it is {length_mm - opening_mm:.1f} mm longer than its opening"
        found, allowed = f"{length_mm:.1f} mm", f"at most {opening_mm:.1f} mm"
        yield notion_outcome(notion, "too-long", size, found, allowed, text)


def amount_of(garment: Garment, notion: Notion, size: str) -> float | None:
    """The typed count or length (mm) of a notion in a size; None where it has none."""
    if notion.length is not None:
        total = notion.length.get(size)
        length_mm = None if total is None else total_mm(garment, total, size)
        return None if length_mm is None else round(length_mm, 1)
    return None if notion.count is None else notion.count.get(size)


def notion_outcome(
    notion: Notion, code: str, size: str, found: str, allowed: str, text: str, severity: Severity | None = None
) -> Outcome:
    """What is told of a notion, at its key."""
    return Outcome(
        code=code,
        severity=severity,
        size=size,
        where=f"notions.{notion.name}",
        file="pattern.toml",
        object=f"notions.{notion.name}",
        found=found,
        allowed=allowed,
        message=text,
    )

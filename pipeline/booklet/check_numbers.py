"""Numbers that were typed by hand though the pattern knows them: they go on saying what it said once."""

import re
from collections.abc import Iterator, Mapping
from fractions import Fraction
from typing import NamedTuple

from pipeline.booklet.check_text import owners_named
from pipeline.booklet.model import Model
from pipeline.booklet.subject import BOOKLET, Subject, at_line
from pipeline.booklet.text import Booklet, Item
from pipeline.booklet.values import sums_mm
from pipeline.booklet.walk import blocks_within, plain_text, references_within, runs_of, steps_of
from pipeline.checks.registry import Outcome
from pipeline.model.lengths import MM_PER_INCH, MM_PER_YARD, metric_text
from pipeline.model.pattern import Reference

EQUAL_MM = 0.05
NEAR_MM, NEAR_SHARE, NEAR_LONG_SHARE = 1.5, 0.1, 0.02
"""Nearly the same: within a tenth and 1.5 mm, as 5/8 in is of 15 mm; of long ones, within 2 % (estimated)."""
LEAST_MM = 2.0
"""Shorter ones are stitches."""
_UNITS: Mapping[str, float] = {
    "mm": 1.0,
    "cm": 10.0,
    "m": 1000.0,
    "in": MM_PER_INCH,
    "inch": MM_PER_INCH,
    "inches": MM_PER_INCH,
    "″": MM_PER_INCH,
    "Zoll": MM_PER_INCH,
    "yd": MM_PER_YARD,
}
_NUMBER = re.compile(
    r"(?<![\w.,/])(?:(?P<whole>\d{1,4})\s)?(?P<number>\d{1,4}/\d{1,3}|\d{1,5}(?:[.,]\d{1,3})?)\s?"
    rf"(?P<unit>{'|'.join(sorted(_UNITS, key=len, reverse=True))})(?![\w/])"
)


class Known(NamedTuple):
    """A length of the pattern, the reference that says it, and the piece that it is of."""

    length_mm: float
    reference: str
    piece: str | None


@BOOKLET.register(
    id="booklet-numbers",
    title="Lengths that the pattern knows are written as references",
    rationale="A number typed by hand goes on saying what the pattern said once; it is found when the cloth is cut.",
    remedy="write the reference that is offered; a waiver says that the number is meant",
    severity="warn",
    source=f"equal within {EQUAL_MM} mm; near within 10 % up to {NEAR_MM:g} mm, or within 2 %: estimated",
)
def booklet_numbers(subject: Subject) -> Iterator[Outcome]:
    """Numbers with a unit that equal, or nearly equal, a length of the pattern."""
    for text, model in subject.texts():
        known = known_lengths(model)
        for written, length_mm, line, pieces in typed_lengths(text):
            near = [one for one in known if _near(one.length_mm, length_mm)]
            if not near or length_mm < LEAST_MM:
                continue
            best = min(near, key=lambda one: (one.piece not in pieces, abs(one.length_mm - length_mm)))
            equal = abs(best.length_mm - length_mm) <= EQUAL_MM
            said = f"{written} is typed by hand, and {{{{ {best.reference} }}}} is {metric_text(best.length_mm)}"
            remedy = f"write {{{{ {best.reference} }}}} if that is meant"
            code = "typed" if equal else "nearly"
            yield at_line(text.file, line, code, said, written, f"{{{{ {best.reference} }}}}", remedy)


def _near(length_mm: float, typed_mm: float) -> bool:
    band = max(min(NEAR_MM, NEAR_SHARE * length_mm), NEAR_LONG_SHARE * length_mm)
    return abs(length_mm - typed_mm) <= band


def known_lengths(model: Model) -> list[Known]:
    """Allowances, and what the sums of `pattern.toml` come to. Edges are left out: some edge is as long as anything."""
    pattern = model.pattern
    found = [
        Known(edge.widest_mm, f"allowance {name}.{edge.name}", name)
        for name, by_size in model.cuts.items()
        for edge in next(iter(by_size.values())).edges
        if not edge.folded and edge.widest_mm >= LEAST_MM
    ]
    found += [
        Known(width_mm, f"grown-on {name}.{edge.name}", name)
        for name, by_size in model.cuts.items()
        for edge in next(iter(by_size.values())).edges
        for part in edge.grown_on
        for width_mm in dict.fromkeys(part.widths_mm)
    ]
    sums = [("finished", measure.sum) for measure in pattern.finished.values()]
    sums += [("strips", strip.length) for strip in pattern.strips.values()]
    sums += [("notions", total) for notion in pattern.notions.values() for total in (notion.length or {}).values()]
    for table, total in dict.fromkeys(sums):
        measured = any(isinstance(term.of, Reference) for term in total.terms)
        said = total.text if measured else f"table {table}"
        found += [Known(length_mm, said, None) for length_mm in sums_mm(model, total).values()]
    for measure in pattern.body.values():
        found += [Known(length_mm, f"body.{measure.name}", None) for length_mm in measure.sizes_mm.values()]
    return list(dict.fromkeys(found))


def typed_lengths(text: Booklet) -> Iterator[tuple[str, float, int, set[str]]]:
    """Every number with a unit: as it is written, in mm, its line, and the pieces that are named in its step."""
    steps = [(step.line, _pieces(step)) for step in steps_of(text.blocks)]
    for block in blocks_within(text.blocks):
        for run, line in runs_of(block):
            pieces = next((named for at, named in reversed(steps) if at <= line), set())
            for match in _NUMBER.finditer(plain_text(run)):
                number = Fraction(match["number"].replace(",", ".")) if _divides(match["number"]) else Fraction(0)
                length_mm = float(number + int(match["whole"] or 0)) * _UNITS[match["unit"]]
                yield match[0].strip(), length_mm, line, pieces


def _divides(number: str) -> bool:
    return "/" not in number or bool(number.partition("/")[2].strip("0"))


def _pieces(step: Item) -> set[str]:
    return {name for kind, name in owners_named(references_within(step.blocks)) if kind == "piece"}

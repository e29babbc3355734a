"""Sums of `pattern.toml` in one size, and which of a sum's lines stands out from the neighbouring sizes."""

from pipeline.checks.garment import Garment
from pipeline.checks.smooth import STEP_LIMIT_MM
from pipeline.model.pattern import Reference, Sum
from pipeline.model.pieces import in_size
from pipeline.model.sums import Lengths, lengths_of, sum_mm


def total_mm(garment: Garment, total: Sum, size: str) -> float | None:
    """Millimetres of a sum in a size; None where one of its references has no length there."""
    return sum_mm(total, _lengths(garment, size))


def _lengths(garment: Garment, size: str) -> Lengths:
    def make() -> Lengths:
        return lengths_of(garment.pattern, size, in_size(garment.cuts, size))

    return garment.once(("lengths", size), make)


def outstanding_term(garment: Garment, total: Sum, size: str) -> str | None:
    """The reference of a sum with the largest second difference over the sizes, where that is more than 1/8 in."""
    off = {}
    for term in total.terms:
        if isinstance(term.of, Reference) and term.of.piece != "body":
            part = term.of.part.text if term.of.part else ""
            off[f"{term.of.piece}.{term.of.line}{part}"] = abs(_second_difference(garment, term.of, size))
    worst = max(off, key=lambda name: off[name], default=None)
    return worst if worst is not None and off[worst] > STEP_LIMIT_MM else None


def _second_difference(garment: Garment, reference: Reference, size: str) -> float:
    """The largest of those on the ladders that the size stands on."""
    found = [0.0]
    for sizes in (ladder.sizes for ladder in garment.ladders if size in ladder.sizes and len(ladder.sizes) > 2):
        middle = min(max(sizes.index(size), 1), len(sizes) - 2)
        values = [_lengths(garment, sizes[i])(reference) for i in (middle - 1, middle, middle + 1)]
        known = [value for value in values if value is not None]
        found += [known[0] - 2 * known[1] + known[2]] if len(known) == 3 else []
    return max(found, key=abs)

"""How often pieces are cut, from size to size."""

from collections.abc import Iterator

from pipeline.checks.catalogue import CHECKS
from pipeline.checks.counts import owners
from pipeline.checks.garment import Garment
from pipeline.checks.registry import Outcome
from pipeline.model.piece_specs import Cut
from pipeline.model.questions import copies_of

_MANY_ALIKE = 4
"""Sizes that agree before the first or last that does not is told (a judgement)."""


@CHECKS.register(
    id="cut-sizes",
    title="No size is cut otherwise than both of its neighbours, where those agree",
    rationale="A count that is wrong in one size is in one row of a long table, where nobody looks for it.",
    remedy="give that size the count of its neighbours, or waive this where it is meant",
    severity="block",
    source="common practice",
)
def cut_sizes(garment: Garment) -> Iterator[Outcome]:
    """Count and mirrored of pieces and strips, material by material, in three neighbouring sizes.

    Of a piece, too, whose first or last size alone differs from `_MANY_ALIKE` and more: that can be meant, so it warns.
    """
    for name, (place, cuts) in owners(garment).items():
        for entry in cuts:
            told: dict[str, Outcome] = {}
            for ladder in garment.ladders:
                sizes = [size for size in ladder.sizes if size in entry.count]
                for at, other in _odd(entry, sizes, piece=place is None):
                    told.setdefault(sizes[at], _alone(name, place, entry, sizes, at, other))
            yield from told.values()


def _odd(entry: Cut, sizes: list[str], *, piece: bool) -> Iterator[tuple[int, int]]:
    """Sizes of a ladder that are cut otherwise, and one that they are held against."""
    counts = [copies_of(entry, size) for size in sizes]
    yield from ((i, i - 1) for i in range(1, len(sizes) - 1) if counts[i - 1] == counts[i + 1] != counts[i])
    for end, other in ((0, 1), (len(sizes) - 1, 0)):
        rest = {count for i, count in enumerate(counts) if i != end}
        if piece and len(sizes) > _MANY_ALIKE and len(rest) == 1 and counts[end] not in rest:
            yield end, other


def _alone(name: str, place: str | None, entry: Cut, sizes: list[str], at: int, other: int) -> Outcome:
    found, beside = copies_of(entry, sizes[at]), copies_of(entry, sizes[other])
    inner = 0 < at < len(sizes) - 1
    return Outcome(
        code="alone" if inner else "end-alone",
        severity=None if inner else "warn",
        size=sizes[at],
        piece=None if place else name,
        where=place,
        file="pattern.toml",
        object=f"{place or f'pieces.{name}'}.cut",
        found=f"{found.copies} in {entry.material}, {found.mirrored} mirrored",
        allowed=f"{beside.copies}, {beside.mirrored} mirrored, as in size {sizes[other]}",
        message=f"{name} is cut otherwise in this size than in {'both sizes beside it' if inner else 'all others'}",
    )

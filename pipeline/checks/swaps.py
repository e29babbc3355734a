"""Whole sizes whose drawings changed places: every seam of them still fits, and their neighbours look wrong instead."""

from collections.abc import Iterator, Sequence
from itertools import pairwise

from pipeline.checks.catalogue import CHECKS
from pipeline.checks.garment import Garment
from pipeline.checks.registry import Outcome
from pipeline.checks.size_rows import Row, rows, triples_of
from pipeline.checks.smooth import STEP_LIMIT_MM, STEP_SOURCE

_LEAST_PIECES = 2


@CHECKS.register(
    id="size-swaps",
    title="No two neighbouring sizes have changed places",
    rationale="Two sizes whose drawings were exchanged fit in themselves: whoever buys one of them gets the other.",
    remedy="exchange the two sizes' files or layers, or correct what they are called",
    severity="warn",
    source=f"exchanged back, no step is uneven; {STEP_SOURCE}",
)
def size_swaps(garment: Garment) -> Iterator[Outcome]:
    """Two neighbours of a ladder, where steps of several pieces are uneven and exchanging them would mend all that are.

    Told of both sizes. Two of which a single piece is the wrong one are told by its steps.
    """
    pairs = dict.fromkeys(pair for ladder in garment.ladders for pair in pairwise(ladder.sizes))
    for one, two in pairs:
        before, after, pieces = 0, 0, 0
        for row in rows(garment):
            at = {size: place for rungs in row.rungs for size, place in zip(rungs.sizes, rungs.at, strict=True)}
            if one in at and two in at and at[one] != at[two]:
                now, then = _uneven(row, (at[one], at[two]))
                before, after, pieces = before + now, after + then, pieces + (now > 0)
        if pieces >= _LEAST_PIECES and not after:
            for size in (one, two):
                yield Outcome(
                    code="swapped",
                    size=size,
                    where=f"{one} and {two}",
                    found=f"{before} uneven steps of {pieces} pieces",
                    allowed="even steps, as they would be the other way round",
                    message=f"the drawings of {one} and {two} have probably been swapped",
                )


def _uneven(row: Row, swapped: tuple[int, int]) -> tuple[int, int]:
    """How many steps of edges' lengths at two places of a row are uneven, as they are and exchanged."""
    near = [t for t in triples_of(row.rungs) if {t.before, t.at, t.after} & set(swapped)]
    edges = [edge.name for edge in row.cuts[0].edges]
    if any([edge.name for edge in cut.edges] != edges for cut in row.cuts):
        return 0, 0
    order = list(range(len(row.cuts)))
    order[swapped[0]], order[swapped[1]] = swapped[1], swapped[0]
    now = then = 0
    for edge in edges:
        lengths = [cut.edge(edge).length_mm for cut in row.cuts]
        exchanged = [lengths[place] for place in order]
        for triple in near:
            places = (triple.before, triple.at, triple.after)
            now += _bends([lengths[place] for place in places])
            then += _bends([exchanged[place] for place in places])
    return now, then


def _bends(lengths: Sequence[float]) -> bool:
    one, two, three = lengths
    return abs(one - 2 * two + three) > STEP_LIMIT_MM

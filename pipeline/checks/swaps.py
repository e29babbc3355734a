"""Sizes that changed places, all their pieces or one: what was exchanged fits in itself, and only the row tells."""

from collections.abc import Iterator, Sequence
from itertools import pairwise
from statistics import median

from pipeline.checks.catalogue import CHECKS
from pipeline.checks.garment import Garment
from pipeline.checks.registry import Outcome
from pipeline.checks.size_groups import grouped
from pipeline.checks.size_rows import Row, rows, triples_of
from pipeline.checks.smooth import STEP_LIMIT_MM, STEP_SOURCE
from pipeline.model.pieces import CutPiece

_GRADES_MM = 1.0


@CHECKS.register(
    id="size-swaps",
    title="No two neighbouring sizes have changed places",
    rationale="Two sizes whose drawings were exchanged fit in themselves: whoever buys one of them gets the other.",
    remedy="exchange the two sizes' drawings, files or layers, or correct what they are called",
    severity="warn",
    source=f"exchanged back, no step is uneven; {STEP_SOURCE}",
)
def size_swaps(garment: Garment) -> Iterator[Outcome]:
    """Two neighbours of a ladder whose uneven steps exchanging them would mend: whole sizes, where several pieces are
    uneven and none would become so; else pieces of which each edge that grades runs the other way between the two. Told
    of both sizes.
    """
    pairs = dict.fromkeys(pair for ladder in garment.ladders for pair in pairwise(ladder.sizes))
    for pair in pairs:
        found = [(row, *_uneven(garment, row, pair)) for row in rows(garment)]
        wrong = [(row, now, then) for row, now, then in found if now]
        if len(wrong) > 1 and not any(then for _, _, then in found):
            yield from _told(pair, None, sum(now for _, now, _ in wrong), len(wrong))
            continue
        for row, now, then in wrong:
            if not then and _runs_back(row, pair):
                yield from _told(pair, row, now, 1)


def _told(pair: tuple[str, str], alone: Row | None, steps: int, pieces: int) -> Iterator[Outcome]:
    """Of all pieces, or of the one whose sizes are exchanged."""
    one, two = pair
    what = f"{alone.piece} of {one} and {two} has" if alone else f"the drawings of {one} and {two} have"
    for size in pair:
        yield Outcome(
            code="swapped",
            size=size,
            piece=alone.piece if alone else None,
            where=None if alone else f"{one} and {two}",
            file=next((cut.drawn.file for cut in alone.cuts if cut.size == size), None) if alone else None,
            found=f"{steps} uneven steps" + ("" if alone else f" of {pieces} pieces"),
            allowed="even steps, as they would be the other way round",
            message=f"{what} probably changed places",
        )


def _uneven(garment: Garment, row: Row, pair: tuple[str, str]) -> tuple[int, int]:
    """How many steps of edges' lengths at two sizes of a row are uneven, as they are and exchanged."""
    at = {size: place for rungs in row.rungs for size, place in zip(rungs.sizes, rungs.at, strict=True)}
    names = [edge.name for edge in row.cuts[0].edges]
    if any(size not in at for size in pair) or any([edge.name for edge in cut.edges] != names for cut in row.cuts):
        return 0, 0
    one, two = (at[size] for size in pair)
    order = list(row.cuts)
    order[one], order[two] = order[two], order[one]
    now, then = (0 if _is_meant(garment, row, cuts) else _bends_of(row, cuts, (one, two)) for cuts in (row.cuts, order))
    return now, then


def _is_meant(garment: Garment, row: Row, cuts: Sequence[CutPiece]) -> bool:
    """Whether a piece is the same in groups of sizes, so that its steps say nothing."""
    groups = grouped(garment, row, cuts)
    return groups is not None and groups.odd is None


def _bends_of(row: Row, cuts: Sequence[CutPiece], near: tuple[int, int]) -> int:
    triples = [t for t in triples_of(row.rungs) if {t.before, t.at, t.after} & set(near)]
    edges = [edge.name for edge in cuts[0].edges]
    lengths = [[cut.edge(edge).length_mm for cut in cuts] for edge in edges]
    return sum(_bends([of[t.before], of[t.at], of[t.after]]) for of in lengths for t in triples)


def _bends(lengths: Sequence[float]) -> bool:
    one, two, three = lengths
    return abs(one - 2 * two + three) > STEP_LIMIT_MM


def _runs_back(row: Row, pair: tuple[str, str]) -> bool:
    """Whether every edge that grades changes the other way from the first of two sizes to the second."""
    for rungs in row.rungs:
        if not set(pair) <= set(rungs.sizes):
            continue
        there = rungs.sizes.index(pair[0])
        for edge in row.cuts[0].edges:
            lengths = [row.cuts[i].edge(edge.name).length_mm for i in rungs.at]
            steps = [after - before for before, after in pairwise(lengths)]
            if abs(usual := median(steps)) >= _GRADES_MM and steps[there] * usual > 0:
                return False
    return True

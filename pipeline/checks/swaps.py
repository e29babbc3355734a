"""Sizes that changed places, all their pieces or one: what was exchanged fits in itself, and only the row tells."""

from collections.abc import Iterable, Iterator, Sequence
from itertools import combinations, pairwise
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
    title="No two sizes have changed places",
    rationale="Two sizes whose drawings were exchanged fit in themselves: whoever buys one of them gets the other.",
    remedy="exchange the two sizes' drawings, files or layers, or correct what they are called",
    severity="warn",
    source=f"exchanged back, no step is uneven; {STEP_SOURCE}",
)
def size_swaps(garment: Garment) -> Iterator[Outcome]:
    """Two sizes of a ladder whose uneven steps exchanging them would mend: whole sizes, where several pieces are uneven
    and none would become so; else pieces of which each edge that grades runs the other way between the two. Told of
    both sizes, and of a piece once, neighbours first.
    """
    left = [row for row in rows(garment) if _uneven(garment, row, row.cuts, tuple(_places(row)))]
    for pair in _pairs(garment) if left else ():
        wrong = [row for row in left if _uneven(garment, row, row.cuts, pair)]
        mended = [row for row in wrong if _runs_back(row, pair) and not _uneven_exchanged(garment, row, pair)]
        steps = {row.piece: _uneven(garment, row, row.cuts, pair) for row in mended}
        whole = len(mended) > 1 and not any(_uneven_exchanged(garment, row, pair) for row in rows(garment))
        if whole:
            yield from _told(pair, None, sum(steps.values()), len(mended))
        for row in () if whole else mended:
            yield from _told(pair, row, steps[row.piece], 1)
        left = [row for row in left if row not in mended]


def _pairs(garment: Garment) -> Iterable[tuple[str, str]]:
    """Any two sizes of a ladder, those that stand nearest to each other first."""
    apart = {pair: place for ladder in garment.ladders for place, pair in _by_distance(ladder.sizes)}
    return sorted(apart, key=apart.__getitem__)


def _by_distance(sizes: Sequence[str]) -> Iterator[tuple[int, tuple[str, str]]]:
    yield from ((j - i, (sizes[i], sizes[j])) for i, j in combinations(range(len(sizes)), 2))


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


def _places(row: Row) -> dict[str, int]:
    """Where each size of a ladder stands in a row."""
    return {size: place for rungs in row.rungs for size, place in zip(rungs.sizes, rungs.at, strict=True)}


def _uneven_exchanged(garment: Garment, row: Row, pair: tuple[str, str]) -> int:
    """How many steps at two sizes would be uneven, were they exchanged."""
    at = _places(row)
    order = list(row.cuts)
    if set(pair) <= set(at):
        one, two = (at[size] for size in pair)
        order[one], order[two] = order[two], order[one]
    return _uneven(garment, row, order, pair)


def _uneven(garment: Garment, row: Row, cuts: Sequence[CutPiece], sizes: Sequence[str]) -> int:
    """How many steps of edges' lengths at these sizes of a row are uneven, were these its drawings; none of a piece
    that is the same in groups of sizes, of which one alone may be unlike its own: that takes long to see and is asked
    last."""
    at = _places(row)
    names = [edge.name for edge in row.cuts[0].edges]
    if any(size not in at for size in sizes) or any([edge.name for edge in cut.edges] != names for cut in row.cuts):
        return 0
    bends = _bends_of(row, cuts, {at[size] for size in sizes})
    return bends if bends and grouped(garment, row, cuts) is None else 0


def _bends_of(row: Row, cuts: Sequence[CutPiece], near: set[int]) -> int:
    triples = [t for t in triples_of(row.rungs) if {t.before, t.at, t.after} & near]
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
        one, two = (rungs.sizes.index(size) for size in pair)
        for edge in row.cuts[0].edges:
            lengths = [row.cuts[i].edge(edge.name).length_mm for i in rungs.at]
            usual = median(after - before for before, after in pairwise(lengths))
            if abs(usual) >= _GRADES_MM and (lengths[two] - lengths[one]) * usual > 0:
                return False
    return True

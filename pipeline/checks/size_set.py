"""The size set: the same edges, notches and lines in every size of a piece."""

from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import pairwise
from statistics import median

import msgspec

from pipeline.checks.catalogue import CHECKS
from pipeline.checks.garment import Garment
from pipeline.checks.registry import Outcome
from pipeline.checks.size_groups import groups_of
from pipeline.checks.size_rows import Row, edge_order, outline_mm, rows, triples_of, usual
from pipeline.checks.smooth import left_mm2
from pipeline.model.pieces import CutPiece

_SAME_DECIMALS = 2
_GRADES_MM = 1.0


@CHECKS.register(
    id="size-set",
    title="Every size of a piece has the same edges, notches and lines, in the same order",
    rationale="What one size lacks was lost on the way there: a notch deleted, an edge renamed, a piece turned over.",
    remedy="bring that size in line with the others, or limit what it lacks with another piece",
    severity="block",
    source="the same number of edges in every size; notch order never changes: common practice",
)
def size_set(garment: Garment) -> Iterator[Outcome]:
    """Names of edges, notches and inside lines of each size against what most sizes have."""
    base = garment.pattern.base
    for row in rows(garment):
        orders = [edge_order(cut) for cut in row.cuts]
        order = usual(row.sizes, orders, base)
        backwards = (order[0], *order[:0:-1])
        for cut, found in zip(row.cuts, orders, strict=True):
            if sorted(found) != sorted(order):
                yield _differs(cut, "edges", "edge", order, found)
            elif found == backwards != order:
                yield _outcome(cut, "flipped", ", ".join(found), ", ".join(order), "the piece is drawn turned over")
            elif found != order:
                yield _outcome(
                    cut, "edge-order", ", ".join(found), ", ".join(order), "its edges follow each other otherwise"
                )
        yield from _notches(row, base)
        lines = [tuple(sorted(line.name for line in cut.drawn.inside if line.name)) for cut in row.cuts]
        expected = usual(row.sizes, lines, base)
        for cut, names in zip(row.cuts, lines, strict=True):
            if names != expected:
                yield _differs(cut, "lines", "inside line", expected, names)


def _notches(row: Row, base: str) -> Iterator[Outcome]:
    for edge in dict.fromkeys(edge.name for cut in row.cuts for edge in cut.drawn.edges):
        cuts = [cut for cut in row.cuts if any(drawn.name == edge for drawn in cut.drawn.edges)]
        found = [tuple(notch.name or "unnamed" for notch in cut.drawn.notches if notch.edge == edge) for cut in cuts]
        sizes = [cut.size for cut in cuts]
        counted = [tuple(sorted(names)) for names in found]
        expected = usual(sizes, counted, base)
        whole = [index for index, count in enumerate(counted) if count == expected]
        order = usual([sizes[i] for i in whole], [found[i] for i in whole], base)
        walked = usual(sizes, [edge_order(cut) for cut in cuts], base)
        for cut, names, count in zip(cuts, found, counted, strict=True):
            if count != expected:
                yield _differs(cut, "notches", "notch", expected, names, edge)
            elif names != order and edge_order(cut) == walked:
                yield _outcome(
                    cut,
                    "notch-order",
                    ", ".join(names),
                    ", ".join(order),
                    f"the notches of {edge} come in another order",
                    edge,
                )


def _differs(
    cut: CutPiece, code: str, what: str, expected: tuple[str, ...], found: tuple[str, ...], edge: str | None = None
) -> Outcome:
    lacking, more = Counter(expected) - Counter(found), Counter(found) - Counter(expected)
    on = f" on {edge}" if edge else ""
    parts = [f"lacks the {what} {name}{on}" for name in lacking] + [f"has one more {what}, {name}{on}" for name in more]
    message = f"it {' and '.join(parts)}, unlike other sizes"
    return _outcome(cut, code, ", ".join(found) or "none", ", ".join(expected) or "none", message, edge)


def _outcome(cut: CutPiece, code: str, found: str, allowed: str, message: str, where: str | None = None) -> Outcome:
    return Outcome(
        code=code,
        size=cut.size,
        piece=cut.piece,
        where=where,
        file=cut.drawn.file,
        object=where,
        found=found,
        allowed=allowed,
        message=f"{cut.piece}: {message}",
    )


@CHECKS.register(
    id="size-copies",
    title="No size is drawn with another size's piece",
    rationale="A file copied to the wrong size fits its own partners nowhere, or everywhere and the wearer not.",
    remedy="export that size's own outline into the file",
    severity="block",
    source="equal to 0.01 mm in every edge, of a piece that usually grows by 1 mm a size: common practice, from memory",
)
def size_copies(garment: Garment) -> Iterator[Outcome]:
    """Two sizes whose edges are all alike, of a piece that is graded between all others."""
    for row in rows(garment):
        prints = [_print(cut) for cut in row.cuts]
        if len(prints) == 2 and prints[0] == prints[1] and all(_of_a_set(garment, cut) for cut in row.cuts):
            yield _outcome(
                row.cuts[1],
                "alike",
                f"the outline of {row.cuts[0].drawn.file}",
                "an outline of its own, or one file for both sets",
                "both size sets have the same outline",
            )
        if groups_of(garment, row) is not None:
            continue
        told = {
            tuple(sorted(rungs.at[i] for i in indices)): rungs.along
            for rungs in row.rungs
            for indices in _copies([prints[i] for i in rungs.at], [row.cuts[i] for i in rungs.at])
        }
        for indices, along in (told | dict.fromkeys(_across(row, prints), "")).items():
            wrong = _wrong_one(row, indices)
            cut = row.cuts[wrong]
            others = ", ".join(row.cuts[i].size for i in indices if i != wrong)
            yield _outcome(
                cut,
                "copied",
                f"the outline of size {others}",
                "an outline of its own",
                f"size {cut.size} is drawn as size {others}{along}",
            )


def _repeated(prints: Sequence[tuple[float, ...]]) -> list[list[int]]:
    places: dict[tuple[float, ...], list[int]] = {}
    for index, mark in enumerate(prints):
        places.setdefault(mark, []).append(index)
    return [indices for indices in places.values() if len(indices) > 1]


def _copies(prints: Sequence[tuple[float, ...]], cuts: Sequence[CutPiece]) -> list[list[int]]:
    """Sizes of one ladder that are alike and should not be."""
    repeated = _repeated(prints)
    together = all(indices[-1] - indices[0] == len(indices) - 1 for indices in repeated)
    # A piece that grows every second size, or not at all, has many repeats, all of neighbours.
    few = together and len(set(prints)) < len(prints) - 1
    return [] if not repeated or few or len(prints) < 3 or _hardly_grades(cuts) else repeated


def _across(row: Row, prints: Sequence[tuple[float, ...]]) -> list[tuple[int, ...]]:
    """Two sizes on no common ladder that alone are alike: were it meant, there would be more of them."""
    repeated = _repeated(prints)
    if len(row.rungs) < 2 or len(repeated) != 1 or len(repeated[0]) != 2:
        return []
    one, two = repeated[0]
    apart = not any(one in rungs.at and two in rungs.at for rungs in row.rungs)
    return [(one, two)] if apart and not _hardly_grades(row.cuts) else []


def _print(cut: CutPiece) -> tuple[float, ...]:
    return tuple(round(mm, _SAME_DECIMALS) for mm in outline_mm(cut))


def _hardly_grades(cuts: Sequence[CutPiece]) -> bool:
    """Whether no edge changes by more than a little from size to size: two sizes of such a piece can well be alike."""
    tables = [{edge.name: edge.gross_length_mm for edge in cut.edges} for cut in cuts]
    steps = (
        [abs(two[name] - one[name]) for one, two in pairwise(tables) if name in one and name in two]
        for name in tables[0]
    )
    return all(median(each) < _GRADES_MM for each in steps if each)


def _of_a_set(garment: Garment, cut: CutPiece) -> bool:
    return any(f"sizes/{name}/" in cut.drawn.file for name in garment.pattern.size_sets)


def _wrong_one(row: Row, indices: Sequence[int]) -> int:
    """Which of the equal sizes explains most of what is uneven in the lengths of all edges, bands or not."""
    tables = [{edge.name: edge.gross_length_mm for edge in cut.edges} for cut in row.cuts]
    names = [name for name in tables[0] if all(name in table for table in tables)]
    lengths = [tuple(table[name] for name in names) for table in tables]
    triples = triples_of([msgspec.structs.replace(each, ends=()) for each in row.rungs])
    return min(reversed(indices), key=lambda index: round(left_mm2(lengths, triples, index), _SAME_DECIMALS))

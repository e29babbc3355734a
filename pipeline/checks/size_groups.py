"""Pieces that are the same in groups of sizes, as patch pockets are, though every size has a drawing of its own.

What is drawn tells: the sizes of a group are alike, and groups follow each other. Such steps are meant, and so are
those of a mark that is named after the piece.
"""

from collections.abc import Iterator, Sequence
from itertools import pairwise
from statistics import median

import msgspec
import numpy as np

from pipeline.checks.catalogue import CHECKS
from pipeline.checks.garment import Garment
from pipeline.checks.registry import Outcome
from pipeline.checks.size_rows import Row, outline_mm, rows
from pipeline.checks.smooth import STEP_LIMIT_MM, Triple, Value
from pipeline.checks.uses import named_after
from pipeline.geometry.chains import Array
from pipeline.model.pieces import CutPiece
from pipeline.model.sizes import neighbours

_ALIKE_MM = 0.03
"""Lengths between places that a drawing rounds to 0.01 mm differ by up to this."""
_LEAST = 2

Prints = Sequence[Sequence[float]]


class Groups(msgspec.Struct, frozen=True):
    """The number of the group at each position of a row; the position that is like no other; the numbers by size.

    `jumps_mm` is by how much a length of the piece changes at most from each group to the next.
    """

    of: tuple[int, ...]
    odd: int | None
    by_size: dict[str, int]
    jumps_mm: tuple[float, ...]

    def levelled(self, values: Sequence[Value]) -> list[Value]:
        """What is left of values in a row where each group's usual one is taken away."""
        within: dict[int, list[Value]] = {}
        for value, group in zip(values, self.of, strict=True):
            within.setdefault(group, []).append(value)
        usual = {group: tuple(map(median, zip(*of, strict=True))) for group, of in within.items()}
        return [
            tuple(a - b for a, b in zip(v, usual[group], strict=True)) for v, group in zip(values, self.of, strict=True)
        ]


def groups_of(garment: Garment, row: Row) -> Groups | None:
    """The groups of a piece; None of one that is graded, or the same in all sizes."""
    return garment.once(("size groups", row.piece), lambda: _groups(garment, row))


def _groups(garment: Garment, row: Row) -> Groups | None:
    return grouped(garment, row, row.cuts)


def grouped(garment: Garment, row: Row, cuts: Sequence[CutPiece]) -> Groups | None:
    """The groups of a row, were these its drawings: one may be like no other, and is then of the group that it is most
    like."""
    prints = [outline_mm(cut) for cut in cuts]
    if len({len(mm) for mm in prints}) > 1:
        return None
    alone = [i for i, mm in enumerate(prints) if sum(_alike(mm, other) for other in prints) == 1]
    for odd in (None, *alone):
        if _in_groups(row, prints, odd):
            return _made(garment, row, prints, odd)
    return None


def _alike(one: Sequence[float], other: Sequence[float]) -> bool:
    return max(abs(a - b) for a, b in zip(one, other, strict=True)) <= _ALIKE_MM


def _in_groups(row: Row, prints: Prints, odd: int | None) -> bool:
    """Whether the sizes of every ladder are alike in runs, on one of them at least in several."""
    several = [_runs(prints, [i for i in rungs.at if i != odd]) for rungs in row.rungs]
    return all(map(bool, several)) and any(len(runs) > 1 for runs in several) and all(map(_are_meant, several))


def _runs(prints: Prints, at: Sequence[int]) -> list[list[Sequence[float]]]:
    """Sizes that are alike one after the other; nothing where a group comes again."""
    runs: list[list[Sequence[float]]] = []
    for place in at:
        if runs and _alike(runs[-1][0], prints[place]):
            runs[-1].append(prints[place])
        elif any(_alike(run[0], prints[place]) for run in runs):
            return []
        else:
            runs.append([prints[place]])
    return runs


def _are_meant(runs: list[list[Sequence[float]]]) -> bool:
    """Whether runs are groups: of two sizes or more, but for the first and the last where they go on in even steps."""
    if len(runs) == 1:
        return True
    lone = [place for place, run in enumerate(runs) if len(run) < _LEAST]
    if len(runs) - len(lone) < _LEAST or any(0 < place < len(runs) - 1 for place in lone):
        return False
    beside = {0: runs[:3], len(runs) - 1: runs[-3:]}
    return all(_is_even([run[0] for run in beside[place]]) for place in lone)


def _is_even(three: Prints) -> bool:
    return all(abs(a - 2 * b + c) <= STEP_LIMIT_MM for a, b, c in zip(*three, strict=True))


def _made(garment: Garment, row: Row, prints: Prints, odd: int | None) -> Groups:
    firsts: list[Sequence[float]] = []
    of: list[int] = []
    for place, mm in enumerate(prints):
        if place == odd:
            of.append(-1)
            continue
        found = next((number for number, first in enumerate(firsts) if _alike(first, mm)), len(firsts))
        firsts += [mm] if found == len(firsts) else []
        of.append(found)
    if odd is not None:
        of[odd] = max(_beside(row, of, odd), key=lambda number: _in_common(firsts[number], prints[odd]))
    files = {cut.drawn.file: number for cut, number in zip(row.cuts, of, strict=True)}
    by_size = {size: files[cut.drawn.file] for size, cut in garment.cuts[row.piece].items()}
    jumps = (max(abs(a - b) for a, b in zip(one, two, strict=True)) for one, two in pairwise(firsts))
    return Groups(tuple(of), odd, by_size, tuple(jumps))


def _beside(row: Row, of: Sequence[int], odd: int) -> list[int]:
    """The groups of the neighbours of a size, in their order."""
    at = ((rungs.at, rungs.at.index(odd)) for rungs in row.rungs if odd in rungs.at)
    found = (of[ladder[k]] for ladder, place in at for k in (place - 1, place + 1) if 0 <= k < len(ladder))
    return list(dict.fromkeys(found))


def _in_common(one: Sequence[float], other: Sequence[float]) -> tuple[int, float]:
    """How many lengths are the same, and how near the others are."""
    off = [abs(a - b) for a, b in zip(one, other, strict=True)]
    return sum(mm <= _ALIKE_MM for mm in off), -sum(off)


def followed(
    garment: Garment, row: Row, name: str, values: Sequence[Value], triples: Sequence[Triple]
) -> Sequence[Value]:
    """Places or lengths of a mark over the sizes, without the steps of the piece in groups after which it is named."""
    owner = next((each for each in rows(garment) if each.piece == named_after(garment, name)), None)
    groups = groups_of(garment, owner) if owner is not None and owner.piece != row.piece else None
    if groups is None or not triples or not all(size in groups.by_size for size in row.sizes):
        return values
    of = [groups.by_size[size] for size in row.sizes]
    table = np.asarray(values, dtype=float)
    most_mm = np.asarray(groups.jumps_mm) + _ALIKE_MM
    steps = _own_steps(_fitted_steps(table, triples, of, most_mm), most_mm)
    raised = np.concatenate((np.zeros((1, table.shape[1])), np.cumsum(steps, axis=0)))
    return [tuple(map(float, value)) for value in table - raised[of]]


def _fitted_steps(table: Array, triples: Sequence[Triple], of: Sequence[int], most_mm: Array) -> Array:
    """The steps from group to group that leave least of the second differences, by least squares: alone, or where that
    does not explain them together with the one size whose place is off. Steps above the most explain nothing."""
    bends = np.array([table[t.before] - 2 * table[t.at] + table[t.after] for t in triples])
    shares = np.zeros((len(triples), len(of)))
    for number, triple in enumerate(triples):
        shares[number, triple[:3]] = 1.0, -2.0, 1.0
    groups = np.stack([shares[:, np.asarray(of) == number].sum(axis=1) for number in range(max(of) + 1)], axis=1)
    best, steps = np.inf, None
    for columns in (groups, *(np.column_stack((groups, off)) for off in shares.T)):
        fitted = np.linalg.lstsq(columns, bends, rcond=None)[0]
        made = np.diff(fitted[: groups.shape[1]], axis=0)
        left = float(np.linalg.norm(bends - columns @ fitted, axis=1).max())
        left += float(np.maximum(np.linalg.norm(made, axis=1) - most_mm, 0.0).max())
        if steps is None or left < best - _ALIKE_MM:
            best, steps = left, made
        if best <= STEP_LIMIT_MM:
            break
    assert steps is not None
    return np.asarray(steps)


def _own_steps(steps: Array, most_mm: Array) -> Array:
    """Steps larger than those of the piece itself are none of its: there the mark steps as it does elsewhere."""
    follows = np.linalg.norm(steps, axis=1) <= most_mm
    usual = steps[follows].mean(axis=0) if follows.any() else np.zeros(steps.shape[1])
    return np.where(follows[:, None], steps, usual)


@CHECKS.register(
    id="size-groups",
    title="A piece that is the same in groups of sizes is the same in every size of a group",
    rationale="A pocket that is narrower in one size than in those it shares its shape with fits its facing nowhere.",
    remedy="draw that size as the others of its group, or waive this where it is meant",
    severity="warn",
    source=f"alike to {_ALIKE_MM:g} mm, as drawings round: one pocket for several sizes is common practice",
)
def size_groups(garment: Garment) -> Iterator[Outcome]:
    """The one size of such a piece that is like no other."""
    for row in rows(garment):
        groups = groups_of(garment, row)
        if groups is None or groups.odd is None:
            continue
        cut, number = row.cuts[groups.odd], groups.of[groups.odd]
        held = next(each for i, each in enumerate(row.cuts) if groups.of[i] == number and i != groups.odd)
        edge, off_mm = _farthest(cut, held)
        sizes = [each.size for i, each in enumerate(row.cuts) if groups.of[i] == number]
        runs = neighbours(sizes, garment.pattern.sizes)
        text = ", ".join(run[0] if len(run) == 1 else f"{run[0]} to {run[-1]}" for run in runs)
        yield Outcome(
            code="unlike",
            size=cut.size,
            piece=row.piece,
            where=edge,
            file=cut.drawn.file,
            object=edge,
            found=f"{off_mm:+.2f} mm",
            allowed=f"as in size {held.size}",
            message=(
                f"{row.piece}: {edge} is {abs(off_mm):.1f} mm {'longer' if off_mm > 0 else 'shorter'} than in size"
                f" {held.size}, though sizes {text} are meant to have one outline"
            ),
        )


def _farthest(cut: CutPiece, other: CutPiece) -> tuple[str, float]:
    """The edge of which the lengths differ most, and by how much the first is longer."""
    theirs = {edge.name: edge.length_mm for edge in other.edges}
    off = {edge.name: edge.length_mm - theirs[edge.name] for edge in cut.edges if edge.name in theirs}
    edge = max(off, key=lambda name: abs(off[name]))
    return edge, off[edge]

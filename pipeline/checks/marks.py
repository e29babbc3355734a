"""Marks over the sizes of a piece: none lost in a single size, none of another shape, none beside its row."""

import math
import re
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from typing import TypeVar

from pipeline.checks.catalogue import CHECKS
from pipeline.checks.garment import Garment
from pipeline.checks.registry import Outcome
from pipeline.checks.size_rows import Row, Rungs, masters_of, rows, triples_of, within_sets
from pipeline.checks.smooth import STEP_LIMIT_MM, STEP_SOURCE, uneven
from pipeline.geometry.curves import path_length_mm, point_along, reversed_path
from pipeline.geometry.points import Point, Vector
from pipeline.model.findings import Severity
from pipeline.model.pieces import CutPiece, InsideLine, MarkPoint
from pipeline.model.sizes import designer_sets

SLIT_MM = 1.0
ROW_MM = 1.5
_ROW_EVEN_MM = 0.5
_ROW_LEAST = 5
_SHARES = (0.25, 0.5, 0.75)

T = TypeVar("T")


@CHECKS.register(
    id="size-marks",
    title="No single size lacks a point or an unnamed line that the sizes beside it have",
    rationale="A buttonhole that was deleted in one size is not found before the buttons are sewn on.",
    remedy="put the mark back in that size, or take it out of the others; more of them from a size on are no fault",
    severity="block",
    source="marks come and go at a band, a size set or a changed count, not in one size: common practice",
)
def size_marks(garment: Garment) -> Iterator[Outcome]:
    """Points by name, unnamed points and lines by number. At the smallest or largest size, where marks begin, it warns.

    Named inside lines and notches are told by size-set.
    """
    for row in rows(garment):
        tables = [_marks(cut) for cut in row.cuts]
        for name in dict.fromkeys(name for table in tables for name in table):
            counts = [table[name] for table in tables]
            for index, beside, inner, along in _odd_ones(garment, row, counts, lambda one, other: one == other):
                what = "lacks" if counts[index] < beside else "has one more"
                yield _outcome(
                    row.cuts[index],
                    "lost" if counts[index] < beside else "more",
                    name.split(" ")[-1],
                    f"{counts[index]} of {name}",
                    f"{beside}, as in the sizes beside it",
                    f"it {what} {name}, unlike the sizes beside it{along}",
                    None if inner else "warn",
                )


def _marks(cut: CutPiece) -> Counter[str]:
    names = [f"the point {point.name}" if point.name else "unnamed points" for point in cut.drawn.points]
    return Counter([*names, *("unnamed lines" for line in cut.drawn.inside if not line.name)])


@CHECKS.register(
    id="mark-shapes",
    title="Buttonholes and inside lines have the same shape in every size, or change it evenly",
    rationale="A buttonhole that is longer in one size fits no button of the list; a bent line marks another place.",
    remedy="draw the mark in that size as in the sizes beside it",
    severity="warn",
    source=f"buttonholes alike within {SLIT_MM:g} mm: common practice, the limit from memory; lines: {STEP_SOURCE}",
)
def mark_shapes(garment: Garment) -> Iterator[Outcome]:
    """Length and direction of every buttonhole; places along every inside line, seen from its two ends."""
    for row in rows(garment):
        for name, slits in _in_all(row, lambda cut: {p.name: _slit(p) for p in cut.drawn.points if p.name and p.slit}):
            for index, beside, _, along in _odd_ones(garment, row, slits, _alike):
                found = slits[index]
                yield _outcome(
                    row.cuts[index],
                    "slit",
                    name,
                    f"{found.dx:.1f} mm across and {found.dy:.1f} mm down",
                    f"{beside.dx:.1f} mm across and {beside.dy:.1f} mm down, as in the sizes beside it",
                    f"the buttonhole {name} has another length or direction than in the sizes beside it{along}",
                )
        lines = dict(_in_all(row, _open_lines))
        beside_each = within_sets(garment, row, triples_of(row.rungs))
        for name, of in lines.items():
            for item in uneven([_bows(line, of[0]) for line in of], beside_each):
                yield _outcome(
                    row.cuts[item.index],
                    "bent",
                    name,
                    f"{item.off_mm:.1f} mm {'off' if item.alone else 'of second difference'}",
                    f"second difference up to {STEP_LIMIT_MM:.3f} mm",
                    f"the line {name} runs otherwise between its ends than in the sizes beside it{item.along}",
                )


def _in_all(row: Row, values: Callable[[CutPiece], dict[str, T]]) -> Iterator[tuple[str, list[T]]]:
    tables = [values(cut) for cut in row.cuts]
    yield from ((name, [table[name] for table in tables]) for name in tables[0] if all(name in t for t in tables))


def _slit(point: MarkPoint) -> Vector:
    """From one end to the other, whichever way it was drawn."""
    assert point.slit is not None
    run = point.slit[0].to(point.slit[1])
    return run if (round(run.dy, 3), run.dx) >= (0, 0) else run.scaled(-1)


def _alike(one: Vector, other: Vector) -> bool:
    same = math.hypot(one.dx - other.dx, one.dy - other.dy)
    back = math.hypot(one.dx + other.dx, one.dy + other.dy)  # a hair off level turns which end is taken as the first
    return min(same, back) <= SLIT_MM


def _open_lines(cut: CutPiece) -> dict[str, InsideLine]:
    return {line.name: line for line in cut.drawn.inside if line.name and not line.closed}


def _bows(line: InsideLine, like: InsideLine) -> tuple[float, ...]:
    """How far places along a line lie from the chord of its ends, x and y in turn, walked as another size's line."""
    run, other = (of.path[0].start.to(of.path[-1].end) for of in (line, like))
    path = line.path if run.dot(other) >= 0 else reversed_path(line.path)
    start, run, length_mm = path[0].start, path[0].start.to(path[-1].end), path_length_mm(path)
    offs = [start.plus(run.scaled(share)).to(point_along(path, share * length_mm)[0]) for share in _SHARES]
    return tuple(value for off in offs for value in (off.dx, off.dy))


@CHECKS.register(
    id="mark-rows",
    title="Numbered marks that stand in a row stand in it evenly",
    rationale="One buttonhole of a row that has slipped is cut as it is marked, and the front never lies flat again.",
    remedy="put the mark back in its row, or waive this where its place is meant",
    severity="warn",
    source=(
        f"of {_ROW_LEAST} and more, all but one even within {_ROW_EVEN_MM:g} mm, that one more than {ROW_MM:g} mm off: "
        "common practice, the limits from memory"
    ),
)
def mark_rows(garment: Garment) -> Iterator[Outcome]:
    """Points that differ in their number alone, as buttonhole-1 to -6; the first and the last may stand apart."""
    for spec in garment.pattern.pieces.values():
        for cut in masters_of(garment, spec.name) if spec.source is None else ():
            for stem, marks in _numbered(cut).items():
                slipped = _slipped(marks)
                if slipped is not None:
                    number, off_mm = slipped
                    yield _outcome(
                        cut,
                        "slipped",
                        f"{stem}-{number}",
                        f"{off_mm:.1f} mm beside its place in the row",
                        f"up to {ROW_MM:g} mm",
                        f"the other marks {stem} stand evenly, {stem}-{number} is {off_mm:.1f} mm off",
                    )


def _numbered(cut: CutPiece) -> dict[str, dict[int, Point]]:
    found: dict[str, dict[int, Point]] = {}
    for point in cut.drawn.points:
        if match := re.fullmatch(r"(.+)-(\d+)", point.name or ""):
            found.setdefault(match[1], {})[int(match[2])] = point.place
    return found


def _slipped(marks: dict[int, Point]) -> tuple[int, float] | None:
    """The one mark within a row that is off it, and by how much, where all others are even."""
    numbers = sorted(marks)
    if len(numbers) < _ROW_LEAST:
        return None
    for number in numbers[1:-1]:
        rest = [n for n in numbers if n != number]
        first, last = rest[0], rest[-1]
        step = marks[first].to(marks[last]).scaled(1 / (last - first))
        off = {n: marks[first].plus(step.scaled(n - first)).distance(marks[n]) for n in numbers}
        if off[number] > ROW_MM and max(off[n] for n in rest) <= _ROW_EVEN_MM:
            return number, off[number]
    return None


def _odd_ones(
    garment: Garment, row: Row, values: Sequence[T], same: Callable[[T, T], bool]
) -> list[tuple[int, T, bool, str]]:
    """Sizes whose value is not that of the sizes beside them, that value, whether those stand on both sides, and the
    ladder in words.

    A run of sizes between two others that agree is odd where it is the shorter part; a single size at an end of a
    ladder is odd where nothing in pattern.toml changes there, and no size beside it on another ladder agrees with it.
    """
    found: dict[int, tuple[int, T, bool, str]] = {}
    for rungs in row.rungs:
        for place, beside, inner in _odd_on_one(garment, rungs.sizes, [values[i] for i in rungs.at], same):
            at = rungs.at[place]
            if (inner or not _agrees(row, rungs, at, values, same)) and not (at in found and found[at][2]):
                found[at] = at, beside, inner, rungs.along
    return list(found.values())


def _agrees(row: Row, but: Rungs, at: int, values: Sequence[T], same: Callable[[T, T], bool]) -> bool:
    """Whether a neighbour on another ladder has the same value: then it is no slip of a single size."""
    others = (rungs.at for rungs in row.rungs if rungs.along != but.along and at in rungs.at)
    beside = ((order, order.index(at) + step) for order in others for step in (-1, 1))
    return any(0 <= place < len(order) and same(values[order[place]], values[at]) for order, place in beside)


def _odd_on_one(
    garment: Garment, sizes: Sequence[str], values: Sequence[T], same: Callable[[T, T], bool]
) -> Iterator[tuple[int, T, bool]]:
    runs: list[list[int]] = []
    for index, value in enumerate(values):
        if runs and same(values[runs[-1][-1]], value):
            runs[-1].append(index)
        else:
            runs.append([index])
    for before, run, after in zip(runs, runs[1:], runs[2:], strict=False):
        if same(values[before[-1]], values[after[0]]) and len(run) < len(before) + len(after):
            yield from ((index, values[after[0]], True) for index in run)
    ends = ((runs[0], 0, 1), (runs[-1], len(values) - 2, -2)) if len(runs) == 2 and len(values) > 2 else ()
    for run, border, beside in ends:
        if len(run) == 1 and not _changes(garment, sizes[border], sizes[border + 1]):
            yield run[0], values[beside], False


def _changes(garment: Garment, size: str, larger: str) -> bool:
    """Whether pattern.toml says that something changes between two sizes: a band, a size set, or a count."""
    pattern = garment.pattern
    pieces, strips = pattern.pieces.values(), pattern.strips.values()
    counts = [cut.count for piece in pieces for cut in piece.cut] + [cut.count for strip in strips for cut in strip.cut]
    counts += [notion.count for notion in pattern.notions.values() if notion.count]
    return (
        any(size in ladder.ends and larger in ladder.sizes for ladder in garment.ladders)
        or any((size in sizes) != (larger in sizes) for sizes in designer_sets(pattern).values())
        or any(count.get(size) != count.get(larger) for count in counts)
    )


def _outcome(
    cut: CutPiece, code: str, where: str, found: str, allowed: str, message: str, severity: Severity | None = None
) -> Outcome:
    return Outcome(
        code=code,
        severity=severity,
        size=cut.size,
        piece=cut.piece,
        where=where,
        file=cut.drawn.file,
        object=where,
        found=found,
        allowed=allowed,
        message=f"{cut.piece}: {message}",
    )

"""Buttons that are bought against the rows of buttons and buttonholes that are marked."""

import re
from collections.abc import Iterator, Mapping, Sequence
from itertools import combinations
from typing import NamedTuple

from pipeline.checks.button_words import are_buttons, place_of
from pipeline.checks.catalogue import CHECKS
from pipeline.checks.garment import Garment
from pipeline.checks.notions import notion_outcome
from pipeline.checks.registry import Outcome
from pipeline.geometry.points import Point
from pipeline.model.mark_sums import is_called
from pipeline.model.pattern import Notion
from pipeline.model.pieces import CutPiece
from pipeline.model.questions import copies, in_view, mark_spec, shown_views

_LEAST = 4
"""Fewer buttonholes in a row can be one button's, as those of a strap that is set longer or shorter."""
_SAME_MM = 2.0
_MARK = re.compile(r"(button|buttonhole)-(\d+)")

_Places = dict[int, Point]


class _Row(NamedTuple):
    """Pieces that have a row of marks, how many those are, how many of them a notion counts by itself, and which."""

    pieces: tuple[str, ...] = ()
    needed: int = 0
    covered: int = 0
    by: tuple[Notion, ...] = ()


@CHECKS.register(
    id="notion-buttons",
    title="As many buttons are bought as stand in a row",
    rationale="Who has bought for the list and sewn five of six buttons on goes back to a shop that may have no sixth.",
    remedy="correct the count of the notion, or the marks, or say which it counts; waive this where fewer are meant",
    severity="warn",
    source=(
        f"a button for each of {_LEAST} and more numbered marks; rows that lie on each other count once, spare buttons"
        " are let be: common practice"
    ),
    needs=("notions",),
)
def notion_buttons(garment: Garment) -> Iterator[Outcome]:
    """Points `button-1`, `buttonhole-1` and on, in every size and view, against the counts of all notions that can be
    buttons; but for those that are called after another piece, strip or button. What notions count by themselves is
    theirs, and the typed ones are held against the rest. A pool of less than half is something else's.
    """
    told = set()
    for view in shown_views(garment.pattern):
        there = [each for each in garment.pattern.notions.values() if in_view(each.views, view)]
        typed = [each for each in there if each.count is not None and are_buttons(each)]
        counting = [each for each in there if each.marks is not None]
        for size in garment.pattern.sizes if typed or counting else ():
            for row in _rows(garment, view, size, counting):
                found = _lacking(garment, view, size, row, typed)
                if found is not None and (found.where, size) not in told:
                    told.add((found.where, size))
                    yield found


def _lacking(garment: Garment, view: str | None, size: str, row: _Row, typed: Sequence[Notion]) -> Outcome | None:
    places = {each.name: place_of(garment, each, row.pieces, view, size) for each in typed}
    counts = {each.name: (each.count or {}).get(size, 0) for each in typed}
    own = [each for each in typed if places[each.name] in ("here", "anywhere")]
    doubtful = () if "here" in places.values() else typed
    others = max((counts[each.name] for each in doubtful if places[each.name] == "elsewhere"), default=0)
    bought = row.covered + sum(counts[each.name] for each in own)
    if not row.needed / 2 <= bought < row.needed > 2 * others:
        return None
    most = max(own or row.by, key=lambda each: counts.get(each.name, 0))
    text = f"fewer buttons are bought than are marked on {' and '.join(row.pieces)}"
    return notion_outcome(most, "fewer", size, str(bought), f"{row.needed} or more", text)


def _rows(garment: Garment, view: str | None, size: str, counting: Sequence[Notion]) -> Iterator[_Row]:
    """The longest row of all, and that of the marks which no notion counts."""
    marked = {kind: _marked(garment, kind, view, size) for kind in ("button", "buttonhole")}
    by = {kind: _counted(marked[kind], kind, counting) for kind in marked}
    known = [each for kind in by for each in by[kind].items()]
    yield _longest(garment, marked, known, tuple(counting))
    if known:
        yield _longest(garment, {kind: _left(rows, known) for kind, rows in marked.items()})


def _longest(
    garment: Garment,
    marked: Mapping[str, Mapping[str, _Places]],
    known: Sequence[tuple[str, _Places]] = (),
    counting: tuple[Notion, ...] = (),
) -> _Row:
    """The pieces with most marks, of buttons or of buttonholes, and how many those are."""
    best = _Row()
    for rows in marked.values():
        for piece in rows:
            along = _along(garment, piece, rows)
            if (count := sum(map(len, along.values()))) > max(best.needed, _LEAST - 1):
                left = sum(len(_without(name, row, known)) for name, row in along.items())
                by = tuple(each for each in counting if each.marks and any(p in along for p, _ in each.marks.named))
                best = _Row(tuple(along), count, count - left, by or counting)  # else what lies on the row counts it
    return best


def _counted(marked: Mapping[str, _Places], kind: str, counting: Sequence[Notion]) -> dict[str, _Places]:
    """The marks of a kind that notions count by themselves."""
    named = [mark for each in counting if each.marks is not None for mark in each.marks.named]
    found = {
        piece: {n: at for n, at in row.items() if any(p == piece and is_called(f"{kind}-{n}", m) for p, m in named)}
        for piece, row in marked.items()
    }
    return {piece: row for piece, row in found.items() if row}


def _left(rows: Mapping[str, _Places], known: Sequence[tuple[str, _Places]]) -> dict[str, _Places]:
    left = {piece: _without(piece, row, known) for piece, row in rows.items()}
    return {piece: row for piece, row in left.items() if row}


def _without(piece: str, row: _Places, known: Sequence[tuple[str, _Places]]) -> _Places:
    """What is left of a row without what lies on one of these, as buttons do on their buttonholes: on the same piece,
    or on another where two and more numbers say it."""
    on: set[int] = set()
    for other, places in known:
        both = row.keys() & places.keys()
        if len(both) > (0 if other == piece else 1) and _on(row, places):
            on |= both
    return {number: place for number, place in row.items() if number not in on}


def _marked(garment: Garment, kind: str, view: str | None, size: str) -> dict[str, _Places]:
    marked: dict[str, _Places] = {}
    for spec, cut in garment.each():
        there = cut.size == size and spec.source is None and in_view(spec.views, view)
        if there and copies(spec.cut, size).copies and (row := _numbered(garment, cut, kind)):
            marked[spec.name] = row
    return marked


def _numbered(garment: Garment, cut: CutPiece, kind: str) -> _Places:
    """The places of the numbered marks of a kind; not of those that have a title of their own, as of a drawstring."""
    found: _Places = {}
    for point in cut.drawn.points:
        match = _MARK.fullmatch(point.name or "")
        if match and match[1] == kind and not mark_spec(garment.pattern, cut.piece, match[0], "points").title:
            found[int(match[2])] = point.place
    return found


def _along(garment: Garment, piece: str, marked: Mapping[str, _Places]) -> dict[str, _Places]:
    """The row of a piece and those that go on from it on pieces that are sewn to it, but for what lies on another."""
    rows = {piece: marked[piece]}
    for other, row in marked.items():
        known = {number for each in rows.values() for number in each}
        goes_on = known.isdisjoint(row) or (len(row) >= _LEAST and not any(_on(row, each) for each in rows.values()))
        if other != piece and goes_on and any(_are_sewn(garment, other, each) for each in rows):
            rows[other] = row
    return rows


def _on(row: _Places, other: _Places) -> bool:
    """Whether marks of the same numbers are as far apart: on a facing, or on the other front."""
    pairs = list(combinations(sorted(row.keys() & other.keys()), 2))
    return all(abs(row[a].distance(row[b]) - other[a].distance(other[b])) <= _SAME_MM for a, b in pairs)


def _are_sewn(garment: Garment, one: str, other: str) -> bool:
    seams = garment.pattern.seams.values()
    sides = [({step.piece for step in seam.a}, {step.piece for step in seam.b}) for seam in seams]
    return any((one in a and other in b) or (one in b and other in a) for a, b in sides)

"""Buttons that are bought against the rows of buttons and buttonholes that are marked."""

import re
from collections.abc import Iterator, Mapping
from itertools import combinations

from pipeline.checks.catalogue import CHECKS
from pipeline.checks.garment import Garment
from pipeline.checks.notions import notion_outcome
from pipeline.checks.registry import Outcome
from pipeline.geometry.points import Point
from pipeline.model.pattern import Notion
from pipeline.model.pieces import CutPiece
from pipeline.model.questions import copies, in_view, mark_spec, notion_count, shown_views

_LEAST = 4
"""Fewer buttonholes in a row can be one button's, as those of a strap that is set longer or shorter."""
_SAME_MM = 2.0
_MARK = re.compile(r"(button|buttonhole)-(\d+)")
_BUTTON = re.compile(r"button|knopf|knöpf|bouton|bot[oó]n|knoop|knop|knapp|snap|stud|popper|toggle", re.IGNORECASE)

_Places = dict[int, Point]


@CHECKS.register(
    id="notion-buttons",
    title="As many buttons are bought as stand in a row",
    rationale="Who has bought for the list and sewn five of six buttons on goes back to a shop that may have no sixth.",
    remedy="correct the count of the notion, or the marks; waive this where fewer are meant",
    severity="warn",
    source=(
        f"a button for each of {_LEAST} and more numbered marks; rows that lie on each other count once, spare buttons"
        " are let be: common practice"
    ),
    needs=("notions",),
)
def notion_buttons(garment: Garment) -> Iterator[Outcome]:
    """Points `button-1`, `buttonhole-1` and on, in every size and view, against the counts of all notions that can be
    buttons; but for those that are called after another piece or strip. A pool of less than half is something else's.
    """
    told = set()
    for view in shown_views(garment.pattern):
        notions = [each for each in garment.pattern.notions.values() if _are_buttons(each, view)]
        for size in garment.pattern.sizes if notions else ():
            pieces, needed = _needed(garment, view, size)
            own = [each for each in notions if not _is_elsewhere(garment, each, pieces)]
            counts = {each.name: notion_count(each, size) or 0 for each in own}
            others = max((notion_count(each, size) or 0 for each in notions if each not in own), default=0)
            bought = sum(counts.values())
            if needed / 2 <= bought < needed > 2 * others:
                most = max(own, key=lambda each: counts[each.name])
                if (most.name, size) not in told:
                    told.add((most.name, size))
                    text = f"fewer buttons are bought than are marked on {' and '.join(pieces)}"
                    yield notion_outcome(most, "fewer", size, str(bought), f"{needed} or more", text)


def _are_buttons(notion: Notion, view: str | None) -> bool:
    named = (notion.name, *notion.title.values())
    return notion.count is not None and in_view(notion.views, view) and any(map(_BUTTON.search, named))


def _is_elsewhere(garment: Garment, notion: Notion, pieces: tuple[str, ...]) -> bool:
    """Whether a notion is called after another piece or strip than those that have the row."""
    pattern = garment.pattern
    words = {word for word in notion.name.split("-") if not _BUTTON.search(word)}
    here = {word for piece in pieces for word in piece.split("-")}
    there = {word for name in (*pattern.pieces, *pattern.strips) for word in name.split("-")}
    return bool(words & there - here)


def _needed(garment: Garment, view: str | None, size: str) -> tuple[tuple[str, ...], int]:
    """The pieces with most marks, of buttons or of buttonholes, and how many those are."""
    best: tuple[tuple[str, ...], int] = ((), 0)
    for kind in ("button", "buttonhole"):
        marked = _marked(garment, kind, view, size)
        for piece in marked:
            rows = _along(garment, piece, marked)
            if (count := sum(map(len, rows.values()))) > max(best[1], _LEAST - 1):
                best = tuple(rows), count
    return best


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

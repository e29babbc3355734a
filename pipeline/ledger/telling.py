"""Changes as lines for people: those of several sizes in one line."""

from collections.abc import Hashable, Iterable, Sequence

from pipeline.checks.telling import size_ranges
from pipeline.ledger.changes import WHOLE, Change, ChangesFile

_FAR = ("edge", "notch", "mark")
_HEADINGS = {
    "cloth": "cloth to buy",
    "strips": "strip",
    "notions": "notion",
    "measures": "measure",
    "text": "text",
    "shown": "shown on pages:",
}


def tell_changes(file: ChangesFile, sizes: Sequence[str]) -> list[str]:
    """A heading, a line a change, and what the next version is called; `sizes` in the order of the new version."""
    if not file.changes:
        return [f"as in {file.since}, in every size, table, text and page"]
    call = f"the next version is {file.next_version}"
    return [f"changed since {file.since}", *(f"  {line}" for line in change_lines(file, sizes)), call]


def change_lines(file: ChangesFile, sizes: Sequence[str]) -> list[str]:
    """A line a change, those of several sizes merged."""
    groups: dict[Hashable, list[Change]] = {}
    for change in file.changes:
        groups.setdefault(_group(change), []).append(change)
    return [_line(group, tuple(sizes)) for group in groups.values()]


def _group(change: Change) -> Hashable:
    if change.what == "page":
        return change.what, change.name
    told = () if change.what in _FAR else (change.before, change.after)
    return change.what, change.piece, change.name, told


def _line(group: list[Change], sizes: tuple[str, ...]) -> str:
    first = max(group, key=lambda change: change.mm or 0.0)
    return f"{_subject(first)}{_sizes(group, sizes)}{_how(first, group)}"


def _subject(change: Change) -> str:
    if change.what == "page":
        return f"print file {change.name}"
    if change.what in ("size", "piece"):
        return f"{change.what} {change.name}"
    if change.piece is not None:
        kind = f"{change.what} " if change.what in ("notch", "mark") else ""
        return f"{change.piece}: {kind}{change.name}"
    return f"{_HEADINGS[change.what]} {change.name}"


def _sizes(group: Iterable[Change], sizes: tuple[str, ...]) -> str:
    there = {change.size for change in group}
    found = [size for size in sizes if size in there]
    return f", size{'s' * (len(found) > 1)} {size_ranges(found, sizes)}" if found else ""


def _how(worst: Change, group: list[Change]) -> str:
    if worst.what == "page":
        labels = [change.near for change in group]
        return f": page{'s' * (len(labels) > 1)} {', '.join(labels)}"
    if worst.mm is not None and worst.place is not None:
        of = f" in size {worst.size}" if len(group) > 1 else ""
        at = "" if worst.near == WHOLE else f" ({worst.place[0]:.1f}, {worst.place[1]:.1f}{of})"
        return f", up to {worst.mm:.1f} mm {worst.near or 'at'}{at}"
    if worst.before is None:
        return ", added" if worst.what in ("size", "piece", "detail") else f": added, {worst.after}"
    if worst.after is None:
        return ", taken away" if worst.what in ("size", "piece", "detail") else f": taken away, was {worst.before}"
    return f": {worst.before} → {worst.after}"

"""What lies beside `pattern.toml`, CHANGES.md and its like, lays.json, layout.json and ledger.json: can it be read?

A merge in a repository, or an editor, leaves such files in two minds; a build must say so and not guess.
"""

import os
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import msgspec

from pipeline.lays.saved import LaysFile
from pipeline.ledger.book import LEDGER, Ledger
from pipeline.masters.copied import booklet_names, source_limit
from pipeline.masters.source_file import LARGEST_SAVED, LARGEST_TEXT, FileFault, read_source, source_fault
from pipeline.masters.toml.faults import did_you_mean
from pipeline.model.findings import Finding
from pipeline.model.pattern import Pattern
from pipeline.model.stages import Stage
from pipeline.model.texts import CHANGES, changes_file
from pipeline.sheets.layout import SavedLayout

STAGE = Stage(
    id="kept-files",
    title="`CHANGES.md`, `booklet/`, `lays.json`, `layout.json` and `ledger.json` can be read",
    rationale="A merge leaves such a file in two minds. A search that is not seen is a search that is lost, and an"
    " edited ledger no longer says what was sold.",
    severity="block",
)
_KINDS: dict[str, Any] = {"lays.json": LaysFile, "layout.json": SavedLayout}
_FORMAT = 1
_LARGEST = 1_000_000.0
"""No place on a sheet lies a kilometre away, no lay is so long, and no search has so many tries."""


def check_saved_files(pattern: Pattern, folder: Path, ledger: Ledger | FileFault) -> tuple[Finding, ...]:
    """A finding for a file that is not what a search or the designer wrote, and for a pin that holds nothing."""
    findings = [*_changes(pattern, folder), *_booklet(pattern, folder), *_ledger(pattern, ledger)]
    for name, kind in _KINDS.items():
        if not os.path.lexists(folder / name):
            continue
        data = read_source(folder / name, LARGEST_SAVED)
        if isinstance(data, FileFault):
            findings.append(_unread(pattern, name, data))
            continue
        try:
            read = msgspec.json.decode(data, type=kind)
            wrong = _wrong(read)
        except (msgspec.MsgspecError, RecursionError) as fault:
            wrong = str(fault)
        if wrong is not None:
            message = f"{name} cannot be read."
            remedy = f"Take it from your last commit, or delete it: `snakemake {Path(name).stem}` makes it anew."
            findings.append(_finding(pattern, name, "unreadable", message, wrong, "what a search wrote", remedy))
        elif isinstance(read, SavedLayout):
            findings += _pins(pattern, read)
    return tuple(findings)


def _changes(pattern: Pattern, folder: Path) -> Iterator[Finding]:
    """Faults of CHANGES.md and its like as files; that they are there, and what they tell, is another check."""
    for name in (CHANGES, *sorted(file.name for file in folder.glob(changes_file("*")))):
        if not os.path.lexists(folder / name):
            continue
        data = read_source(folder / name, LARGEST_TEXT)
        if isinstance(data, FileFault):
            yield _unread(pattern, name, data)
            continue
        try:
            data.decode("utf-8")
        except UnicodeDecodeError as error:
            line, byte = data.count(b"\n", 0, error.start) + 1, f"byte 0x{data[error.start]:02x}"
            message = f"{name} is not UTF-8: {byte} on line {line}."
            yield _finding(pattern, name, "not-utf8", message, byte, "UTF-8", "Save the file as UTF-8.")


def _booklet(pattern: Pattern, folder: Path) -> Iterator[Finding]:
    """Texts and figures of the booklet that are too large, or that may not be read."""
    for name in booklet_names(folder):
        if name.endswith((".md", ".svg")) and (fault := source_fault(folder / name, source_limit(name))) is not None:
            yield _unread(pattern, name, fault)


def _ledger(pattern: Pattern, ledger: Ledger | FileFault) -> Iterator[Finding]:
    """A ledger that cannot be read, or was edited since it was sealed."""
    if isinstance(ledger, FileFault):
        yield _unread(pattern, LEDGER, ledger)


def _wrong(read: LaysFile | SavedLayout) -> str | None:
    """What no search writes though the types hold: another format, or a number that no length or count reaches."""
    if read.format != _FORMAT:
        return f"format {read.format}"
    waiting: list[Any] = [msgspec.to_builtins(read)]
    while waiting:
        value = waiting.pop()
        if isinstance(value, dict):
            waiting.extend(value.values())
        elif isinstance(value, list | tuple):
            waiting.extend(value)
        elif isinstance(value, int | float) and not abs(value) <= _LARGEST:
            return f"the number {value:.6g}" if isinstance(value, float) else "a number that is too large"
    return None


def _unread(pattern: Pattern, name: str, fault: FileFault) -> Finding:
    message = f"{name} {fault.message}"
    return _finding(pattern, name, fault.code, message, fault.found, fault.allowed, fault.remedy)


def _pins(pattern: Pattern, saved: SavedLayout) -> list[Finding]:
    laid = [place.piece for place in saved.layout.placements]
    findings = []
    for piece in saved.pinned:
        if piece not in pattern.pieces and piece not in pattern.strips:
            message, allowed = f"layout.json pins {piece!r}, which is no piece.", "pieces of pattern.toml"
            remedy = did_you_mean(piece, [*pattern.pieces, *pattern.strips])
            findings.append(_finding(pattern, "layout.json", "no-such-piece", message, piece, allowed, remedy))
        elif piece not in laid:
            message, allowed = f"layout.json pins {piece}, but says nowhere where it lies.", "a placement"
            remedy = "Give it a placement, or take it out of pinned."
            findings.append(_finding(pattern, "layout.json", "no-place", message, piece, allowed, remedy))
    return findings


def _finding(pattern: Pattern, file: str, code: str, message: str, found: str, allowed: str, remedy: str) -> Finding:
    return Finding(
        check=STAGE.id,
        code=code,
        severity="block",
        pattern=pattern.name,
        file=file,
        found=found,
        allowed=allowed,
        message=message,
        remedy=remedy,
    )

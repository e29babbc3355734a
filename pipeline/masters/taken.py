"""The source is read once: a run copies what it reads of a pattern's folder and works on the copy alone.

Whoever saves a file meanwhile changes the source, not the copy; before a bundle is put into its place both are held
against each other, so that what is released was made from the source as it stands.
"""

import hashlib
import os
import stat
from pathlib import Path

import msgspec

from pipeline.masters.load import PATTERN_FILE, load_pattern
from pipeline.masters.lookup import check_files, masters_by_size
from pipeline.model.findings import Finding
from pipeline.model.pattern import Pattern

SAVED = ("lays.json", "layout.json")
"""What searches save beside a pattern."""
TEXTS = (PATTERN_FILE, "CHANGES.md")
_LARGEST_BYTES = 100_000_000


class Taken(msgspec.Struct, frozen=True):
    """A pattern's folder as copied. `hashes` are those of the copied files by their names in the folder."""

    pattern: Pattern | None
    findings: tuple[Finding, ...]
    hashes: dict[str, str]


class UnreadableError(Exception):
    """A file of the source cannot be read; the text says why."""


def take(folder: Path, copy: Path) -> Taken:
    """Copy all that a run reads of a pattern's folder; the last part of either path is the pattern's name."""
    findings: list[Finding] = []
    hashes = _copy(folder, copy, TEXTS, findings)
    if PATTERN_FILE in hashes:
        pattern, told = load_pattern(copy)
    else:
        pattern, told = load_pattern(folder)
        findings = []
    if pattern is not None:
        told = (*told, *check_files(pattern, folder))
        hashes |= _copy(folder, copy, (*SAVED, *_masters(pattern, folder)), findings)
    _forget_others(copy, hashes)
    return Taken(pattern, (*told, *findings), hashes)


def taken_before(copy: Path) -> Taken:
    """What was copied before, from the copy alone."""
    pattern, findings = load_pattern(copy)
    files = {file.relative_to(copy).as_posix(): file for file in sorted(copy.rglob("*")) if file.is_file()}
    return Taken(
        pattern, findings, {name: hashlib.sha256(file.read_bytes()).hexdigest() for name, file in files.items()}
    )


def changed_since(folder: Path, copy: Path) -> list[str]:
    """The files of a pattern's folder that are not what was copied, by name; those that came or went too."""
    pattern, _ = load_pattern(copy)
    there = {file.relative_to(copy).as_posix() for file in copy.rglob("*") if file.is_file()}
    names = {*TEXTS, *SAVED, *(_masters(pattern, folder) if pattern else ()), *there}
    changed = []
    for name in sorted(names):
        try:
            now = _read(folder / name)
        except UnreadableError:
            now = b"unreadable"
        if now != (_read(copy / name) if name in there else None):
            changed.append(name)
    return changed


def _masters(pattern: Pattern, folder: Path) -> list[str]:
    return sorted({file for files in masters_by_size(pattern, folder).values() for file in files})


def _copy(folder: Path, copy: Path, names: tuple[str, ...], findings: list[Finding]) -> dict[str, str]:
    hashes = {}
    for name in names:
        try:
            data = _read(folder / name)
        except UnreadableError as error:
            findings.append(_unreadable(folder.name, name, str(error)))
            continue
        if data is not None:
            _write(copy / name, data)
            hashes[name] = hashlib.sha256(data).hexdigest()
    return hashes


def _read(file: Path) -> bytes | None:
    """The content of a regular file, links followed; None where there is none. Raises UnreadableError."""
    try:
        descriptor = os.open(file, os.O_RDONLY | os.O_NONBLOCK | os.O_CLOEXEC)
    except FileNotFoundError:
        return None
    except OSError as error:
        raise UnreadableError(error.strerror or "an error") from None
    with open(descriptor, "rb") as stream:
        found = os.fstat(descriptor)
        if not stat.S_ISREG(found.st_mode):
            raise UnreadableError("it is no regular file")
        if found.st_size > _LARGEST_BYTES:
            raise UnreadableError(f"it has {found.st_size:,} bytes, more than {_LARGEST_BYTES:,}")
        try:
            return stream.read(_LARGEST_BYTES)
        except OSError as error:
            raise UnreadableError(error.strerror or "an error") from None


def _write(file: Path, data: bytes) -> None:
    """A copy is written when its content changes, whatever the dates: jobs then see a new file."""
    if file.is_file() and file.read_bytes() == data:
        return
    file.parent.mkdir(parents=True, exist_ok=True)
    beside = file.with_name(f".{file.name}.new")
    beside.write_bytes(data)
    beside.replace(file)


def _forget_others(copy: Path, hashes: dict[str, str]) -> None:
    for file in list(copy.rglob("*")) if copy.is_dir() else ():
        if file.is_file() and file.relative_to(copy).as_posix() not in hashes:
            file.unlink()


def _unreadable(pattern: str, name: str, why: str) -> Finding:
    return Finding(
        check="master-files",
        code="unreadable",
        severity="block",
        pattern=pattern,
        file=name,
        found=why,
        allowed="a file that can be read",
        message=f"{name} cannot be read: {why}.",
        remedy="Make it a file that you may read.",
    )

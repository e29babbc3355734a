"""Which master file belongs to a piece and a size, and which SVG belongs to none."""

import os
from collections.abc import Collection, Iterator
from functools import cached_property
from pathlib import Path

from pipeline.masters.source_file import LARGEST_MASTER, FileFault, plain_name, source_fault
from pipeline.masters.stages import MASTER_FILES
from pipeline.masters.toml.faults import did_you_mean, shown
from pipeline.model.findings import Finding, Severity
from pipeline.model.pattern import Pattern

MASTERS = "sizes"
EVERY_SIZE = "all"
MOST_FILES = 50_000
"""SVG files under `sizes/`: a hundred pieces in a hundred sizes are 10,000."""
MOST_STRAYS = 20
"""More files than this that nothing reads are told at once: a copy of another folder is one mistake."""
MOST_TOLD = 200


def master_file(pattern: Pattern, folder: Path, piece: str, size: str) -> tuple[str | None, tuple[Finding, ...]]:
    """The master of a piece in a size, relative to the pattern's folder; None and why where there is not just one.

    It is looked up in the size's folder, then in those of the size's sets, then in `all`; a derived piece has the
    master of its source.
    """
    return _answer(pattern, _Masters(folder), piece, size)


def master_files(pattern: Pattern, folder: Path, size: str) -> dict[str, str]:
    """The masters of one size by piece, in the order of the pattern; pieces that have none are left out."""
    return _files_of(pattern, _Masters(folder), size)


def masters_by_size(pattern: Pattern, folder: Path) -> dict[str, tuple[str, ...]]:
    """The masters of each size, sorted."""
    there = _Masters(folder)
    return {size: tuple(sorted(set(_files_of(pattern, there, size).values()))) for size in pattern.sizes}


def check_files(pattern: Pattern, folder: Path, drawn: Collection[str] = ()) -> tuple[Finding, ...]:
    """A finding for every master that is missing, stands twice or is no file to read, and for SVGs that nothing claims.

    No file is opened: what is told here keeps a run from ever touching it. `drawn` are masters that drawings show.
    """
    there = _Masters(folder, drawn)
    if len(there.names) >= MOST_FILES:
        return (_too_many_files(pattern),)
    findings: list[Finding] = []
    claimed: dict[str, tuple[str, str]] = {}
    for size in pattern.sizes:
        for piece in _made_in(pattern, size):
            for file in _candidates(pattern, there, piece, size):
                claimed.setdefault(file, (piece, size))
            if pattern.pieces[piece].source is None:
                findings.extend(_answer(pattern, there, piece, size)[1])
    for file, (piece, size) in claimed.items():
        if file not in drawn and (fault := source_fault(folder / file, LARGEST_MASTER)) is not None:
            findings.append(unread(pattern, file, piece, size, fault))
    strays = sorted(there.names - claimed.keys())
    if len(strays) > MOST_STRAYS:
        findings.append(_strays(pattern, strays))
    else:
        findings.extend(_unclaimed(pattern, file) for file in strays)
    if len(findings) > MOST_TOLD:
        return (*findings[:MOST_TOLD], _more(pattern, len(findings) - MOST_TOLD))
    return tuple(findings)


def unread(pattern: Pattern, file: str, piece: str | None, size: str | None, fault: FileFault) -> Finding:
    """The finding of a master, or a drawing of many, that is no file to read."""
    message = f"{file} {fault.message}"
    return file_finding(pattern, fault.code, message, fault.remedy, file, piece, size, fault.found, fault.allowed)


def _made_in(pattern: Pattern, size: str) -> Iterator[str]:
    return (name for name, piece in pattern.pieces.items() if size in piece.sizes)


class _Masters:
    """All SVG files under `sizes/`, and the masters that are `drawn` elsewhere, relative to the folder.

    They are spelled as they really are; hidden files do not count.
    """

    def __init__(self, folder: Path, drawn: Collection[str] = ()) -> None:
        names = set(drawn)
        for place, folders, files in os.walk(folder / MASTERS, followlinks=True):
            inside = Path(place).relative_to(folder)
            folders[:] = [] if len(inside.parts) > 3 else [name for name in folders if not name.startswith(".")]
            svgs = (file for file in files if file.lower().endswith(".svg") and not file.startswith("."))
            names.update(f"{inside.as_posix()}/{file}" for file in svgs)
            if len(names) >= MOST_FILES:
                break
        self.names = frozenset(names)

    @cached_property
    def by_lower_case(self) -> dict[str, str]:
        """The first of the names that are spelled alike but for capitals."""
        return {name.lower(): name for name in sorted(self.names, reverse=True)}


def _files_of(pattern: Pattern, there: _Masters, size: str) -> dict[str, str]:
    answers = {piece: _answer(pattern, there, piece, size)[0] for piece in _made_in(pattern, size)}
    return {piece: file for piece, file in answers.items() if file is not None}


def _candidates(pattern: Pattern, there: _Masters, piece: str, size: str) -> list[str]:
    """The files that answer for a piece and size: of the size, else of its sets, else of every size."""
    drawn = pattern.pieces[piece].source or piece
    sets = [name for name, sizes in pattern.size_sets.items() if size in sizes]
    for groups in ([size], sets, [EVERY_SIZE]):
        if answers := [file for group in groups if (file := f"{MASTERS}/{group}/{drawn}.svg") in there.names]:
            return answers
    return []


def _answer(pattern: Pattern, there: _Masters, piece: str, size: str) -> tuple[str | None, tuple[Finding, ...]]:
    files = _candidates(pattern, there, piece, size)
    if len(files) == 1:
        return files[0], ()
    drawn = pattern.pieces[piece].source or piece
    own = f"{MASTERS}/{size}/{drawn}.svg"
    if files:
        message = f"{piece} has {len(files)} masters for size {size}, each in a set of this size."
        remedy = "Take all but one out, or give the size a master of its own."
        finding = file_finding(
            pattern, "two-masters", message, remedy, own, piece, size, ", ".join(files), "one master"
        )
        return None, (finding,)
    like = there.by_lower_case.get(own.lower())
    limit = f'limit the piece to its sizes: pieces.{drawn}.sizes = ["…"]'
    remedy = f"Rename {like}: capitals count." if like else f"Draw {own}, or {limit}."
    message = f"{piece} has no master for size {size}."
    allowed = "a file in the folder of the size, of one of its sets, or in all"
    return None, (file_finding(pattern, "no-master", message, remedy, own, piece, size, "no file", allowed),)


def _too_many_files(pattern: Pattern) -> Finding:
    message = f"{MASTERS}/ holds {MOST_FILES:,} SVG files or more."
    remedy = f"Take out of {MASTERS}/ what is no master."
    return file_finding(
        pattern,
        "too-many-files",
        message,
        remedy,
        MASTERS,
        found=f"{MOST_FILES:,} or more",
        allowed=f"below {MOST_FILES:,}",
    )


def _strays(pattern: Pattern, files: list[str]) -> Finding:
    names = ", ".join(map(plain_name, files[:3]))
    message = f"{len(files):,} SVG files are read for no piece and size; the first are {names}."
    remedy = f"Take them out of {MASTERS}/, or name them in pattern.toml."
    found, allowed = f"{len(files):,} files", f"{MASTERS}/<size, set or all>/<piece>.svg"
    return file_finding(pattern, "unclaimed-file", message, remedy, MASTERS, found=found, allowed=allowed)


def _more(pattern: Pattern, count: int) -> Finding:
    message, remedy = f"{count:,} more faults of files are not listed.", "Mend the ones that are listed first."
    found, allowed = f"{count:,}", f"{MOST_TOLD} are listed"
    return file_finding(pattern, "more-findings", message, remedy, MASTERS, found=found, allowed=allowed)


def _unclaimed(pattern: Pattern, raw: str) -> Finding:
    """Why nothing reads a file, as far as its name tells."""
    file = plain_name(raw)
    parts = file.split("/")
    group, name = parts[1], parts[-1][: -len(".svg")]
    allowed = f"{MASTERS}/<size, set or all>/<piece>.svg"
    if len(parts) != 3:
        why, remedy = "it does not lie in the folder of a size", f"Move it to {allowed}, or out of {MASTERS}/."
    elif file != raw:
        why, remedy = "its name is not UTF-8", "Rename it: letters, digits, - and _."
    elif not file.endswith(".svg"):
        why, remedy = "its name does not end in .svg", "Rename it: capitals count."
    elif group not in pattern.sizes and group not in pattern.size_sets and group != EVERY_SIZE:
        why = f"{shown(group)} is no size and no set"
        remedy = did_you_mean(group, [*pattern.sizes, *pattern.size_sets, EVERY_SIZE])
    elif name not in pattern.pieces:
        why, remedy = f"{shown(name)} is no piece of pattern.toml", did_you_mean(name, pattern.pieces)
    elif pattern.pieces[name].source is not None:
        why = f"{name} takes its outline from {pattern.pieces[name].source}"
        remedy = "Take the file out, or outline_of."
    elif group in pattern.sizes and group not in pattern.pieces[name].sizes:
        why, remedy = (
            f"{name} is not made in size {group}",
            f"Take the file out, or add the size to pieces.{name}.sizes.",
        )
    else:
        why, remedy = "every size that it is for has a master of its own", "Take out the file that is not meant."
    message = f"{file} is read for no piece and size: {why}."
    piece = name if len(parts) == 3 and name in pattern.pieces else None
    size = group if group in pattern.sizes else None
    return file_finding(pattern, "unclaimed-file", message, remedy, file, piece, size, file, allowed)


def file_finding(
    pattern: Pattern,
    code: str,
    message: str,
    remedy: str,
    file: str,
    piece: str | None = None,
    size: str | None = None,
    found: str = "",
    allowed: str = "",
    severity: Severity = "block",
) -> Finding:
    """What is to be told of the files of masters."""
    return Finding(
        check=MASTER_FILES.id,
        code=code,
        severity=severity,
        pattern=pattern.name,
        size=size,
        piece=piece,
        file=file,
        found=found,
        allowed=allowed,
        message=message,
        remedy=remedy,
    )

"""Which master file belongs to a piece and a size, and which SVG belongs to none."""

import os
from collections.abc import Iterator
from pathlib import Path

from pipeline.masters.faults import did_you_mean, shown
from pipeline.model.findings import Finding
from pipeline.model.pattern import Pattern

MASTERS = "sizes"
EVERY_SIZE = "all"


def master_file(pattern: Pattern, folder: Path, piece: str, size: str) -> tuple[str | None, tuple[Finding, ...]]:
    """The master of a piece in a size, relative to the pattern's folder; None and why where there is not just one.

    It is looked up in the size's folder, then in those of the size's sets, then in `all`; a derived piece has the
    master of its source.
    """
    return _answer(pattern, _master_names(folder), piece, size)


def master_files(pattern: Pattern, folder: Path, size: str) -> dict[str, str]:
    """The masters of one size by piece, in the order of the pattern; pieces that have none are left out."""
    return _files_of(pattern, _master_names(folder), size)


def masters_by_size(pattern: Pattern, folder: Path) -> dict[str, tuple[str, ...]]:
    """The masters of each size, sorted."""
    there = _master_names(folder)
    return {size: tuple(sorted(set(_files_of(pattern, there, size).values()))) for size in pattern.sizes}


def _files_of(pattern: Pattern, there: frozenset[str], size: str) -> dict[str, str]:
    answers = {piece: _answer(pattern, there, piece, size)[0] for piece in _made_in(pattern, size)}
    return {piece: file for piece, file in answers.items() if file is not None}


def check_files(pattern: Pattern, folder: Path) -> tuple[Finding, ...]:
    """A finding for every master that is missing or stands twice, and for every SVG that no piece or size claims."""
    there = _master_names(folder)
    findings: list[Finding] = []
    claimed: set[str] = set()
    for size in pattern.sizes:
        for piece in _made_in(pattern, size):
            claimed.update(_candidates(pattern, there, piece, size))
            if pattern.pieces[piece].source is None:
                findings.extend(_answer(pattern, there, piece, size)[1])
    findings.extend(_unclaimed(pattern, file) for file in sorted(there - claimed))
    return tuple(findings)


def _made_in(pattern: Pattern, size: str) -> Iterator[str]:
    return (name for name, piece in pattern.pieces.items() if size in piece.sizes)


def _master_names(folder: Path) -> frozenset[str]:
    """All SVG files under `sizes/`, relative to the folder, as they are really spelled; hidden files do not count."""
    names: set[str] = set()
    for place, folders, files in os.walk(folder / MASTERS, followlinks=True):
        depth = len(Path(place).relative_to(folder).parts)
        folders[:] = [] if depth > 3 else [name for name in folders if not name.startswith(".")]
        inside = Path(place).relative_to(folder).as_posix()
        names.update(f"{inside}/{file}" for file in files if file.lower().endswith(".svg") and not file.startswith("."))
    return frozenset(names)


def _candidates(pattern: Pattern, there: frozenset[str], piece: str, size: str) -> list[str]:
    """The files that answer for a piece and size: of the size, else of its sets, else of every size."""
    drawn = pattern.pieces[piece].source or piece
    sets = [name for name, sizes in pattern.size_sets.items() if size in sizes]
    for groups in ([size], sets, [EVERY_SIZE]):
        if answers := [file for group in groups if (file := f"{MASTERS}/{group}/{drawn}.svg") in there]:
            return answers
    return []


def _answer(pattern: Pattern, there: frozenset[str], piece: str, size: str) -> tuple[str | None, tuple[Finding, ...]]:
    files = _candidates(pattern, there, piece, size)
    if len(files) == 1:
        return files[0], ()
    drawn = pattern.pieces[piece].source or piece
    own = f"{MASTERS}/{size}/{drawn}.svg"
    if files:
        message = f"{piece} has {len(files)} masters for size {size}, each in a set of this size."
        remedy = "Take all but one out, or give the size a master of its own."
        finding = _finding(pattern, "two-masters", message, remedy, own, piece, size, ", ".join(files), "one master")
        return None, (finding,)
    like = sorted(file for file in there if file.lower() == own.lower())
    limit = f'limit the piece to its sizes: pieces.{drawn}.sizes = ["…"]'
    remedy = f"Rename {like[0]}: capitals count." if like else f"Draw {own}, or {limit}."
    message = f"{piece} has no master for size {size}."
    allowed = "a file in the folder of the size, of one of its sets, or in all"
    return None, (_finding(pattern, "no-master", message, remedy, own, piece, size, "no file", allowed),)


def _unclaimed(pattern: Pattern, file: str) -> Finding:
    """Why nothing reads a file, as far as its name tells."""
    parts = file.split("/")
    group, name = parts[1], parts[-1][: -len(".svg")]
    allowed = f"{MASTERS}/<size, set or all>/<piece>.svg"
    if len(parts) != 3:
        why, remedy = "it does not lie in the folder of a size", f"Move it to {allowed}, or out of {MASTERS}/."
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
    return _finding(pattern, "unclaimed-file", message, remedy, file, piece, size, file, allowed)


def _finding(
    pattern: Pattern,
    code: str,
    message: str,
    remedy: str,
    file: str,
    piece: str | None,
    size: str | None,
    found: str,
    allowed: str,
) -> Finding:
    return Finding(
        check="master-files",
        code=code,
        severity="block",
        pattern=pattern.name,
        size=size,
        piece=piece,
        file=file,
        found=found,
        allowed=allowed,
        message=message,
        remedy=remedy,
    )

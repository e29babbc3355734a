"""The source is read once: a run copies what it reads of a pattern's folder and works on the copy alone.

Whoever saves a file meanwhile changes the source, not the copy; before a bundle is put into its place both are held
against each other, so that what is released was made from the source as it stands.
"""

import hashlib
from collections.abc import Iterable
from itertools import islice
from pathlib import Path

import msgspec

from pipeline.masters.load import PATTERN_FILE, load_pattern
from pipeline.masters.lookup import check_files, masters_by_size, unread
from pipeline.masters.names import WORDS_FOLDER
from pipeline.masters.source_file import LARGEST_KEPT, LARGEST_MASTER, LARGEST_TEXT, FileFault, read_source
from pipeline.masters.words_file import LARGEST_WORDS, words_file
from pipeline.model.findings import Finding
from pipeline.model.pattern import Pattern

SAVED = ("lays.json", "layout.json")
"""What searches save beside a pattern."""
TEXTS = (PATTERN_FILE, "CHANGES.md")
BOOKLET = "booklet"
MOST_OF_BOOKLET = 1_000
_MOST_LANGUAGES = 200
_LIMITS = {**dict.fromkeys(SAVED, LARGEST_KEPT), **dict.fromkeys(TEXTS, LARGEST_TEXT)}


class Taken(msgspec.Struct, frozen=True):
    """A pattern's folder as copied. `hashes` are those of the copied files by their names in the folder.

    The words beside it are copied too; as they belong to no folder, they are told by the pattern that has read them.
    """

    pattern: Pattern | None
    findings: tuple[Finding, ...]
    hashes: dict[str, str]


def take(folder: Path, copy: Path) -> Taken:
    """Copy all that a run reads of a pattern's folder; the last part of either path is the pattern's name.

    What cannot be read is not copied. Masters and `pattern.toml` are told here, other files by `check_kept_files`.
    """
    hashes, faults = _copy(folder, copy, TEXTS)
    words, unread_words = _copy(folder.parent, copy.parent, _words(folder.parent))
    _forget_others(copy.parent, words, WORDS_FOLDER)
    pattern, told = load_pattern(folder if PATTERN_FILE in faults or unread_words else copy)
    if pattern is not None:
        told = (*told, *check_files(pattern, folder))
        masters = masters_by_size(pattern, folder)
        names = sorted({file for files in masters.values() for file in files})
        more, faults = _copy(folder, copy, (*SAVED, *names, *booklet_names(folder)))
        hashes |= more
        named = {finding.file for finding in told}
        for size, files in masters.items():
            pieces = ((file, Path(file).stem) for file in files if file in faults and file not in named)
            told = (*told, *(unread(pattern, file, piece, size, faults[file]) for file, piece in pieces))
    _forget_others(copy, hashes)
    return Taken(pattern, told, hashes)


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
    masters = masters_by_size(pattern, folder).values() if pattern else ()
    changed = []
    mine = (file for files in masters for file in files)
    for name in sorted({*TEXTS, *SAVED, *mine, *booklet_names(folder), *there}):
        was = (copy / name).read_bytes() if name in there else None
        if _content(folder, name) != was:
            changed.append(name)
    words = (words_file(language) for language in (pattern.languages if pattern else ()))
    return changed + [name for name in words if _content(folder.parent, name) != _content(copy.parent, name)]


def _content(folder: Path, name: str) -> bytes | None:
    data = read_source(folder / name, source_limit(name))
    return None if isinstance(data, FileFault) else data


def _copy(folder: Path, copy: Path, names: Iterable[str]) -> tuple[dict[str, str], dict[str, FileFault]]:
    """Hashes of what was copied, and why the rest was not."""
    hashes, faults = {}, {}
    for name in names:
        data = read_source(folder / name, source_limit(name))
        if isinstance(data, FileFault):
            faults[name] = data
        else:
            _write(copy / name, data)
            hashes[name] = hashlib.sha256(data).hexdigest()
    return hashes, faults


def booklet_names(folder: Path) -> list[str]:
    """What lies in a pattern's booklet, the first of it."""
    names = (file.relative_to(folder).as_posix() for file in (folder / BOOKLET).rglob("*") if file.is_file())
    return sorted(islice(names, MOST_OF_BOOKLET))


def _words(source: Path) -> list[str]:
    """The words that a designer brings for all patterns."""
    names = (file.relative_to(source).as_posix() for file in (source / WORDS_FOLDER).glob("*.toml"))
    return sorted(islice(names, _MOST_LANGUAGES))


def source_limit(name: str) -> int:
    """How large a file of this name may be."""
    if name.startswith(f"{BOOKLET}/") and name.endswith(".md"):
        return LARGEST_TEXT
    return LARGEST_WORDS if name.startswith(f"{WORDS_FOLDER}/") else _LIMITS.get(name, LARGEST_MASTER)


def _write(file: Path, data: bytes) -> None:
    """A copy is written when its content changes, whatever the dates: jobs then see a new file."""
    if file.is_file() and file.read_bytes() == data:
        return
    file.parent.mkdir(parents=True, exist_ok=True)
    beside = file.with_name(f".{file.name[:200]}.new")
    beside.write_bytes(data)
    beside.replace(file)


def _forget_others(copy: Path, hashes: dict[str, str], below: str = "") -> None:
    for file in list((copy / below).rglob("*")) if (copy / below).is_dir() else ():
        if file.is_file() and file.relative_to(copy).as_posix() not in hashes:
            file.unlink()

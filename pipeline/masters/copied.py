"""The source is read once: a run copies what it reads of a pattern's folder and works on the copy alone.

Whoever saves a file meanwhile changes the source, not the copy; before a bundle is put into its place both are held
against each other, so that what is released was made from the source as it stands.
"""

import hashlib
from collections.abc import Callable, Iterable, Mapping
from itertools import islice
from pathlib import Path

import msgspec

from pipeline.masters.drawings.files import drawings_of
from pipeline.masters.drawings.result import CutOut
from pipeline.masters.drawings.telling import drawings_told
from pipeline.masters.drawings.write import origin_of
from pipeline.masters.lookup import MASTERS, masters_by_size, unread
from pipeline.masters.source_file import (
    LARGEST_DRAWING,
    LARGEST_MASTER,
    LARGEST_SAVED,
    LARGEST_TEXT,
    FileFault,
    read_source,
)
from pipeline.masters.toml.load import load_pattern
from pipeline.masters.toml.names import WORDS_FOLDER
from pipeline.masters.toml.toml_file import PATTERN_FILE
from pipeline.masters.toml.words_file import LARGEST_WORDS, words_file
from pipeline.model.findings import Finding
from pipeline.model.pattern import Pattern
from pipeline.model.texts import CHANGES, changes_file
from pipeline.work.cache import Answers

SAVED = ("lays.json", "layout.json")
"""What searches save beside a pattern."""
TEXTS = (PATTERN_FILE, CHANGES)
BOOKLET = "booklet"
LOGO = f"{BOOKLET}/logo.svg"
"""What stands at a booklet's foot and at the head of start pages."""
DRAWN = ".drawn"
"""Where drawings are copied to: masters that are cut out of them lie where those of a folder do."""
MOST_OF_BOOKLET = 1_000
_MOST_LANGUAGES = 200
_LIMITS = {**dict.fromkeys(SAVED, LARGEST_SAVED), **dict.fromkeys(TEXTS, LARGEST_TEXT)}


class CopiedFolder(msgspec.Struct, frozen=True):
    """A pattern's folder as copied. `hashes` are those of the copied files by their names in the folder.

    The words beside it are copied too; as they belong to no folder, they are told by the pattern that has read them.
    `told` says what drawings showed.
    """

    pattern: Pattern | None
    findings: tuple[Finding, ...]
    hashes: dict[str, str]
    told: tuple[str, ...] = ()


Cut = Callable[[Pattern, Path, Mapping[str, str]], CutOut]
"""How masters are cut out of the drawings in a folder, of which the hashes are given."""


def cut_anew(pattern: Pattern, folder: Path, hashes: Mapping[str, str], answers: Answers | None = None) -> CutOut:
    """Without looking for what was cut before; `answers` say what was found of each size that did not change."""
    from pipeline.masters.drawings.cut import cut_drawings  # numpy: most patterns have no drawings

    return cut_drawings(pattern, folder, answers)


def copy_folder(folder: Path, copy: Path, cut_out: Cut = cut_anew) -> CopiedFolder:
    """Copy all that a run reads of a pattern's folder; the last part of either path is the pattern's name.

    Masters that are drawn in drawings are cut out of these, and lie in the copy as those that are files.

    What cannot be read is not copied. Masters and `pattern.toml` are told here, other files by `check_saved_files`.
    """
    hashes, faults = _copy(folder, copy, TEXTS)
    words, unread_words = _copy(folder.parent, copy.parent, _words(folder.parent))
    _forget_others(copy.parent, words, WORDS_FOLDER)
    pattern, told = load_pattern(folder if PATTERN_FILE in faults or unread_words else copy)
    shown: tuple[str, ...] = ()
    if pattern is not None:
        drawings = drawings_of(pattern, folder)
        more, faults = _copy(folder, copy / DRAWN, drawings, LARGEST_DRAWING)
        told = (*told, *(unread(pattern, name, None, None, fault) for name, fault in faults.items()))
        hashes |= {f"{DRAWN}/{name}": content for name, content in more.items()}
        _forget_others(copy / DRAWN, more)
        cut = cut_out(pattern, copy / DRAWN, more) if drawings else CutOut()
        found, shown = drawings_told(pattern, folder, cut)
        told = (*told, *found)
        masters = masters_by_size(pattern, folder)
        names = sorted({file for files in masters.values() for file in files})
        mine = (*SAVED, *(n for n in names if n not in cut.masters), *booklet_names(folder), *changes_names(folder))
        more, faults = _copy(folder, copy, mine)
        hashes |= more | _cut_out(copy, cut.masters)
        named = {finding.file for finding in told}
        for size, files in masters.items():
            pieces = ((file, Path(file).stem) for file in files if file in faults and file not in named)
            told = (*told, *(unread(pattern, file, piece, size, faults[file]) for file, piece in pieces))
    _forget_others(copy, hashes)
    return CopiedFolder(pattern, told, hashes, shown)


def copied_before(copy: Path) -> CopiedFolder:
    """What was copied before, from the copy alone."""
    pattern, findings = load_pattern(copy)
    files = {file.relative_to(copy).as_posix(): file for file in sorted(copy.rglob("*")) if file.is_file()}
    return CopiedFolder(
        pattern, findings, {name: hashlib.sha256(file.read_bytes()).hexdigest() for name, file in files.items()}
    )


def changed_since(folder: Path, copy: Path) -> list[str]:
    """The files of a pattern's folder that are not what was copied, by name; those that came or went too."""
    pattern, _ = load_pattern(copy)
    there = {file.relative_to(copy).as_posix() for file in copy.rglob("*") if file.is_file()}
    masters = masters_by_size(pattern, folder).values() if pattern else ()
    drawings = set(drawings_of(pattern, folder)) if pattern else set()
    drawn = {name.removeprefix(f"{DRAWN}/") for name in there if name.startswith(f"{DRAWN}/")}
    there -= {name for name in there if name.startswith(f"{DRAWN}/") or _is_cut_out(copy, name)}
    read = {file for files in masters for file in files if file not in drawn}
    changed = []
    for name in sorted({*TEXTS, *SAVED, *read, *booklet_names(folder), *changes_names(folder), *there}):
        was = (copy / name).read_bytes() if name in there else None
        if _content(folder, name) != was:
            changed.append(name)
    for name in sorted(drawings | drawn):
        was = (copy / DRAWN / name).read_bytes() if name in drawn else None
        if _content(folder, name, LARGEST_DRAWING) != was:
            changed.append(name)
    words = (words_file(language) for language in (pattern.languages if pattern else ()))
    return changed + [name for name in words if _content(folder.parent, name) != _content(copy.parent, name)]


def _cut_out(copy: Path, masters: Mapping[str, bytes]) -> dict[str, str]:
    """Hashes of the masters that were cut out of drawings, written where those of a folder are copied."""
    for name, data in masters.items():
        _write(copy / name, data)
    return {name: hashlib.sha256(data).hexdigest() for name, data in masters.items()}


def _is_cut_out(copy: Path, name: str) -> bool:
    """Whether a file of the copy is a master that has no file of its own in the source."""
    return name.startswith(f"{MASTERS}/") and origin_of((copy / name).read_bytes()) is not None


def _content(folder: Path, name: str, limit: int | None = None) -> bytes | None:
    data = read_source(folder / name, limit or source_limit(name))
    return None if isinstance(data, FileFault) else data


def _copy(
    folder: Path, copy: Path, names: Iterable[str], limit: int | None = None
) -> tuple[dict[str, str], dict[str, FileFault]]:
    """Hashes of what was copied, and why the rest was not."""
    hashes, faults = {}, {}
    for name in names:
        data = read_source(folder / name, limit or source_limit(name))
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


def changes_names(folder: Path) -> list[str]:
    """What a pattern tells of its versions in a language besides its first: CHANGES.de.md."""
    return sorted(islice((file.name for file in folder.glob(changes_file("*")) if file.is_file()), _MOST_LANGUAGES))


def _words(source: Path) -> list[str]:
    """The words that a designer brings for all patterns."""
    names = (file.relative_to(source).as_posix() for file in (source / WORDS_FOLDER).glob("*.toml"))
    return sorted(islice(names, _MOST_LANGUAGES))


def source_limit(name: str) -> int:
    """How large a file of this name may be."""
    if name.endswith(".md") and name.startswith((f"{BOOKLET}/", changes_file("").removesuffix(".md"))):
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

"""What a run is about: the patterns under `source/`, each read once, before any rule."""

from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

import msgspec

from pipeline.checks.attempts import could_not_run
from pipeline.ledger.before import sold_before
from pipeline.ledger.book import Ledger, read_ledger
from pipeline.ledger.sheets import keeps_sheets_of, sold_layouts, source_digest
from pipeline.masters.copied import BOOKLET, LOGO, TEXTS, CopiedFolder, copied_before, copy_folder, cut_anew
from pipeline.masters.drawings.result import CutOut
from pipeline.masters.lookup import masters_by_size
from pipeline.masters.source_file import FileFault, plain_name
from pipeline.masters.toml.names import folder_fault
from pipeline.masters.toml.toml_file import PATTERN_FILE
from pipeline.model.findings import Finding, FindingsFile, blocks
from pipeline.model.pattern import Pattern
from pipeline.rules.saved_files import check_saved_files
from pipeline.work.cache import Answers, Cache, CodeOf
from pipeline.work.code import code_digest
from pipeline.work.files import write

SOLD, FORMER = "sold-layout.json", "sold-before.json"
"""Beside the copy of a pattern's folder, from its ledger."""
_CUTTING_OUT = "pipeline.masters.drawings.cut"

LedgerOf = Callable[[Path], Ledger | FileFault]


class RefusalError(Exception):
    """The run cannot start; the text says why, for the person who asked."""


class Source(msgspec.Struct, frozen=True):
    """One pattern's folder as copied: `pattern` is None where its `pattern.toml` was refused.

    `folder` is the copy that jobs read, `origin` what the designer keeps; `hashes` are by names in either. `told` says
    what was found in drawings; `ledger` what was sold, or why that cannot be read.
    """

    name: str
    origin: Path
    folder: Path
    pattern: Pattern | None
    findings: tuple[Finding, ...]
    hashes: dict[str, str]
    masters: dict[str, tuple[str, ...]]
    told: tuple[str, ...] = ()
    ledger: Ledger | FileFault = Ledger()

    def texts(self) -> list[Path]:
        """What the designer wrote besides masters: `pattern.toml`, and what there is of `CHANGES.md`, of its like in
        other languages, and of a booklet.
        """
        booklet = (name for name in self.hashes if name.startswith(f"{BOOKLET}/"))
        told = (name for name in self.hashes if name.startswith("CHANGES.") and name not in TEXTS)
        return [self.folder / name for name in (*(name for name in TEXTS if name in self.hashes), *told, *booklet)]

    def booklet(self) -> list[Path]:
        """What of it the booklet prints: its own files, and what is told of versions."""
        return [file for file in self.texts() if file.name != PATTERN_FILE]

    def cover(self) -> list[Path]:
        """The drawings that stand on a cover, which lie in booklet/ itself."""
        return [file for file in self.booklet() if file.suffix == ".svg" and file.parent == self.folder / BOOKLET]

    def logo(self) -> list[Path]:
        """The logo, where there is one."""
        return [self.folder / LOGO] if LOGO in self.hashes else []

    def saved(self, *names: str) -> list[Path]:
        """Those of these files that a search has saved beside the pattern: lays.json, layout.json."""
        return [self.folder / name for name in names if name in self.hashes]

    def sold(self) -> list[Path]:
        """Where pieces lay on the sheets that were sold last, where this build keeps them there."""
        return self._beside(SOLD)

    def former(self) -> list[Path]:
        """The version that was sold before this one, where there is any."""
        return self._beside(FORMER)

    def _beside(self, name: str) -> list[Path]:
        file = self.folder.with_name(name)
        return [file] if file.is_file() else []

    def layouts(self) -> list[Path]:
        """What this build begins its sheets with: those that were sold, else those that a search has saved."""
        return self.sold() or self.saved("layout.json")

    def masters_of(self, size: str) -> list[Path]:
        """The master files of one size that are there; the reader tells of those that are not."""
        return [self.folder / file for file in self.masters[size]]


def pattern_names(source: Path, only: str | None) -> list[str]:
    """The patterns that a run is about. Raises RefusalError."""
    if not source.is_dir():
        raise RefusalError(f"There is no folder {source}. Say where the patterns are with --config source=FOLDER.")
    there = sorted(path.parent.name for path in source.glob("*/pattern.toml"))
    wanted = there if only is None else [name.strip() for name in str(only).split(",")]
    if unknown := [name for name in wanted if name not in there]:
        raise RefusalError(
            f"No pattern is called {', '.join(unknown)}: {source} has {', '.join(there) or 'none'}. "
            "A pattern is a folder with a pattern.toml in it."
        )
    if not wanted:
        raise RefusalError(f"{source} has no pattern: a pattern is a folder with a pattern.toml in it.")
    for name in wanted:
        if fault := folder_fault(plain_name(name)):
            raise RefusalError(f"The folder {plain_name(name)!r} of {source} {fault}. Rename it.")
    return list(dict.fromkeys(wanted))


def read_source(origin: Path, work: Path, ledger_of: LedgerOf = read_ledger, code_of: CodeOf = code_digest) -> Source:
    """Copy a pattern's folder and read the copy.

    What was found on the way is left beside it, for the job that merges findings. Raises OSError for a work folder
    that cannot be written.
    """
    ledger = ledger_of(origin)
    try:
        copy = _copy_of(origin, work)
        taken = copy_folder(origin, copy, lambda *drawn: _cut_once(copy, code_of, *drawn))
        if taken.pattern is not None:
            findings = (*taken.findings, *check_saved_files(taken.pattern, origin, ledger))
            taken = msgspec.structs.replace(taken, findings=findings)
    except OSError:
        raise
    except Exception as fault:  # the other patterns are built all the same
        taken = CopiedFolder(None, (could_not_run("pattern-file", origin.name, fault),), {})
    source = msgspec.structs.replace(_source(origin, work, taken), ledger=ledger)
    _leave_sold(source)
    found = msgspec.json.encode(FindingsFile(findings=taken.findings))
    if not found_file(source).is_file() or found_file(source).read_bytes() != found:
        write(found_file(source), found)
    return source


def _leave_sold(source: Source) -> None:
    """Leave what was sold beside the copy, for the jobs that keep it and for those that tell what changed since.

    A ledger that cannot be read was told of with the source.
    """
    layouts, former, ledger = None, None, source.ledger
    if isinstance(ledger, Ledger) and source.pattern is not None:
        former = sold_before(ledger, source.pattern.version)
        entry = keeps_sheets_of(ledger, source_digest(source.hashes))
        if entry is not None and not source.pattern.renew_layout:
            layouts = sold_layouts(ledger, entry)
    for name, data in ((SOLD, layouts), (FORMER, msgspec.json.encode(former) if former else None)):
        place = source.folder.with_name(name)
        if data is None:
            place.unlink(missing_ok=True)
        elif not place.is_file() or place.read_bytes() != data:
            write(place, data)


def read_again(origin: Path, work: Path) -> Source:
    """A pattern's folder as the run's first process copied it."""
    return _source(origin, work, copied_before(_copy_of(origin, work)))


def _source(origin: Path, work: Path, taken: CopiedFolder) -> Source:
    copy = _copy_of(origin, work)
    masters = masters_by_size(taken.pattern, copy) if taken.pattern else {}
    return Source(origin.name, origin, copy, taken.pattern, taken.findings, taken.hashes, masters, taken.told)


def _cut_once(copy: Path, code_of: CodeOf, pattern: Pattern, folder: Path, hashes: Mapping[str, str]) -> CutOut:
    """What the drawings show: as it was cut before, where neither they nor what is said of pieces and sizes changed.

    Where one changed, sizes that did not are as they were cut before.
    """
    cache = Cache(copy.with_name("cut-out"), _CUTTING_OUT, code_of)
    of = [pattern.name, pattern.sizes, pattern.base, pattern.size_sets, pattern.drawings, pattern.pixels_per_inch]
    of.append(pattern.by_shape)
    pieces = [
        (piece.name, piece.title, piece.source, piece.around, piece.start, piece.corners)
        for piece in pattern.pieces.values()
    ]
    said = [*of, pieces, pattern.words]

    def changed() -> CutOut:
        answers = Answers(copy.with_name("cut-sizes"), _CUTTING_OUT, code_of)
        cut = cut_anew(pattern, folder, hashes, answers)
        answers.save()
        return cut

    cut = cache.value_of([sorted(hashes.items()), said], changed, CutOut)
    cache.forget_others()
    return cut


def _copy_of(origin: Path, work: Path) -> Path:
    return work / origin.name / "source" / origin.name


def found_file(source: Source) -> Path:
    """What reading this source's `pattern.toml` and folders found."""
    return source.folder.with_name("found.json")


def refused(source: Source) -> bool:
    """Whether nothing of this pattern can be read any further."""
    return source.pattern is None or any(blocks(finding) for finding in source.findings)


def check_config(config: dict[str, Any], known: tuple[str, ...]) -> None:
    """Refuse a --config key that means nothing. Raises RefusalError."""
    if unknown := sorted(set(config) - set(known)):
        raise RefusalError(
            f"--config {unknown[0]}= means nothing here; there are {', '.join(f'{key}=' for key in known)}"
        )

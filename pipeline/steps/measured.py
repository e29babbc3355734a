"""What the steps of the ledger read of a build: what it is, as the ledger keeps it."""

from collections.abc import Mapping
from concurrent.futures import ProcessPoolExecutor
from functools import partial
from pathlib import Path

from pipeline.booklet.folder import read_folder
from pipeline.bundle.promised import REPRINT, built_outputs, correction_outputs
from pipeline.ledger.booklet import booklet_parts
from pipeline.ledger.facts import Measured
from pipeline.ledger.measure import measure
from pipeline.ledger.pages import page_digests
from pipeline.masters.copied import LOGO
from pipeline.model.pattern import Pattern
from pipeline.steps.inputs import booklet_files, cuts_by_piece
from pipeline.tables.write import TablesFile
from pipeline.work.cache import Cache
from pipeline.work.files import hash_file, read_json

Shown = tuple[tuple[str, str], ...]
"""Label and digest of every page of a file."""


def measured(
    pattern: Pattern, folder: Path, work: Path, pieces: list[Path], files: Mapping[str, Path], processes: int = 1
) -> Measured:
    """The facts of a build; `pieces` are the cut pieces a size, `files` all built ones by their place in the bundle.

    `folder` is the copy of the source.

    What pages show is saved under `work`: it takes seconds to find out, and no time where a file has not changed.
    """
    names = sorted(name for name in files if name.startswith(("print/", "project/")) and name.endswith(".pdf"))
    printed = {name: files[name] for name in names if not name.startswith(REPRINT)}
    place = work / pattern.name / "cache" / "shown"
    cache, version = _cache_at(place), pattern.version
    new = [file for file in printed.values() if not cache.has(_made_from(file, version))]
    if processes > 1 and len(new) > 1:
        with ProcessPoolExecutor(processes) as pool:
            list(pool.map(partial(_shown, place, version), new))
    pages = {name: _shown(place, version, file, cache) for name, file in printed.items()}
    cache.forget_others()
    tables = read_json(files["tables/tables.json"], TablesFile)
    written = booklet_files(folder)
    parts = booklet_parts(read_folder(pattern, written), written)
    return measure(pattern, cuts_by_piece(pieces), tables, pages, parts, written.get(LOGO))


def _cache_at(place: Path) -> Cache:
    return Cache(place, page_digests.__module__)


def _made_from(file: Path, version: str) -> tuple[str, str, str]:
    return hash_file(file), file.name, version


def _shown(place: Path, version: str, file: Path, cache: Cache | None = None) -> Shown:
    return (cache or _cache_at(place)).value_of(_made_from(file, version), lambda: page_digests(file, version), Shown)


def built_files(pattern: Pattern, work: Path, corrects: bool = False) -> dict[str, Path]:
    """What is built in a work folder, by its place in a bundle: also where no bundle may be made of it.

    What a version that `corrects` another has besides is among it only where that is asked for.
    """
    files: dict[str, Path] = {}
    for built, name in (*built_outputs(pattern), *(correction_outputs(pattern) if corrects else ())):
        within = {f"{name}/{inner}": path for inner, path in files_below(work / built).items()}
        files |= within or {name: work / built}
    return files


def files_below(folder: Path) -> dict[str, Path]:
    """Every file of a folder by its place in it."""
    files = (path for path in sorted(folder.rglob("*")) if path.is_file() and path.name[0] != ".")  # the engine's own
    return {path.relative_to(folder).as_posix(): path for path in files}

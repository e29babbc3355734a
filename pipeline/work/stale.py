"""Before a run: only what the source as it stands would give again stays; the engine then sees what is missing.

What no longer holds is set aside, not deleted: a job whose inputs turn out the same takes it back (`restore`).
"""

import os
import shutil
import time
from collections.abc import Callable, Iterable, Mapping
from pathlib import Path

from pipeline.work.files import hash_file, write_json
from pipeline.work.receipts import FORMER, RECEIPTS, Job, Made, Receipt, is_as_made, read_receipt

_OTHERS = {
    *("source", "cache", "log", "findings.json", "findings.txt", "changes.json", RECEIPTS, FORMER),
    *("run.lock", "jobs.lock", "unfinished", "former.json", "verified.json", "compiled"),
}
"""What lies in a pattern's folder, or the run's, and is no output of a job."""
_MARK = ".snakemake_timestamp"
"""The engine's date of a folder."""

Depends = Callable[[str, str], str | None]
"""What a job depends on besides its files, by its folder and name; None: no job of this run."""


def set_stale_aside(
    work: Path, folders: Iterable[str], depends: Depends, sources: Mapping[str, str], by_content: bool
) -> bool:
    """Hold every receipt of these folders against its files, its inputs, and what it should depend on by now.

    `sources` are the hashes of the source's files by their paths in the work folder. Files of no receipt go. Whether
    something was made before, and all of it stays.
    """
    folders = list(folders)
    ledger = _Ledger(work, folders, depends, sources, by_content)
    kept = ledger.sound()
    for own, (job, receipt) in ledger.receipts.items():
        if own not in kept:
            _set_aside(job, receipt)
    claimed = {work / made.path for own in kept for made in ledger.receipts[own][1].files}
    held = {work / place for own in kept for place in ledger.receipts[own][1].folders}
    for folder in folders:
        _clear(work / folder, claimed, held)
    marks = {folder / _MARK for folder in held if (folder / _MARK).is_file()}
    _not_in_the_future({*claimed, *marks, *(work / path for path in sources)})
    return 0 < len(ledger.receipts) == len(kept)


def restore_all(work: Path, folder: str, depends: Mapping[str, str]) -> None:
    """Take back every former file of a pattern that its job would make again, whatever it was made of first.

    `depends` is what jobs depend on by now, by name. One process does for a saved file of the same geometry what
    would else start as many as there are jobs.
    """
    waiting = [Job(work, folder, name) for name in depends if not Job(work, folder, name).receipt.exists()]
    while waiting:
        left = [job for job in waiting if not _restored(job, depends[job.name])]
        if len(left) == len(waiting):
            return
        waiting = left


def _restored(job: Job, depends: str) -> bool:
    former = read_receipt(job.former_receipt)
    if former is None or not all((job.work / path).is_file() for path in former.inputs):
        return False
    return restore(job, depends, {path: hash_file(job.work / path) for path in former.inputs})


def sound_files(work: Path, folder: str, sources: Mapping[str, str]) -> set[Path]:
    """The files of a pattern that were all made of one another, and in the end of this source."""
    ledger = _Ledger(work, [folder], None, sources, by_content=False)
    return {work / made.path for name in ledger.sound() for made in ledger.receipts[name][1].files}


class _Ledger:
    """All receipts, and which of them hold: a receipt needs those of the files that it was made of."""

    def __init__(
        self, work: Path, folders: list[str], depends: Depends | None, sources: Mapping[str, str], by_content: bool
    ) -> None:
        self.work, self.depends, self.sources, self.by_content = work, depends, sources, by_content
        self.receipts: dict[tuple[str, str], tuple[Job, Receipt]] = {}
        for folder in folders:
            for file in sorted((work / folder / RECEIPTS).glob("*.json")):
                receipt = read_receipt(file)
                if receipt is None:
                    file.unlink(missing_ok=True)
                else:
                    self.receipts[folder, file.stem] = Job(work, folder, file.stem), receipt
        self.made: dict[str, tuple[tuple[str, str], Made]] = {
            made.path: (name, made) for name, (_, receipt) in self.receipts.items() for made in receipt.files
        }
        self.known: dict[tuple[str, str], bool] = {}

    def sound(self) -> set[tuple[str, str]]:
        return {name for name in self.receipts if self._holds(name)}

    def _holds(self, name: tuple[str, str]) -> bool:
        if name not in self.known:
            self.known[name] = False  # a job that is made of itself holds never
            _, receipt = self.receipts[name]
            self.known[name] = (
                (self.depends is None or receipt.depends == self.depends(*name))
                and all((self.work / folder).is_dir() for folder in receipt.folders)
                and all(is_as_made(self.work / made.path, made, self.by_content) for made in receipt.files)
                and all(self._is_made_of(path, content) for path, content in receipt.inputs.items())
            )
        return self.known[name]

    def _is_made_of(self, path: str, content: str) -> bool:
        if path in self.sources:
            return self.sources[path] == content
        if path not in self.made:
            return False
        name, made = self.made[path]
        return made.sha256 == content and self._holds(name)


def _set_aside(job: Job, receipt: Receipt) -> None:
    """Move a job's files away, its receipt first: what is stopped on the way is files of no receipt, which go."""
    shutil.rmtree(job.former, ignore_errors=True)
    job.former_receipt.parent.mkdir(parents=True, exist_ok=True)
    job.receipt.replace(job.former_receipt)
    for made in receipt.files:
        place, aside = job.work / made.path, job.former / made.path
        if place.is_file():
            aside.parent.mkdir(parents=True, exist_ok=True)
            place.replace(aside)


def restore(job: Job, depends: str, inputs: dict[str, str]) -> bool:
    """Put a job's former files back where it would make them again: same code, settings and inputs. Whether it did."""
    former = read_receipt(job.former_receipt)
    if former is None or (former.depends, former.inputs) != (depends, inputs):
        return False
    if not all(is_as_made(job.former / made.path, made, by_content=True) for made in former.files):
        return False
    for folder in former.folders:
        (job.work / folder).mkdir(parents=True, exist_ok=True)
    files = []
    for made in former.files:
        place = job.work / made.path
        place.parent.mkdir(parents=True, exist_ok=True)
        (job.former / made.path).replace(place)
        os.utime(place)  # newer than its inputs: the engine goes by dates
        files.append(Made(made.path, made.bytes, place.stat().st_mtime_ns, made.sha256))
    write_json(job.receipt, Receipt(depends=depends, inputs=inputs, folders=former.folders, files=tuple(files)))
    job.former_receipt.unlink()
    return True


def _clear(folder: Path, claimed: set[Path], held: set[Path]) -> None:
    """Remove what no receipt claims, and folders that are empty by then."""
    for entry in sorted(folder.iterdir()) if folder.is_dir() else ():
        if entry.name not in _OTHERS:
            _remove_unclaimed(entry, claimed, held)


def _remove_unclaimed(entry: Path, claimed: set[Path], held: set[Path]) -> None:
    if entry.is_dir() and not entry.is_symlink():
        for inner in list(entry.iterdir()):
            _remove_unclaimed(inner, claimed, held)
        if entry not in held and not any(entry.iterdir()):
            entry.rmdir()
    elif entry not in claimed and not (entry.name == _MARK and entry.parent in held):
        entry.unlink(missing_ok=True)


def _not_in_the_future(files: Iterable[Path]) -> None:
    """A clock that was ahead leaves dates, of copied sources too, to which all that is made from now on is old."""
    now_ns = time.time_ns()
    for file in files:
        if file.stat().st_mtime_ns > now_ns:
            os.utime(file)

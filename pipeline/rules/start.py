"""How a run begins and ends: the place taken, the source read once, and nothing left standing that is not of it."""

import gc
import os
import shutil
import signal
import threading
from collections.abc import Iterable
from pathlib import Path
from typing import Any, TextIO

from pipeline.bundle.stamp import is_whole, read_stamp
from pipeline.ledger.book import Entry, Ledger
from pipeline.ledger.held import is_sealed_with
from pipeline.model.pattern import Pattern
from pipeline.rules.depends import Dependencies
from pipeline.rules.known import Known
from pipeline.rules.place import Place, check_bundle_place, check_cores, check_program
from pipeline.rules.sources import RefusalError, Source, found_file, pattern_names, read_again, read_source, refused
from pipeline.rules.standby import start_standby
from pipeline.rules.summary import end_run
from pipeline.work.files import hash_file, write_json
from pipeline.work.receipts import FORMER, OF_RUN, RECEIPTS
from pipeline.work.signals import answer_apart
from pipeline.work.stale import set_stale_aside

WRITES_BUNDLES = {"bundle", "verdict", "verify", "sealing"}
"""Rules that put bundles into the release folder, or look at them there."""


class Run:
    """One run of the engine: its patterns, and what their jobs depend on."""

    def __init__(self, place: Place, sources: dict[str, Source], depends: Dependencies) -> None:
        self.place, self.sources, self.depends = place, sources, depends
        self.has_standby = False

    @property
    def builds(self) -> dict[str, Pattern]:
        """The patterns of which anything can be read further."""
        return {name: source.pattern for name, source in self.sources.items() if source.pattern and not refused(source)}

    def start(self, rules: set[str]) -> None:
        """What is done before the first job: `rules` are those that will run. Raises RefusalError."""
        answer_apart(signal.SIGTERM)
        if rules & WRITES_BUNDLES:
            self.place.hold_release()
        self.place.begin()
        self.stand_by()

    def stand_by(self) -> None:
        """Have jobs done by a process that has their libraries."""
        if not self.has_standby:
            start_standby()
        self.has_standby = True

    def end(self, well: bool, asked: Iterable[Any], shown: TextIO | None) -> None:
        """Tell how it went of the rules that were asked for, and let the process end at once.

        Snakemake starts a clock of a second whenever jobs are started (for a limit of jobs a second, which is never
        met here), and a process does not end before its clocks do.
        """
        for thread in threading.enumerate():
            if isinstance(thread, threading.Timer):
                thread.cancel()
        targets = {rule.name for rule in asked}
        if end_run(self.sources, self.place.work, self.place.release, targets, well, shown):
            self.place.end()


def begin(source: Path, release: Path, work: Path, only: str | None, workflow: Any) -> Run:
    """Read the source, and set aside what is not of it. Raises RefusalError.

    A process that the engine starts for one job of a run, on another machine perhaps, reads the copy that is there.
    """
    gc.freeze()  # what is imported stays: the collector looks at it no more
    names = pattern_names(source, only)
    _keep_compiled(work / OF_RUN / "compiled")
    if not workflow.is_main_process:
        sources = {name: read_again(source / name, work) for name in names}
        return Run(Place(source, release, work), sources, Dependencies(sources, release))
    check_cores(workflow.resource_settings.cores)
    check_program()
    place = Place(source, release, work)
    place.check(Path(workflow.basedir))
    place.take()
    try:
        known = Known(work)
        sources = {name: read_source(source / name, work, known.read_ledger, known.code_digest) for name in names}
        run = Run(place, sources, Dependencies(sources, release, known.code_digest))
        for name, pattern in run.builds.items():
            check_bundle_place(release / name / pattern.version)
            entry = _sealed_entry(sources[name], pattern.version)
            _forget_bundle_unless_whole(work / name, release / name / pattern.version, entry)
        folders, hashes = [OF_RUN, *sources], _hashes(sources, work)
        if not set_stale_aside(work, folders, run.depends, hashes, by_content=not place.ended_well):
            place.begin()  # what it compiles can be cut off by a full disk before any job writes
            run.stand_by()  # it imports while the engine finds out what is to be done
        shutil.rmtree(work / OF_RUN / FORMER, ignore_errors=True)  # the gate is to run: it takes the others' files back
        write_json(former_file(work), {name: _former(work, name, run.depends) for name in run.builds})
        known.save()
    except OSError as error:
        raise RefusalError(
            f"{error.filename}: {error.strerror}. Mend that, then give the same command again."
        ) from None
    return run


def _keep_compiled(folder: Path) -> None:
    """Jobs are short processes: what Python compiles for them is kept, also where it is told to keep nothing."""
    os.environ["PYTHONPYCACHEPREFIX"] = str(folder)
    os.environ.pop("PYTHONDONTWRITEBYTECODE", None)


def former_file(work: Path) -> Path:
    """What the jobs whose files were set aside depend on by now, for the job that may take them back."""
    return work / OF_RUN / "former.json"


def _former(work: Path, name: str, depends: Dependencies) -> dict[str, str]:
    jobs = (file.stem for file in sorted((work / name / FORMER).glob("*.json")))
    return {job: value for job in jobs if (value := depends(name, job)) is not None}


def _sealed_entry(source: Source, version: str) -> Entry | None:
    """The pattern's version as it was sealed; a ledger that cannot be read was told of with the source."""
    return source.ledger.entry(version) if isinstance(source.ledger, Ledger) else None


def _forget_bundle_unless_whole(work: Path, place: Path, entry: Entry | None) -> None:
    """Drop the stamp, and the former one, of a bundle that is gone, altered or not what was sealed: this run then
    puts it back, or says why not.
    """
    stamps = {
        work / RECEIPTS / "bundle.json": read_stamp(work / "bundle.json"),
        work / FORMER / "bundle.json": read_stamp(work / FORMER / "bundle" / work.name / "bundle.json"),
    }
    whole = {
        stamp: (entry is None or is_sealed_with(entry, stamp.checksums)) and is_whole(work.name, stamp, place)
        for stamp in set(stamps.values())
        if stamp is not None
    }
    for receipt, stamp in stamps.items():
        if stamp is None or not whole[stamp]:
            receipt.unlink(missing_ok=True)


def _hashes(sources: dict[str, Source], work: Path) -> dict[str, str]:
    """Of every file of the source as copied, by its path in the work folder."""
    hashes: dict[str, str] = {}
    for source in sources.values():
        folder = source.folder.relative_to(work).as_posix()
        hashes |= {f"{folder}/{name}": content for name, content in source.hashes.items()}
        for file in (found_file(source), *source.sold(), *source.former()):
            hashes[file.relative_to(work).as_posix()] = hash_file(file)
    return hashes

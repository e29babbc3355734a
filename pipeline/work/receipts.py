"""What a job made, and of what: the receipt that it leaves once all its files lie in their places.

Dates say nothing here. A file holds if its job's receipt does: the same code and settings (`depends`), inputs of the
same content, and every file as it was written.
"""

from collections.abc import Iterable
from pathlib import Path

import msgspec

from pipeline.work.files import hash_file, write_json

RECEIPTS, FORMER = "receipts", "former"
FAILED = ".failed"
"""Ends the name of what a failed job says of itself, beside its log."""
OF_RUN = ".run"
"""The folder of what belongs to the whole run: no pattern can be called that."""


class Made(msgspec.Struct, frozen=True):
    """A file as a job left it, by its path in the work folder."""

    path: str
    bytes: int
    modified_ns: int
    sha256: str


class Receipt(msgspec.Struct, frozen=True, kw_only=True):
    """What one job made. Paths are relative to the work folder; `inputs` are hashes of contents.

    `folders` are those that the job declared as outputs: they stand even where nothing lies in them.
    """

    depends: str
    inputs: dict[str, str]
    folders: tuple[str, ...]
    files: tuple[Made, ...]


class Job(msgspec.Struct, frozen=True):
    """A job by the place of its log, `<work>/<pattern>/log/<name>.log`, which no other job has."""

    work: Path
    folder: str
    name: str

    @property
    def receipt(self) -> Path:
        """Where its receipt lies."""
        return self.work / self.folder / RECEIPTS / f"{self.name}.json"

    @property
    def former(self) -> Path:
        """Where its files lie once something that they were made of has changed."""
        return self.work / self.folder / FORMER / self.name

    @property
    def former_receipt(self) -> Path:
        """What they were made of."""
        return self.former.with_name(f"{self.name}.json")


def job_of(work: Path, log: Path) -> Job:
    """The job that writes a log."""
    return Job(work, log.relative_to(work).parts[0], log.stem)


def read_receipt(path: Path) -> Receipt | None:
    """A receipt; None where there is none, or none that can be read: then the job is done again."""
    try:
        return msgspec.json.decode(path.read_bytes(), type=Receipt)
    except (OSError, msgspec.MsgspecError):
        return None


def write_receipt(job: Job, depends: str, inputs: dict[str, str], outputs: Iterable[Path]) -> None:
    """Leave the receipt of files that all lie in their places. Raises OSError where one does not."""
    folders, files = [], []
    for output in outputs:
        if output.is_dir():
            folders.append(output.relative_to(job.work).as_posix())
        files += files_at(output)
    made = tuple(_made(job.work, path) for path in files)
    write_json(job.receipt, Receipt(depends=depends, inputs=inputs, folders=tuple(folders), files=made))


def hashes(work: Path, paths: Iterable[Path]) -> dict[str, str]:
    """What inputs hold, by their paths in the work folder. Raises OSError where one is missing."""
    files = (file for path in paths for file in files_at(path))
    return {file.relative_to(work).as_posix(): hash_file(file) for file in files}


def files_at(path: Path) -> list[Path]:
    """A file, or every file of a folder but hidden ones: the engine leaves a mark of its own in each."""
    if not path.is_dir():
        return [path]
    return sorted(file for file in path.rglob("*") if file.is_file() and not file.name.startswith("."))


def is_as_made(place: Path, made: Made, by_content: bool) -> bool:
    """Whether a file is as its job left it: by size and date, or by its content where dates are not to be trusted."""
    try:
        found = place.stat()
    except OSError:
        return False
    if found.st_size != made.bytes or not place.is_file():
        return False
    if found.st_mtime_ns == made.modified_ns and not by_content:
        return True
    return hash_file(place) == made.sha256


def _made(work: Path, path: Path) -> Made:
    found = path.stat()
    return Made(path.relative_to(work).as_posix(), found.st_size, found.st_mtime_ns, hash_file(path))

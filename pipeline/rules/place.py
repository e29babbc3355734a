"""Whether a run can begin where it is asked to: folders, locks, cairo and the font. Every refusal says what to do."""

import os
import shutil
import sys
from pathlib import Path

from pipeline.bundle.swap import recover
from pipeline.drawing.fonts import FONT_FILES
from pipeline.rules.screen import ENGINE_LOG
from pipeline.rules.sources import RefusalError
from pipeline.work.libraries import cairo_version
from pipeline.work.locks import BusyError, hold_release, hold_run
from pipeline.work.receipts import OF_RUN

_SPECIAL = '{}<>"\n\r\t\\*?'
"""What the engine or a shell reads as something else within a path."""
_UNFINISHED = f"{OF_RUN}/unfinished"
VERIFIED = f"{OF_RUN}/verified.json"
"""What a run that holds bundles against their checksums has to say."""


class Place:
    """The folders of a run: what is read, where bundles go, where jobs work."""

    def __init__(self, source: Path, release: Path, work: Path) -> None:
        self.source, self.release, self.work = source, release, work
        self.ended_well = True
        """Whether the run before came to its end."""
        self._has_release = False

    def check(self, program: Path) -> None:
        """Refuse folders that cannot work, before anything is touched. Raises RefusalError."""
        named = {"source": self.source, "release": self.release, "work": self.work, "program's": program}
        for name, path in named.items():
            if wrong := sorted({character for character in str(path) if character in _SPECIAL}):
                shown = " ".join(map(repr, wrong))
                raise RefusalError(f"The {name} folder {str(path)!r} has {shown} in its name: rename it.")
        source, release, work = self.source.resolve(), self.release.resolve(), self.work.resolve()
        for name, path in (("release", release), ("work", work)):
            if path == source or any(path.is_relative_to(folder) for folder in _patterns(source)):
                raise RefusalError(f"The {name} folder {path} is the source itself: take another one.")
        if work.is_relative_to(release) or release.is_relative_to(work):
            raise RefusalError(
                f"One of {self.work} and {self.release} lies in the other: take two folders side by side."
            )
        held = {entry.name for entry in self.work.iterdir()} - {ENGINE_LOG} if self.work.is_dir() else set()
        if held and not held & {OF_RUN, ".snakemake"}:
            raise RefusalError(f"The work folder {self.work} holds other things: take an empty one, or a new one.")

    def take(self) -> None:
        """Hold the folders for this run's whole life. Raises RefusalError.

        What the last run said is cleared, and so are the engine's own locks and marks of jobs that were stopped:
        receipts say what holds (`work/receipts.py`).
        """
        try:
            (self.work / OF_RUN).mkdir(parents=True, exist_ok=True)
            hold_run(self.work, lambda: print("Waiting for jobs of a run that was stopped …", file=sys.stderr))
            self.ended_well = not (self.work / _UNFINISHED).exists()
            for told in (self.work / VERIFIED, *self.work.glob("*/log/*.*")):
                told.unlink(missing_ok=True)
            for name in ("locks", "incomplete"):
                shutil.rmtree(self.work / ".snakemake" / name, ignore_errors=True)
            if not self.ended_well:  # compiled modules that a full disk cut off would fail every job
                shutil.rmtree(self.work / OF_RUN / "compiled", ignore_errors=True)
        except BusyError:
            raise RefusalError(f"Another run is at work in {self.work}: wait for it, or stop it first.") from None
        except OSError as error:
            raise _unfit(error) from None
        if self.release.is_dir():
            self._hold_release()

    def hold_release(self) -> None:
        """Hold the release folder, which a run needs that writes there or looks at it. Raises RefusalError."""
        try:
            self.release.mkdir(parents=True, exist_ok=True)
        except OSError as error:
            raise _unfit(error) from None
        if not self._has_release:
            self._hold_release()
        if not self._has_release:
            raise RefusalError(f"Another run is at work on {self.release}: wait for it, or stop it first.")

    def _hold_release(self) -> None:
        try:
            hold_release(self.release)
            self._has_release = True
            recover(self.release)
        except BusyError:
            pass
        except OSError as error:
            raise _unfit(error) from None

    def begin(self) -> None:
        """Note that jobs begin to write."""
        (self.work / _UNFINISHED).touch()

    def end(self) -> None:
        """Note that the run came to its end, findings or not."""
        (self.work / _UNFINISHED).unlink(missing_ok=True)


def _unfit(error: OSError) -> RefusalError:
    return RefusalError(f"{error.filename}: {error.strerror}. Mend that, or take another folder.")


def check_bundle_place(place: Path) -> None:
    """Refuse to build where a bundle cannot be put. Raises RefusalError."""
    for path in (place.parent, place):
        if path.is_symlink() or (path.exists() and not path.is_dir()):
            kind = "a link" if path.is_symlink() else "a file"
            raise RefusalError(f"{path} is {kind}, and the bundle's folder belongs there: move it away.")
    parent = place.parent if place.parent.is_dir() else place.parent.parent
    if parent.is_dir() and not os.access(parent, os.W_OK | os.X_OK):
        raise RefusalError(f"{parent} may not be written to: give yourself the right to, or build elsewhere.")


def check_program() -> None:
    """Refuse to begin where cairo or a font file of ours is missing. Raises RefusalError."""
    for file in FONT_FILES.values():
        if not file.is_file() or not file.stat().st_size:
            raise RefusalError(f"The font {file} is missing: install the program again.")
    if cairo_version() is None:
        raise RefusalError(
            "The library cairo is not there: `sudo apt-get install libcairo2` on Debian, `brew install cairo` on macOS."
        )


def check_cores(cores: int | None) -> None:
    """Refuse a number of cores on which no job would ever start. Raises RefusalError."""
    if cores is not None and cores < 1:
        raise RefusalError(f"--cores {cores} leaves no core to work with: take 1 or more, or all.")


def _patterns(source: Path) -> list[Path]:
    return [file.parent for file in source.glob("*/pattern.toml")] if source.is_dir() else []

"""Runs that are killed before each file operation of a step in turn, and what the next build makes of it.

    python -m tests.bench.stopped_operations bundle booklet [--every 2]

The small pattern was sold once, stands at its next version, and is built; then its title is edited. A run that does
one job after the other is killed when it comes to the step, and from there each trial begins: the step is called as
the run called it, killed before its nth file operation, and what comes next is a build of the edited source, or in
every other trial of the source as it was. A bundle must then equal, to the byte, what a clean work folder makes of the
same source, or the run must say that it failed (status 1). `wrong` counts the rest, and must be 0. `run` is the
engine's own process.
"""

import argparse
import json
import shutil
import subprocess
import tempfile
from pathlib import Path

from tests.bench.rooms import ROOT, Room, Tally

HOOK = """
import json, os, signal, sys

step, at = os.environ["STOP_STEP"], int(os.environ["STOP_AT"])
words = getattr(sys, "orig_argv", [])
mine = step in words if step != "run" else "snakemake" in words and "-s" in words
if mine:
    count = 0

    def watch(event, arguments):
        global count
        writes = event == "open" and isinstance(arguments[2], int) and arguments[2] & (os.O_WRONLY | os.O_RDWR)
        writes |= event in ("os.rename", "os.remove", "os.mkdir", "os.rmdir", "os.chmod", "shutil.copyfile")
        # neither a pipe nor what Python keeps for itself
        if writes and not isinstance(arguments[0], int) and "/compiled/" not in str(arguments[0]):
            count += 1  # before what is told is opened, which is watched too
            if count == at + 1:
                with open(os.environ["STOP_TOLD"], "w") as told:
                    json.dump([f"{event} {arguments[0]}", words, os.getcwd(), dict(os.environ)], told)
                os.killpg(os.getpgid(0), signal.SIGKILL)

    sys.addaudithook(watch)
"""
"""Read by every Python of a run: the step that is to be stopped counts what it does to files."""
_CHANNEL = "\n[channels.shop]\narchives = 2\narchive_mb = 5\n"
_VIEWS = """
[views.long]
title = { en = "Long", de = "Lang" }
[views.short]
title = { en = "Short", de = "Kurz" }
"""


class SoldRoom(Room):
    """A room whose pattern, with a place of sale, was sealed and takes its next version."""

    def __init__(self, folder: Path, step: str) -> None:
        super().__init__(folder, by_size=step == "by_size")
        self._replace("pattern.toml", "\n[print]", f"{_CHANNEL}{_VIEWS if step == 'by_view' else ''}\n[print]")
        if step.startswith("project"):
            self._replace("pattern.toml", '["a4"]', '["a4", "projector"]')

    def next(self) -> None:
        """Another version with another master."""
        was, self.version = self.version, "1.1.0"
        self._replace("pattern.toml", f'version = "{was}"', f'version = "{self.version}"')
        self._replace("CHANGES.md", f"# {was}", f"# {self.version}\n\nThe place of the pocket.\n\n# {was}")
        self._replace("sizes/M/skirt.svg", 'cx="140"', 'cx="139"')

    def _replace(self, file: str, old: str, new: str) -> None:
        path = self.pattern / file
        text = path.read_text(encoding="utf-8")
        assert old in text, (file, old)
        path.write_text(text.replace(old, new), encoding="utf-8")


class Trials:
    """A room that was sold, and the runs in it that are stopped within one step."""

    def __init__(self, folder: Path, step: str) -> None:
        self.room, self.step = SoldRoom(folder / "room", step), step
        self.told, self.kept, hook = folder / "stopped.txt", folder / "kept", folder / "hook"
        self.call: list[str] = []
        hook.mkdir(parents=True)
        (hook / "sitecustomize.py").write_text(HOOK, encoding="utf-8")
        self.seen = f"{hook}:{ROOT}"

    def begin(self) -> None:
        """Sell a version, build the next one, edit, and come to the step. Raises SystemExit."""
        status, text = self.room.run(0, "seal")
        self.room.next()
        status, text = (status, text) if status else self.room.run()
        if status:
            raise SystemExit(text)
        self.undo = self.room.edit(2)
        if not self.stopped_at(0):
            raise SystemExit(f"no run comes to a step {self.step}")
        _, self.call, self.place, self.around = json.loads(self.told.read_text(encoding="utf-8"))
        shutil.copytree(self.room.folder, self.kept, symlinks=True)

    def stopped_at(self, at: int) -> str:
        """Begin the step, and be killed before an operation of it: which it was, "" where it has no more."""
        self.told.unlink(missing_ok=True)
        asked = {"STOP_STEP": self.step, "STOP_AT": str(at), "STOP_TOLD": str(self.told), "PYTHONPATH": self.seen}
        if self.step == "run":
            self.room.run(0, cores=1, **asked)
        elif not self.call:
            self.room.run(0, cores=1, PATTERN_RELEASE_STANDBY="", **asked)  # a job's process is to be its own
        else:
            around = {**self.around, **asked}
            subprocess.run(
                self.call, cwd=self.place, env=around, capture_output=True, start_new_session=True, check=False
            )
        return json.loads(self.told.read_text(encoding="utf-8"))[0] if self.told.exists() else ""

    def again(self) -> None:
        """As it was when the run came to the step."""
        shutil.rmtree(self.room.folder)
        shutil.copytree(self.kept, self.room.folder, symlinks=True)


def stop_before_operations(folder: Path, step: str, every: int, first: int) -> None:
    """Print a row of one step."""
    trials = Trials(folder, step)
    trials.begin()
    tally, at = Tally(), first
    while stopped := trials.stopped_at(at):
        what = f"{step} before operation {at} ({stopped})"
        number = at // every
        if number % 2:
            trials.undo()
            what += ", undone"
        tally.build(trials.room, number // 2, what)
        trials.again()
        at += every
        if number % 20 == 19:
            tally.row(f"{step}, {at} operations so far")
    each = "each" if every == 1 else f"one in {every}"
    tally.row(f"{step}, stopped before {each} of {at} file operations, from {first} on")


def main() -> None:
    """Print a row a step."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("steps", nargs="+", metavar="STEP")
    parser.add_argument("--every", type=int, default=1, help="only every nth operation")
    parser.add_argument("--first", type=int, default=0, help="the operation to begin with")
    asked = parser.parse_args()
    for step in asked.steps:
        with tempfile.TemporaryDirectory() as folder:
            stop_before_operations(Path(folder), step, asked.every, asked.first)


if __name__ == "__main__":
    main()

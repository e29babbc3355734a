"""Builds that are stopped, and what the next one makes of it.

    python tests/bench/interruptions.py --kills 300 --pairs 50 --disk --dates [--seed 1]

After every interruption comes a build, and after an edit that was undone another: a bundle must then equal, to the
byte, what a clean work folder makes of the same source, or the run must say that it failed (status 1). `wrong` counts
the rest, and must be 0. Both ways in are used in turn, `pattern-release build` and plain `snakemake`; a stopped run is
killed whole (SIGKILL to its group), in its first process only, or interrupted as a terminal does (SIGINT to its group).

--disk needs to be root: it builds on a file system of its own of 20 sizes, which is then enlarged.
"""

import argparse
import os
import random
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Callable, Iterator
from copy import copy
from functools import partial
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
SMALL = ROOT / "tests/patterns/tea-apron"
EDITS = (
    ("sizes/M/skirt.svg", 'cx="140"', 'cx="150"'),
    ("pattern.toml", 'version = "1.0.0"', 'version = "1.0.0" '),
    ("pattern.toml", "Tea apron", "Tea Apron"),
    ("CHANGES.md", "The first", "A first"),
)
"""Good patterns too: a changed master, a file that says the same, a text on every page, what customers are told."""


class Room:
    """Folders for runs on a copy of the small pattern, told to print little; sizes alone where they are asked for."""

    version = "1.0.0"

    def __init__(self, folder: Path, by_size: bool = False) -> None:
        self.folder = folder
        self.source, self.release, self.work = (folder / name for name in ("source", "release", "work"))
        self.pattern = self.source / "tea-apron"
        shutil.copytree(SMALL, self.pattern)
        text = (self.pattern / "pattern.toml").read_text(encoding="utf-8")
        start = text.index("[print]")
        end = text.find("\n[", start + 1)
        rest = text[end:] if end >= 0 else ""
        few = f'[print]\nformats = ["a4"]\nby_size = {str(by_size).lower()}\n'
        (self.pattern / "pattern.toml").write_text(text[:start] + few + rest, encoding="utf-8")
        self.clean: dict[str, dict[str, bytes]] = {}

    def command(self, way: int, target: str = "all", cores: int = 2) -> list[str]:
        places = {name: getattr(self, name) for name in ("source", "release", "work")}
        if way % 2:
            do = "build" if target == "all" else target
            given = [word for name, path in places.items() for word in (f"--{name}", str(path))]
            return [
                sys.executable,
                "-c",
                "from pipeline.console import main; main()",
                do,
                "--cores",
                str(cores),
                *given,
            ]
        config = [f"{name}={path}" for name, path in places.items()]
        engine = [sys.executable, "-m", "snakemake", "-s", str(ROOT / "Snakefile")]
        return [*engine, "--cores", str(cores), target, "--config", *config]

    def start(self, way: int = 0, target: str = "all", cores: int = 2, **more: str) -> subprocess.Popen[str]:
        environment = {**os.environ, "PYTHONPATH": str(ROOT), **more}
        return subprocess.Popen(
            self.command(way, target, cores),
            cwd=self.folder,
            env=environment,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
            start_new_session=True,
        )

    def run(self, way: int = 0, target: str = "all", cores: int = 2, **more: str) -> tuple[int, str]:
        started = self.start(way, target, cores, **more)
        text, _ = started.communicate()
        return started.returncode, text

    def bundle(self) -> dict[str, bytes]:
        place = self.release / "tea-apron" / self.version
        return {path.relative_to(place).as_posix(): path.read_bytes() for path in place.rglob("*") if path.is_file()}

    def source_bytes(self) -> str:
        files = sorted(path for path in self.pattern.rglob("*") if path.is_file())
        return "\0".join(f"{path.name}\0{path.read_bytes()!r}" for path in files)

    def should_be(self) -> dict[str, bytes]:
        """What a clean work folder makes of the source as it stands."""
        key = self.source_bytes()
        if key not in self.clean:
            other = copy(self)
            with tempfile.TemporaryDirectory(dir=self.folder) as place:
                other.work, other.release = Path(place) / "work", Path(place) / "release"
                status, text = other.run()
                if status:
                    raise SystemExit(text)
                self.clean[key] = other.bundle()
        return self.clean[key]

    def edit(self, which: int) -> Callable[[], None]:
        """Make an edit; what comes back undoes it, with the old date."""
        file, old, new = EDITS[which]
        path = self.pattern / file
        text, found = path.read_text(encoding="utf-8"), path.stat()
        assert old in text, (file, old)
        path.write_text(text.replace(old, new), encoding="utf-8")

        def undo() -> None:
            path.write_text(text, encoding="utf-8")
            os.utime(path, ns=(found.st_atime_ns, found.st_mtime_ns))

        return undo


class Tally:
    """What runs after an interruption came to."""

    def __init__(self) -> None:
        self.counts: Counter[str] = Counter()

    def build(self, room: Room, way: int, what: str) -> None:
        """Build, and hold the bundle against a clean one."""
        status, text = room.run(way)
        right = room.bundle() == room.should_be()
        verdict = "right" if status == 0 and right else "said that it failed" if status == 1 else "wrong"
        if "Traceback" in text:
            verdict = "traceback"
        self.counts[verdict] += 1
        if verdict != "right":
            print(f"  {what}: {verdict}\n{text[-1500:]}", flush=True)

    def row(self, what: str) -> None:
        total = sum(self.counts.values())
        rest = ", ".join(f"{verdict} {count}" for verdict, count in sorted(self.counts.items()))
        print(f"{what}: {total} builds: {rest}", flush=True)


def stop_at_random(room: Room, count: int, draw: random.Random) -> None:
    """Runs on an edited source, stopped at random moments; a build; the edit undone, perhaps stopped again; a build."""
    tally, stops, number = Tally(), 0, 0
    room.run()
    while stops < count:
        undo = room.edit(number % len(EDITS))
        if number % 7 == 0:
            shutil.rmtree(room.work)
        way = draw.randrange(2)
        how = stopped(room, way, draw)
        stops += 1
        if number % 2:
            tally.build(room, draw.randrange(2), f"{number}: {how}, built")
            undo()
            how += ", undone, " + stopped(room, draw.randrange(2), draw)
            stops += 1
        undo()
        tally.build(room, draw.randrange(2), f"{number}: {how}, undone and built")
        number += 1
        if number % 20 == 0:
            tally.row(f"{stops} stopped at random")
    tally.row(f"{stops} stopped at random")


def stopped(room: Room, way: int, draw: random.Random, target: str = "all", longest_s: float = 7.0) -> str:
    """Start a run and stop it within so many seconds."""
    started = room.start(way, target)
    wait_s = draw.uniform(0.2, longest_s)
    signals = (
        ("killed", os.killpg, signal.SIGKILL),
        ("first killed", os.kill, signal.SIGKILL),
        ("^C", os.killpg, signal.SIGINT),
    )
    how, send, number = draw.choice(signals)
    deadline = time.monotonic() + wait_s
    while time.monotonic() < deadline and started.poll() is None:
        time.sleep(0.02)
    if started.poll() is None:
        send(started.pid, number)
    if how == "first killed":
        started.wait()
    else:
        started.communicate()
    return f"{how} after {wait_s:.1f} s"


def full_disks(room: Room) -> None:
    """A file system that is full at 20 sizes, then enlarged; nothing is mended by hand."""
    tally = Tally()
    place = room.folder / "disk"
    place.mkdir()
    for number in range(20):
        size_kb = 300 + number * number * 40
        subprocess.run(["mount", "-t", "tmpfs", "-o", f"size={size_kb}k", "tmpfs", str(place)], check=True)
        room.work, room.release = place / "work", place / "release"
        try:
            status, _ = room.run(number)
            subprocess.run(["mount", "-o", "remount,size=500m", str(place)], check=True)
            tally.build(room, number + 1, f"full at {size_kb} kB (status {status}), enlarged")
        finally:
            subprocess.run(["umount", str(place)], check=True)
    tally.row("disks full at 20 sizes")


def pairs(room: Room, count: int, draw: random.Random) -> None:
    """Two at once: builds, a build and a verify, a build and an edit; then a build alone."""
    tally, seen = Tally(), Counter[str]()
    room.run()
    for number in range(count):
        undo = room.edit(number % len(EDITS))
        first = room.start(number)
        time.sleep(draw.uniform(0, 4))
        what = ("build and build", "build and verify", "build and edit", "two work folders")[number % 4]
        if what == "build and edit":
            undo()
            texts = [first.communicate()[0]]
        else:
            work = room.work
            room.work = room.folder / "work-two" if what == "two work folders" else work
            second = room.start(number + 1, "verify" if what == "build and verify" else "all")
            room.work = work
            texts = [first.communicate()[0], second.communicate()[0]]
        seen[what] += 1
        if any("Traceback" in text for text in texts):
            print(f"  {what}: traceback\n{texts}")
            tally.counts["traceback"] += 1
        undo()
        tally.build(room, number, what)
    tally.row(f"pairs ({', '.join(f'{what} {times}' for what, times in seen.items())})")


def dates(room: Room) -> None:
    """Ways of replacing a source file, of whatever date: each is rebuilt."""
    tally = Tally()
    room.run()
    file = room.pattern / EDITS[0][0]
    undo = room.edit(0)
    edited = file.read_bytes()
    undo()
    contents = edited, file.read_bytes()
    for way, (name, replace) in enumerate(replacements()):
        replace(file, contents[way % 2])
        tally.build(room, way, name)
    for way in range(2):
        room.run(way)
        for path in [path for path in room.folder.rglob("*") if path.is_file() and not path.is_symlink()]:
            os.utime(path, (time.time() + 86_400,) * 2)
        undo = room.edit(2)
        tally.build(room, way, "the clock set back by a day, and an edit")
        undo()
    tally.row("files replaced, with dates of every kind")


def replacements() -> Iterator[tuple[str, Callable[[Path, bytes], None]]]:
    """Twenty ways of giving a file another content, each with what it is called."""
    day_s = 86_400

    def dated(file: Path, data: bytes, offset_s: float) -> None:
        file.unlink()
        file.write_bytes(data)
        os.utime(file, (time.time() + offset_s,) * 2)

    def moved(file: Path, data: bytes, offset_s: float) -> None:
        other = file.with_suffix(".bak")
        other.write_bytes(data)
        os.utime(other, (time.time() + offset_s,) * 2)
        other.replace(file)

    def copied(file: Path, data: bytes, offset_s: float) -> None:
        other = file.with_suffix(".bak")
        other.write_bytes(data)
        os.utime(other, (time.time() + offset_s,) * 2)
        file.unlink()
        shutil.copy2(other, file)
        other.unlink()

    def linked(file: Path, data: bytes, hard: bool) -> None:
        other = file.parents[3] / "elsewhere" / str(hard) / file.name
        other.parent.mkdir(parents=True, exist_ok=True)
        other.write_bytes(data)
        os.utime(other, (0, 0))
        file.unlink()
        (file.hardlink_to if hard else file.symlink_to)(other)

    offsets_s = (-4000 * day_s, -day_s, 0, day_s, 4000 * day_s)
    for offset_s in (*offsets_s, -1, 1, -time.time()):
        yield f"written, {offset_s / day_s:+.2f} days", partial(dated, offset_s=offset_s)
    for offset_s in offsets_s:
        yield f"moved over it, {offset_s / day_s:+.2f} days", partial(moved, offset_s=offset_s)
        yield f"copied with its date, {offset_s / day_s:+.2f} days", partial(copied, offset_s=offset_s)
    for hard in (False, True):
        yield f"a {'hard' if hard else 'symbolic'} link to an old file", partial(linked, hard=hard)


def main() -> None:
    """Print a row for each kind."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--kills", type=int, default=0)
    parser.add_argument("--pairs", type=int, default=0)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--disk", action="store_true")
    parser.add_argument("--dates", action="store_true")
    asked = parser.parse_args()
    draw = random.Random(asked.seed)
    with tempfile.TemporaryDirectory() as temporary:
        folder = Path(temporary)
        if asked.dates:
            dates(Room(folder / "dates"))
        if asked.kills:
            stop_at_random(Room(folder / "kills"), asked.kills, draw)
        if asked.pairs:
            pairs(Room(folder / "pairs"), asked.pairs, draw)
        if asked.disk:
            full_disks(Room(folder / "disk"))


if __name__ == "__main__":
    main()

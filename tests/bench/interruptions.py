"""Builds that are stopped, and what the next one makes of it.

    python -m tests.bench.interruptions --kills 300 --pairs 50 --disk --dates [--seed 1]

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
import tempfile
import time
from collections import Counter
from collections.abc import Callable, Iterator
from functools import partial
from pathlib import Path

from tests.bench.rooms import EDITS, Room, Tally


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

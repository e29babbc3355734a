"""Seals that are stopped, doubled, out of disk or overtaken by the clock, and what the next one makes of it.

    python -m tests.bench.stopped_seals --kills 200 [--disks 20] [--pairs 20] [--seed 1]

The small pattern is sealed at 1.0.0; then a master is mended, the number raised, and the folder put by in three states:
nothing of the new version built, all built but its archives and its bundle, or all but its entry in the ledger. Every
trial begins with a copy of one of them. A seal is killed (SIGKILL to its group, or to its first process) or interrupted
(SIGINT) at a random moment of the time that the whole takes; after some of them the clock goes back by a day, which is
to say that all dates lie a day ahead. --disks needs to be root: source, work and release lie on a file system of that
many sizes, which is then enlarged. --pairs begins a second seal while the first is at work.

Right after that the ledger must be whole, as before or with this version, and the sealed bundle untouched; the next
seal must end well, the ledger have this version once, and the bundle be what a clean work folder makes of the same
source. Where only the first process was killed, what it had started may still be at work: a seal that says so waits
for it. `wrong` counts the rest, and must be 0.
"""

import argparse
import os
import random
import shutil
import subprocess
import tempfile
import time
from collections import Counter, defaultdict
from collections.abc import Callable, Iterator
from pathlib import Path

from pipeline.ledger.book import Ledger, read_ledger
from pipeline.ledger.held import not_as_sealed
from tests.bench.interruptions import stopped
from tests.bench.rooms import Room

_CHANNEL = "\n[channels.shop]\narchives = 2\narchive_mb = 5\n"
_DAY_S = 86_400
_AT_WORK = "Another run is at work"
_VERIFIED = 10
"""One in so many is held by `verify` too; the bench itself holds every one."""
OLD, NEW = "1.0.0", "1.1.0"


class SealRoom(Room):
    """A room that was sealed once and has another version to seal; `states` are what its trials begin with."""

    def __init__(self, folder: Path) -> None:
        super().__init__(folder / "room")
        self.put_by = folder / "states"
        self.seconds: dict[str, float] = {}
        self._edit("pattern.toml", "\n[print]", f"{_CHANNEL}\n[print]")
        self._must("seal")
        self._edit("pattern.toml", f'version = "{OLD}"', f'version = "{NEW}"')
        self._edit("CHANGES.md", f"# {OLD}", f"# {NEW}\n\nThe place of the pocket.\n\n# {OLD}")
        self._edit("sizes/M/skirt.svg", 'cx="140"', 'cx="139"')
        self._put_by("new")
        self._edit("pattern.toml", "archives = 2", "archives = 3")
        self._must("all")
        self._edit("pattern.toml", "archives = 3", "archives = 2")
        self._put_by("archives")
        self._must("all")
        self._put_by("built")
        self.expected = self.bundles()
        if self._made_clean() != self.expected:
            raise SystemExit("a clean work folder makes another bundle")
        for state in ("new", "archives", "built"):
            self.restore(state)
            began = time.monotonic()
            self._must("seal")
            self.seconds[state] = time.monotonic() - began
        self.sealed = read_ledger(self.pattern)

    def _edit(self, file: str, old: str, new: str) -> None:
        path = self.pattern / file
        text = path.read_text(encoding="utf-8")
        assert old in text, (file, old)
        path.write_text(text.replace(old, new), encoding="utf-8")

    def _must(self, target: str) -> None:
        status, text = self.run(1, target)
        if status:
            raise SystemExit(text)

    def _put_by(self, state: str) -> None:
        shutil.copytree(self.folder, self.put_by / state, symlinks=True)

    def _made_clean(self) -> dict[str, bytes]:
        """The bundles as they would be, had the new version been made in a clean work folder."""
        shutil.rmtree(self.work)
        shutil.rmtree(self.release / "tea-apron" / NEW)
        self._must("all")
        return self.bundles()

    def clear(self) -> None:
        """Take everything away, but not the folder itself."""
        for inner in self.folder.iterdir():
            shutil.rmtree(inner)

    def restore(self, state: str) -> None:
        """Everything as it was put by, with its dates, in the same place."""
        self.clear()
        shutil.copytree(self.put_by / state, self.folder, symlinks=True, dirs_exist_ok=True)

    def bundles(self) -> dict[str, bytes]:
        """Every file of every bundle."""
        place = self.release / "tea-apron"
        versions = (folder for folder in place.iterdir() if folder.name[0] != ".")  # what is being built has a dot
        files = (path for folder in versions for path in folder.rglob("*") if path.is_file())
        return {path.relative_to(place).as_posix(): path.read_bytes() for path in files}

    def held(self) -> str:
        """What is wrong right after a stop; "" where nothing is."""
        ledger = read_ledger(self.pattern)
        if not isinstance(ledger, Ledger):
            return "the ledger is not whole"
        if [entry.version for entry in ledger.versions] not in ([OLD], [OLD, NEW]):
            return "the ledger is another"
        now = self.bundles()
        sold = {name: data for name, data in self.expected.items() if name.startswith(f"{OLD}/")}
        return "" if all(now.get(name) == data for name, data in sold.items()) else "a sealed bundle was touched"

    def made_good(self, way: int, verified: bool) -> str:
        """What the next seal leaves wrong; "" where it makes all good."""
        status, text = self.run(way, "seal")
        while status and _AT_WORK in text:
            time.sleep(1)
            status, text = self.run(way, "seal")
        if status or "Traceback" in text:
            return f"status {status}\n{text[-1500:]}"
        ledger = read_ledger(self.pattern)
        if not isinstance(ledger, Ledger) or ledger.shapes != self.sealed.shapes:
            return "the ledger is not whole"
        if [entry.version for entry in ledger.versions] != [OLD, NEW]:
            return "the ledger is another"
        if any(not_as_sealed("tea-apron", self.release / "tea-apron" / e.version, e) for e in ledger.versions):
            return "a bundle is not as it was sealed"
        if self.bundles() != self.expected:
            return "a bundle is another"
        return "verify does not agree" if verified and self.run(way, "verify")[0] else ""


class Tally:
    """A row a kind of trial."""

    def __init__(self) -> None:
        self.rows: dict[str, Counter[str]] = defaultdict(Counter)

    def trial(self, room: SealRoom, kind: str, number: int, happen: Callable[[], str]) -> None:
        """Let something happen, and hold what is there then and after the next seal."""
        how = happen()
        entered = "entered" if _entered(room) else "not entered"
        wrong = room.held() or room.made_good(number % 2, number % _VERIFIED == 0)
        self.rows[kind].update([entered, "wrong" if wrong else "right"])
        if wrong:
            print(f"  {kind} {number}: {how}: {wrong}", flush=True)

    def show(self) -> None:
        """The table."""
        print("| what | trials | entered by then | right | wrong |\n| --- | ---: | ---: | ---: | ---: |")
        for kind, counts in self.rows.items():
            trials = counts["right"] + counts["wrong"]
            print(f"| {kind} | {trials} | {counts['entered']} | {counts['right']} | {counts['wrong']} |", flush=True)


def _entered(room: SealRoom) -> bool:
    ledger = read_ledger(room.pattern)
    return isinstance(ledger, Ledger) and len(ledger.versions) > 1


def kills(room: SealRoom, tally: Tally, count: int, draw: random.Random) -> None:
    """Seals from every state in turn; after one in four the clock goes back."""
    for number in range(count):
        state, back = list(room.seconds)[number % 3], number % 4 == 3
        room.restore(state)

        def happen(number: int = number, state: str = state, back: bool = back) -> str:
            how = stopped(room, number, draw, "seal", 1.1 * room.seconds[state])
            if back:
                for path in _all_files(room.folder):
                    found = path.stat()
                    os.utime(path, (found.st_atime + _DAY_S, found.st_mtime + _DAY_S))
            return how

        tally.trial(room, f"stopped, {state}{', the clock set back' * back}", number, happen)
        if number % 20 == 19:
            tally.show()


def _all_files(folder: Path) -> Iterator[Path]:
    return (path for path in folder.rglob("*") if path.is_file() and not path.is_symlink())


def disks(room: SealRoom, tally: Tally, count: int) -> None:
    """A file system that is full at many sizes, from what lies there to what a seal leaves; then enlarged."""
    room.restore("built")
    most_kb = _kb(room.folder) * 2
    for number in range(count):
        state = list(room.seconds)[number % 3]
        least_kb = _kb(room.put_by / state)
        size_kb = least_kb + round((most_kb - least_kb) * number / count)
        room.clear()
        mounted = ["mount", "-t", "tmpfs", "-o", f"size={size_kb}k", "tmpfs", str(room.folder)]
        subprocess.run(mounted, check=True)
        try:
            room.restore(state)

            def happen(size_kb: int = size_kb) -> str:
                status, _ = room.run(0, "seal")
                subprocess.run(["mount", "-o", "remount,size=500m", str(room.folder)], check=True)
                return f"full at {size_kb} kB (status {status})"

            tally.trial(room, f"disk full, {state}", number, happen)
        finally:
            subprocess.run(["umount", str(room.folder)], check=True)


def _kb(folder: Path) -> int:
    """What a folder takes in pages of 4 kB, and a little."""
    return sum(-(-path.stat().st_size // 4096) * 4 for path in _all_files(folder)) + 200


def pairs(room: SealRoom, tally: Tally, count: int, draw: random.Random) -> None:
    """Two seals at once."""
    for number in range(count):
        state = list(room.seconds)[number % 3]
        room.restore(state)

        def happen(number: int = number, state: str = state) -> str:
            first = room.start(number, "seal")
            time.sleep(draw.uniform(0, room.seconds[state]))
            second = room.start(number + 1, "seal")
            texts = [first.communicate()[0], second.communicate()[0]]
            return "a trace" if any("Traceback" in text for text in texts) else "both ended"

        tally.trial(room, f"two at once, {state}", number, happen)


def main() -> None:
    """Print the table."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--kills", type=int, default=20)
    parser.add_argument("--disks", type=int, default=0)
    parser.add_argument("--pairs", type=int, default=0)
    parser.add_argument("--seed", type=int, default=1)
    asked = parser.parse_args()
    draw, tally = random.Random(asked.seed), Tally()
    with tempfile.TemporaryDirectory() as temporary:
        room = SealRoom(Path(temporary))
        print(", ".join(f"{state} {seconds:.1f} s" for state, seconds in room.seconds.items()), flush=True)
        disks(room, tally, asked.disks)
        pairs(room, tally, asked.pairs, draw)
        tally.show()
        kills(room, tally, asked.kills, draw)
    tally.show()


if __name__ == "__main__":
    main()

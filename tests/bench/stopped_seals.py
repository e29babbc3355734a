"""Seals that are stopped, and what the next one makes of it.

    python -m tests.bench.stopped_seals --kills 200 [--seed 1]

Versions of the small pattern are sealed one after the other, each with another master and a place of sale, so that
every run after the first also makes a correction and archives. Each seal is killed or interrupted at a random moment.
Then the ledger must be whole, as before or with this version, and earlier bundles untouched; the next seal must end
well, verify must agree, and the bundle must be what a clean work folder makes of the same source. `wrong` counts the
rest, and must be 0.
"""

import argparse
import random
import shutil
import tempfile
from collections import Counter
from copy import copy
from pathlib import Path

from pipeline.ledger.book import LEDGER, Ledger, read_ledger
from tests.bench.interruptions import Room, stopped

_VERSIONS = 6
_CHANNEL = "\n[channels.shop]\narchives = 2\narchive_mb = 5\n"


class SealRoom(Room):
    """A room whose pattern takes one version after the other."""

    def __init__(self, folder: Path, by_size: bool = False) -> None:
        super().__init__(folder, by_size)
        self.number = 0
        text = (self.pattern / "pattern.toml").read_text(encoding="utf-8")
        (self.pattern / "pattern.toml").write_text(text + _CHANNEL, encoding="utf-8")

    @property
    def version(self) -> str:
        return f"1.{self.number}.0"

    def next(self) -> None:
        """Another version with another master."""
        was = self.version
        self.number += 1
        for file, old, new in (
            ("pattern.toml", f'version = "{was}"', f'version = "{self.version}"'),
            ("CHANGES.md", f"# {was}", f"# {self.version}\n\nThe place of the pocket.\n\n# {was}"),
            ("sizes/M/skirt.svg", f'cx="{139 + self.number}"', f'cx="{140 + self.number}"'),
        ):
            path = self.pattern / file
            text = path.read_text(encoding="utf-8")
            assert old in text, (file, old)
            path.write_text(text.replace(old, new), encoding="utf-8")

    def bundles(self) -> dict[str, bytes]:
        """Every file of every bundle."""
        place = self.release / "tea-apron"
        files = (path for path in place.rglob("*") if path.is_file() and path.relative_to(place).parts[0][0] != ".")
        return {path.relative_to(place).as_posix(): path.read_bytes() for path in files}

    def clean_bundle(self) -> dict[str, bytes]:
        """What a clean work folder makes of the source and the ledger as they stand, without this version's entry."""
        with tempfile.TemporaryDirectory(dir=self.folder) as place:
            other = copy(self)
            other.work, other.release = Path(place) / "work", Path(place) / "release"
            status, text = other.run()
            if status:
                raise SystemExit(text)
            return other.bundles()


def held(room: SealRoom, ledger_before: bytes, sold: dict[str, bytes]) -> str:
    """What is wrong right after a stop; "" where nothing is."""
    file = room.pattern / LEDGER
    now = file.read_bytes() if file.exists() else b""
    ledger = read_ledger(room.pattern)
    if not isinstance(ledger, Ledger):
        return "the ledger is not whole"
    if now != ledger_before and (not ledger.versions or ledger.versions[-1].version != room.version):
        return "the ledger is another"
    bundles = room.bundles()
    return "" if all(bundles.get(name) == data for name, data in sold.items()) else "a sealed bundle was touched"


def main() -> None:
    """Print a row."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--kills", type=int, default=20)
    parser.add_argument("--seed", type=int, default=1)
    asked = parser.parse_args()
    draw, counts, entered = random.Random(asked.seed), Counter[str](), 0
    with tempfile.TemporaryDirectory() as temporary:
        room = SealRoom(Path(temporary) / "seals")
        for number in range(asked.kills):
            if room.number == _VERSIONS:
                shutil.rmtree(room.folder)
                room = SealRoom(room.folder)
            file = room.pattern / LEDGER
            before, sold = file.read_bytes() if file.exists() else b"", room.bundles()
            how = stopped(room, number, draw, "seal", 25.0)
            wrong = held(room, before, sold)
            entered += file.exists() and file.read_bytes() != before
            expected = room.clean_bundle()
            status, text = room.run(number + 1, "seal")
            bundles = room.bundles()
            if status or "Traceback" in text:
                wrong = wrong or f"status {status}"
            elif any(bundles.get(name) != data for name, data in {**sold, **expected}.items()):
                wrong = wrong or "a bundle is another"
            elif room.run(number, "verify")[0]:
                wrong = wrong or "verify does not agree"
            counts["wrong" if wrong else "right"] += 1
            if wrong:
                print(f"  {number}: {how}: {wrong}\n{text[-1500:]}", flush=True)
            room.next()
    rest = ", ".join(f"{verdict} {count}" for verdict, count in sorted(counts.items()))
    print(f"{asked.kills} seals stopped at random, {entered} of them after the entry: {rest}", flush=True)


if __name__ == "__main__":
    main()

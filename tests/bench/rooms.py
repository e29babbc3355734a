"""Folders in which builds are stopped, doubled and overtaken, and the count of what the next builds made of it."""

import os
import shutil
import subprocess
import sys
import tempfile
from collections import Counter
from collections.abc import Callable
from copy import copy
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

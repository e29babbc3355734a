"""What a release costs: the demo jacket built cold, again, and after a change; and growth with sizes and pieces.

    python tests/bench/build.py [--cores 2] [--keep FOLDER]

The real command runs on copies in a folder of its own. Wall time says what a person waits and depends on what else the
machine does; CPU time hardly does. Memory is the largest resident set that any job reached. Growth is measured on the
small pattern of the tests, its sizes or its pieces copied 2, 4 and 8 times.
"""

import argparse
import json
import os
import re
import resource
import shutil
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from typing import NamedTuple

ROOT = Path(__file__).resolve().parents[2]
FACTORS = (1, 2, 4, 8)
CHANGED = ("sizes/40/front.svg", re.compile(r'("points">.*?\bcx=")(\d+)', re.DOTALL))

WATCH = """
import atexit, json, os, resource, sys

def told():
    used = [resource.getrusage(who) for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN)]
    named = sys.orig_argv[sys.orig_argv.index("--") + 1] if "pipeline.steps" in sys.orig_argv else None
    job = "one of the jobs" if "pipeline.steps.standby" in sys.orig_argv else named
    if job and os.getppid() != 1:
        with open(os.path.join(os.path.dirname(__file__), f"{os.getpid()}.json"), "w") as file:
            json.dump([job, max(one.ru_maxrss for one in used) / 1024], file)

atexit.register(told)
"""
"""Read by every Python that a run starts: each job writes what it used when it ends."""


class Run(NamedTuple):
    """One run of the command: seconds, and the largest job with its MB."""

    wall_s: float
    cpu_s: float
    job: str
    job_mb: float


class Room:
    """Folders for runs on one pattern."""

    def __init__(self, folder: Path, pattern: Path, cores: int) -> None:
        self.folder, self.cores, self.name = folder, cores, pattern.name
        self.pattern = folder / "source" / pattern.name
        self.watch = folder / "watch"
        self.watch.mkdir(parents=True)
        (self.watch / "sitecustomize.py").write_text(WATCH, encoding="utf-8")
        shutil.copytree(pattern, self.pattern, ignore=shutil.ignore_patterns("*.py", "__pycache__"))

    def run(self) -> Run:
        """Give the command; a run that fails ends the benchmark."""
        for told in self.watch.glob("*.json"):
            told.unlink()
        where = (f"{name}={self.folder / name}" for name in ("source", "release", "work"))
        command = [sys.executable, "-m", "snakemake", "-s", str(ROOT / "Snakefile"), "--cores", str(self.cores)]
        environment = {**os.environ, "PYTHONPATH": str(self.watch)}
        before, began = _children_s(), time.monotonic()
        done = subprocess.run(
            [*command, "--config", *where],
            cwd=self.folder,
            env=environment,
            capture_output=True,
            text=True,
            check=False,
        )
        wall_s, cpu_s = time.monotonic() - began, _children_s() - before
        if done.returncode:
            raise SystemExit(done.stdout + done.stderr)
        jobs = [json.loads(told.read_text()) for told in self.watch.glob("*.json")]
        job, job_mb = max(jobs, key=lambda one: one[1], default=("", 0.0))
        return Run(wall_s, cpu_s, job, job_mb)

    def size_mb(self, name: str) -> float:
        """The size of a file of the bundle."""
        (file,) = self.folder.glob(f"release/{self.name}/*/{name}")
        return file.stat().st_size / 1e6


def _children_s() -> float:
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime


def change_a_master(folder: Path) -> None:
    """Move the first point of one master by 1 mm."""
    name, place = CHANGED
    text = (folder / name).read_text(encoding="utf-8")
    changed, count = place.subn(lambda found: f"{found[1]}{int(found[2]) + 1}", text, count=1)
    if not count:
        raise SystemExit(f"{name} has no point to move")
    (folder / name).write_text(changed, encoding="utf-8")


def more_sizes(folder: Path, factor: int) -> None:
    """So many times two sizes, each 1 % larger than the last, so that no line is shared."""
    sizes = [f"s{number}" for number in range(1, 2 * factor + 1)]
    for number, size in enumerate(sizes):
        for master in sorted((folder / "sizes/S").glob("*.svg")):
            target = folder / "sizes" / size / master.name
            target.parent.mkdir(exist_ok=True)
            target.write_text(_enlarged(master.read_text(encoding="utf-8"), 1 + number / 100), encoding="utf-8")
    for old in "SM":
        shutil.rmtree(folder / "sizes" / old)
    listed = ", ".join(f'"{size}"' for size in sizes)
    _rewrite(folder, 'sizes = ["S", "M"]\nbase = "S"', f'sizes = [{listed}]\nbase = "s1"')


def _enlarged(svg: str, scale: float) -> str:
    return re.sub(r'(width|height)="([\d.]+)mm"', lambda side: f'{side[1]}="{float(side[2]) * scale:.4f}mm"', svg)


def more_pieces(folder: Path, factor: int) -> None:
    """So many times a skirt and a band, each 1 % larger than the last."""
    text = (folder / "pattern.toml").read_text(encoding="utf-8")
    start, end = text.index("[pieces.skirt]"), text.index("[print]")
    added = []
    for number in range(2, factor + 1):
        added.append(re.sub(r"\b(skirt|band|seams\.waist)\b", rf"\1-{number}", text[start:end]))
        for master in sorted(folder.glob("sizes/*/*.svg")):
            if "-" not in master.stem:
                larger = _enlarged(master.read_text(encoding="utf-8"), 1 + (number - 1) / 100)
                master.with_stem(f"{master.stem}-{number}").write_text(larger, encoding="utf-8")
    _rewrite(folder, "[print]", "".join(added) + "[print]")


def _rewrite(folder: Path, old: str, new: str) -> None:
    file = folder / "pattern.toml"
    text = file.read_text(encoding="utf-8")
    if text.count(old) != 1:
        raise SystemExit(f"{file} does not have this text once: {old}")
    file.write_text(text.replace(old, new), encoding="utf-8")


def jacket_rows(folder: Path, cores: int) -> None:
    """The jacket: cold, nothing to do, one changed master."""
    room = Room(folder / "jacket", ROOT / "source/work-jacket", cores)
    print(f"{'work-jacket, 11 sizes':30} {'wall s':>7} {'CPU s':>7} {'MB':>5}  largest job")
    for what in ("cold build", "nothing to do", "one changed master"):
        if what == "one changed master":
            change_a_master(room.pattern)
        run = room.run()
        print(f"{what:30} {run.wall_s:7.1f} {run.cpu_s:7.1f} {run.job_mb:5.0f}  {run.job}", flush=True)
    print(f"print/a4.pdf: {room.size_mb('print/a4.pdf'):.2f} MB")


def growth_rows(folder: Path, cores: int) -> None:
    """The small pattern with more sizes, then with more pieces: CPU seconds, and what each added unit costs."""
    for what, more in (("sizes", more_sizes), ("pieces", more_pieces)):
        print(f"\n{what:30} {'wall s':>7} {'CPU s':>7} {'MB':>5}  CPU s for each one more")
        last: tuple[int, float] | None = None
        for factor in FACTORS:
            room = Room(folder / f"{what}-{factor}", ROOT / "tests/patterns/tea-apron", cores)
            more(room.pattern, factor)
            _rewrite(room.pattern, "[print]", "[lays]\nseconds = 1\n\n[print]")
            run, count = room.run(), 2 * factor
            step = "" if last is None else f"{(run.cpu_s - last[1]) / (count - last[0]):.2f}"
            print(f"{count:30} {run.wall_s:7.1f} {run.cpu_s:7.1f} {run.job_mb:5.0f}  {step}", flush=True)
            last = count, run.cpu_s


def main() -> None:
    """Print the tables."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--cores", type=int, default=2, help="how many jobs run side by side")
    parser.add_argument("--keep", type=Path, help="a new folder for what is built; without it all is deleted")
    asked = parser.parse_args()
    load = os.getloadavg()[0] if hasattr(os, "getloadavg") else float("nan")
    print(f"{os.cpu_count()} cores, {asked.cores} used; load before the first run {load:.1f}\n")
    with tempfile.TemporaryDirectory() as temporary:
        folder = asked.keep.absolute() if asked.keep else Path(temporary)
        jacket_rows(folder, asked.cores)
        growth_rows(folder, asked.cores)


if __name__ == "__main__":
    main()

"""What the booklets of a pattern cost by themselves: the step called as a run calls it, with an empty cache.

    python -m tests.bench.booklets --source source/work-jacket --place FOLDER --times 5

What the step reads is built first, within FOLDER, where it may stand from an earlier call.
"""

import argparse
import os
import resource
import shutil
import statistics
import subprocess
import sys
from pathlib import Path

from pipeline.masters.toml.load import load_pattern

ROOT = Path(__file__).resolve().parents[2]


def main() -> None:
    """Prints the median of CPU seconds, user and system, all of them, and how many files and bytes came of it."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--source", type=Path, default=ROOT / "source/work-jacket")
    parser.add_argument("--place", type=Path, required=True)
    parser.add_argument("--times", type=int, default=5)
    asked = parser.parse_args()
    source, work = asked.source.absolute(), asked.place.absolute() / "work"
    made = work / source.name / "out/booklet"
    where = {"source": source.parent, "release": work.with_name("released"), "work": work, "pattern": source.name}
    config = [f"{name}={value}" for name, value in where.items()]
    subprocess.run(
        [sys.executable, "-m", "snakemake", "--cores", "1", "--quiet", "--config", *config, "--", str(made)],
        cwd=ROOT,
        check=True,
    )
    pattern, _ = load_pattern(source)
    assert pattern is not None
    seconds = [booklets_s(work, source.name, pattern.sizes) for _ in range(asked.times)]
    files = list(made.iterdir())
    told = " ".join(f"{each:.2f}" for each in seconds)
    bytes_mb = sum(file.stat().st_size for file in files) / 1e6
    print(f"{source.name} {statistics.median(seconds):.2f} CPU s ({told}), {len(files)} files, {bytes_mb:.2f} MB")


def booklets_s(work: Path, name: str, sizes: tuple[str, ...]) -> float:
    """CPU seconds of the step, its own process and what it starts."""
    place = work / name
    shutil.rmtree(place / "cache/booklets", ignore_errors=True)
    arguments = {
        "folder": [place / "source" / name],
        "work": [work],
        "pieces": [place / f"pieces/{size}.json" for size in sizes],
        "tables": [place / "out/tables"],
        "lays": [place / "lays.json"],
        "index": [place / "drawings.json"],
        "booklets": [place / "out/booklet"],
    }
    words = [word for key, values in arguments.items() for word in (f"--{key}", *map(str, values))]
    job = ("--work", str(work), "--log", str(place / "log/booklet.log"), "--", "booklet")
    # modules are compiled as those of a run are
    around = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    around["PYTHONPYCACHEPREFIX"] = str(work / ".run/compiled")
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    subprocess.run([sys.executable, "-m", "pipeline.steps", *job, *words], cwd=ROOT, env=around, check=True)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


if __name__ == "__main__":
    main()

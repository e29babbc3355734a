"""What one changed size costs: of the demo jacket as a nested drawing of 11 sizes, beside its single files.

    python -m tests.bench.one_size --pairs 6

`check` runs on both in turn, after the same curve was moved in both by a tenth of a millimetre.
"""

import argparse
import os
import resource
import shutil
import statistics
import subprocess
import sys
import tempfile
from pathlib import Path

from tests.masters.drawings.redrawn import ByLabel, around, read_masters, with_drawings
from tests.masters.drawings.test_demos_redrawn import SOURCE, a_layer_a_size

DEMO = "work-jacket"
CHANGED, CURVE = "sizes/40/front.svg", "C185.022,667.663"
CHECK = (sys.executable, "-c", "from pipeline.console import main; main()", "check")


def main() -> None:
    """Prints CPU seconds, user and system, of each pair."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--pairs", type=int, default=6)
    pairs = parser.parse_args().pairs
    with tempfile.TemporaryDirectory() as place:
        files, nest = Path(place) / "files" / DEMO, Path(place) / "nest" / DEMO
        shutil.copytree(SOURCE / DEMO, files, ignore=shutil.ignore_patterns("ledger.json"))
        shutil.copytree(files, nest, ignore=shutil.ignore_patterns("sizes", "draft.py"))
        masters = read_masters(files)
        said = (files / "pattern.toml").read_text(encoding="utf-8")
        named = {piece: around(drawn) for (_, piece), drawn in masters.drawn.items()}
        (nest / "pattern.toml").write_text(with_drawings(said, named, ["drawing/*.svg"]), encoding="utf-8")
        drawn = (files / CHANGED).read_text(encoding="utf-8")
        seconds: dict[str, list[float]] = {"files": [], "nest": []}
        for number in range(pairs + 1):
            moved = CURVE.replace("667.663", f"{667.663 + number / 10:.3f}")
            (files / CHANGED).write_text(drawn.replace(CURVE, moved), encoding="utf-8")
            for name, text in a_layer_a_size(read_masters(files), ByLabel()).items():
                (nest / name).parent.mkdir(exist_ok=True)
                (nest / name).write_text(text, encoding="utf-8")
            for kind in sorted(seconds, reverse=bool(number % 2)):
                seconds[kind].append(check_s(Path(place), kind))
    for kind, (cold, *changed) in seconds.items():
        row = " ".join(f"{each:.1f}" for each in changed)
        print(f"{kind:6} cold {cold:.1f} CPU s; one changed size {statistics.median(changed):.1f} ({row})")
    more = [nest - files for files, nest in list(zip(seconds["files"], seconds["nest"], strict=True))[1:]]
    print(f"the nest costs {statistics.median(more):.2f} more ({min(more):.2f} to {max(more):.2f})")


def check_s(place: Path, kind: str) -> float:
    """CPU seconds of a check, modules compiled once as on a designer's computer."""
    environment = {key: value for key, value in os.environ.items() if key != "PYTHONDONTWRITEBYTECODE"}
    environment["PYTHONPYCACHEPREFIX"] = str(place / "compiled")
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    folders = [f"--{name}={place / kind / at}" for name, at in (("source", ""), ("release", ".r"), ("work", ".w"))]
    subprocess.run([*CHECK, *folders], check=True, capture_output=True, env=environment)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


if __name__ == "__main__":
    main()

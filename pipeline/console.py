"""`pattern-release`: the same targets as Snakemake's, one run at a time, with progress and nothing left to unlock."""

import argparse
import fcntl
import subprocess
import sys
from importlib.util import find_spec
from pathlib import Path
from typing import IO

ROOT = Path(__file__).resolve().parents[1]
TARGETS = {"build": "all", "check": "check", "verify": "verify"}


def main(arguments: list[str] | None = None) -> None:
    """Run one target; the exit status is Snakemake's."""
    asked = _parser().parse_args(arguments)
    work = ROOT / ".work"
    work.mkdir(exist_ok=True)
    with (work / "run.lock").open("w") as lock:
        if not _taken(lock):
            print("Another run is at work here; wait for it, or stop it first.", file=sys.stderr)
            raise SystemExit(1)
        raise SystemExit(subprocess.run(_command(asked), check=False).returncode)


def _taken(lock: IO[str]) -> bool:
    """Take the lock, which the kernel frees however the run ends."""
    try:
        fcntl.flock(lock, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except BlockingIOError:
        return False
    return True


def _command(asked: argparse.Namespace) -> list[str]:
    config = [
        f"{key}={value}" for key in ("pattern", "source", "release") if (value := getattr(asked, key)) is not None
    ]
    return [
        *(sys.executable, "-m", "snakemake", TARGETS[asked.do]),
        *("--snakefile", str(ROOT / "Snakefile")),
        *("--workflow-profile", str(ROOT / "pipeline/profiles/default")),
        *("--cores", str(asked.cores), "--nolock", "--quiet", "host", "reason", "rules"),
        *(("--logger", "rich") if find_spec("snakemake_logger_plugin_rich") and sys.stdout.isatty() else ()),
        *(("--config", *config) if config else ()),
    ]


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="pattern-release", description=__doc__)
    parser.add_argument(
        "do", choices=TARGETS, help="build and bundle, only check, or hold bundles against their manifests"
    )
    parser.add_argument("--pattern", help="only this pattern, or several with commas between")
    parser.add_argument("--source", type=_absolute, help="where the patterns are")
    parser.add_argument("--release", type=_absolute, help="where bundles go")
    parser.add_argument("--cores", default="all", help="how many jobs run side by side")
    return parser


def _absolute(text: str) -> Path:
    return Path(text).absolute()

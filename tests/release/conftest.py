"""Runs of the whole pipeline on copies of the small pattern `tea-apron`."""

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from pipeline.sheets.layout import PagePlan
from tests.release.demo_jacket import Jacket, build

ROOT = Path(__file__).resolve().parents[2]
SMALL = ROOT / "tests/patterns/tea-apron"


class Workroom:
    """A folder with a copy of the small pattern, and runs in it; its name has a space, an accent and an apostrophe."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.source, self.release, self.work = (folder / name for name in ("source", "release", "work"))
        self.pattern = self.source / "tea-apron"
        self.bundle = self.release / "tea-apron/1.0.0"
        shutil.copytree(SMALL, self.pattern)

    def run(self, *words: str, config: tuple[str, ...] = (), hash_seed: str = "0", zone: str = "UTC"):
        """One run of Snakemake from a folder of its own; its screen is in `.text`."""
        environment = {**os.environ, "PYTHONHASHSEED": hash_seed, "TZ": zone}
        environment.pop("PYTHONPATH", None)
        where = f"source={self.source}", f"release={self.release}", f"work={self.work}", *config
        command = [
            sys.executable,
            "-m",
            "snakemake",
            "-s",
            str(ROOT / "Snakefile"),
            "--cores",
            "2",
            *words,
            "--config",
            *where,
        ]
        done = subprocess.run(command, cwd=self.folder, env=environment, capture_output=True, text=True, check=False)
        done.text = done.stdout + done.stderr
        return done

    def edit(self, file: str, old: str, new: str) -> None:
        """Replace text in a file of the pattern, which must have it."""
        path = self.pattern / file
        text = path.read_text(encoding="utf-8")
        assert old in text
        path.write_text(text.replace(old, new), encoding="utf-8")

    def files(self) -> dict[str, bytes]:
        """Every file of the bundle with its content."""
        return {p.relative_to(self.bundle).as_posix(): p.read_bytes() for p in self.bundle.rglob("*") if p.is_file()}


@pytest.fixture
def workroom(tmp_path: Path) -> Workroom:
    return Workroom(tmp_path / "Élise's patterns")


@pytest.fixture(scope="session")
def built(tmp_path_factory: pytest.TempPathFactory) -> Workroom:
    """One finished build, for tests that only look."""
    room = Workroom(tmp_path_factory.mktemp("built") / "Élise's patterns")
    done = room.run()
    assert done.returncode == 0, done.text
    return room


@pytest.fixture(scope="session")
def jacket(tmp_path_factory: pytest.TempPathFactory) -> Jacket:
    return build(tmp_path_factory.mktemp("jacket"))


@pytest.fixture(scope="session")
def plans(jacket: Jacket) -> dict[str, PagePlan]:
    return jacket.plans()

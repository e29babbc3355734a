"""A run is refused, in plain words and before anything is touched, where it could not end well."""

import os
import re
from pathlib import Path

import pytest

from pipeline.rules import place as places
from pipeline.rules.place import Place, check_bundle_place, check_cores, check_program
from pipeline.rules.sources import RefusalError

PROGRAM = Path("/opt/program")


@pytest.fixture
def home(tmp_path: Path) -> Path:
    (tmp_path / "source/coat").mkdir(parents=True)
    (tmp_path / "source/coat/pattern.toml").write_text("")
    return tmp_path


@pytest.mark.parametrize(
    ("source", "release", "work", "said"),
    [
        ("source", "source", ".work", "is the source itself"),
        ("source", "release", "source", "is the source itself"),
        ("source", "release", "source/coat", "is the source itself"),
        ("source", "source/coat/out", ".work", "is the source itself"),
        ("source", ".work/release", ".work", "lies in the other"),
        ("source", "release", "release/work", "lies in the other"),
        ("source", "release", "a{b}", "'{' '}' in its name"),
        ("source", "re\nlease", ".work", "'\\n' in its name"),
        ("so<urce", "release", ".work", "'<' in its name"),
        ("source", "release", "papers", "holds other things"),
    ],
)
def test_folders_that_cannot_work_are_refused(home: Path, source, release, work, said):
    (home / "papers").mkdir()
    (home / "papers/letter.txt").write_text("mine")
    with pytest.raises(RefusalError, match=re.escape(said)):
        Place(home / source, home / release, home / work).check(PROGRAM)
    assert (home / "papers/letter.txt").read_text() == "mine"


@pytest.mark.parametrize("name", ["Élise's patterns", "a b", "ü-ñ-日本"])
def test_other_names_are_fine(home: Path, name: str):
    Place(home / "source", home / "release", home / name).check(PROGRAM)


def test_a_work_folder_is_known_again(home: Path):
    for _ in range(2):
        place = Place(home / "source", home / "release", home / ".work")
        place.check(PROGRAM)
        (place.work / places.OF_RUN).mkdir(parents=True, exist_ok=True)
        (place.work / "coat").mkdir(exist_ok=True)


@pytest.mark.parametrize("kind", ["file", "link", "file for the pattern"])
def test_what_stands_in_a_bundles_place_is_told(tmp_path: Path, kind: str):
    place = tmp_path / "coat/1.0.0"
    if kind == "file for the pattern":
        place.parent.write_text("mine")
    else:
        place.parent.mkdir()
        place.write_text("mine") if kind == "file" else place.symlink_to(tmp_path)
    with pytest.raises(RefusalError, match="move it away"):
        check_bundle_place(place)


def test_cores_that_would_never_start_a_job_are_refused():
    for cores in (0, -3):
        with pytest.raises(RefusalError, match=f"--cores {cores}"):
            check_cores(cores)
    check_cores(1)
    check_cores(None)


def test_a_missing_font_or_cairo_is_told(monkeypatch: pytest.MonkeyPatch, tmp_path: Path):
    check_program()
    with monkeypatch.context() as patch:
        patch.setattr(places, "FONT_FILES", {False: tmp_path / "Regular.ttf"})
        with pytest.raises(RefusalError, match=r"Regular\.ttf is missing"):
            check_program()
    with monkeypatch.context() as patch:
        patch.setattr(places, "cairo_version", lambda: None)
        with pytest.raises(RefusalError, match="apt-get install libcairo2"):
            check_program()


@pytest.mark.skipif(os.geteuid() == 0, reason="root may write anywhere")
def test_a_folder_that_may_not_be_written_is_told(tmp_path: Path):
    (tmp_path / "coat").mkdir(mode=0o555)
    with pytest.raises(RefusalError, match="may not be written"):
        check_bundle_place(tmp_path / "coat/1.0.0")

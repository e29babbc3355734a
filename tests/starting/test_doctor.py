"""What this computer lacks."""

import re
import tomllib
from pathlib import Path

from pipeline.starting.doctor import LIBRARIES, doctor

ROOT = Path(__file__).resolve().parents[2]


def test_doctor_asks_for_every_library_that_the_program_needs():
    needed = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]["dependencies"]
    assert sorted(LIBRARIES) == sorted(re.split("[<>=]", each)[0] for each in needed)


def test_doctor_says_of_each_thing_whether_it_is_well(tmp_path):
    rows = doctor(tmp_path, tmp_path / "release", tmp_path / "not/yet")
    assert all(well for well, _ in rows)
    (tmp_path / "file").write_text("")
    assert doctor(tmp_path, tmp_path, tmp_path / "file")[-1][0] is False

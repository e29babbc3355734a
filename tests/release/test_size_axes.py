"""A skirt in three sizes and three heights, built to the end: layers, files and tables are those of every point."""

import csv
import json
import shutil
from pathlib import Path

import pikepdf
import pytest

from tests.patterns.heights import HEIGHTS, SIZES, write_skirt
from tests.release.conftest import Workroom

POINTS = [f"{size}-{height}" for size in SIZES for height in HEIGHTS]


@pytest.fixture(scope="module")
def room(tmp_path_factory: pytest.TempPathFactory) -> Workroom:
    room = Workroom(tmp_path_factory.mktemp("axes") / "skirts")
    shutil.rmtree(room.pattern)
    room.pattern, room.bundle = write_skirt(room.source), room.release / "skirt/1.0.0"
    done = room.run()
    assert done.returncode == 0, done.text
    return room


def rows(file: Path) -> list[dict[str, str]]:
    with file.open(encoding="utf-8-sig", newline="") as lines:
        return list(csv.DictReader(lines))


def test_nothing_is_found_that_is_to_be_looked_at(room: Workroom) -> None:
    findings = json.loads((room.bundle / "data/findings.json").read_text(encoding="utf-8"))["findings"]
    assert [each for each in findings if each["severity"] in ("block", "warn")] == []


def test_every_point_has_its_layer_and_its_own_file(room: Workroom) -> None:
    with pikepdf.open(room.bundle / "print/a4.pdf") as pdf:
        assert [str(layer.Name) for layer in pdf.Root.OCProperties.OCGs] == [f"Size {point}" for point in POINTS]
    assert sorted(file.name for file in room.bundle.glob("print/by-size/*.pdf")) == [f"{p}-a4.pdf" for p in POINTS]


def test_no_drawing_is_copied_and_no_job_is_made_for_a_value(room: Workroom) -> None:
    drawn, taken = ({file.relative_to(place).as_posix() for file in place.rglob("*.svg")} for place in places(room))
    assert taken == drawn
    assert len(drawn) == 2 * len(POINTS) + len(SIZES) + len(HEIGHTS) + 1
    jobs = {file.stem for file in (room.work / "skirt/receipts").iterdir()}
    assert {job for job in jobs if job.startswith("pieces-")} == {f"pieces-{point}" for point in POINTS}
    assert {job for job in jobs if job.startswith("by-size-")} == {f"by-size-{point}" for point in POINTS}


def places(room: Workroom) -> tuple[Path, Path]:
    (taken,) = (room.work / "skirt/source").rglob("sizes")
    return room.pattern / "sizes", taken


def test_tables_tell_every_point_and_what_one_axis_changes_by_its_values(room: Workroom) -> None:
    tables = json.loads((room.bundle / "tables/tables.json").read_text(encoding="utf-8"))
    lengths = {row["size"]: row["length_mm"] for row in tables["sizes"] if row["measure"] == "length"}
    assert lengths == {
        f"{size}-{height}": 520 + 5 * i + 30 * j for i, size in enumerate(SIZES) for j, height in enumerate(HEIGHTS)
    }
    assert [row["Sizes"] for row in rows(room.bundle / "tables/notions.csv")] == list(HEIGHTS)
    assert "Size 36 (8), petite (to 163 cm)" in rows(room.bundle / "tables/sizes.csv")[0]


def test_cloth_never_falls_along_an_axis(room: Workroom) -> None:
    tables = json.loads((room.bundle / "tables/tables.json").read_text(encoding="utf-8"))
    bought = {row["size"]: row["length_to_buy_mm"] for row in tables["cloth"]}
    assert set(bought) == set(POINTS)
    for i, size in enumerate(SIZES):
        for j, height in enumerate(HEIGHTS):
            smaller = [f"{SIZES[i - 1]}-{height}"] * (i > 0) + [f"{size}-{HEIGHTS[j - 1]}"] * (j > 0)
            assert all(bought[f"{size}-{height}"] >= bought[before] for before in smaller)


def test_a_line_that_all_points_of_a_value_share_has_its_name(room: Workroom) -> None:
    drawings = json.loads((room.work / "skirt/drawings.json").read_text(encoding="utf-8"))
    assert {*SIZES, *HEIGHTS} <= _strings(drawings)


def _strings(value: object) -> set[str]:
    if isinstance(value, str):
        return {value}
    inside = value.values() if isinstance(value, dict) else value if isinstance(value, list) else ()
    return {text for each in inside for text in _strings(each)}

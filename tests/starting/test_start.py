"""From a drawing and an empty folder to a first pattern.toml that can be checked; and what this computer lacks."""

import re
import tomllib
from pathlib import Path

import pytest

from pipeline.console import main
from pipeline.masters.copied import copy_folder
from pipeline.starting.doctor import LIBRARIES, doctor
from pipeline.starting.first import NoStartError, start
from pipeline.starting.look import look_at
from tests.masters.drawings.small import drawing

ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """An empty folder of a pattern, with a drawing beside it."""
    (tmp_path / "nest.svg").write_text(drawing(), encoding="utf-8")
    (tmp_path / "source/bag").mkdir(parents=True)
    return tmp_path / "source/bag"


def test_what_is_written_is_read_again_without_a_fault(folder, tmp_path):
    told = start(folder, [tmp_path / "nest.svg"])
    assert told[0] == "1 drawing: sizes s, m, l; pieces front-panel, klappe".replace("s, m, l", "S, M, L")
    assert told[-1] == f"next: pattern-release check --source {folder.parent} --pattern bag"
    found = copy_folder(folder, tmp_path / "work/bag")
    assert [each.message for each in found.findings if each.severity == "block"] == []
    assert found.pattern.sizes == ("S", "M", "L")
    assert found.pattern.pieces["front-panel"].around == ("edge-1", "edge-2", "edge-3", "edge-4")
    assert (folder / "drawing/nest.svg").read_text() == drawing()
    assert (folder / "CHANGES.md").is_file()


def test_a_fold_and_lengths_are_proposed_as_comments(folder, tmp_path):
    start(folder, [tmp_path / "nest.svg"])
    said = (folder / "pattern.toml").read_text()
    assert "# proposed: edges.edge-4 = { fold = true }" in said
    assert "# edge-1: 104 mm, top" in said


def test_nothing_is_overwritten(folder, tmp_path):
    (folder / "CHANGES.md").write_text("mine")
    start(folder, [tmp_path / "nest.svg"])
    assert (folder / "CHANGES.md").read_text() == "mine"
    before = (folder / "pattern.toml").read_text()
    with pytest.raises(NoStartError, match="is there already"):
        start(folder, [])
    assert (folder / "pattern.toml").read_text() == before


def test_a_drawing_that_tells_of_no_piece_writes_nothing_and_says_what_to_do(folder, tmp_path):
    (tmp_path / "nest.svg").write_text(drawing().replace("seam", "lines"), encoding="utf-8")
    with pytest.raises(NoStartError, match='"Size 34" / "Front" / "seam"'):
        start(folder, [tmp_path / "nest.svg"])
    with pytest.raises(NoStartError, match="has no SVG"):
        start(folder, [])
    assert list(folder.iterdir()) == []


def test_sizes_are_ordered_as_people_order_them():
    layers = "".join(
        f'<g data-name="Size {size}"><g data-name="Front"><g data-name="seam"><path d="M0 0H9V9Z"/></g></g></g>'
        for size in ("XL", "S", "3XL", "XS", "M", "XXL", "L", "110", "98")
    )
    look = look_at(
        {"nest.svg": f'<svg xmlns="http://www.w3.org/2000/svg" width="9mm" height="9mm">{layers}</svg>'.encode()}
    )
    assert look.sizes == ("98", "110", "XS", "S", "M", "L", "XL", "XXL", "3XL")
    assert look.pieces == {"front": "Front"}


def test_the_command_ends_with_1_where_nothing_was_written(folder, capsys):
    with pytest.raises(SystemExit) as ended:
        main(["start", str(folder)])
    assert ended.value.code == 1
    assert "has no SVG" in capsys.readouterr().err


def test_doctor_asks_for_every_library_that_the_program_needs():
    needed = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]["dependencies"]
    assert sorted(LIBRARIES) == sorted(re.split("[<>=]", each)[0] for each in needed)


def test_doctor_says_of_each_thing_whether_it_is_well(tmp_path):
    rows = doctor(tmp_path, tmp_path / "release", tmp_path / "not/yet")
    assert all(well for well, _ in rows)
    (tmp_path / "file").write_text("")
    assert doctor(tmp_path, tmp_path, tmp_path / "file")[-1][0] is False

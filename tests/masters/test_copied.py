"""The source is read once, by content: whatever dates, links and half-saved files there are."""

import os
import shutil
from pathlib import Path

import pytest

from pipeline.masters.copied import changed_since, copied_before, copy_folder

SMALL = Path(__file__).resolve().parents[1] / "patterns/tea-apron"
MASTER = "sizes/M/band.svg"


@pytest.fixture
def folders(tmp_path: Path) -> tuple[Path, Path]:
    """A pattern's folder and the place of its copy."""
    folder = tmp_path / "source/tea-apron"
    shutil.copytree(SMALL, folder)
    return folder, tmp_path / "work/tea-apron"


def test_what_a_run_reads_is_copied_and_nothing_else(folders):
    folder, copy = folders
    (folder / "notes.txt").write_text("not read")
    (folder / "sizes/M/sketch.txt").write_text("not read")
    taken = copy_folder(folder, copy)
    names = {file.relative_to(copy).as_posix() for file in copy.rglob("*") if file.is_file()}
    masters = {f"sizes/{size}/{piece}.svg" for size in "SM" for piece in ("band", "skirt")}
    assert names == set(taken.hashes) == masters | {"pattern.toml", "CHANGES.md", "lays.json"}
    assert taken.pattern is not None
    assert taken.findings == ()
    assert changed_since(folder, copy) == []
    assert copied_before(copy) == taken


def test_a_copy_of_equal_content_keeps_its_date_and_another_content_has_a_new_one_whatever_the_source_says(folders):
    folder, copy = folders
    copy_folder(folder, copy)
    os.utime(copy / MASTER, (1000, 1000))
    os.utime(folder / MASTER)
    copy_folder(folder, copy)
    assert (copy / MASTER).stat().st_mtime == 1000
    (folder / MASTER).write_bytes((folder / MASTER).read_bytes() + b"\n")
    os.utime(folder / MASTER, (1, 1))
    copy_folder(folder, copy)
    assert (copy / MASTER).stat().st_mtime > 1000
    assert (copy / MASTER).read_bytes() == (folder / MASTER).read_bytes()


def test_links_are_followed(folders):
    folder, copy = folders
    other = folder.parent / "elsewhere"
    (folder / "sizes/M").rename(other)
    (folder / "sizes/M").symlink_to(other)
    assert MASTER in copy_folder(folder, copy).hashes
    assert not (copy / MASTER).is_symlink()


@pytest.mark.parametrize(
    ("change", "named"),
    [
        (lambda folder: (folder / MASTER).write_bytes(b"<svg/>"), MASTER),
        (lambda folder: (folder / MASTER).unlink(), MASTER),
        (lambda folder: (folder / "CHANGES.md").unlink(), "CHANGES.md"),
        (lambda folder: (folder / "layout.json").write_text("{}"), "layout.json"),
        (lambda folder: (folder / "pattern.toml").write_text("format = 1"), "pattern.toml"),
    ],
)
def test_what_changes_after_it_was_read_is_named(folders, change, named):
    folder, copy = folders
    copy_folder(folder, copy)
    change(folder)
    assert changed_since(folder, copy) == [named]


def test_what_a_language_is_told_of_versions_is_copied_and_belongs_to_the_source(folders):
    folder, copy = folders
    (folder / "CHANGES.de.md").write_text("# 1.0.0\n")
    assert "CHANGES.de.md" in copy_folder(folder, copy).hashes
    assert changed_since(folder, copy) == []
    (folder / "CHANGES.fr.md").write_text("# 1.0.0\n")
    assert changed_since(folder, copy) == ["CHANGES.fr.md"]
    (folder / "CHANGES.fr.md").unlink()
    (folder / "CHANGES.de.md").unlink()
    assert changed_since(folder, copy) == ["CHANGES.de.md"]
    assert "CHANGES.de.md" not in copy_folder(folder, copy).hashes


def test_what_is_gone_from_the_source_goes_from_the_copy(folders):
    folder, copy = folders
    copy_folder(folder, copy)
    (folder / "lays.json").unlink()
    assert "lays.json" not in copy_folder(folder, copy).hashes
    assert not (copy / "lays.json").exists()


def test_a_pipe_in_place_of_a_master_is_a_finding_and_not_a_wait(folders):
    folder, copy = folders
    (folder / MASTER).unlink()
    os.mkfifo(folder / MASTER)
    (finding,) = copy_folder(folder, copy).findings
    found = finding.check, finding.code, finding.file, finding.severity
    assert found == ("master-files", "not-a-file", MASTER, "block")

"""A designer's file is regular, of bounded size and at rest; everything else is told, never waited for."""

import os
from pathlib import Path

import msgspec
import pytest

from pipeline.masters import source_file
from pipeline.masters.lookup import MOST_STRAYS, check_files
from pipeline.masters.read_size import read_size
from pipeline.masters.source_file import FileFault, read_source, source_fault
from pipeline.masters.toml.load import load_pattern
from tests.masters.pattern_folder import RECTANGLE, pattern_folder

SPARSE_BYTES = 20_000_000_000
PIECE = '[pieces.front]\ntitle = "Front"\nallowance = "1 cm"\nsizes = ["s"]\n'
MASTER = "sizes/s/front.svg"


def pipe(path: Path) -> None:
    os.mkfifo(path)


def device(path: Path) -> None:
    path.symlink_to("/dev/zero")


def sparse(path: Path) -> None:
    with path.open("wb") as stream:
        stream.truncate(SPARSE_BYTES)


def folder(path: Path) -> None:
    path.mkdir()


def nowhere(path: Path) -> None:
    path.symlink_to("nowhere")


NO_FILES = [
    pytest.param(pipe, "not-a-file", "a pipe", id="pipe"),
    pytest.param(device, "not-a-file", "a device", id="device"),
    pytest.param(folder, "not-a-file", "a folder", id="folder"),
    pytest.param(sparse, "too-large", "20,000,000,000 bytes", id="sparse file of 20 GB"),
    pytest.param(nowhere, "no-file", "no file", id="link that leads nowhere"),
]


@pytest.mark.parametrize(("make", "code", "found"), NO_FILES)
def test_what_is_no_file_to_read_is_told_at_once(make, code: str, found: str, tmp_path: Path) -> None:
    path = tmp_path / "front.svg"
    make(path)
    for fault in (read_source(path, 1000), source_fault(path, 1000)):
        assert isinstance(fault, FileFault)
        assert (fault.code, fault.found) == (code, found)
        assert fault.message.endswith(".")
        assert fault.remedy.endswith(".")


def test_a_file_of_just_the_limit_is_read_whole(tmp_path: Path) -> None:
    path = tmp_path / "front.svg"
    path.write_bytes(b"x" * 1000)
    assert read_source(path, 1000) == b"x" * 1000
    assert source_fault(path, 1000) is None


def test_a_file_that_changes_while_it_is_read_is_read_again(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path, read = tmp_path / "front.svg", source_file._from_start
    path.write_bytes(b"first")
    writes = [b"second version"]

    def meanwhile(handle: int, limit: int) -> bytes:
        data = read(handle, limit)
        if writes:
            path.write_bytes(writes.pop())
        return data

    monkeypatch.setattr(source_file, "_from_start", meanwhile)
    assert read_source(path, 1000) == b"second version"


def test_a_file_that_never_rests_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path, read = tmp_path / "front.svg", source_file._from_start
    path.write_bytes(b"x")

    def meanwhile(handle: int, limit: int) -> bytes:
        data = read(handle, limit)
        with path.open("ab") as stream:
            stream.write(b"x")
        return data

    monkeypatch.setattr(source_file, "_from_start", meanwhile)
    fault = read_source(path, 1000)
    assert isinstance(fault, FileFault)
    assert fault.code == "changing"


@pytest.mark.parametrize(("make", "code", "found"), [each for each in NO_FILES if each.id != "folder"])
def test_a_master_that_is_no_file_is_told_before_any_job_and_by_the_reader(
    make, code: str, found: str, tmp_path: Path
) -> None:
    place = pattern_folder(tmp_path, PIECE, {"sizes/s/other.txt": ""})
    make(place / MASTER)
    pattern, _ = load_pattern(place)
    assert pattern is not None
    for findings in (check_files(pattern, place), read_size(pattern, place, "s")[1]):
        (finding,) = findings
        assert (finding.check, finding.code, finding.file, finding.found) == ("master-files", code, MASTER, found)


@pytest.mark.parametrize(("make", "code", "found"), NO_FILES[:-1])
def test_a_pattern_file_that_is_no_file_is_told(make, code: str, found: str, tmp_path: Path) -> None:
    (tmp_path / "coat").mkdir()
    make(tmp_path / "coat/pattern.toml")
    pattern, (finding,) = load_pattern(tmp_path / "coat")
    assert pattern is None
    assert (finding.code, finding.file, finding.found) == (code, "pattern.toml", found)


def test_a_copy_of_another_folder_is_one_finding(tmp_path: Path) -> None:
    """Up to 20 stray files are named one by one, 20,000 at once."""
    place = pattern_folder(tmp_path, PIECE, {MASTER: RECTANGLE})
    pattern, _ = load_pattern(place)
    assert pattern is not None
    for number in range(MOST_STRAYS):
        (place / f"sizes/s/old-{number:05d}.svg").touch()
    assert len(check_files(pattern, place)) == MOST_STRAYS
    for number in range(MOST_STRAYS, 20_000):
        (place / f"sizes/s/old-{number:05d}.svg").touch()
    (finding,) = check_files(pattern, place)
    assert (finding.code, finding.file, finding.found) == ("unclaimed-file", "sizes", "20,000 files")
    assert "sizes/s/old-00000.svg" in finding.message


def test_names_that_are_not_utf8_are_told_as_text(tmp_path: Path) -> None:
    place = pattern_folder(tmp_path, PIECE, {MASTER: RECTANGLE})
    pattern, _ = load_pattern(place)
    assert pattern is not None
    Path(os.fsdecode(os.fsencode(place / "sizes/s") + b"/fr\xf6nt.svg")).touch()
    (finding,) = check_files(pattern, place)
    assert (finding.code, finding.file) == ("unclaimed-file", "sizes/s/fr\N{REPLACEMENT CHARACTER}nt.svg")
    assert "not UTF-8" in finding.message
    assert msgspec.json.encode(finding)


def test_a_folder_whose_name_is_not_utf8_is_refused_as_text(tmp_path: Path) -> None:
    place = Path(os.fsdecode(os.fsencode(tmp_path) + b"/m\xe4ntel"))
    place.mkdir()
    pattern, (finding,) = load_pattern(place)
    assert pattern is None
    assert msgspec.json.encode(finding)

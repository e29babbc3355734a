"""Files beside pattern.toml that are no text, no file or not what a search wrote are told, each with its file."""

from pathlib import Path

import pytest

from pipeline.ledger.book import read_ledger
from pipeline.masters.toml.load import load_pattern
from pipeline.model.findings import Finding
from pipeline.rules.saved_files import check_saved_files
from tests.masters.pattern_folder import pattern_folder
from tests.masters.test_source_file import NO_FILES

FILES = ("CHANGES.md", "CHANGES.de.md", "lays.json", "layout.json", "ledger.json")
LAYOUT = '{"format": 1, "layout": {"width_mm": 100, "height_mm": %s, "placements": []}}'
PLACED = (
    '{"format": 1, "layout": {"width_mm": 1, "height_mm": 1, "placements": [{"piece": "a", "x_mm": %s, "y_mm": 0}]}}'
)
LAY = '{"format": 1, "lays": {"k": {"folded": false, "length_mm": %s, "placed": [], "seed": %s, "seconds": 3}}}'


def told(place: Path, file: str, content: bytes | None) -> tuple[Finding, ...]:
    folder = place / "bag" if (place / "bag").is_dir() else pattern_folder(place, "", {})
    if content is not None:
        (folder / file).write_bytes(content)
    pattern, _ = load_pattern(folder)
    assert pattern is not None
    return check_saved_files(pattern, folder, read_ledger(folder))


@pytest.mark.parametrize("file", FILES)
@pytest.mark.parametrize(("make", "code", "found"), NO_FILES)
def test_what_is_no_file_to_read(make, code: str, found: str, file: str, tmp_path: Path) -> None:
    make(pattern_folder(tmp_path, "", {}) / file)
    (finding,) = told(tmp_path, file, None)
    assert (finding.code, finding.file, finding.found, finding.severity) == (code, file, found, "block")


@pytest.mark.parametrize(
    ("file", "text", "found"),
    [
        ("layout.json", LAYOUT % "1e300", "the number 1e+300"),
        ("layout.json", LAYOUT % "-2e6", "the number -2e+06"),
        ("layout.json", PLACED % "1e300", "the number 1e+300"),
        ("layout.json", LAYOUT % "5" + " ", None),
        ("layout.json", (LAYOUT % "5").replace('"format": 1', '"format": 2'), "format 2"),
        ("layout.json", '{"x": ' + "[" * 200_000, "maximum recursion depth"),
        ("lays.json", LAY % ("1e300", "1"), "the number 1e+300"),
        ("lays.json", LAY % ("5", "1" * 30), "a number that is too large"),
        ("lays.json", LAY % ("5", "1"), None),
    ],
)
def test_numbers_that_no_search_writes(file: str, text: str, found: str | None, tmp_path: Path) -> None:
    findings = told(tmp_path, file, text.encode())
    assert [(finding.code, finding.file) for finding in findings] == ([("unreadable", file)] if found else [])
    assert all(str(found) in finding.found for finding in findings)


def test_changes_that_are_not_utf8(tmp_path: Path) -> None:
    """What customers are told is copied byte by byte, so it must be what was read."""
    (finding,) = told(tmp_path, "CHANGES.md", b"# 1.0.0\nErste Version f\xfcr alle\n")
    assert (finding.code, finding.found) == ("not-utf8", "byte 0xfc")
    assert "line 2" in finding.message


def test_files_that_are_not_there_are_no_fault(tmp_path: Path) -> None:
    assert told(tmp_path, "", None) == ()


def test_a_ledger_in_two_minds_is_told_and_never_to_be_deleted(tmp_path: Path) -> None:
    (finding,) = told(tmp_path, "ledger.json", b'{"format": 1,\n<<<<<<< HEAD\n')
    assert (finding.check, finding.code, finding.file) == ("kept-files", "unreadable", "ledger.json")
    assert finding.remedy == "Take ledger.json from your last commit: it says what was sold, and nothing makes it anew."


@pytest.mark.parametrize(
    ("name", "found"), [("en.md", 1_000_001), ("cover.svg", 4_000_001), ("figures/a.svg", 50_000_000)]
)
def test_a_text_or_figure_of_the_booklet_that_is_too_large(name: str, found: int, tmp_path: Path) -> None:
    file = pattern_folder(tmp_path, "", {}) / "booklet" / name
    file.parent.mkdir(parents=True)
    with file.open("wb") as handle:
        handle.truncate(found)
    (finding,) = told(tmp_path, "", None)
    assert (finding.code, finding.file, finding.severity) == ("too-large", f"booklet/{name}", "block")
    assert finding.found == f"{found:,} bytes"

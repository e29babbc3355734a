"""Which master belongs to a piece and size, and reading a whole size."""

from pathlib import Path

import pytest

from pipeline.masters.lookup import check_files, master_file, master_files
from pipeline.masters.read_size import read_size
from pipeline.model.findings import Finding
from tests.masters.pattern_folder import RECTANGLE, pattern_folder
from tests.masters.three_pieces import MASTERS, PIECES, load


def told(findings: tuple[Finding, ...]) -> list[tuple[str, str | None, str | None, str | None]]:
    return [(finding.code, finding.size, finding.piece, finding.file) for finding in findings]


def test_a_master_is_looked_up_in_the_size_then_its_set_then_all(tmp_path: Path) -> None:
    folder = pattern_folder(tmp_path, PIECES, MASTERS)
    pattern = load(folder)
    assert [master_file(pattern, folder, "front", size)[0] for size in pattern.sizes] == [
        "sizes/s/front.svg",
        "sizes/small/front.svg",
        "sizes/all/front.svg",
    ]
    assert check_files(pattern, folder) == ()


def test_masters_of_a_size_leave_out_pieces_of_other_sizes(tmp_path: Path) -> None:
    folder = pattern_folder(tmp_path, PIECES, MASTERS)
    pattern = load(folder)
    front = "sizes/s/front.svg"
    assert master_files(pattern, folder, "s") == {"fusing": front, "front": front, "tab": "sizes/s/tab.svg"}
    assert set(master_files(pattern, folder, "l")) == {"fusing", "front"}


def test_a_missing_master_is_told_once_for_its_size(tmp_path: Path) -> None:
    folder = pattern_folder(tmp_path, PIECES, {name: RECTANGLE for name in MASTERS if name != "sizes/all/front.svg"})
    assert told(check_files(load(folder), folder)) == [("no-master", "l", "front", "sizes/l/front.svg")]


def test_two_sets_that_both_answer_are_an_error(tmp_path: Path) -> None:
    masters = {name: RECTANGLE for name in MASTERS if name != "sizes/s/front.svg"} | {"sizes/tiny/front.svg": RECTANGLE}
    folder = pattern_folder(tmp_path, PIECES, masters)
    file = folder / "pattern.toml"
    file.write_text(
        file.read_text(encoding="utf-8").replace("[size-sets]", '[size-sets]\ntiny = ["s"]'), encoding="utf-8"
    )
    findings = check_files(load(folder), folder)
    assert told(findings) == [("two-masters", "s", "front", "sizes/s/front.svg")]
    assert findings[0].found == "sizes/tiny/front.svg, sizes/small/front.svg"
    assert "front" not in master_files(load(folder), folder, "s")


@pytest.mark.parametrize(
    ("file", "why"),
    [
        ("sizes/s/frnt.svg", '"frnt" is no piece'),
        ("sizes/xl/front.svg", '"xl" is no size'),
        ("sizes/l/tab.svg", "tab is not made in size l"),
        ("sizes/s/fusing.svg", "takes its outline from front"),
        ("sizes/s/old/front.svg", "does not lie in the folder of a size"),
        ("sizes/front.svg", "does not lie in the folder of a size"),
        ("sizes/s/front.SVG", "does not end in .svg"),
        ("sizes/all/tab.svg", "master of its own"),
    ],
)
def test_an_svg_that_nothing_reads_is_an_error(file: str, why: str, tmp_path: Path) -> None:
    folder = pattern_folder(tmp_path, PIECES, {**MASTERS, file: RECTANGLE})
    findings = check_files(load(folder), folder)
    assert [(finding.code, finding.file) for finding in findings] == [("unclaimed-file", file)]
    assert why in findings[0].message


def test_hidden_files_and_other_files_are_let_be(tmp_path: Path) -> None:
    others = dict.fromkeys(["sizes/s/._front.svg", "sizes/.old/front.svg", "sizes/s/front.txt"], "")
    folder = pattern_folder(tmp_path, PIECES, {**MASTERS, **others})
    assert check_files(load(folder), folder) == ()


def test_a_size_is_read_in_the_order_of_the_file(tmp_path: Path) -> None:
    folder = pattern_folder(tmp_path, PIECES, MASTERS)
    drawn, findings = read_size(load(folder), folder, "s")
    assert [finding for finding in findings if finding.severity == "block"] == []
    assert [(piece.piece, piece.size, piece.file) for piece in drawn] == [
        ("fusing", "s", "sizes/s/front.svg"),
        ("front", "s", "sizes/s/front.svg"),
        ("tab", "s", "sizes/s/tab.svg"),
    ]


def test_a_derived_piece_has_the_marks_of_its_source_unless_it_says_otherwise(tmp_path: Path) -> None:
    folder = pattern_folder(tmp_path, PIECES, MASTERS)
    (fusing, front, *_), _ = read_size(load(folder), folder, "s")
    assert fusing.edges == front.edges
    assert (fusing.grain, fusing.anchor) == (front.grain, front.anchor)
    assert [(notch.name, notch.style) for notch in front.notches] == [("dart-a", "double"), ("dart-b", "double")]
    assert [(notch.name, notch.style) for notch in fusing.notches] == [("dart-a", "triple"), ("dart-b", "double")]
    assert [line.kind for line in fusing.inside] == ["level"]


def test_a_master_that_cannot_be_read_leaves_the_others(tmp_path: Path) -> None:
    folder = pattern_folder(tmp_path, PIECES, {**MASTERS, "sizes/s/front.svg": "<svg"})
    drawn, findings = read_size(load(folder), folder, "s")
    assert [piece.piece for piece in drawn] == ["tab"]
    assert {finding.file for finding in findings if finding.severity == "block"} == {"sizes/s/front.svg"}

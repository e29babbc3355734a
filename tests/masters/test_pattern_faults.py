"""What is told of each fault that is put into the good `pattern.toml`, and of files that cannot be read."""

import tomllib
from pathlib import Path

import pytest

from pipeline.masters.toml.load import load_pattern
from tests.masters.pattern_files import CASES, GOOD, write

FAULTS = tomllib.loads((CASES / "faults.toml").read_text(encoding="utf-8"))


@pytest.mark.parametrize("case", FAULTS.values(), ids=FAULTS.keys())
def test_a_fault_is_told_with_its_key(case: dict[str, str], tmp_path: Path) -> None:
    assert GOOD.count(case["old"]) == 1, "the case must hit one place"
    text = GOOD.replace(case["old"], case["new"])
    if "before" in case:
        text = f"{case['before']}\n{text}"
    pattern, findings = load_pattern(write(tmp_path, text))
    assert pattern is None
    assert (case["code"], case["object"]) in [(finding.code, finding.object) for finding in findings]
    finding = next(finding for finding in findings if finding.code == case["code"] and finding.object == case["object"])
    assert (finding.check, finding.file, finding.severity, finding.pattern) == (
        "pattern-file",
        "pattern.toml",
        "block",
        "coat",
    )
    assert finding.message
    assert case.get("remedy", "") in finding.remedy
    assert finding.remedy


def test_every_fault_of_a_file_is_told(tmp_path: Path) -> None:
    text = GOOD.replace('"4 cm"', "4").replace('"1.2.3"', '"1"').replace('"edges-to-centre"', '"folded"')
    _, findings = load_pattern(write(tmp_path, text.replace('"seams.side"', '"seams.cup"')))
    assert [finding.object for finding in findings] == [
        "pattern.version",
        "pieces.back.edges.hem.allowance",
        "strips.loop.make",
        "waivers[2].where",
    ]


def test_a_fault_is_not_told_again_where_its_value_is_used(tmp_path: Path) -> None:
    """Sizes that cannot be read are no reason to call every size unknown."""
    text = GOOD.replace('sizes     = ["34", "36", "38"]', 'sizes     = ["34", 36, "38"]')
    _, findings = load_pattern(write(tmp_path, text))
    assert [(finding.code, finding.object) for finding in findings] == [("wrong-type", "pattern.sizes[2]")]


def test_an_empty_file_lacks_what_must_be_said(tmp_path: Path) -> None:
    _, findings = load_pattern(write(tmp_path, ""))
    assert [(finding.code, finding.object) for finding in findings] == [
        ("missing-key", "format"),
        ("missing-key", "pattern"),
    ]


def test_a_file_that_is_not_there_is_told(tmp_path: Path) -> None:
    _, findings = load_pattern(tmp_path)
    assert [finding.code for finding in findings if finding.code != "bad-name"] == ["no-file"]


@pytest.mark.parametrize(
    ("data", "code"),
    [
        (b"format = 1\n# \xff\n", "not-utf8"),
        (b"a = " + b"[" * 5000, "not-toml"),
        (b"a = " + b"1" * 5000, "not-toml"),
        (b"#" * 1_000_001, "too-large"),
    ],
)
def test_a_file_that_cannot_be_read_is_told(data: bytes, code: str, tmp_path: Path) -> None:
    folder = write(tmp_path, "")
    (folder / "pattern.toml").write_bytes(data)
    pattern, findings = load_pattern(folder)
    assert pattern is None
    assert [finding.code for finding in findings] == [code]


def test_a_folder_in_place_of_the_file_is_told(tmp_path: Path) -> None:
    (tmp_path / "coat" / "pattern.toml").mkdir(parents=True)
    assert [finding.code for finding in load_pattern(tmp_path / "coat")[1]] == ["not-a-file"]


def test_the_folder_is_the_name_of_the_pattern(tmp_path: Path) -> None:
    (tmp_path / "Mäntel 1").mkdir()
    (tmp_path / "Mäntel 1" / "pattern.toml").write_text(GOOD, encoding="utf-8")
    pattern, findings = load_pattern(tmp_path / "Mäntel 1")
    assert pattern is None
    assert [finding.code for finding in findings] == ["bad-name"]


def test_a_byte_order_mark_is_no_fault(tmp_path: Path) -> None:
    folder = write(tmp_path, "")
    (folder / "pattern.toml").write_bytes(b"\xef\xbb\xbf" + GOOD.encode())
    assert load_pattern(folder)[1] == ()

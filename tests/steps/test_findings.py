"""The step that gathers all findings: a part that fails by itself blocks, and the others still tell what they have."""

import shutil

import pytest

from pipeline.checks.catalogue import CHECKS
from pipeline.model.findings import Finding
from pipeline.proof import finding_picture
from pipeline.rules import sources
from pipeline.steps import findings as findings_step
from pipeline.steps import pieces as pieces_step
from tests.release.test_bad_input import copied, findings_of

BAND = "sizes/M/band.svg"


def told(findings):
    return [(finding["check"], finding["code"], finding["size"]) for finding in findings]


def edit(source, file: str, *changes: tuple[str, str]) -> None:
    path = source / "tea-apron" / file
    text = path.read_text(encoding="utf-8")
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    path.write_text(text, encoding="utf-8")


def breaks(*_):
    raise ZeroDivisionError


def test_an_edge_that_is_called_otherwise_in_one_size_is_told_and_drawn(tmp_path):
    source = copied(tmp_path)
    edit(source, BAND, ('"lower"', '"lowr"'))
    (finding,) = blocking(findings_of(source, tmp_path / "work"))
    assert finding["message"].startswith(f"{BAND} has no edge lower; it has lowr.")
    assert [path.name for path in (tmp_path / "work/proof").iterdir()] == ["001-references-band-M.svg"]


def test_a_picture_that_cannot_be_drawn_hides_no_finding(tmp_path, monkeypatch):
    source = copied(tmp_path)
    edit(source, BAND, ("H340", "H345"), ("M340", "M345"))
    monkeypatch.setattr(finding_picture, "finding_picture", breaks)
    assert ("seam-lengths", "too-short", "M") in told(blocking(findings_of(source, tmp_path / "work")))


def test_a_check_that_fails_blocks_and_the_others_go_on(tmp_path, monkeypatch):
    source = copied(tmp_path)
    edit(source, BAND, ("H340", "H345"), ("M340", "M345"))
    monkeypatch.setattr("pipeline.checks.seams.notch_outcomes", breaks)
    found = told(blocking(findings_of(source, tmp_path / "work")))
    assert ("seam-notches", "check-failed", None) in found
    assert ("seam-lengths", "too-short", "M") in found


@pytest.mark.parametrize("part", ["check_references", "text_findings"])
def test_a_part_before_the_checks_that_fails_blocks(part, tmp_path, monkeypatch):
    monkeypatch.setattr(findings_step, part, breaks)
    (finding,) = blocking(findings_of(copied(tmp_path), tmp_path / "work"))
    assert finding["code"] == "check-failed"
    assert "could not run" in finding["message"]


def test_a_size_on_which_reading_fails_blocks_and_the_others_are_told(tmp_path, monkeypatch):
    source = copied(tmp_path)
    (source / "tea-apron/sizes/S/band.svg").write_text("no drawing")
    read = pieces_step.read_size
    monkeypatch.setattr(pieces_step, "read_size", lambda p, f, size: breaks() if size == "M" else read(p, f, size))
    found = blocking(findings_of(source, tmp_path / "work"))
    assert ("masters", "check-failed", "M") in told(found)
    assert "sizes/S/band.svg" in {finding["file"] for finding in found}


@pytest.mark.parametrize("part", ["copy_folder", "check_saved_files"])
def test_a_part_of_reading_that_fails_blocks_its_pattern_alone(part, tmp_path, monkeypatch):
    monkeypatch.setattr(sources, part, breaks)
    (finding,) = blocking(findings_of(copied(tmp_path), tmp_path / "work"))
    assert finding["code"] == "check-failed"


WAIVER = '\n[[waivers]]\ncheck = "{}"\nwhere = "{}"\nwhy = "meant"\n'


def waivers_told(tmp_path, check: str, where: str, *changes):
    source = copied(tmp_path)
    with (source / "tea-apron/pattern.toml").open("a", encoding="utf-8") as file:
        file.write(WAIVER.format(check, where))
    for file_name, old, new in changes:
        edit(source, file_name, (old, new))
    found = findings_of(source, tmp_path / "work")
    shutil.rmtree(source)
    return [finding for finding in found if finding["check"] == "waivers"], found


def test_a_waiver_is_called_unused_where_its_check_has_run(tmp_path):
    assert [finding["found"] for finding in waivers_told(tmp_path, "fold-square", "band")[0]] == ["fold-square at band"]
    assert waivers_told(tmp_path, "no-such-check", "band")[0]


def test_a_waiver_of_a_check_that_has_not_run_is_not_called_unused(tmp_path):
    assert waivers_told(tmp_path, "built-sizes", "pattern")[0] == []
    assert waivers_told(tmp_path, "fold-square", "band", (BAND, '"lower"', '"lowr"'))[0] == []


def test_a_waiver_of_a_check_with_nothing_to_hold_against_is_not_called_unused(tmp_path):
    unsaid = next(check.id for check in CHECKS if "views" in check.needs or "body" in check.needs)
    idle, found = waivers_told(tmp_path, unsaid, "pattern")
    skipped = {finding["check"] for finding in found if finding["code"] == "not-declared"}
    assert bool(idle) != (unsaid in skipped)


def test_what_could_not_be_read_cannot_be_accepted(tmp_path):
    idle, found = waivers_told(tmp_path, "references", "band", (BAND, '"lower"', '"lowr"'))
    assert ("references", "unknown-edge", "M") in told(blocking(found))
    assert idle


def test_an_accepted_fault_of_cutting_is_no_reason_to_check_no_further(tmp_path, monkeypatch):
    said = {"check": "cutting", "code": "too-far", "severity": "block", "message": "far", "remedy": "look"}
    doubt = Finding(pattern="tea-apron", size="M", piece="band", **said)
    cut = pieces_step.cut_pieces
    monkeypatch.setattr(pieces_step, "cut_pieces", lambda *of: (cut(*of)[0], (doubt,)))
    _, found = waivers_told(tmp_path, "cutting", "band", (BAND, "H340", "H345"), (BAND, "M340", "M345"))
    assert ("seam-lengths", "too-short", "M") in told(blocking(found))


def blocking(findings):
    """As the gate has it: what is accepted blocks no more."""
    return [finding for finding in findings if finding["severity"] == "block" and finding["waived"] is None]

"""How findings are told: by severity, sizes merged, nothing that was skipped counted as a pass."""

from pipeline.checks.telling import size_ranges, tell
from pipeline.model.findings import Finding

SIZES = ("34", "36", "38", "40", "42")


def _finding(**values) -> Finding:
    start = {
        "check": "seam-lengths",
        "code": "too-long",
        "severity": "block",
        "pattern": "coat",
        "piece": "sleeve",
        "where": "cap",
        "message": "cap is 3 mm too long",
        "remedy": "shorten it",
    }
    return Finding(**(start | values))


def test_like_findings_of_several_sizes_are_one_line():
    lines = tell([_finding(size=size) for size in ("36", "38", "42")], SIZES)
    assert lines == ["BLOCKS: sleeve.cap, sizes 36 to 38, 42: cap is 3 mm too long", "    shorten it"]


def test_what_blocks_comes_first_and_what_is_accepted_says_why():
    findings = [
        _finding(severity="info", message="by the way", where=None),
        _finding(severity="warn", message="odd", where="hem"),
        _finding(waived="meant so", where="neck"),
        _finding(message="broken"),
    ]
    assert [line.split(":")[0] for line in tell(findings, SIZES) if not line.startswith(" ")] == [
        "BLOCKS",
        "accepted",
        "look at",
        "note",
    ]
    assert "    because: meant so" in tell(findings, SIZES)


def test_skipped_checks_are_counted_and_named_once():
    lines = tell([_finding(check=check, severity="skip") for check in ("strips", "notions", "strips")], SIZES)
    assert lines == ["not checked, since nothing is declared to hold it against: strips, notions"]


def test_size_ranges():
    assert size_ranges(["34"], SIZES) == "34"
    assert size_ranges(["34", "38", "40", "42"], SIZES) == "34, 38 to 42"

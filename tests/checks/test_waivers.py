"""Waivers that accept nothing: what is told of them, and when they are better left."""

from pipeline.checks.waivers import WAIVERS, waive
from pipeline.model.findings import Finding, Severity
from pipeline.model.pattern import Waiver
from tests.checks.skirt import PATTERN, replace


def remedies(*findings: Finding) -> list[str]:
    """What to do about the waiver of the count of a cuff, beside these findings."""
    meant = Waiver(check="cut-counts", where="cuff", why="two layers")
    told = waive(replace(PATTERN, waivers=(meant,)), findings)
    return [finding.remedy for finding in told if finding.check == WAIVERS]


def of(check: str, piece: str, severity: Severity) -> Finding:
    return Finding(
        check=check, code="c", severity=severity, pattern="coat", piece=piece, message="it is so", remedy="mend it"
    )


def test_a_waiver_that_matches_nothing_is_to_be_deleted():
    assert remedies(of("cut-counts", "cuff", "warn")) == []
    for beside in ((), (of("cut-counts", "sleeve", "warn"),), (of("seam-lengths", "sleeve", "block"),)):
        (remedy,) = remedies(*beside)
        assert remedy.startswith("delete the waiver")


def test_a_waiver_waits_while_its_check_or_its_piece_blocks():
    assert remedies(of("cut-counts", "sleeve", "block")) == ["leave it until cut-counts at sleeve no longer blocks"]
    assert remedies(of("seam-lengths", "cuff", "block")) == ["leave it until seam-lengths at cuff no longer blocks"]

"""Findings that the designer accepts, with the reason; a waiver that matches nothing is itself told."""

from collections.abc import Callable

import msgspec

from pipeline.checks.attempts import FAILED
from pipeline.checks.registry import NOT_DECLARED
from pipeline.masters.stages import STAGES as READING
from pipeline.model.findings import Finding, blocks
from pipeline.model.pattern import Pattern, Waiver
from pipeline.model.stages import Stage

STAGE = Stage(
    id="waivers",
    title="Every waiver accepts something that is found",
    rationale="A waiver that matches nothing was written for another pattern, or hides what comes later.",
    severity="warn",
)
WAIVERS = STAGE.id
"""Told anew wherever more findings are known."""


_UNREAD = (
    *(stage.id for stage in READING),
    *("booklet-text", "booklet-references", "booklet-alternatives", "booklet-figures"),
)
"""What blocks here leaves something unread: nothing can be built without it, so nobody can accept it."""


def waive(
    pattern: Pattern, findings: tuple[Finding, ...], ran: Callable[[str], bool] = lambda check: True
) -> tuple[Finding, ...]:
    """Mark what waivers match, and add a finding for every waiver that matches nothing of a check that has run."""
    used: set[int] = set()
    told = []
    for finding in findings:
        index = next((i for i, waiver in enumerate(pattern.waivers) if matches(waiver, finding)), None)
        if index is None or not waivable(finding):
            told.append(finding)
            continue
        used.add(index)
        told.append(msgspec.structs.replace(finding, waived=pattern.waivers[index].why))
    cut_short = {finding.check for finding in findings if finding.code in (FAILED, NOT_DECLARED)}
    blocking = [finding for finding in told if blocks(finding)]
    idle = (
        _idle(pattern, i, waiver, blocking)
        for i, waiver in enumerate(pattern.waivers)
        if i not in used and ran(waiver.check) and waiver.check not in cut_short
    )
    return (*told, *idle)


def waivable(finding: Finding) -> bool:
    """Whether a finding can be accepted with a reason."""
    unread = finding.severity == "block" and finding.check in _UNREAD
    return finding.severity in ("block", "warn") and finding.code != FAILED and not unread


def matches(waiver: Waiver, finding: Finding) -> bool:
    """Whether a waiver speaks of a finding: its check and place, and its code and size where it names them."""
    places = {finding.where, finding.piece}
    if finding.piece and finding.where:
        places.add(f"{finding.piece}.{finding.where}")
    return (
        waiver.check == finding.check
        and waiver.where in places
        and waiver.code in (None, finding.code)
        and waiver.size in (None, finding.size)
    )


def _idle(pattern: Pattern, index: int, waiver: Waiver, blocking: list[Finding]) -> Finding:
    piece = waiver.where.split(".")[0]
    hiding = next((each for each in blocking if each.check == waiver.check or each.piece == piece), None)
    remedy = "delete the waiver, or correct its check, code, size or where"
    if hiding is not None:  # what it accepts may be told again once that is mended
        remedy = f"leave it until {hiding.check} at {hiding.where or hiding.piece or 'the pattern'} no longer blocks"
    return Finding(
        check=WAIVERS,
        code="matches-nothing",
        severity="warn",
        pattern=pattern.name,
        file="pattern.toml",
        object=f"waivers[{index + 1}]",
        found=f"{waiver.check} at {waiver.where}",
        allowed="a waiver for something that was found",
        message=f"the waiver of {waiver.check} at {waiver.where} matches no finding",
        remedy=remedy,
    )

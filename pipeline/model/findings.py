"""A finding: what a reader, a check or a stage has to tell the designer."""

from typing import Literal

import msgspec

Severity = Literal["block", "warn", "info", "skip"]


class Finding(msgspec.Struct, frozen=True, kw_only=True):
    """One thing to tell. `code` is stable within its check; `message` and `remedy` are sentences for people.

    `where` is the place within the piece (an edge, a notch) or `seams.<name>`, `strips.<name>`, `notions.<name>`;
    `file` is relative to the pattern's folder, or to the bundle for built files; `object` names what in the file.
    """

    check: str
    code: str
    severity: Severity
    pattern: str
    size: str | None = None
    piece: str | None = None
    where: str | None = None
    file: str | None = None
    object: str | None = None
    found: str = ""
    allowed: str = ""
    message: str
    remedy: str
    waived: str | None = None


class PatternFaultError(ValueError):
    """A fault of the pattern that only shows where the pipeline cannot go on: told to the designer, as it is."""


class FindingsFile(msgspec.Struct, frozen=True, kw_only=True):
    """The file `findings.json`."""

    findings: tuple[Finding, ...]
    format: int = 1


def blocks(finding: Finding) -> bool:
    """Whether the finding stops the release."""
    return finding.severity == "block" and finding.waived is None

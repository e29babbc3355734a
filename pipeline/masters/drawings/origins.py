"""Findings of masters that were cut out of drawings, told of the drawing: that is the file that a designer can mend."""

from collections.abc import Iterable, Mapping

import msgspec

from pipeline.masters.drawings.write import Origin
from pipeline.model.findings import Finding


def said_of_drawings(findings: Iterable[Finding], origins: Mapping[str, Origin | None]) -> tuple[Finding, ...]:
    """The findings, each master among `origins` named by its drawing and its layers there."""
    cut = {name: origin for name, origin in origins.items() if origin is not None}
    return tuple(_said(finding, cut) for finding in findings) if cut else tuple(findings)


def _said(finding: Finding, cut: Mapping[str, Origin]) -> Finding:
    changes: dict[str, str] = {}
    if finding.file is not None and finding.file in cut:
        origin = cut[finding.file]
        changes = {"file": origin.file, "object": finding.object or origin.way}
    for key in ("message", "remedy", "found"):
        text = getattr(finding, key)
        if "sizes/" in text:
            for name, origin in cut.items():
                text = text.replace(name, f"{origin.way or 'the outline'} in {origin.file}")
            changes[key] = text
    return msgspec.structs.replace(finding, **changes) if changes else finding

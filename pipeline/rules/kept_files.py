"""What the pipeline keeps beside a pattern, lays.json and layout.json: can it still be read?

A merge in a repository, or an editor, leaves such files in two minds; a build must say so and not guess.
"""

from pathlib import Path
from typing import Any

import msgspec

from pipeline.lays.kept import LaysFile
from pipeline.masters.faults import did_you_mean
from pipeline.model.findings import Finding
from pipeline.model.pattern import Pattern
from pipeline.sheets.layout import KeptLayout

_KINDS: dict[str, Any] = {"lays.json": LaysFile, "layout.json": KeptLayout}


def check_kept_files(pattern: Pattern, folder: Path) -> tuple[Finding, ...]:
    """A finding for a file that is not what a search wrote, and for a pin that holds nothing."""
    findings = []
    for name, kind in _KINDS.items():
        file = folder / name
        if not file.is_file():
            continue
        try:
            read = msgspec.json.decode(file.read_bytes(), type=kind)
        except msgspec.MsgspecError as fault:
            message = f"{name} cannot be read."
            remedy = f"Take it from your last commit, or delete it: `snakemake {file.stem}` makes it anew."
            findings.append(_finding(pattern, name, "unreadable", message, str(fault), "what a search wrote", remedy))
            continue
        if isinstance(read, KeptLayout):
            findings += _pins(pattern, read)
    return tuple(findings)


def _pins(pattern: Pattern, kept: KeptLayout) -> list[Finding]:
    laid = [place.piece for place in kept.layout.placements]
    findings = []
    for piece in kept.pinned:
        if piece not in pattern.pieces and piece not in pattern.strips:
            message, allowed = f"layout.json pins {piece!r}, which is no piece.", "pieces of pattern.toml"
            remedy = did_you_mean(piece, [*pattern.pieces, *pattern.strips])
            findings.append(_finding(pattern, "layout.json", "no-such-piece", message, piece, allowed, remedy))
        elif piece not in laid:
            message, allowed = f"layout.json pins {piece}, but says nowhere where it lies.", "a placement"
            remedy = "Give it a placement, or take it out of pinned."
            findings.append(_finding(pattern, "layout.json", "no-place", message, piece, allowed, remedy))
    return findings


def _finding(pattern: Pattern, file: str, code: str, message: str, found: str, allowed: str, remedy: str) -> Finding:
    return Finding(
        check="kept-files",
        code=code,
        severity="block",
        pattern=pattern.name,
        file=file,
        found=found,
        allowed=allowed,
        message=message,
        remedy=remedy,
    )

"""The small pattern `tea-apron` as a garment, and ways to change what its pattern.toml says."""

from functools import cache
from pathlib import Path
from types import MappingProxyType

import msgspec

from pipeline.checks.all import check_garment
from pipeline.checks.garment import Garment
from pipeline.cutting.cut import cut_pieces
from pipeline.masters.read_size import read_size
from pipeline.masters.toml.load import load_pattern
from pipeline.masters.toml.sums import parse_sum
from pipeline.model.findings import Finding
from pipeline.model.pattern import Notion, Pattern, Strip, Sum
from pipeline.model.piece_specs import Cut
from pipeline.model.pieces import CutPiece

FOLDER = Path(__file__).resolve().parents[1] / "patterns/tea-apron"
SIZES = ("S", "M")
CHANGES = "# 1.0.0\n\nThe first version.\n"
TITLE = {"en": "Loop", "de": "Schlaufe"}
replace = msgspec.structs.replace


@cache
def pattern() -> Pattern:
    found, findings = load_pattern(FOLDER)
    assert found is not None, findings
    return found


@cache
def cuts() -> dict[str, dict[str, CutPiece]]:
    by_piece: dict[str, dict[str, CutPiece]] = {}
    for size in SIZES:
        drawn, _ = read_size(pattern(), FOLDER, size)
        for cut in cut_pieces(pattern(), size, drawn)[0]:
            by_piece.setdefault(cut.piece, {})[size] = cut
    return by_piece


def garment(changes: str | None = CHANGES, drawn=None, changes_in=MappingProxyType({}), **said) -> Garment:
    """The apron with other things said in its pattern.toml, in CHANGES.md, or with other cut pieces."""
    return Garment(replace(pattern(), **said), drawn or cuts(), changes, changes_in=changes_in)


def found(check: str, changed: Garment) -> list[Finding]:
    return [finding for finding in check_garment(changed) if finding.check == check]


def codes(check: str, changed: Garment) -> list[tuple[str, str, str | None]]:
    return [(finding.code, finding.severity, finding.size) for finding in found(check, changed)]


def total(text: str) -> Sum:
    return parse_sum(text)


def counted(material: str, count: int | dict[str, int], mirrored: int = 0) -> tuple[Cut, ...]:
    counts = count if isinstance(count, dict) else dict.fromkeys(SIZES, count)
    return (Cut(material, counts, dict.fromkeys(SIZES, mirrored)),)


def piece(name: str, **said) -> dict:
    """The pieces with something else said of one."""
    return {**pattern().pieces, name: replace(pattern().pieces[name], **said)}


def strip(length: str, **said) -> dict[str, Strip]:
    said = {"title": TITLE, "cut": counted("shell", 1), "width_mm": 10.0, "make": "doubled", **said}
    return {"loop": Strip(name="loop", length=total(length), **said)}


def notion(length: Sum | None = None, **said) -> dict[str, Notion]:
    said |= {} if length is None else {"length": dict.fromkeys(("S", "M"), length)}
    return {"tape": Notion(**{"name": "tape", "title": TITLE, **said})}

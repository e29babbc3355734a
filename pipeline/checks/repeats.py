"""Cloth with a repeat: what is laid on the same place of it, and whether there is anything to lay so."""

from collections.abc import Iterator

from pipeline.checks.catalogue import CHECKS
from pipeline.checks.garment import Garment
from pipeline.checks.registry import Outcome
from pipeline.model.questions import match_lines


@CHECKS.register(
    id="repeats",
    title="Cloth with a repeat has pieces with matching lines, and those have cloth with a repeat",
    rationale="Who matches stripes needs more cloth, and to know where; a line that matches nothing costs both.",
    remedy='say kind = "match" of a line across each main piece, or repeat of its cloth; or take out the one there is',
    severity="warn",
    source="common practice",
)
def repeats(garment: Garment) -> Iterator[Outcome]:
    """Materials that say a repeat, and pieces of their own outline that say a matching line."""
    pattern = garment.pattern
    for name, material in pattern.materials.items():
        cut = [spec for spec in pattern.pieces.values() if any(entry.material == name for entry in spec.cut)]
        if material.has_repeat and not any(match_lines(pattern, spec.name) for spec in cut):
            yield Outcome(
                code="nothing-to-match",
                file="pattern.toml",
                where=f"materials.{name}",
                object=f"materials.{name}.repeat",
                found="no matching line",
                allowed="a line of that kind on a piece that is cut of it",
                message=f"{name} has a repeat, and no piece that is cut of it has a line to be laid on one place of it",
            )
    for spec in pattern.pieces.values():
        lines = [line for line, kind in spec.lines.items() if kind == "match"]
        if lines and not any(pattern.materials[entry.material].has_repeat for entry in spec.cut):
            yield Outcome(
                code="no-repeat",
                piece=spec.name,
                file="pattern.toml",
                where=lines[0],
                object=f"pieces.{spec.name}.lines.{lines[0]}",
                found="no repeat",
                allowed="a material with a repeat",
                message=f"{spec.name}.{lines[0]} is a matching line, and no cloth of {spec.name} has a repeat",
            )

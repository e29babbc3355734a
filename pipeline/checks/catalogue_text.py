"""The catalogue of checks as Markdown, for designers: what each looks for, why, and what to do."""

from collections.abc import Iterable

from pipeline.checks.registry import Check
from pipeline.model.stages import Stage

_SEVERITY = {"block": "blocks", "warn": "warns", "info": "note"}


_HEAD = """# What is checked

Every check by its id, as findings and waivers name it. What *blocks* stops the release; what *warns* is probably wrong
but can be meant. A finding that is accepted needs a waiver in `pattern.toml` with its check, its place (`where`) and
the reason; what concerns the pattern as a whole has the place `pattern`. A check that has nothing declared to hold a
pattern against is told as not checked, which is no pass. Single findings can be milder than their check.
`python -m pipeline.checks` prints this file."""


def catalogue_markdown(parts: dict[str, Iterable[Check]]) -> str:
    """A heading and a table for each part, checks in the order that is given."""
    text = [_HEAD]
    for heading, checks in parts.items():
        text += [
            "",
            f"## {heading}",
            "",
            "| check | looks for | why | what to do | | values from |",
            "| --- | --- | --- | --- | --- | --- |",
        ]
        text += [_row(check) for check in checks]
    return "\n".join(text) + "\n"


def stages_markdown(stages: Iterable[Stage]) -> str:
    """What reading, cutting and the rest tell by themselves: no registered checks, but ids of findings as well."""
    text = ["", "## On the way", "", "| check | looks for | why | |", "| --- | --- | --- | --- |"]
    text += [f"| `{stage.id}` | {stage.title} | {stage.rationale} | {_SEVERITY[stage.severity]} |" for stage in stages]
    return "\n".join(text) + "\n"


def _row(check: Check) -> str:
    cells = (
        f"`{check.id}`",
        check.title,
        check.rationale,
        check.remedy,
        _SEVERITY.get(check.severity, check.severity),
        check.source,
    )
    return f"| {' | '.join(cell.replace('|', chr(92) + '|') for cell in cells)} |"

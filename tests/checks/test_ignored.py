"""What is not read is counted once a pattern."""

from pipeline.checks.ignored import counted_once
from pipeline.model.findings import Finding


def ignored(code: str, size: str, count: int) -> Finding:
    return Finding(
        check="masters",
        code=code,
        severity="info",
        pattern="coat",
        size=size,
        piece="back",
        file=f"sizes/{size}/back.svg",
        found=str(count),
        message=f'{count} objects not read: text; the first is text "t1", line 3.',
        remedy="Nothing, unless it was meant to be part of the piece.",
    )


def test_things_of_one_kind_in_many_files_are_one_finding():
    other = ignored("ignored-image", "36", 1)
    found = counted_once((ignored("ignored-text", "34", 2), other, ignored("ignored-text", "36", 3)))
    assert [(f.code, f.found, f.size) for f in found] == [("ignored-text", "5", None), ("ignored-image", "1", "36")]
    assert found[0].message == (
        '5 objects in 2 files not read: text; the first is text "t1", line 3, in sizes/34/back.svg.'
    )


def test_other_findings_are_let_be():
    told = (Finding(check="masters", code="odd", severity="warn", pattern="coat", message="m", remedy="r"),) * 2
    assert counted_once(told) == told

"""Findings as lines for people: by severity, then piece, then size, with like findings of several sizes in one."""

from collections.abc import Iterable

from pipeline.model.findings import Finding, Severity

_HEADINGS: dict[Severity, str] = {"block": "BLOCKS", "warn": "look at", "info": "note", "skip": "not checked"}


def tell(findings: Iterable[Finding], sizes: tuple[str, ...]) -> list[str]:
    """Lines, most severe first; what was not checked, for want of something to hold it against, is one line."""
    groups: dict[tuple[str, ...], list[Finding]] = {}
    skipped: list[Finding] = []
    for finding in findings:
        if finding.severity == "skip":
            skipped.append(finding)
            continue
        key = (
            finding.severity,
            finding.check,
            finding.code,
            finding.piece or "",
            finding.where or "",
            finding.waived or "",
        )
        groups.setdefault(key, []).append(finding)
    order = list(_HEADINGS)
    ranked = sorted(groups.values(), key=lambda group: (order.index(group[0].severity), group[0].waived is not None))
    lines = [line for group in ranked for line in _lines(group, sizes)]
    if skipped:
        checks = ", ".join(dict.fromkeys(finding.check for finding in skipped))
        lines.append(f"{_HEADINGS['skip']}, since nothing is declared to hold it against: {checks}")
    return lines


def _lines(group: list[Finding], sizes: tuple[str, ...]) -> list[str]:
    first = group[0]
    place = ".".join(part for part in (first.piece, first.where) if part)
    where = ", ".join(part for part in (place, _size_text(group, sizes)) if part)
    file = f" ({', '.join(part for part in (first.file, first.object) if part)})" if first.file or first.object else ""
    heading = "accepted" if first.waived else _HEADINGS[first.severity]
    line = f"{heading}: {f'{where}: ' if where else ''}{first.message}{file}"
    if first.found or first.allowed:
        line += f" — found {first.found or 'nothing'}, expected {first.allowed or 'nothing'}"
    if first.waived:
        return [line, f"    because: {first.waived}"]
    return [line, f"    {first.remedy}"] if first.severity in ("block", "warn") else [line]


def _size_text(group: list[Finding], sizes: tuple[str, ...]) -> str:
    found = [size for size in sizes if any(finding.size == size for finding in group)]
    if not found:
        return ""
    return f"size{'s' if len(found) > 1 else ''} {size_ranges(found, sizes)}"


def size_ranges(some: list[str], sizes: tuple[str, ...]) -> str:
    """Sizes in words, runs merged: "34, 40 to 46"."""
    runs: list[list[str]] = []
    for size in some:
        if runs and sizes.index(size) == sizes.index(runs[-1][-1]) + 1:
            runs[-1].append(size)
        else:
            runs.append([size])
    return ", ".join(run[0] if len(run) == 1 else f"{run[0]} to {run[-1]}" for run in runs)

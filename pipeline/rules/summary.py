"""How a run ends: what was built and where, what was found, what to do next."""

import threading
from pathlib import Path

import msgspec

from pipeline.checks.telling import tell
from pipeline.model.findings import Finding, FindingsFile, blocks
from pipeline.rules.plan import Source


def end_run(sources: dict[str, Source], work: Path, release: Path) -> None:
    """Print a paragraph a pattern, and let the process end at once.

    Snakemake starts a clock of a second whenever jobs are started (for a limit of jobs a second, which is never met
    here), and a process does not end before its clocks do.
    """
    for thread in threading.enumerate():
        if isinstance(thread, threading.Timer):
            thread.cancel()
    print()
    for source in sources.values():
        print("\n".join(_paragraph(source, work, release)))


def _paragraph(source: Source, work: Path, release: Path) -> list[str]:
    path = work / source.name / "findings.json"
    findings: tuple[Finding, ...] = source.findings
    if path.is_file():
        findings = msgspec.json.decode(path.read_bytes(), type=FindingsFile).findings
    sizes = source.pattern.sizes if source.pattern else ()
    lines = [_headline(source, findings, work, release), *(f"  {line}" for line in tell(findings, sizes))]
    if any(map(blocks, findings)):
        lines.append(
            "  Mend what blocks in the source, then give the same command again; only what depends on it is rebuilt."
        )
    return lines


def _headline(source: Source, findings: tuple[Finding, ...], work: Path, release: Path) -> str:
    blocking = sum(map(blocks, findings))
    if source.pattern is None:
        return f"{source.name}: pattern.toml was refused, nothing was built"
    name = f"{source.name} {source.pattern.version}"
    place = release / source.name / source.pattern.version
    if blocking:
        kept = f"; the bundle in {place} is as it was" if place.is_dir() else ""
        return f"{name}: nothing was built, {blocking} finding{'s' if blocking > 1 else ''} to mend first{kept}"
    if (work / source.name / "bundle.json").is_file():
        return f"{name}: built, {place}"
    return f"{name}: nothing blocks a release"

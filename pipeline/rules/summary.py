"""How a run ends: what was built and where, what was found, what to do next."""

import threading
import time
from pathlib import Path

import msgspec

from pipeline.checks.causes import places_of
from pipeline.checks.telling import tell, to_mend
from pipeline.model.findings import Finding, FindingsFile, blocks
from pipeline.rules.plan import Source, refused

_BEGAN = time.time()
"""When the run began, or nearly: the Snakefile reads this file first."""


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
    findings = _known(source, work / source.name)
    pattern = source.pattern
    told = tell(findings, pattern.sizes, places_of(pattern)) if pattern else tell(findings, ())
    lines = [_headline(source, findings, work, release), *(f"  {line}" for line in told)]
    if any(map(blocks, findings)):
        lines.append(
            "  Mend what blocks in the source, then give the same command again; only what depends on it is rebuilt."
        )
    return lines


def _known(source: Source, folder: Path) -> tuple[Finding, ...]:
    """What this run found: all of it, or what was found on reading where a step failed on the way to the checks."""
    if source.pattern is None:
        return source.findings
    read = [folder / "findings.json"]
    if not _checked(source, folder):
        read = [folder / "read" / f"{size}.json" for size in source.pattern.sizes]
    files = (msgspec.json.decode(path.read_bytes(), type=FindingsFile) for path in read if path.is_file())
    return tuple(finding for file in files for finding in file.findings)


def _checked(source: Source, folder: Path) -> bool:
    """Whether everything up to the checks is there: Snakemake takes away what a job makes before it starts it."""
    assert source.pattern is not None
    sizes = () if refused(source) else source.pattern.sizes
    needed = (folder / name for name in ("findings.json", "checked.json", *(f"pieces/{size}.json" for size in sizes)))
    return all(path.is_file() for path in needed)


def _headline(source: Source, findings: tuple[Finding, ...], work: Path, release: Path) -> str:
    blocking = to_mend(findings)
    if source.pattern is None:
        return f"{source.name}: pattern.toml was refused, nothing was built"
    name, folder = f"{source.name} {source.pattern.version}", work / source.name
    place = release / source.name / source.pattern.version
    kept = f"; the bundle in {place} is as it was" if place.is_dir() else ""
    if not _checked(source, folder):
        return f"{name}: not checked, a step of the pipeline failed{_traces(folder)}{kept}"
    if blocking:
        return f"{name}: nothing was built, {blocking} finding{'s' if blocking > 1 else ''} to mend first{kept}"
    if traces := _traces(folder):
        return f"{name}: not built, a step of the pipeline failed{traces}{kept}"
    if (folder / "bundle.json").is_file():
        return f"{name}: built, {place}"
    return f"{name}: nothing blocks a release"


def _traces(folder: Path) -> str:
    """The logs that this run wrote into, as part of a sentence."""
    logs = sorted(folder.glob("log/*.log"))
    written = [str(log) for log in logs if log.stat().st_size and log.stat().st_mtime >= _BEGAN]
    return f" (trace: {', '.join(written)})" if written else ""

"""Hold every bundle under release/ against its manifest, and its files against the source of the same version."""

from pathlib import Path

from pipeline.bundle.built_files import check_built
from pipeline.bundle.manifest import verify
from pipeline.checks.waivers import waive
from pipeline.masters.load import load_pattern
from pipeline.model.findings import Finding, blocks
from pipeline.steps.printed import speak
from pipeline.work.files import write_json


def main(source: Path, release: Path, only: list[str], verified: Path) -> None:
    """Leave lines that say what differs; status 1 where anything does, or where there is nothing to hold."""
    lines, count, faults = [], 0, 0
    for name in only:
        for place in sorted(path for path in (release / name).glob("*") if path.is_dir() and path.name[0] != "."):
            findings = verify(name, place) or _built(source / name, place)
            count, faults = count + 1, faults + len(findings)
            for finding in findings:
                lines.append(f"{finding.message}: found {finding.found}, expected {finding.allowed}; {finding.remedy}")
            if not findings:
                lines.append(f"{name} {place.name}: every file is as its manifest says")
    if not count:
        lines.append(f"There is no bundle under {release} yet: build first.")
    if faults:
        lines.append(f"{faults} fault{'s' if faults > 1 else ''} in {count} bundle{'s' if count > 1 else ''}.")
    write_json(verified, lines)
    if faults or not count:
        raise SystemExit(1)


def _built(folder: Path, place: Path) -> tuple[Finding, ...]:
    """What blocks in the files themselves; nothing where the source has another version by now."""
    pattern, _ = load_pattern(folder)
    if pattern is None or pattern.version != place.name:
        return ()
    speak(pattern)
    return tuple(finding for finding in waive(pattern, check_built(pattern, place)) if blocks(finding))

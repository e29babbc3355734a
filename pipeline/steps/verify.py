"""Hold every bundle under release/ against its manifest and the ledger, its files against the source of its version."""

from pathlib import Path

from pipeline.bundle.built_files import check_built
from pipeline.bundle.manifest import verify
from pipeline.checks.waivers import waive
from pipeline.ledger.book import LEDGER, Ledger, read_ledger
from pipeline.ledger.held import not_as_sealed
from pipeline.masters.source_file import FileFault
from pipeline.masters.toml.load import load_pattern
from pipeline.model.findings import Finding, blocks
from pipeline.steps.printed import speak
from pipeline.work.files import write_json


def main(source: Path, release: Path, only: list[str], verified: Path) -> None:
    """Leave lines that say what differs; status 1 where anything does, or where there is nothing to hold."""
    lines, count, faults = [], 0, 0
    for name in only:
        ledger = read_ledger(source / name)
        if isinstance(ledger, FileFault):
            lines.append(
                f"{name}: {LEDGER} {ledger.message} Found {ledger.found}, expected {ledger.allowed}. {ledger.remedy}"
            )
            ledger, faults = Ledger(), faults + 1
        for place in sorted(path for path in (release / name).glob("*") if path.is_dir() and path.name[0] != "."):
            findings = (
                verify(name, place)
                or not_as_sealed(name, place, ledger.entry(place.name))
                or _built(source / name, place)
            )
            count, faults = count + 1, faults + len(findings)
            for finding in findings:
                lines.append(f"{finding.message}: found {finding.found}, expected {finding.allowed}; {finding.remedy}")
            if not findings:
                sealed = " and as it was sealed" if ledger.entry(place.name) else ""
                lines.append(f"{name} {place.name}: every file is as its manifest says{sealed}")
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

"""Hold every bundle under release/ against its manifest, the ledger and signatures, its files against their source."""

from collections.abc import Sequence
from pathlib import Path

from pipeline.bundle.built_files import check_built
from pipeline.bundle.manifest import verify
from pipeline.checks.waivers import waive
from pipeline.ledger.book import LEDGER, Ledger, read_ledger
from pipeline.ledger.held import not_as_sealed
from pipeline.ledger.signed import bundle_fault, forged, unsigned
from pipeline.masters.source_file import FileFault
from pipeline.masters.toml.load import load_pattern
from pipeline.model.findings import Finding, PatternFaultError, blocks
from pipeline.model.pattern import Pattern
from pipeline.steps.printed import speak
from pipeline.work.files import write_json


def main(source: Path, release: Path, only: list[str], verified: Path) -> None:
    """Leave lines that say what differs; status 1 where anything does, or where there is nothing to hold."""
    lines, count, faults = [], 0, 0
    for name in only:
        pattern, _ = load_pattern(source / name)
        keys = pattern.sign if pattern else ()
        read = read_ledger(source / name)
        ledger = None if isinstance(read, FileFault) else read
        if isinstance(read, FileFault):
            lines.append(f"{name}: {LEDGER} {read.message} Found {read.found}, expected {read.allowed}. {read.remedy}")
            faults += 1
        else:
            unsound = _signatures(read, keys)
            lines, faults = [*lines, *(f"{name}: {fault}" for fault in unsound)], faults + len(unsound)
        for place in sorted(path for path in (release / name).glob("*") if path.is_dir() and path.name[0] != "."):
            findings = (
                verify(name, place)
                or not_as_sealed(name, place, ledger.entry(place.name) if ledger else None)
                or _built(pattern, place)
            )
            told = [f"{each.message}: found {each.found}, expected {each.allowed}; {each.remedy}" for each in findings]
            if ledger and not told and (fault := _signature(ledger, place, keys)) is not None:
                told = [f"{name} {place.name}: {fault}"]
            count, faults = count + 1, faults + len(told)
            lines += told or [
                f"{name} {place.name}: every file is as its manifest says{_more(ledger, place.name, keys)}"
            ]
    if not count:
        lines.append(f"There is no bundle under {release} yet: build first.")
    if faults:
        lines.append(f"{faults} fault{'s' if faults > 1 else ''} in {count} bundle{'s' if count > 1 else ''}.")
    write_json(verified, lines)
    if faults or not count:
        raise SystemExit(1)


def _signatures(ledger: Ledger, keys: Sequence[str]) -> list[str]:
    try:
        return [*forged(ledger, keys), *unsigned(ledger, keys)]
    except PatternFaultError as fault:
        return [str(fault)]


def _signature(ledger: Ledger, place: Path, keys: Sequence[str]) -> str | None:
    try:
        return bundle_fault(ledger, place.name, place, keys)
    except PatternFaultError as fault:
        return str(fault)


def _more(ledger: Ledger | None, version: str, keys: Sequence[str]) -> str:
    """What else is true of a bundle in which nothing was found."""
    if ledger is None or ledger.entry(version) is None:
        return ""
    whose = "by a key of `sign`" if keys else "by a key that pattern.toml does not name"
    return " and as it was sealed" + (f", and signed {whose}" if version in ledger.signatures else "")


def _built(pattern: Pattern | None, place: Path) -> tuple[Finding, ...]:
    """What blocks in the files themselves; nothing where the source has another version by now."""
    if pattern is None or pattern.version != place.name:
        return ()
    speak(pattern)
    return tuple(finding for finding in waive(pattern, check_built(pattern, place)) if blocks(finding))

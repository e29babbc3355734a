"""What is built in; what changed since a sealed version out, for programs and as lines."""

from pathlib import Path

from pipeline.ledger.book import ledger_of
from pipeline.ledger.seal import changes_since
from pipeline.ledger.telling import tell_changes
from pipeline.masters.load import load_pattern
from pipeline.model.findings import PatternFaultError
from pipeline.steps.measured import built_files, measured
from pipeline.work.files import write_json


def main(
    folder: Path,
    origin: Path,
    work: Path,
    pieces: list[Path],
    against: list[str],
    processes: int,
    changes: Path,
    told: Path,
) -> None:
    """Hold the build against the version that is named, or where none is against the one sealed last."""
    pattern, _ = load_pattern(folder)
    assert pattern is not None
    ledger = ledger_of(origin)
    if not ledger.versions:
        write_json(told, ["  no version is sealed yet: there is nothing to compare with"])
        return
    entry = ledger.entry(against[0]) if against else ledger.versions[-1]
    if entry is None:
        known = ", ".join(each.version for each in ledger.versions)
        raise PatternFaultError(f"{against[0]} is no sealed version; there are {known}")
    found = changes_since(
        pattern.name,
        pattern.version,
        entry,
        ledger,
        measured(pattern, work, pieces, built_files(pattern, work / pattern.name), processes),
    )
    write_json(changes, found)
    write_json(told, [f"  {line}" for line in tell_changes(found, pattern.sizes)])

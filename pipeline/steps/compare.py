"""What is built in; what changed since a sealed version out, for programs and as lines."""

from pathlib import Path

from pipeline.bundle.promised import built_outputs
from pipeline.ledger.book import ledger_of
from pipeline.ledger.seal import changes_since
from pipeline.ledger.telling import tell_changes
from pipeline.masters.load import load_pattern
from pipeline.model.findings import PatternFaultError
from pipeline.model.pattern import Pattern
from pipeline.steps.measured import files_below, measured
from pipeline.work.files import write_json


def main(
    folder: Path, origin: Path, work: Path, pieces: list[Path], against: list[str], changes: Path, told: Path
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
        measured(pattern, work, pieces, _built(pattern, work / pattern.name)),
    )
    write_json(changes, found)
    write_json(told, [f"  {line}" for line in tell_changes(found, pattern.sizes)])


def _built(pattern: Pattern, work: Path) -> dict[str, Path]:
    """What is built, by its place in a bundle: also where no bundle may be made of it."""
    files: dict[str, Path] = {}
    for built, name in built_outputs(pattern):
        within = {f"{name}/{inner}": path for inner, path in files_below(work / built).items()}
        files |= within or {name: work / built}
    return files

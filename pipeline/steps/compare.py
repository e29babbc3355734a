"""What is built in; what changed since a sealed version out, for programs and as lines."""

from pathlib import Path

import msgspec

from pipeline.ledger.book import LEDGER, Entry, Ledger, ledger_of
from pipeline.ledger.changes import ChangesFile
from pipeline.model.findings import PatternFaultError
from pipeline.work.cache import Cache
from pipeline.work.files import hash_file, write_json
from pipeline.work.receipts import hashes


class Compared(msgspec.Struct, frozen=True):
    """What changed, and what a run tells of it; nothing of either where no version is sealed."""

    changes: ChangesFile | None
    told: tuple[str, ...]


def main(
    folder: Path,
    origin: Path,
    work: Path,
    pieces: list[Path],
    files: list[Path],
    against: list[str],
    processes: int,
    changes: Path,
    told: Path,
) -> None:
    """Hold the build against the version that is named, or where none is against the one sealed last.

    The same question has the answer that it had before: the same source, built files and ledger.
    """
    saved = Cache(work / folder.name / "cache/compared", __name__)
    ledger = origin / LEDGER
    asked = [against, hash_file(ledger) if ledger.is_file() else "", hashes(work, [folder.parent, *pieces, *files])]
    found = saved.value_of(asked, lambda: _compared(folder, origin, work, pieces, against, processes), Compared)
    saved.forget_others()
    if found.changes is not None:
        write_json(changes, found.changes)
    write_json(told, found.told)


def _compared(
    folder: Path, origin: Path, work: Path, pieces: list[Path], against: list[str], processes: int
) -> Compared:
    ledger = ledger_of(origin)
    if not ledger.versions:
        return Compared(None, ("  no version is sealed yet: there is nothing to compare with",))
    entry = _entry(ledger, against)
    # libraries, which a question that was asked before does without
    from pipeline.ledger.compare import changes_since
    from pipeline.ledger.telling import tell_changes
    from pipeline.masters.toml.load import load_pattern
    from pipeline.steps.measured import built_files, measured

    pattern, _ = load_pattern(folder)
    assert pattern is not None
    now = measured(pattern, folder, work, pieces, built_files(pattern, work / pattern.name), processes)
    changes = changes_since(pattern.name, pattern.version, entry, ledger, now)
    return Compared(changes, tuple(f"  {line}" for line in tell_changes(changes, pattern.sizes)))


def _entry(ledger: Ledger, against: list[str]) -> Entry:
    """The version to compare with. Raises PatternFaultError where the one that is named is none."""
    entry = ledger.entry(against[0]) if against else ledger.versions[-1]
    if entry is None:
        known = ", ".join(each.version for each in ledger.versions)
        raise PatternFaultError(f"{against[0]} is no sealed version; there are {known}")
    return entry

"""A bundle that was just built and checked in; its version in the ledger beside the source, and what is told of it."""

import os
from pathlib import Path

from pipeline.bundle.manifest import verify
from pipeline.bundle.promised import placed_files, planned_files
from pipeline.bundle.stamp import read_stamp
from pipeline.ledger.book import LEDGER, Entry, ledger_json, ledger_of
from pipeline.ledger.held import bundle_files, bundle_made_with
from pipeline.ledger.seal import sealed, sealing_date, why_not
from pipeline.ledger.sheets import merged, packed_layouts, source_digest
from pipeline.masters.copied import changed_since, copied_before
from pipeline.masters.load import load_pattern
from pipeline.model.findings import PatternFaultError
from pipeline.model.pattern import Pattern
from pipeline.sheets.layout import PagePlan, SavedLayout
from pipeline.steps.inputs import changes_text
from pipeline.steps.measured import files_below, measured
from pipeline.work.files import read_json, write, write_json


def main(folder: Path, origin: Path, work: Path, stamp: Path, pieces: list[Path], told: Path) -> None:
    """Enter the version, once. Where something blocked there is no bundle of this source, and nothing to enter.

    The same bytes again change nothing; other bytes never come here, since no bundle is made of them.
    """
    pattern, _ = load_pattern(folder)
    built = read_stamp(stamp)
    assert pattern is not None
    if built is None or not built.checksums:
        return
    place = Path(built.place)
    if faults := verify(pattern.name, place):
        raise PatternFaultError(f"{faults[0].message}: build it again")
    ledger, files = ledger_of(origin), bundle_files(place)
    if (entry := ledger.entry(pattern.version)) is not None:
        if entry.files != files:
            raise PatternFaultError(f"{pattern.version} is sealed with other bytes: give it the next version")
        write_json(told, [f"  sealed on {entry.date}, and these are the same bytes: nothing changed"])
        return
    if (lacking := why_not(pattern.version, ledger, changes_text(folder))) is not None:
        raise PatternFaultError(lacking)
    if changed := changed_since(origin, folder):
        raise PatternFaultError(f"{origin} was changed while it was built ({', '.join(changed[:5])}): seal it again")
    now = measured(pattern, work, pieces, files_below(place))
    date = sealing_date(os.environ)
    name, layouts = packed_layouts(_layouts(pattern, work / pattern.name))
    entry = Entry(
        version=pattern.version,
        date=date,
        made_with=bundle_made_with(place),
        files=files,
        facts=now.facts,
        previous="",
        source=source_digest(copied_before(folder).hashes),
        layouts=name,
    )
    after = sealed(ledger, entry, now, layouts)
    write(origin / LEDGER, ledger_json(after), flushed=True)
    write_json(told, [f"  sealed on {date}, {len(files)} files: keep {origin / LEDGER} in your repository"])


def _layouts(pattern: Pattern, work: Path) -> SavedLayout:
    """Where pieces lie on every sheet of the build."""
    parts = [read_json(work / "places" / name, SavedLayout) for name in placed_files(pattern)]
    plans = [plan for name in planned_files(pattern) for plan in read_json(work / name, list[PagePlan])]
    return merged(parts, plans)

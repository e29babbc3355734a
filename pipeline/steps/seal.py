"""A bundle that was just built and checked in; its version in the ledger beside the source, and what is told of it."""

import os
from pathlib import Path

from pipeline.bundle.manifest import Manifest, read_manifest, verify
from pipeline.bundle.stamp import read_stamp
from pipeline.ledger.book import LEDGER, Entry, Ledger, ledger_json, ledger_of
from pipeline.ledger.held import described_files
from pipeline.ledger.seal import sealed, sealing_date, why_not
from pipeline.model.findings import PatternFaultError
from pipeline.work.files import read_json, write, write_json


def main(folder: Path, origin: Path, work: Path, stamp: Path, pieces: list[Path], told: Path) -> None:
    """Enter the version, once. Where something blocked there is no bundle of this source, and nothing to enter.

    The same bytes again change nothing; other bytes never come here, since no bundle is made of them.
    """
    built = read_stamp(stamp)
    if built is None or not built.checksums:
        return
    place = Path(built.place)
    if faults := verify(folder.name, place):
        raise PatternFaultError(f"{faults[0].message}: build it again")
    ledger, manifest = ledger_of(origin), read_manifest(place)
    files = described_files(manifest)
    if (entry := ledger.entry(manifest.version)) is None:
        lines = _enter(folder, origin, work, pieces, place, ledger, manifest)
    elif entry.files != files:
        raise PatternFaultError(f"{manifest.version} is sealed with other bytes: give it the next version")
    else:
        lines = [f"  sealed on {entry.date}, and these are the same bytes: nothing changed"]
    write_json(told, lines)


def _enter(
    folder: Path, origin: Path, work: Path, pieces: list[Path], place: Path, ledger: Ledger, manifest: Manifest
) -> list[str]:
    """Write the ledger with one version more; what is told of it."""
    # libraries, which a version that is sealed does without
    from pipeline.bundle.promised import placed_files, planned_files
    from pipeline.ledger.layouts import merged, packed_layouts
    from pipeline.ledger.sheets import source_digest
    from pipeline.masters.copied import changed_since, copied_before
    from pipeline.masters.toml.load import load_pattern
    from pipeline.sheets.layout import PagePlan, SavedLayout
    from pipeline.steps.inputs import changes_text
    from pipeline.steps.measured import files_below, measured

    pattern, _ = load_pattern(folder)
    assert pattern is not None
    if (lacking := why_not(pattern.version, ledger, changes_text(folder))) is not None:
        raise PatternFaultError(lacking)
    if changed := changed_since(origin, folder):
        raise PatternFaultError(f"{origin} was changed while it was built ({', '.join(changed[:5])}): seal it again")
    now = measured(pattern, folder, work, pieces, files_below(place))
    here, date = work / pattern.name, sealing_date(os.environ)
    parts = [read_json(here / "places" / name, SavedLayout) for name in placed_files(pattern)]
    plans = [plan for name in planned_files(pattern) for plan in read_json(here / name, list[PagePlan])]
    name, layouts = packed_layouts(merged(parts, plans))
    entry = Entry(
        version=pattern.version,
        date=date,
        made_with=manifest.made_with,
        files=described_files(manifest),
        facts=now.facts,
        previous="",
        source=source_digest(copied_before(folder).hashes),
        layouts=name,
    )
    write(origin / LEDGER, ledger_json(sealed(ledger, entry, now, layouts)), flushed=True)
    return [f"  sealed on {date}, {len(entry.files)} files: keep {origin / LEDGER} in your repository"]

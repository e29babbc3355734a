"""A bundle that was just built and checked in; its version in the ledger beside the source, and what is told of it."""

import os
from pathlib import Path

from pipeline.bundle.manifest import Manifest, read_manifest, verify
from pipeline.bundle.stamp import read_stamp
from pipeline.ledger.book import LEDGER, Entry, Ledger, ledger_json, ledger_of
from pipeline.ledger.held import described_files
from pipeline.ledger.seal import sealed, sealing_date, why_not
from pipeline.ledger.signed import forged, lay_signature, with_signature
from pipeline.masters.toml.signing import signing_keys
from pipeline.model.findings import PatternFaultError
from pipeline.work.files import read_json, write, write_json


def main(folder: Path, origin: Path, work: Path, stamp: Path, pieces: list[Path], told: Path) -> None:
    """Enter the version, once. Where something blocked there is no bundle of this source, and nothing to enter.

    The same bytes again change nothing; other bytes never come here, since no bundle is made of them. Where the pattern
    is signed, a version is entered with its signature or not at all, and one that has none yet gets it.
    """
    built = read_stamp(stamp)
    if built is None or not built.checksums:
        return
    place = Path(built.place)
    if faults := verify(folder.name, place):
        raise PatternFaultError(f"{faults[0].message}: build it again")
    ledger, manifest = ledger_of(origin), read_manifest(place)
    keys = signing_keys(folder)
    for fault in forged(ledger, keys) if keys else ():
        raise PatternFaultError(fault)
    files, version = described_files(manifest), manifest.version
    if (entry := ledger.entry(version)) is not None and entry.files != files:
        raise PatternFaultError(f"{version} is sealed with other bytes: give it the next version")
    entered = ledger if entry else _entered(folder, origin, work, pieces, place, ledger, manifest)
    now = with_signature(entered, version, place, keys)
    if now != ledger:
        write(origin / LEDGER, ledger_json(now), flushed=True)
    for signed in now.signatures:
        if (place.parent / signed).is_dir():
            lay_signature(now, signed, place.parent / signed)
    write_json(told, _lines(origin, ledger, now, version))


def _lines(origin: Path, before: Ledger, now: Ledger, version: str) -> list[str]:
    """What is told of a sealed version, in a ledger that was another before."""
    entry, signed = now.entry(version), version in now.signatures
    assert entry is not None
    if now == before:
        return [f"  sealed on {entry.date}, and these are the same bytes: nothing changed"]
    files = f", {len(entry.files)} files" if before.entry(version) is None else ", the same bytes"
    return [f"  sealed on {entry.date}{files}{', signed' if signed else ''}: keep {origin / LEDGER} in your repository"]


def _entered(
    folder: Path, origin: Path, work: Path, pieces: list[Path], place: Path, ledger: Ledger, manifest: Manifest
) -> Ledger:
    """The ledger with one version more."""
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
    return sealed(ledger, entry, now, layouts)

"""A bundle that was just built and checked in; its version in the ledger beside the source, and what is told of it."""

import os
from pathlib import Path

from pipeline.bundle.manifest import verify
from pipeline.bundle.stamp import read_stamp
from pipeline.ledger.book import LEDGER, ledger_json, ledger_of
from pipeline.ledger.held import bundle_files, bundle_made_with
from pipeline.ledger.seal import sealed, sealing_date, why_not
from pipeline.masters.load import load_pattern
from pipeline.masters.taken import changed_since
from pipeline.model.findings import PatternFaultError
from pipeline.steps.inputs import changes_text
from pipeline.steps.measured import files_below, measured
from pipeline.work.files import write, write_json


def main(folder: Path, origin: Path, stamp: Path, pieces: list[Path], told: Path) -> None:
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
    now = measured(pattern, pieces, files_below(place))
    date = sealing_date(os.environ)
    after = sealed(ledger, pattern.version, date, bundle_made_with(place), files, now)
    write(origin / LEDGER, ledger_json(after), flushed=True)
    write_json(told, [f"  sealed on {date}, {len(files)} files: keep {origin / LEDGER} in your repository"])

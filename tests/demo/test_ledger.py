"""The demo jacket was sold with a fault in one piece and three sizes, which its next version mends.

What the ledger says of 1.0.0 is a fact of the day when it was sealed: its files are not built any more. Of what is
measured anew only the shapes are held against it here, since pages change with every drawn line of the pipeline.
"""

from pathlib import Path

import pytest

from pipeline.correction.differences import differences
from pipeline.correction.sentences import Correction, concerned
from pipeline.ledger.before import Former, sold_before
from pipeline.ledger.book import Ledger, read_ledger
from pipeline.ledger.changes import Change, ChangesFile, next_version
from pipeline.ledger.compare import compare
from pipeline.ledger.measure import measure
from pipeline.masters.toml.load import load_pattern
from pipeline.model.pattern import Pattern
from pipeline.model.pieces import CutPiece
from pipeline.model.texts import told_of_version
from pipeline.steps import pieces
from pipeline.steps.inputs import cuts_by_piece
from pipeline.tables.write import TablesFile

JACKET = Path(__file__).resolve().parents[2] / "source/work-jacket"
LARGEST_BYTES = 400_000
WRONG = ("44", "46", "48")


@pytest.fixture(scope="module")
def pattern() -> Pattern:
    found, findings = load_pattern(JACKET)
    assert found is not None, findings
    return found


@pytest.fixture(scope="module")
def ledger() -> Ledger:
    found = read_ledger(JACKET)
    assert isinstance(found, Ledger), found
    return found


@pytest.fixture(scope="module")
def former(pattern, ledger) -> Former:
    found = sold_before(ledger, pattern.version)
    assert found is not None
    return found


@pytest.fixture(scope="module")
def cuts(pattern, tmp_path_factory) -> dict[str, dict[str, CutPiece]]:
    work = tmp_path_factory.mktemp("cut")
    files = [work / f"{size}.json" for size in pattern.sizes]
    for size, file in zip(pattern.sizes, files, strict=True):
        pieces.main(JACKET, size, file, work / "read.json")
    return cuts_by_piece(files)


@pytest.fixture(scope="module")
def changes(pattern, former, cuts) -> tuple[Change, ...]:
    """What changed of pieces and texts."""
    none = TablesFile(
        pattern=pattern.name, version=pattern.version, cloth=(), cut_list=(), strips=(), notions=(), sizes=(), pages=()
    )
    now = measure(pattern, cuts, none, {})
    found = compare(former.facts, now.facts, {**former.shapes, **now.shapes})
    return tuple(
        change
        for change in found
        if change.what in ("size", "piece", "edge", "notch", "mark", "detail", "said", "text")
    )


def test_the_ledger_is_whole_and_small(ledger, pattern):
    assert [entry.version for entry in ledger.versions] == ["1.0.0"]
    assert pattern.version == "1.1.0"
    assert (JACKET / "ledger.json").stat().st_size < LARGEST_BYTES
    assert ledger.versions[0].layouts in ledger.layouts


def test_the_fix_is_in_one_piece_and_three_sizes(changes):
    assert {(change.what, change.piece, change.name, change.size) for change in changes} == {
        ("edge", "lining-back", "side", size) for size in WRONG
    }
    assert {round(change.mm or 0.0, 1) for change in changes} == {2.5}
    assert next_version("1.0.0", changes) == "1.1.0"


def test_the_correction_names_exactly_those(pattern, former, cuts, changes):
    found = differences(changes, former, cuts)
    assert [(one.piece, one.size, list(one.edges)) for one in found] == [
        ("lining-back", size, ["side"]) for size in WRONG
    ]
    assert all(one.edges["side"].out_mm == pytest.approx(2.5, abs=0.05) for one in found)
    assert all(one.edges["side"].in_mm == 0.0 for one in found)
    text = (JACKET / "CHANGES.md").read_text(encoding="utf-8")
    file = ChangesFile(pattern=pattern.name, since="1.0.0", version="1.1.0", next_version="1.1.0", changes=changes)
    assert concerned(Correction(pattern, file, found, (), text)) == WRONG
    told = told_of_version(text, "1.1.0")
    assert all(size in told for size in ("44", "48"))

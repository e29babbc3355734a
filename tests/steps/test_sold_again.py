"""What was compared or sealed before costs next to nothing again: no library is loaded, and nothing measured."""

import json
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from pipeline.ledger.book import LEDGER, Entry, Ledger, ledger_json
from pipeline.ledger.facts import Measured
from pipeline.ledger.seal import sealed
from pipeline.steps import compare
from tests.ledger.versions import SHAPES, facts, skirt

ROOT = Path(__file__).resolve().parents[2]
PATTERN = (ROOT / "tests/patterns/tea-apron/pattern.toml").read_text(encoding="utf-8")
HEAVY = ("numpy", "shapely", "pikepdf", "cairocffi", "typst")
OF_EVERY_START = ("book", "before", "held", "seal", "sheets", "telling")


@pytest.mark.parametrize(
    "modules",
    [[f"pipeline.ledger.{name}" for name in OF_EVERY_START], ["pipeline.steps.compare"], ["pipeline.steps.seal"]],
    ids=["start", "compare", "seal"],
)
def test_no_library_that_draws_or_computes_is_loaded(modules):
    said = f"import sys, {', '.join(modules)}; print(*(name for name in {HEAVY} if name in sys.modules))"
    done = subprocess.run([sys.executable, "-c", said], cwd=ROOT, capture_output=True, text=True, check=True)
    assert done.stdout.split() == []


class Room:
    """A work folder with a build of few bytes, and a ledger beside the source; counts how often a build is measured."""

    def __init__(self, folder: Path) -> None:
        self.work, self.origin = folder / "work", folder / "source/tea-apron"
        self.copy = self.work / "tea-apron/source/tea-apron"
        self.printed, self.pieces = self.work / "tea-apron/out/print/a4.pdf", self.work / "tea-apron/pieces/S.json"
        for file, text in ((self.copy / "pattern.toml", PATTERN), (self.printed, "pdf"), (self.pieces, "{}")):
            file.parent.mkdir(parents=True)
            file.write_text(text, encoding="utf-8")
        self.origin.mkdir(parents=True)
        self.now, self.measured = facts({"42": skirt("42", side=3.0)}), 0
        self.seal("1.0.0")

    def seal(self, *versions: str) -> None:
        ledger = Ledger()
        for version in versions:
            entry = Entry(version=version, date="2026-01-02", made_with={}, files={}, facts=facts(), previous="")
            ledger = sealed(ledger, entry, Measured(facts(), SHAPES), "")
        (self.origin / LEDGER).write_bytes(ledger_json(ledger))

    def measure(self, *_: object) -> Measured:
        self.measured += 1
        return Measured(self.now, SHAPES)

    def compare(self, *against: str) -> list[str]:
        changes, told = self.work / "changes.json", self.work / "told.json"
        changes.unlink(missing_ok=True)
        given = {"folder": self.copy, "origin": self.origin, "work": self.work, "pieces": [self.pieces]}
        compare.main(**given, files=[self.printed.parent], against=[*against], processes=1, changes=changes, told=told)
        assert json.loads(changes.read_bytes())["changes"]
        return json.loads(told.read_bytes())


@pytest.fixture
def room(tmp_path, monkeypatch) -> Room:
    room = Room(tmp_path)
    monkeypatch.setattr("pipeline.steps.measured.measured", room.measure)
    return room


def test_the_same_build_and_ledger_are_compared_once(room):
    first = room.compare()
    assert any("front: side" in line for line in first)
    assert room.compare() == first
    assert room.measured == 1


CHANGES: dict[str, Callable[[Room], object]] = {
    "a print file": lambda room: room.printed.write_text("other", encoding="utf-8"),
    "a cut piece": lambda room: room.pieces.write_text("[]", encoding="utf-8"),
    "the pattern": lambda room: (room.copy / "pattern.toml").write_text(f"{PATTERN}\n", encoding="utf-8"),
    "the ledger": lambda room: room.seal("1.0.0", "1.0.1"),
}


@pytest.mark.parametrize("what", CHANGES)
def test_whatever_changed_since_is_compared_anew(room, what):
    room.compare()
    CHANGES[what](room)
    room.compare()
    assert room.measured == 2


def test_another_version_to_compare_with_is_another_question(room):
    room.seal("1.0.0", "1.0.1")
    assert room.compare()[0] == "  changed since 1.0.1"
    assert room.compare("1.0.0")[0] == "  changed since 1.0.0"

"""What a run keeps of what it found out holds for the same bytes and the same code, and for nothing else."""

from pathlib import Path

import pytest

from pipeline.ledger.book import LEDGER, Ledger, ledger_json
from pipeline.masters.source_file import FileFault
from pipeline.rules import known as known_room
from pipeline.rules.known import Known


@pytest.fixture
def asked(monkeypatch) -> list[str]:
    """What is found out anew, in turn."""
    told: list[str] = []
    for name in ("edited", "code_digest"):
        real = getattr(known_room, name)

        def find_out(of, real=real, name=name):
            told.append(name)
            return real(of)

        find_out.__module__ = real.__module__
        monkeypatch.setattr(known_room, name, find_out)
    return told


def kept(work: Path) -> Known:
    known = Known(work)
    known.read_ledger(work)
    known.save()
    return Known(work)


def test_what_was_found_out_is_not_asked_again(tmp_path, asked):
    (tmp_path / LEDGER).write_bytes(ledger_json(Ledger()))
    again = kept(tmp_path)
    asked.clear()
    assert again.read_ledger(tmp_path) == Ledger()
    assert asked == []


def test_another_ledger_is_looked_at(tmp_path, asked):
    (tmp_path / LEDGER).write_bytes(ledger_json(Ledger()))
    again = kept(tmp_path)
    asked.clear()
    (tmp_path / LEDGER).write_bytes(ledger_json(Ledger(shapes={"of-nothing": "bad"})))
    assert isinstance(fault := again.read_ledger(tmp_path), FileFault)
    assert fault.code == "edited"
    assert asked == ["edited"]


def test_other_code_is_asked_anew(tmp_path, asked, monkeypatch):
    (tmp_path / LEDGER).write_bytes(ledger_json(Ledger()))
    kept(tmp_path)
    monkeypatch.setattr(known_room, "program_digest", lambda: "another program")
    asked.clear()
    Known(tmp_path).code_digest("pipeline.steps.pieces")
    assert asked == ["code_digest"]


def test_a_harmed_file_is_as_none(tmp_path, asked):
    (tmp_path / LEDGER).write_bytes(ledger_json(Ledger()))
    file = kept(tmp_path).answers.file
    file.write_bytes(file.read_bytes()[:-3])
    asked.clear()
    Known(tmp_path).read_ledger(tmp_path)
    assert "edited" in asked

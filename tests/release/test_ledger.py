"""What was sold stays as it was: sealed once, never overwritten, and every change since is told."""

import json
from pathlib import Path

import pytest

from tests.release.conftest import Workroom

SIDE = "360 320 370 470"


@pytest.fixture
def small(workroom) -> Workroom:
    """One paper is enough here."""
    workroom.edit("pattern.toml", 'formats = ["a4", "letter", "a0", "roll-36in"]', 'formats = ["a4"]')
    return workroom


@pytest.fixture
def sealed(small, monkeypatch) -> Workroom:
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1700000000")
    done = small.run("seal")
    assert done.returncode == 0, done.text
    return small


def ledger(room: Workroom) -> Path:
    return room.pattern / "ledger.json"


def test_a_sealed_version_keeps_its_bytes_and_what_changed_is_told(sealed):
    """One story, since a build takes its time: seal, seal again, change, compare, build, number, seal."""
    (entry,) = json.loads(ledger(sealed).read_bytes())["versions"]
    assert (entry["version"], entry["date"]) == ("1.0.0", "2023-11-14")
    assert entry["files"].keys() == sealed.files().keys()
    first, sold = ledger(sealed).read_bytes(), sealed.files()

    again = sealed.run("seal")
    assert "these are the same bytes: nothing changed" in again.text
    assert "1 pattern sealed." in again.text
    assert ledger(sealed).read_bytes() == first
    assert "and as it was sealed" in sealed.run("verify").text

    sealed.edit("sizes/M/skirt.svg", SIDE, SIDE.replace("360", "366"))
    compared = sealed.run("compare")
    assert compared.returncode == 0, compared.text
    assert "skirt: side, size M, up to 2.7 mm between waist and hem" in compared.text
    assert "the next version is 1.1.0" in compared.text
    changes = json.loads((sealed.work / "tea-apron/changes.json").read_bytes())
    assert {each["size"] for each in changes["changes"] if each["what"] == "edge"} == {"M"}
    assert not [each for each in changes["changes"] if each["name"].startswith("print/by-size/S")]

    refused = sealed.run()
    assert refused.returncode == 1
    assert "version 1.0.0 is sealed, and this source gives other bytes" in refused.text
    assert 'set version = "1.1.0" in pattern.toml' in refused.text
    assert "or accept it" not in refused.text
    assert sealed.run("seal").returncode == 1
    assert (sealed.files(), ledger(sealed).read_bytes()) == (sold, first)

    sealed.edit("pattern.toml", 'version = "1.0.0"', 'version = "1.1.0"')
    sealed.edit("CHANGES.md", "# 1.0.0", "# 1.1.0\n\nThe side of size M is wider.\n\n# 1.0.0")
    done = sealed.run("seal")
    assert done.returncode == 0, done.text
    assert [each["version"] for each in json.loads(ledger(sealed).read_bytes())["versions"]] == ["1.0.0", "1.1.0"]
    assert sealed.files() == sold


def test_an_edited_ledger_stops_a_build_and_shows_in_verify(sealed):
    sold, text = sealed.files(), ledger(sealed).read_text(encoding="utf-8")
    ledger(sealed).write_text(text.replace("2023-11-14", "2023-11-13"), encoding="utf-8")
    done = sealed.run()
    assert done.returncode == 1
    assert "version 1.0.0 was edited" in done.text
    verified = sealed.run("verify")
    assert verified.returncode == 1
    assert "version 1.0.0 was edited" in verified.text
    assert sealed.files() == sold


def test_a_ledger_that_comes_back_makes_nothing_anew(sealed):
    """It is no input of any job: a run after sealing does nothing, with the ledger and without."""
    assert "Nothing to be done" in sealed.run().text
    ledger(sealed).unlink()
    assert "Nothing to be done" in sealed.run().text


def test_a_bundle_that_is_not_what_was_sealed_is_told_and_put_back(sealed):
    sold = sealed.files()
    sealed.edit("pattern.toml", 'en = "Tea apron"', 'en = "Tea pinafore"')
    aside = ledger(sealed).rename(sealed.folder / "aside.json")
    assert sealed.run().returncode == 0  # as on a machine that has not fetched the ledger yet
    aside.rename(ledger(sealed))
    verified = sealed.run("verify")
    assert verified.returncode == 1
    assert "1.0.0 is not what was sealed" in verified.text
    refused = sealed.run()
    assert "version 1.0.0 is sealed, and this source gives other bytes" in refused.text
    sealed.edit("pattern.toml", 'en = "Tea pinafore"', 'en = "Tea apron"')
    assert sealed.run().returncode == 0
    assert sealed.files() == sold


def test_a_heading_that_was_waived_is_needed_to_seal(small):
    waiver = 'waivers = [{ check = "version", code = "no-heading", where = "pattern", why = "later" }]\n\n[pattern]'
    small.edit("pattern.toml", "[pattern]", waiver)
    small.edit("CHANGES.md", "# 1.0.0", "# Soon")
    done = small.run("seal")
    assert done.returncode == 1
    assert "The pattern cannot be sealed: CHANGES.md has no heading for 1.0.0" in done.text
    assert not ledger(small).exists()


def test_nothing_to_compare_with_is_said(small):
    done = small.run("compare", config=("pattern=tea-apron",))
    assert "no version is sealed yet" in done.text
    assert done.returncode == 0

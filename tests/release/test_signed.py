"""A pattern that is signed: sealed with its signature or not at all, and no byte of the bundle depends on it."""

import json
from pathlib import Path

import pytest

from pipeline.ledger.signature import PRIVATE
from tests.ledger.keys import needs_openssh, throwaway
from tests.release.conftest import Workroom

pytestmark = needs_openssh
SIGNATURE = "SHA256SUMS.sig"


@pytest.fixture
def key(workroom: Workroom, tmp_path: Path, monkeypatch) -> Path:
    """The file of a private key whose public one the pattern names; one paper is enough here."""
    monkeypatch.delenv("SSH_AUTH_SOCK", raising=False)
    monkeypatch.delenv(PRIVATE, raising=False)
    public = throwaway(tmp_path, "key")
    workroom.edit("pattern.toml", 'formats = ["a4", "letter", "a0", "roll-36in"]', 'formats = ["a4"]')
    workroom.edit("pattern.toml", "[pattern]", f'[pattern]\nsign = ["{public} somebody@some-computer"]')
    return tmp_path / "key"


def test_a_version_is_sealed_with_its_signature_or_not_at_all(workroom, key, monkeypatch):
    """One story, since a build takes its time: no key, seal, forge, lose, build anew, change the key."""
    ledger = workroom.pattern / "ledger.json"
    refused = workroom.run("seal")
    assert refused.returncode == 1
    assert "The pattern cannot be sealed: a signature is wanted: found no such key in the agent" in refused.text
    assert not ledger.exists()
    built = workroom.files()
    assert SIGNATURE not in built

    monkeypatch.setenv(PRIVATE, str(key))
    done = workroom.run("seal")
    assert done.returncode == 0, done.text
    assert "files, signed: keep" in done.text
    sold = workroom.files()
    assert {name: data for name, data in sold.items() if name != SIGNATURE} == built
    (entry,) = json.loads(ledger.read_bytes())["versions"]
    assert entry["files"].keys() == built.keys()
    for path in (ledger, *workroom.bundle.rglob("*.*")):
        assert not path.is_file() or b"some-computer" not in path.read_bytes()
        assert not path.is_file() or str(key).encode() not in path.read_bytes()
    assert "as it was sealed, and signed by a key of `sign`" in workroom.run("verify").text

    monkeypatch.delenv(PRIVATE)
    kept = ledger.read_bytes()
    (workroom.bundle / SIGNATURE).unlink()
    lost = workroom.run("verify")
    assert lost.returncode == 1
    assert f"{SIGNATURE} is not the ledger's: found no file" in lost.text
    again = workroom.run("seal")
    assert again.returncode == 0, again.text
    assert "these are the same bytes: nothing changed" in again.text
    assert (workroom.files(), ledger.read_bytes()) == (sold, kept)

    (workroom.bundle / "print/a4.pdf").unlink()
    assert workroom.run().returncode == 0
    assert workroom.files() == sold, "built again, the signature is the ledger's"

    other = throwaway(key.parent, "other")
    workroom.edit("pattern.toml", 'sign = ["', f'sign = ["{other}"]  # ["')
    verified = workroom.run("verify")
    assert verified.returncode == 1
    assert "the signature of version 1.0.0 in ledger.json is by another key: found SHA256:" in verified.text

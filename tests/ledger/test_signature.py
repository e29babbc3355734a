"""Signatures of what is sold: whoever has the public key sees a forged bundle or ledger; no key, no signature."""

import os
import subprocess
from pathlib import Path

import msgspec
import pytest

from pipeline.bundle.manifest import CHECKSUMS, SIGNATURE
from pipeline.ledger.book import Entry, Ledger, Signature, entry_digest, ledger_json, parsed_ledger
from pipeline.ledger.facts import Measured
from pipeline.ledger.seal import sealed
from pipeline.ledger.signature import PRIVATE, sign, signature_fault
from pipeline.ledger.signed import bundle_fault, forged, lay_signature, unsigned, with_signature
from pipeline.model.findings import PatternFaultError
from pipeline.model.public_keys import fingerprint
from tests.ledger.keys import needs_openssh, throwaway
from tests.ledger.versions import SHAPES, facts

pytestmark = needs_openssh


@pytest.fixture(autouse=True)
def no_agent(monkeypatch):
    """Nor a key of whoever runs the tests."""
    monkeypatch.delenv("SSH_AUTH_SOCK", raising=False)
    monkeypatch.delenv(PRIVATE, raising=False)


@pytest.fixture
def key(tmp_path: Path, monkeypatch) -> str:
    public = throwaway(tmp_path, "own")
    monkeypatch.setenv(PRIVATE, str(tmp_path / "own"))
    return public


@pytest.fixture
def bundle(tmp_path: Path) -> Path:
    place = tmp_path / "1.0.0"
    place.mkdir()
    (place / CHECKSUMS).write_text(f"{'0' * 64}  CHANGES.md\n", encoding="ascii")
    return place


def entered(ledger: Ledger, version: str) -> Ledger:
    what = facts()
    entry = Entry(version=version, date="2026-01-02", made_with={}, files={}, facts=what, previous="")
    return sealed(ledger, entry, Measured(what, SHAPES), "")


@pytest.fixture
def signed(bundle: Path, key: str) -> Ledger:
    return with_signature(entered(Ledger(), "1.0.0"), "1.0.0", bundle, (key,))


def edited_and_hashed_again(ledger: Ledger) -> Ledger:
    """What a forger makes who knows how entries are chained."""
    entry = msgspec.structs.replace(ledger.versions[0], date="2020-01-01")
    entry = msgspec.structs.replace(entry, digest=entry_digest(entry))
    ledger = msgspec.structs.replace(ledger, versions=(entry,))
    assert parsed_ledger(ledger_json(ledger)) == ledger, "the chain alone holds"
    return ledger


def test_a_ledger_keeps_its_signatures_and_without_them_says_nothing_of_them(signed):
    assert parsed_ledger(ledger_json(signed)) == signed
    assert b"signature" not in ledger_json(msgspec.structs.replace(signed, signatures={}))


def test_nothing_of_who_signs_is_kept_but_the_key(signed, tmp_path):
    kept = ledger_json(signed).decode()
    assert "some-computer" not in kept
    assert str(tmp_path) not in kept


def test_what_was_signed_holds_by_this_key_and_an_earlier_one(signed, bundle, key, tmp_path):
    lay_signature(signed, "1.0.0", bundle)
    for keys in ((key,), (throwaway(tmp_path, "new"), key), ()):
        assert [*forged(signed, keys), *unsigned(signed, keys)] == []
        assert bundle_fault(signed, "1.0.0", bundle, keys) is None


def test_buyers_check_with_openssh_alone(signed, bundle, key):
    """As `source/README.md` tells them."""
    lay_signature(signed, "1.0.0", bundle)
    (bundle / "signer").write_text(f"workroom {key}\n", encoding="ascii")
    words = ["-Y", "verify", "-f", "signer", "-I", "workroom", "-n", "file", "-s", SIGNATURE]

    def check() -> int:
        told = subprocess.run(
            ["ssh-keygen", *words],
            cwd=bundle,
            input=(bundle / CHECKSUMS).read_bytes(),
            check=False,
            capture_output=True,
        )
        return told.returncode

    assert check() == 0
    (bundle / CHECKSUMS).write_text(f"{'1' * 64}  CHANGES.md\n", encoding="ascii")
    assert check() != 0


def test_the_same_version_is_signed_once(signed, bundle, key, tmp_path):
    assert with_signature(signed, "1.0.0", bundle, (throwaway(tmp_path, "other"), key)) is signed


def test_a_pattern_that_does_not_say_so_is_not_signed(bundle):
    ledger = entered(Ledger(), "1.0.0")
    assert with_signature(ledger, "1.0.0", bundle, ()) is ledger
    lay_signature(ledger, "1.0.0", bundle)
    assert not (bundle / SIGNATURE).exists()


def test_a_ledger_that_was_edited_and_hashed_again_shows(signed, key):
    (fault,) = forged(edited_and_hashed_again(signed), (key,))
    assert fault.startswith("the signature of version 1.0.0 in ledger.json does not hold: found")
    assert fault.endswith("take ledger.json from your last commit")
    assert [*forged(edited_and_hashed_again(signed), ())], "also to whom no key is known"


def test_a_ledger_that_was_forged_and_signed_by_another_shows(signed, bundle, key, tmp_path, monkeypatch):
    other = throwaway(tmp_path, "other")
    monkeypatch.setenv(PRIVATE, str(tmp_path / "other"))
    theirs = with_signature(msgspec.structs.replace(signed, signatures={}), "1.0.0", bundle, (other,))
    (fault,) = forged(theirs, (key,))
    assert f"is by another key: found {fingerprint(other)}, expected {fingerprint(key)}" in fault


def test_a_signature_that_was_taken_out_shows_in_the_versions_after_one(signed, key):
    two = entered(signed, "1.1.0")
    (fault,) = unsigned(two, (key,))
    assert fault.startswith("version 1.1.0 is not signed: found no signature after versions that have one")
    assert [*unsigned(two, ())] == [], "a designer may have stopped signing"
    assert [*unsigned(msgspec.structs.replace(two, signatures={}), (key,))] == [], "or begin with the next one"


def test_a_signature_of_a_version_that_is_not_there_shows(signed, key):
    more = msgspec.structs.replace(signed, signatures={**signed.signatures, "2.0.0": Signature("", "")})
    (fault,) = forged(more, (key,))
    assert fault.startswith("ledger.json has a signature of version 2.0.0: found no such version")


@pytest.mark.parametrize(
    ("seed", "told"),
    [
        (lambda place: (place / SIGNATURE).unlink(), "is not the ledger's: found no file"),
        (lambda place: (place / SIGNATURE).write_bytes(b"\xff"), "is not the ledger's: found another one"),
        (lambda place: (place / CHECKSUMS).write_text("", encoding="ascii"), "does not hold: found"),
    ],
)
def test_a_bundle_whose_signature_is_not_of_it_shows(seed, told, signed, bundle, key):
    lay_signature(signed, "1.0.0", bundle)
    seed(bundle)
    assert told in (bundle_fault(signed, "1.0.0", bundle, (key,)) or "")


def test_a_signature_that_nobody_made_shows(bundle):
    (bundle / SIGNATURE).write_text("-----BEGIN SSH SIGNATURE-----\n", encoding="ascii")
    assert "does not know" in (bundle_fault(entered(Ledger(), "1.0.0"), "1.0.0", bundle, ()) or "")


def without_a_key(folder: Path, monkeypatch) -> str:
    return throwaway(folder, "mine")


def with_a_lost_file(folder: Path, monkeypatch) -> str:
    monkeypatch.setenv(PRIVATE, str(folder / "gone"))
    return throwaway(folder, "mine")


def with_another_key(folder: Path, monkeypatch) -> str:
    throwaway(folder, "other")
    monkeypatch.setenv(PRIVATE, str(folder / "other"))
    return throwaway(folder, "mine")


def with_a_locked_key(folder: Path, monkeypatch) -> str:
    monkeypatch.setenv(PRIVATE, str(folder / "mine"))
    return throwaway(folder, "mine", "a passphrase")


def with_no_key_at_all(folder: Path, monkeypatch) -> str:
    (folder / "text").write_text("not a key\n", encoding="ascii")
    monkeypatch.setenv(PRIVATE, str(folder / "text"))
    return throwaway(folder, "mine")


def without_the_program(folder: Path, monkeypatch) -> str:
    public = throwaway(folder, "mine")
    monkeypatch.setenv("PATH", str(folder))
    return public


@pytest.mark.parametrize(
    ("seed", "found", "remedy"),
    [
        (without_a_key, "found no such key in the agent", f"`ssh-add` it, or name its file in {PRIVATE}"),
        (with_a_lost_file, "found no file", "Name the file of the private key"),
        (with_another_key, "is by another key: found SHA256:", "Name the file of that key's private one"),
        (with_a_locked_key, "found a key that is locked with a passphrase", "unlock it in the agent with `ssh-add`"),
        (with_no_key_at_all, "a signature is wanted: found", "Mend that, then seal again"),
        (without_the_program, "found no ssh-keygen", "sudo apt-get install openssh-client"),
    ],
)
def test_what_cannot_be_signed_says_what_is_lacking_and_what_to_do(seed, found, remedy, tmp_path, monkeypatch):
    public = seed(tmp_path, monkeypatch)
    with pytest.raises(PatternFaultError) as fault:
        sign([b"text"], public, os.environ)
    assert found in str(fault.value)
    assert "expected" in str(fault.value)
    assert remedy in str(fault.value)


def test_the_agent_signs_with_what_it_holds(tmp_path, monkeypatch):
    public = throwaway(tmp_path, "mine", "a passphrase")
    plain = throwaway(tmp_path, "plain")
    told = subprocess.run(
        ["ssh-agent", "-s", "-a", str(tmp_path / "agent")], capture_output=True, text=True, check=True
    )
    agent = dict(part.split("=", 1) for part in told.stdout.replace("\n", "").split(";") if "=" in part)
    try:
        monkeypatch.setenv("SSH_AUTH_SOCK", agent["SSH_AUTH_SOCK"])
        subprocess.run(["ssh-add", "-q", str(tmp_path / "plain")], check=True, capture_output=True)
        (signature,) = sign([b"text"], plain, os.environ)
        assert signature_fault(b"text", signature, (plain,)) is None
        with pytest.raises(PatternFaultError, match="found no such key in the agent"):
            sign([b"text"], public, os.environ)
    finally:
        os.kill(int(agent["SSH_AGENT_PID"]), 15)

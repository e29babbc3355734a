"""Detached signatures by OpenSSH's `ssh-keygen` (its manual: -Y sign, verify, check-novalidate).

The private key is the agent's, or lies in the file that `PATTERN_RELEASE_KEY` names: neither is known to the source,
nor to anything that is sold.
"""

import os
import re
import subprocess
import tempfile
from collections.abc import Mapping, Sequence
from pathlib import Path

from pipeline.model.findings import PatternFaultError
from pipeline.model.public_keys import fingerprint

PROGRAM = "ssh-keygen"
PRIVATE = "PATTERN_RELEASE_KEY"
"""The environment's name for the file of the private key; without it the agent is asked."""
NAMESPACE = "file"
"""What OpenSSH's manual has for files in general: buyers check with it."""
_DESIGNER = "designer"
_SECONDS = 120
"""A key of hardware waits to be touched."""
_LACKING = (
    f"found no {PROGRAM}, expected OpenSSH 8.2 or newer: install it (Debian `sudo apt-get install openssh-client`),"
    " then give the same command again"
)


def sign(texts: Sequence[bytes], key: str, environment: Mapping[str, str]) -> list[str]:
    """A signature of each text by the public key's private one. Raises PatternFaultError, which says what to do."""
    private = environment.get(PRIVATE, "")
    if private and not Path(private).is_file():
        raise PatternFaultError(
            f"{PRIVATE} names {private}: found no file, expected a private key. Name the file of the private key of"
            f" {fingerprint(key)}, or take {PRIVATE} away and `ssh-add` the key, then seal again"
        )
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        public = folder / "key.pub"
        public.write_text(f"{key}\n", encoding="ascii")
        files = [folder / f"{number}" for number in range(len(texts))]
        for file, text in zip(files, texts, strict=True):
            file.write_bytes(text)
        done = _call(["sign", "-f", private or str(public), "-n", NAMESPACE, *map(str, files)], b"")
        if done.returncode:
            raise PatternFaultError(_why_not_signed(done.stderr.decode(errors="replace"), key))
        made = [file.with_name(f"{file.name}.sig").read_text(encoding="ascii") for file in files]
    for text, signature in zip(texts, made, strict=True):
        if (fault := signature_fault(text, signature, (key,))) is not None:
            raise PatternFaultError(f"the signature {fault}. Name the file of that key's private one in {PRIVATE}")
    return made


def signature_fault(text: bytes, signature: str, keys: Sequence[str]) -> str | None:
    """Why a signature is not one of a text by one of these public keys; without keys, by any. None where it is.

    Raises PatternFaultError where it cannot be asked.
    """
    with tempfile.TemporaryDirectory() as name:
        file, allowed = Path(name, "signature"), Path(name, "keys")
        file.write_text(signature, encoding="utf-8")
        known = _call(["check-novalidate", "-n", NAMESPACE, "-s", str(file)], text)
        if known.returncode:
            why = " ".join(known.stderr.decode(errors="replace").split())
            return f"does not hold: found {why or 'no signature'}; expected one of these very bytes"
        if not keys:
            return None
        allowed.write_text("".join(f'{_DESIGNER} namespaces="{NAMESPACE}" {key}\n' for key in keys), encoding="ascii")
        words = ["verify", "-f", str(allowed), "-I", _DESIGNER, "-n", NAMESPACE, "-s", str(file)]
        if not _call(words, text).returncode:
            return None
    found = re.search(rb"SHA256:\S+", known.stdout)
    expected = " or ".join(map(fingerprint, keys))
    return f"is by another key: found {found[0].decode() if found else 'an unknown one'}, expected {expected}"


def _call(words: list[str], text: bytes) -> subprocess.CompletedProcess[bytes]:
    """Run the program where nobody can be asked for a passphrase: a job has no terminal of its own."""
    environment = {**os.environ, "SSH_ASKPASS_REQUIRE": "never"}
    try:
        return subprocess.run(
            [PROGRAM, "-Y", *words],
            input=text,
            capture_output=True,
            env=environment,
            start_new_session=True,
            timeout=_SECONDS,
            check=False,
        )
    except FileNotFoundError:
        raise PatternFaultError(f"a signature is wanted: {_LACKING}") from None
    except subprocess.TimeoutExpired:
        raise PatternFaultError(
            f"a signature is wanted: found no answer of the key in {_SECONDS} s, expected its signature. Seal again,"
            " and touch or confirm the key when it asks"
        ) from None


def _why_not_signed(told: str, key: str) -> str:
    """What the program's own words mean here, and what to do."""
    wanted = f"expected the private key of {fingerprint(key)}, the first of `sign` in pattern.toml"
    if "incorrect passphrase" in told:
        return (
            f"a signature is wanted: found a key that is locked with a passphrase, {wanted}, unlocked. Nobody is asked"
            f" for it here: unlock it in the agent with `ssh-add`, take {PRIVATE} away, then seal again"
        )
    if "No private key found" in told or "agent" in told:
        return (
            f"a signature is wanted: found no such key in the agent, {wanted}. `ssh-add` it, or name its file in"
            f" {PRIVATE}, then seal again"
        )
    return f"a signature is wanted: found {' '.join(told.split()) or 'none'}; {wanted}. Mend that, then seal again"

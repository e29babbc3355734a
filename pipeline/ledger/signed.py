"""What is signed of a sealed version, and whether a ledger and a bundle have the signatures that they should.

Two texts: SHA256SUMS, which buyers have, and a line with the digest of the ledger's entry, which holds all that the
entry says and, by the chain, every version before it. Signatures lie in the ledger, and the first one also in the
bundle's folder, listed nowhere: no byte of what was sealed depends on a key.
"""

import os
from collections.abc import Iterator, Sequence
from pathlib import Path

import msgspec

from pipeline.bundle.manifest import CHECKSUMS, SIGNATURE
from pipeline.ledger.book import LEDGER, Entry, Ledger, Signature
from pipeline.ledger.signature import sign, signature_fault
from pipeline.work.files import write

_KEPT = f"take {LEDGER} from your last commit"


def with_signature(ledger: Ledger, version: str, place: Path, keys: Sequence[str]) -> Ledger:
    """The ledger with a sealed version signed, once, by the first of these public keys; as it is where there is none.

    Raises PatternFaultError where it cannot be signed, or follows what was forged.
    """
    entry = ledger.entry(version)
    if not keys or entry is None or version in ledger.signatures:
        return ledger
    checksums, of_entry = sign([(place / CHECKSUMS).read_bytes(), entry_line(entry)], keys[0], os.environ)
    return msgspec.structs.replace(ledger, signatures={**ledger.signatures, version: Signature(checksums, of_entry)})


def entry_line(entry: Entry) -> bytes:
    """The text that stands for an entry where it is signed."""
    return f"ledger entry {entry.version} {entry.digest}\n".encode()


def lay_signature(ledger: Ledger, version: str, place: Path) -> None:
    """Put a version's signature beside its checksums, where buyers look for it, unless it lies there."""
    signature, file = ledger.signatures.get(version), place / SIGNATURE
    if signature is not None and not (file.is_file() and file.read_bytes() == signature.checksums.encode()):
        write(file, signature.checksums.encode(), flushed=True)
        file.chmod(0o644)


def forged(ledger: Ledger, keys: Sequence[str]) -> Iterator[str]:
    """Entries that are not as they were signed. Raises PatternFaultError where signatures cannot be read at all."""
    for version, signature in ledger.signatures.items():
        if (entry := ledger.entry(version)) is None:
            yield f"{LEDGER} has a signature of version {version}: found no such version; {_KEPT}"
        elif (fault := signature_fault(entry_line(entry), signature.entry, keys)) is not None:
            yield f"the signature of version {version} in {LEDGER} {fault}; {_KEPT}"


def unsigned(ledger: Ledger, keys: Sequence[str]) -> Iterator[str]:
    """Entries that are not signed after one that is, while there are keys to sign with."""
    signed = [entry.version in ledger.signatures for entry in ledger.versions]
    for position, entry in enumerate(ledger.versions):
        if keys and not signed[position] and any(signed[:position]):
            wanted = "found no signature after versions that have one, expected one of a key of `sign`"
            yield f"version {entry.version} is not signed: {wanted}; {_KEPT}, or seal that version's source again"


def bundle_fault(ledger: Ledger, version: str, place: Path, keys: Sequence[str]) -> str | None:
    """Why the signature in a bundle's folder is not the one of its checksums. Raises PatternFaultError as above."""
    signature, file = ledger.signatures.get(version), place / SIGNATURE
    there = file.read_bytes().decode(errors="replace") if file.is_file() else None
    if signature is None:
        return None if there is None else f"{SIGNATURE} is a signature that the ledger does not know: take it away"
    if there != signature.checksums:
        found = "no file" if there is None else "another one"
        return f"{SIGNATURE} is not the ledger's: found {found}, expected the one that was sealed; `seal` puts it back"
    fault = signature_fault((place / CHECKSUMS).read_bytes(), there, keys)
    return None if fault is None else f"{SIGNATURE} {fault}"

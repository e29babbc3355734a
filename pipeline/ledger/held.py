"""A bundle's files as the ledger knows them, and a bundle held against the ledger."""

import hashlib
from pathlib import Path

import msgspec

from pipeline.bundle.manifest import CHECKSUMS, MANIFEST, Manifest, checksums, files_in, hash_file, manifest_json
from pipeline.ledger.book import Entry
from pipeline.ledger.seal import STAGE, differing
from pipeline.model.findings import Finding


def described_files(manifest: Manifest) -> dict[str, str]:
    """SHA-256 of every file of a bundle that has this manifest, manifest and checksums included."""
    own = {MANIFEST: manifest_json(manifest), CHECKSUMS: checksums(manifest).encode()}
    listed = {entry.path: entry.sha256 for entry in manifest.files}
    return {**listed, **{name: hashlib.sha256(data).hexdigest() for name, data in own.items()}}


def bundle_files(place: Path) -> dict[str, str]:
    """SHA-256 of every file that lies in a bundle's folder. Raises OSError."""
    return {name: hash_file(place / name) for name in (*files_in(place), MANIFEST, CHECKSUMS)}


def as_sealed(manifest: Manifest, entry: Entry) -> Manifest:
    """The manifest that was sealed, where all that it lists has the sealed bytes: other libraries can make the same."""
    same = all(entry.files.get(file.path) == file.sha256 for file in manifest.files)
    return msgspec.structs.replace(manifest, made_with=entry.made_with) if same else manifest


def is_sealed_with(entry: Entry, sums: str) -> bool:
    """Whether a text of SHA256SUMS is the sealed one."""
    return entry.files.get(CHECKSUMS) == hashlib.sha256(sums.encode()).hexdigest()


def not_as_sealed(pattern: str, place: Path, entry: Entry | None) -> tuple[Finding, ...]:
    """What blocks where a bundle's folder has other bytes than were sealed; nothing where its version is not sealed."""
    if entry is None or not (files := differing(entry.files, bundle_files(place))):
        return ()
    return (
        Finding(
            check=STAGE.id,
            code="other-bytes",
            severity="block",
            pattern=pattern,
            file=files[0],
            found=f"other bytes in {', '.join(files[:5])}",
            allowed=f"the bytes of {entry.date}",
            message=f"{pattern} {entry.version} is not what was sealed",
            remedy="move this folder away and build the source of that version from your repository again",
        ),
    )

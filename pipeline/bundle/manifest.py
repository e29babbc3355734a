"""`manifest.json` and `SHA256SUMS`: what is in a bundle, and whether it still is."""

import hashlib
import os
from collections.abc import Iterator
from pathlib import Path, PurePosixPath

import msgspec

from pipeline.masters.source_file import plain_name
from pipeline.model.findings import Finding
from pipeline.model.pattern import Pattern
from pipeline.model.stages import Stage
from pipeline.work.libraries import made_with

STAGE = Stage(
    id="bundle-files",
    title="A bundle holds what its manifest and its checksums say, and nothing else",
    rationale="What was altered after the build has not been checked by anybody.",
    severity="block",
)
MANIFEST, CHECKSUMS, SIGNATURE = "manifest.json", "SHA256SUMS", "SHA256SUMS.sig"
_UNLISTED = (MANIFEST, CHECKSUMS, SIGNATURE)
"""The last is made of the second when a version is sealed, and lies there where its designer signs."""


class Entry(msgspec.Struct, frozen=True):
    """One file of the bundle."""

    path: str
    bytes: int
    sha256: str


class Manifest(msgspec.Struct, frozen=True, kw_only=True):
    """What a bundle holds. `made_with` are the libraries whose versions can change its bytes.

    `digest` is the SHA-256 of this file as it is written with an empty digest: SHA256SUMS does not list it.
    """

    format: int = 1
    pattern: str
    version: str
    title: dict[str, str]
    sizes: tuple[str, ...]
    languages: tuple[str, ...]
    made_with: dict[str, str]
    files: tuple[Entry, ...]
    digest: str = ""


def manifest_json(manifest: Manifest) -> bytes:
    """The text of `manifest.json`, its own digest included."""
    digest = hashlib.sha256(_text(msgspec.structs.replace(manifest, digest=""))).hexdigest()
    return _text(msgspec.structs.replace(manifest, digest=digest))


def _text(manifest: Manifest) -> bytes:
    return msgspec.json.format(msgspec.json.encode(manifest), indent=1) + b"\n"


def hash_file(path: Path) -> str:
    """SHA-256 of a file, in hexadecimal."""
    with path.open("rb") as handle:
        return hashlib.file_digest(handle, "sha256").hexdigest()


def files_in(folder: Path) -> list[str]:
    """Every file of a bundle but manifest, checksums and their signature, as sorted paths with slashes."""
    return sorted(path for path, is_file in _entries(folder) if is_file and path not in _UNLISTED)


def _entries(folder: Path) -> Iterator[tuple[str, bool]]:
    """Everything that lies in a folder, links not followed: its path, and whether it is a file (and no link)."""
    for place, folders, files in os.walk(folder):
        for name in (*folders, *files):
            path = Path(place, name)
            yield path.relative_to(folder).as_posix(), path.is_file() and not path.is_symlink()


def describe(pattern: Pattern, folder: Path) -> Manifest:
    """The manifest of the files that lie in a folder."""
    entries = (Entry(path, (folder / path).stat().st_size, hash_file(folder / path)) for path in files_in(folder))
    return Manifest(
        pattern=pattern.name,
        version=pattern.version,
        title=pattern.title,
        sizes=pattern.sizes,
        languages=pattern.languages,
        made_with=made_with(),
        files=tuple(entries),
    )


def checksums(manifest: Manifest) -> str:
    """The text of SHA256SUMS, as `sha256sum -c` reads it (GNU coreutils: hash, two spaces, path)."""
    return "".join(f"{entry.sha256}  {entry.path}\n" for entry in manifest.files)


def read_manifest(folder: Path) -> Manifest:
    """The manifest of a bundle's folder. Raises OSError and msgspec errors."""
    return msgspec.json.decode((folder / MANIFEST).read_bytes(), type=Manifest)


def verify(pattern: str, version_folder: Path) -> tuple[Finding, ...]:
    """Hold a bundle's files against its manifest: missing, altered, or not listed; and the manifest against itself."""
    try:
        text = (version_folder / MANIFEST).read_bytes()
        manifest = msgspec.json.decode(text, type=Manifest)
    except (OSError, msgspec.MsgspecError, RecursionError) as fault:
        return (_finding(pattern, version_folder, "manifest", MANIFEST, str(fault), "a readable manifest"),)
    if text != manifest_json(manifest):
        found = "another text than its digest says"
        return (_finding(pattern, version_folder, "manifest", MANIFEST, found, "the text that a build wrote"),)
    if (manifest.pattern, manifest.version) != (pattern, version_folder.name):
        found, allowed = f"{manifest.pattern} {manifest.version}", f"{pattern} {version_folder.name}"
        return (_finding(pattern, version_folder, "manifest", MANIFEST, found, allowed),)
    findings = []
    there = dict(_entries(version_folder))
    for entry in manifest.files:
        if not there.get(entry.path):
            found = "a link or folder" if entry.path in there else "no file"
            findings.append(_finding(pattern, version_folder, "missing", entry.path, found, entry.sha256))
        elif (found := hash_file(version_folder / entry.path)) != entry.sha256:
            findings.append(_finding(pattern, version_folder, "altered", entry.path, found, entry.sha256))
    listed = {entry.path for entry in manifest.files} | {MANIFEST, CHECKSUMS}
    listed |= {SIGNATURE} if there.get(SIGNATURE) else set()  # the ledger says whether there is one, and which
    folders = {parent.as_posix() for path in listed for parent in PurePosixPath(path).parents}
    for stray in sorted(there.keys() - listed - folders):
        found = "a file" if there[stray] else "a folder or link"
        allowed = "only what the manifest lists"
        findings.append(_finding(pattern, version_folder, "stray", plain_name(stray), found, allowed))
    findings += [
        _finding(pattern, version_folder, "stray", path, "a link", "a folder")
        for path in sorted(folders & there.keys())
        if (version_folder / path).is_symlink()
    ]
    sums = version_folder / CHECKSUMS
    if not there.get(CHECKSUMS) or sums.read_bytes() != checksums(manifest).encode():
        findings.append(_finding(pattern, version_folder, "checksums", CHECKSUMS, "other lines", "the manifest's"))
    return tuple(findings)


def _finding(pattern: str, folder: Path, code: str, file: str, found: str, allowed: str) -> Finding:
    return Finding(
        check=STAGE.id,
        code=code,
        severity="block",
        pattern=pattern,
        file=file,
        found=found,
        allowed=allowed,
        message=f"{pattern} {folder.name}: {file} is not what the manifest says ({code})",
        remedy="build the pattern again; the same source makes the same bytes",
    )

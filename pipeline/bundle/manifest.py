"""`manifest.json` and `SHA256SUMS`: what is in a bundle, and whether it still is."""

import hashlib
from importlib.metadata import version
from pathlib import Path

import msgspec

from pipeline.model.findings import Finding
from pipeline.model.pattern import Pattern

MANIFEST, CHECKSUMS = "manifest.json", "SHA256SUMS"
_SHAPES_BYTES = ("cairocffi", "numpy", "pikepdf", "shapely")


class Entry(msgspec.Struct, frozen=True):
    """One file of the bundle."""

    path: str
    bytes: int
    sha256: str


class Manifest(msgspec.Struct, frozen=True, kw_only=True):
    """What a bundle holds. `made_with` are the libraries whose versions can change its bytes."""

    format: int = 1
    pattern: str
    version: str
    title: dict[str, str]
    sizes: tuple[str, ...]
    languages: tuple[str, ...]
    made_with: dict[str, str]
    files: tuple[Entry, ...]


def hash_file(path: Path) -> str:
    """SHA-256 of a file, in hexadecimal."""
    with path.open("rb") as handle:
        return hashlib.file_digest(handle, "sha256").hexdigest()


def files_in(folder: Path) -> list[str]:
    """Every file of a bundle but manifest and checksums, as sorted paths with slashes."""
    paths = (path.relative_to(folder).as_posix() for path in folder.rglob("*") if path.is_file())
    return sorted(path for path in paths if path not in (MANIFEST, CHECKSUMS))


def describe(pattern: Pattern, folder: Path) -> Manifest:
    """The manifest of the files that lie in a folder."""
    entries = (Entry(path, (folder / path).stat().st_size, hash_file(folder / path)) for path in files_in(folder))
    return Manifest(
        pattern=pattern.name,
        version=pattern.version,
        title=pattern.title,
        sizes=pattern.sizes,
        languages=pattern.languages,
        made_with={name: version(name) for name in _SHAPES_BYTES},
        files=tuple(entries),
    )


def checksums(manifest: Manifest) -> str:
    """The text of SHA256SUMS, as `sha256sum -c` reads it (GNU coreutils: hash, two spaces, path)."""
    return "".join(f"{entry.sha256}  {entry.path}\n" for entry in manifest.files)


def verify(pattern: str, version_folder: Path) -> tuple[Finding, ...]:
    """Hold a bundle's files against its manifest: missing, altered, or not listed."""
    try:
        manifest = msgspec.json.decode((version_folder / MANIFEST).read_bytes(), type=Manifest)
    except (OSError, msgspec.MsgspecError) as fault:
        return (_finding(pattern, version_folder, "manifest", MANIFEST, str(fault), "a readable manifest"),)
    findings = []
    for entry in manifest.files:
        path = version_folder / entry.path
        if not path.is_file():
            findings.append(_finding(pattern, version_folder, "missing", entry.path, "no file", entry.sha256))
        elif (found := hash_file(path)) != entry.sha256:
            findings.append(_finding(pattern, version_folder, "altered", entry.path, found, entry.sha256))
    listed = {entry.path for entry in manifest.files}
    for stray in sorted(set(files_in(version_folder)) - listed):
        findings.append(_finding(pattern, version_folder, "stray", stray, "a file", "only what the manifest lists"))
    sums = version_folder / CHECKSUMS
    text = sums.read_text(encoding="utf-8") if sums.is_file() else ""
    if text != checksums(manifest):
        findings.append(_finding(pattern, version_folder, "checksums", CHECKSUMS, "other lines", "the manifest's"))
    return tuple(findings)


def _finding(pattern: str, folder: Path, code: str, file: str, found: str, allowed: str) -> Finding:
    return Finding(
        check="bundle-files",
        code=code,
        severity="block",
        pattern=pattern,
        file=file,
        found=found,
        allowed=allowed,
        message=f"{pattern} {folder.name}: {file} is not what the manifest says ({code})",
        remedy="build the pattern again; the same source makes the same bytes",
    )

"""A bundle is held against its manifest file by file; SHA256SUMS is what coreutils' sha256sum reads."""

import subprocess
from pathlib import Path

import msgspec
import pytest

from pipeline.bundle.manifest import CHECKSUMS, MANIFEST, Entry, Manifest, checksums, files_in, hash_file, verify


@pytest.fixture
def bundle(tmp_path: Path) -> Path:
    folder = tmp_path / "1.0.0"
    (folder / "print").mkdir(parents=True)
    (folder / "print/a4.pdf").write_bytes(b"a page")
    (folder / "CHANGES.md").write_bytes(b"first version")
    entries = tuple(Entry(p, (folder / p).stat().st_size, hash_file(folder / p)) for p in files_in(folder))
    manifest = Manifest(
        pattern="coat",
        version="1.0.0",
        title={"en": "Coat"},
        sizes=("34",),
        languages=("en",),
        made_with={},
        files=entries,
    )
    (folder / MANIFEST).write_bytes(msgspec.json.encode(manifest))
    (folder / CHECKSUMS).write_text(checksums(manifest))
    return folder


def test_a_whole_bundle_has_nothing_to_tell(bundle: Path):
    assert verify("coat", bundle) == ()


def test_sha256sum_agrees(bundle: Path):
    told = subprocess.run(["sha256sum", "-c", CHECKSUMS], cwd=bundle, capture_output=True, text=True, check=True)
    assert told.stdout.splitlines() == ["CHANGES.md: OK", "print/a4.pdf: OK"]


def test_every_file_but_manifest_and_checksums_is_listed(bundle: Path):
    assert files_in(bundle) == ["CHANGES.md", "print/a4.pdf"]


@pytest.mark.parametrize(
    ("seed", "code", "file"),
    [
        (lambda folder: (folder / "print/a4.pdf").unlink(), "missing", "print/a4.pdf"),
        (lambda folder: (folder / "print/a4.pdf").write_bytes(b"a paga"), "altered", "print/a4.pdf"),
        (lambda folder: (folder / "print/a4.pdf").write_bytes(b""), "altered", "print/a4.pdf"),
        (lambda folder: (folder / "note.txt").write_bytes(b"stray"), "stray", "note.txt"),
        (lambda folder: (folder / CHECKSUMS).write_text(""), "checksums", CHECKSUMS),
        (lambda folder: (folder / MANIFEST).write_text("{"), "manifest", MANIFEST),
        (lambda folder: (folder / MANIFEST).unlink(), "manifest", MANIFEST),
    ],
)
def test_each_fault_is_named(bundle: Path, seed, code: str, file: str):
    seed(bundle)
    (finding,) = verify("coat", bundle)
    assert (finding.code, finding.file, finding.severity) == (code, file, "block")

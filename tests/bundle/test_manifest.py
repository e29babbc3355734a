"""A bundle is held against its manifest file by file; SHA256SUMS is what coreutils' sha256sum reads."""

import os
import re
import subprocess
import time
from pathlib import Path

import pytest

from pipeline.bundle.manifest import (
    CHECKSUMS,
    MANIFEST,
    Entry,
    Manifest,
    checksums,
    files_in,
    hash_file,
    manifest_json,
    verify,
)
from pipeline.work.libraries import UNKNOWN, made_with


def rewrite(folder: Path, old: bytes, new: bytes) -> None:
    text = (folder / MANIFEST).read_bytes()
    assert text.count(old) >= 1
    (folder / MANIFEST).write_bytes(text.replace(old, new))


def linked(folder: Path, file: str) -> None:
    """The same bytes, but elsewhere."""
    (folder / file).rename(folder.parent / file)
    (folder / file).symlink_to(folder.parent / file)


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
    (folder / MANIFEST).write_bytes(manifest_json(manifest))
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
        (lambda folder: rewrite(folder, b'"Coat"', b'"Cape"'), "manifest", MANIFEST),
        (lambda folder: rewrite(folder, b'"34"', b'"36"'), "manifest", MANIFEST),
        (lambda folder: rewrite(folder, b'"version": "1.0.0"', b'"version": "1.0.1"'), "manifest", MANIFEST),
        (lambda folder: rewrite(folder, b'"bytes": 6', b'"bytes": 7'), "manifest", MANIFEST),
        (lambda folder: rewrite(folder, b'"format": 1', b'"format": 1, "note": "x"'), "manifest", MANIFEST),
        (lambda folder: rewrite(folder, b"\n}", b"\n} "), "manifest", MANIFEST),
        (lambda folder: (folder / MANIFEST).write_text("[" * 200_000), "manifest", MANIFEST),
        (lambda folder: (folder / "more").mkdir(), "stray", "more"),
        (lambda folder: (folder / "print/more").mkdir(), "stray", "print/more"),
        (lambda folder: (folder / "link").symlink_to("CHANGES.md"), "stray", "link"),
        (lambda folder: (folder / "link").symlink_to("print"), "stray", "link"),
        (lambda folder: (folder / "link").symlink_to("nowhere"), "stray", "link"),
        (lambda folder: os.mkfifo(folder / "pipe"), "stray", "pipe"),
        (lambda folder: linked(folder, "CHANGES.md"), "missing", "CHANGES.md"),
        (lambda folder: linked(folder, CHECKSUMS), "checksums", CHECKSUMS),
    ],
)
def test_each_fault_is_named(bundle: Path, seed, code: str, file: str):
    seed(bundle)
    (finding,) = verify("coat", bundle)
    assert (finding.code, finding.file, finding.severity) == (code, file, "block")


def test_a_bundle_of_another_version_in_this_place_is_found(bundle: Path):
    assert [finding.code for finding in verify("cape", bundle)] == ["manifest"]
    assert [finding.code for finding in verify("coat", bundle.rename(bundle.with_name("1.0.1")))] == ["manifest"]


def test_a_folder_that_became_a_link_is_found(bundle: Path):
    (bundle / "print").rename(bundle.parent / "print")
    (bundle / "print").symlink_to(bundle.parent / "print")
    assert {(finding.code, finding.file) for finding in verify("coat", bundle)} == {
        ("missing", "print/a4.pdf"),
        ("stray", "print"),
    }


def test_what_draws_and_compresses_is_named_with_its_version():
    began = time.process_time()
    told = made_with()
    assert time.process_time() - began < 0.1
    assert {"cairo", "freetype", "zlib"} < told.keys()
    assert all(re.fullmatch(r"[0-9]+(\.[0-9]+)+.*", text) for text in told.values()), told
    assert UNKNOWN not in told.values()

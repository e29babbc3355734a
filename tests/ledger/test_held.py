"""A bundle held against the ledger: by its bytes alone, whichever libraries made them."""

from pathlib import Path

import msgspec
import pytest

from pipeline.bundle.manifest import CHECKSUMS, MANIFEST, Entry, Manifest, checksums, manifest_json
from pipeline.ledger import book
from pipeline.ledger.held import as_sealed, bundle_files, described_files, is_sealed_with, not_as_sealed
from tests.ledger.versions import facts

SUM = "0" * 64
MADE = Manifest(
    pattern="skirt",
    version="1.0.0",
    title={"en": "Skirt"},
    sizes=("40",),
    languages=("en",),
    made_with={"cairo": "1.16.0"},
    files=(Entry("CHANGES.md", 1, SUM),),
)


def entry(files: dict[str, str]) -> book.Entry:
    return book.Entry(
        version="1.0.0", date="2026-01-02", made_with=MADE.made_with, files=files, facts=facts(), previous=""
    )


@pytest.fixture
def bundle(tmp_path: Path) -> Path:
    (tmp_path / "CHANGES.md").write_text("# 1.0.0\n", encoding="utf-8")
    (tmp_path / MANIFEST).write_bytes(manifest_json(MADE))
    (tmp_path / CHECKSUMS).write_text(checksums(MADE), encoding="utf-8")
    return tmp_path


def test_what_a_manifest_describes_includes_itself_and_the_checksums(bundle):
    described = described_files(MADE)
    assert described["CHANGES.md"] == SUM
    assert {name: described[name] for name in (MANIFEST, CHECKSUMS)} == {
        name: bundle_files(bundle)[name] for name in (MANIFEST, CHECKSUMS)
    }


def test_the_same_bytes_by_other_libraries_are_the_sealed_bundle():
    sealed = entry(described_files(MADE))
    other = msgspec.structs.replace(MADE, made_with={"cairo": "1.18.0"})
    assert described_files(other) != sealed.files
    assert described_files(as_sealed(other, sealed)) == sealed.files


def test_other_bytes_keep_saying_what_made_them():
    other = msgspec.structs.replace(MADE, made_with={"cairo": "1.18.0"}, files=(Entry("CHANGES.md", 1, "1" * 64),))
    assert as_sealed(other, entry(described_files(MADE))) == other


def test_checksums_that_were_sealed():
    sealed = entry(described_files(MADE))
    assert is_sealed_with(sealed, checksums(MADE))
    assert not is_sealed_with(sealed, checksums(MADE) + "\n")


def test_a_folder_with_other_bytes_is_told_by_its_files(bundle):
    sealed = entry(bundle_files(bundle))
    assert not_as_sealed("skirt", bundle, sealed) == ()
    assert not_as_sealed("skirt", bundle, None) == ()
    (bundle / "CHANGES.md").write_text("# 1.0.0, mended\n", encoding="utf-8")
    (finding,) = not_as_sealed("skirt", bundle, sealed)
    assert (finding.code, finding.file, finding.severity) == ("other-bytes", "CHANGES.md", "block")

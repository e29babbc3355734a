"""All built files of a pattern in; a complete bundle in its place, and a stamp that says which bytes it has."""

import shutil
from pathlib import Path

import msgspec

from pipeline.bundle.manifest import CHECKSUMS, MANIFEST, checksums, describe
from pipeline.bundle.swap import beside, recover, swap
from pipeline.masters.load import load_pattern
from pipeline.rules.plan import Stamp, built_files
from pipeline.steps.run import run, write_json


def main(folder: Path, work: Path, release: Path, stamp: Path) -> None:
    """Gather, describe, swap. The bundle that is there stays until the new one is whole."""
    pattern, _ = load_pattern(folder)
    assert pattern is not None
    place = release / pattern.name / pattern.version
    recover(place)
    new = beside(place)
    for file in built_files(pattern):
        _copy(work / pattern.name / "out" / file, new / file)
    _copy(work / pattern.name / "findings.json", new / "data/findings.json")
    _copy(folder / "CHANGES.md", new / "CHANGES.md")
    manifest = describe(pattern, new)
    sums = checksums(manifest)
    (new / MANIFEST).write_bytes(msgspec.json.format(msgspec.json.encode(manifest), indent=1) + b"\n")
    (new / CHECKSUMS).write_text(sums, encoding="utf-8")
    swap(new, place)
    write_json(stamp, Stamp(place=str(place), checksums=sums))


def _copy(source: Path, target: Path) -> None:
    target.parent.mkdir(parents=True, exist_ok=True)
    shutil.copyfile(source, target)


if __name__ == "__main__":
    run(main)

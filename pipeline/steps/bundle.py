"""All built files of a pattern in; a complete bundle in its place, and a stamp that says which bytes it has."""

import shutil
from pathlib import Path

from pipeline.bundle.built_files import check_built
from pipeline.bundle.manifest import CHECKSUMS, MANIFEST, checksums, describe, manifest_json
from pipeline.bundle.swap import beside, recover, swap
from pipeline.checks.waivers import WAIVERS, waive
from pipeline.masters.load import load_pattern
from pipeline.model.findings import FindingsFile, blocks
from pipeline.rules.plan import Stamp, built_outputs
from pipeline.steps.run import read_json, run, write_json


def main(folder: Path, work: Path, told: list[Path], release: Path, stamp: Path) -> None:
    """Gather, describe, swap. The bundle that is there stays until the new one is whole and nothing blocks."""
    pattern, _ = load_pattern(folder)
    assert pattern is not None
    place = release / pattern.name / pattern.version
    recover(place)
    new = beside(place)
    for built, name in built_outputs(pattern):
        _copy(work / pattern.name / built, new / name)
    _copy(folder / "CHANGES.md", new / "CHANGES.md")
    found = [finding for path in told for finding in read_json(path, FindingsFile).findings if finding.check != WAIVERS]
    findings = FindingsFile(findings=waive(pattern, (*found, *check_built(pattern, new))))
    write_json(work / pattern.name / "findings.json", findings)
    if any(map(blocks, findings.findings)):
        shutil.rmtree(new)
        write_json(stamp, Stamp(place=str(place), checksums=""))
        return
    write_json(new / "data/findings.json", findings)
    manifest = describe(pattern, new)
    sums = checksums(manifest)
    (new / MANIFEST).write_bytes(manifest_json(manifest))
    (new / CHECKSUMS).write_text(sums, encoding="utf-8")
    swap(new, place)
    write_json(stamp, Stamp(place=str(place), checksums=sums))


def _copy(source: Path, target: Path) -> None:
    target.parent.mkdir(parents=True, exist_ok=True)
    if source.is_dir():
        shutil.copytree(source, target, dirs_exist_ok=True, ignore=shutil.ignore_patterns(".*"))
    else:
        shutil.copyfile(source, target)


if __name__ == "__main__":
    run(main)

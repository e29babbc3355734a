"""All built files of a pattern in; a complete bundle in its place, and a stamp that says which bytes it has."""

import shutil
from pathlib import Path

from pipeline.bundle.built_files import check_built
from pipeline.bundle.manifest import CHECKSUMS, MANIFEST, Manifest, checksums, describe, manifest_json
from pipeline.bundle.promised import archive_outputs, built_outputs, correction_outputs, promised_files
from pipeline.bundle.stamp import Stamp
from pipeline.bundle.swap import beside, swap
from pipeline.checks.waivers import WAIVERS, waive
from pipeline.lays.saved import Chosen
from pipeline.ledger.book import Ledger, ledger_of
from pipeline.ledger.compare import changes_since
from pipeline.ledger.held import as_sealed, described_files
from pipeline.ledger.seal import differing, refusal
from pipeline.ledger.signed import lay_signature
from pipeline.ledger.telling import change_lines
from pipeline.masters.copied import changed_since
from pipeline.model.findings import Finding, FindingsFile, PatternFaultError, blocks
from pipeline.model.pattern import Pattern
from pipeline.sheets.layout import Layout
from pipeline.steps.inputs import told_changes
from pipeline.steps.measured import files_below, measured
from pipeline.steps.printed import printed_pattern
from pipeline.work.cache import Answers
from pipeline.work.files import hash_file, read_json, write_json
from pipeline.work.stale import sound_files


def main(
    folder: Path,
    origin: Path,
    work: Path,
    told: list[Path],
    former: list[Path],
    release: Path,
    stamp: Path,
    findings: Path,
) -> None:
    """Gather, describe, swap. The bundle that is there stays until the new one is whole and nothing blocks."""
    pattern = printed_pattern(folder)
    place = release / pattern.name / pattern.version
    new = beside(place)
    for name, built in _built(pattern, folder, work, bool(former)).items():
        _copy(built, new / name)
    for name in told_changes(pattern, folder):
        _copy(folder / name, new / name)
    found = [finding for path in told for finding in read_json(path, FindingsFile).findings if finding.check != WAIVERS]
    answers = Answers(work / pattern.name / "cache/built", check_built.__module__)
    told_findings = waive(pattern, (*found, *check_built(pattern, new, answers)))
    write_json(new / "data/findings.json", FindingsFile(findings=told_findings))
    manifest = describe(pattern, new)
    ledger = ledger_of(origin)
    if (entry := ledger.entry(pattern.version)) is not None:
        manifest = as_sealed(manifest, entry)
    refused = () if any(map(blocks, told_findings)) else _other_bytes(pattern, folder, ledger, work, new, manifest)
    write_json(findings, FindingsFile(findings=(*told_findings, *refused)))
    if any(map(blocks, (*told_findings, *refused))):
        shutil.rmtree(new)
        write_json(stamp, Stamp(place=str(place), checksums=""))
        return
    sums = checksums(manifest)
    (new / MANIFEST).write_bytes(manifest_json(manifest))
    (new / CHECKSUMS).write_text(sums, encoding="utf-8")
    lay_signature(ledger, pattern.version, new)
    _may_be_read(new)
    if changed := changed_since(origin, folder):
        shutil.rmtree(new)
        raise PatternFaultError(
            f"{origin} was changed while it was built ({', '.join(changed[:5])}): give the same command again"
        )
    swap(new, place)
    write_json(stamp, Stamp(place=str(place), checksums=sums))


def _other_bytes(
    pattern: Pattern, folder: Path, ledger: Ledger, work: Path, new: Path, manifest: Manifest
) -> tuple[Finding, ...]:
    """The one finding that no waiver takes back: a sealed version would get other bytes."""
    entry = ledger.entry(pattern.version)
    if entry is None or not (files := differing(entry.files, described_files(manifest))):
        return ()
    pieces = [work / pattern.name / f"pieces/{size}.json" for size in pattern.sizes]
    now = measured(pattern, folder, work, pieces, files_below(new))
    changes = changes_since(pattern.name, pattern.version, entry, ledger, now)
    return (refusal(entry, manifest.made_with, files, change_lines(changes, pattern.sizes), changes),)


def _built(pattern: Pattern, folder: Path, work: Path, corrects: bool) -> dict[str, Path]:
    """Every file that the pattern promises, by its place in the bundle. Raises RuntimeError.

    All must have been made of one another and of this copy of the source: a build that was stopped leaves files of
    two minds.
    """
    here = work / pattern.name
    names = promised_files(
        pattern, read_json(here / "layout.json", Layout), read_json(here / "lays.json", list[Chosen]), corrects
    )
    sources = {
        path.relative_to(work).as_posix(): hash_file(path) for path in folder.parent.rglob("*") if path.is_file()
    }
    sound = sound_files(work, pattern.name, sources)
    below: dict[Path, list[Path]] = {}
    for path in sound:
        for folder_above in path.parents:
            below.setdefault(folder_above, []).append(path)
    files: dict[str, Path] = {}
    more = correction_outputs(pattern) if corrects else ()
    for built, name in (*built_outputs(pattern), *more, *archive_outputs(pattern)):
        place = here / built
        found = [place] if not place.is_dir() else below.get(place, [])
        files |= {f"{name}/{path.relative_to(place).as_posix()}" if path != place else name: path for path in found}
    listed = {name for name in files if not name.startswith("archives/")}
    if lacking := sorted({*names.symmetric_difference(listed), *(name for name in files if files[name] not in sound)}):
        raise RuntimeError(f"not of this build: {', '.join(lacking[:5])}")
    return files


def _copy(source: Path, target: Path) -> None:
    target.parent.mkdir(parents=True, exist_ok=True)
    shutil.copyfile(source, target)


def _may_be_read(folder: Path) -> None:
    """A bundle can be read by all, whatever the mask of the person who built it."""
    for path in (folder, *folder.rglob("*")):
        path.chmod(0o755 if path.is_dir() else 0o644)

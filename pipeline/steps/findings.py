"""All that is known of a pattern before it is drawn in; its findings, and a picture of each that blocks, out."""

import shutil
from pathlib import Path

from pipeline.checks.all import check_garment
from pipeline.checks.garment import Garment
from pipeline.checks.waivers import waive
from pipeline.drawing.doubts import text_findings
from pipeline.lays.demand import lay_requests
from pipeline.lays.fit import too_wide
from pipeline.masters.load import load_pattern
from pipeline.masters.lookup import check_files
from pipeline.masters.references import check_references
from pipeline.masters.source_file import LARGEST_TEXT, read_source
from pipeline.model.findings import Finding, FindingsFile, blocks
from pipeline.model.pattern import Pattern
from pipeline.model.pieces import SizeFile
from pipeline.rules.kept_files import check_kept_files
from pipeline.steps.inputs import by_piece
from pipeline.steps.run import read_json, run, write, write_json


def main(folder: Path, checked: Path, read: list[Path], pieces: list[Path], pictures: Path) -> None:
    """Merge what was found on the way here with what the checks say. A fault in a pattern is no failure of the step."""
    pattern, told = load_pattern(folder)
    findings = told
    if pattern is not None:
        sizes = [read_json(path, SizeFile) for path in pieces]
        on_reading = tuple(finding for path in read for finding in read_json(path, FindingsFile).findings)
        drawn = {file.size: tuple(cut.drawn for cut in file.pieces) for file in sizes}
        findings = (*told, *check_files(pattern, folder), *check_kept_files(pattern, folder))
        findings = (*findings, *on_reading, *check_references(pattern, drawn))
        findings = (*findings, *text_findings(pattern))
        garment = Garment(pattern, by_piece(sizes), _changes(folder))
        if not any(map(blocks, findings)):  # what could not be read would only be told again in other words
            findings = (*findings, *check_garment(garment), *_too_wide(pattern, sizes))
        findings = waive(pattern, tuple(dict.fromkeys(findings)))
        _draw(garment, findings, pictures)
    # a bundle adds to the second file what is found on the way to it
    for path in (checked, checked.with_name("findings.json")):
        write_json(path, FindingsFile(findings=findings))


def _changes(folder: Path) -> str | None:
    data = read_source(folder / "CHANGES.md", LARGEST_TEXT)
    return data.decode("utf-8", "replace") if isinstance(data, bytes) else None


def _too_wide(pattern: Pattern, sizes: list[SizeFile]) -> tuple[Finding, ...]:
    requests = (request for file in sizes for request in lay_requests(pattern, file.size, file.pieces))
    return tuple(finding for request in requests for finding in too_wide(pattern, request))


def _draw(garment: Garment, findings: tuple[Finding, ...], pictures: Path) -> None:
    shutil.rmtree(pictures, ignore_errors=True)
    blocking = [finding for finding in findings if blocks(finding)]
    if not blocking:
        return
    from pipeline.proof.finding_picture import finding_picture  # most runs have nothing to draw

    for number, finding in enumerate(blocking, start=1):
        picture = finding_picture(garment, finding)
        if picture is not None:
            place = finding.piece or (finding.where or "").replace(".", "-")
            parts = (f"{number:03d}", finding.check, place, finding.size)
            write(pictures / f"{'-'.join(part for part in parts if part)}.svg", picture.encode())


if __name__ == "__main__":
    run(main)

"""All that is known of a pattern before it is drawn in; its findings, and a picture of each that blocks, out."""

from pathlib import Path

from pipeline.checks.all import check_garment
from pipeline.checks.garment import Garment
from pipeline.checks.waivers import waive
from pipeline.drawing.doubts import text_findings
from pipeline.lays.demand import lay_requests
from pipeline.lays.fit import too_wide
from pipeline.masters.load import load_pattern
from pipeline.masters.references import check_references
from pipeline.model.findings import Finding, FindingsFile, blocks
from pipeline.model.pattern import Pattern
from pipeline.model.pieces import SizeFile
from pipeline.rules.kept_files import check_kept_files
from pipeline.steps.inputs import by_piece
from pipeline.work.files import read_json, write, write_json


def main(folder: Path, found: Path, checked: Path, read: list[Path], pieces: list[Path], pictures: Path) -> None:
    """Merge what was found on the way here with what the checks say. A fault in a pattern is no failure of the step."""
    pattern, _ = load_pattern(folder)
    findings = read_json(found, FindingsFile).findings
    pictures.mkdir(parents=True, exist_ok=True)
    if pattern is not None:
        sizes = [read_json(path, SizeFile) for path in pieces]
        on_reading = tuple(finding for path in read for finding in read_json(path, FindingsFile).findings)
        drawn = {file.size: tuple(cut.drawn for cut in file.pieces) for file in sizes}
        findings = (*findings, *check_kept_files(pattern, folder))
        findings = (*findings, *on_reading, *check_references(pattern, drawn))
        findings = (*findings, *text_findings(pattern))
        garment = Garment(pattern, by_piece(sizes), _changes(folder))
        if not any(map(blocks, findings)):  # what could not be read would only be told again in other words
            findings = (*findings, *check_garment(garment), *_too_wide(pattern, sizes))
        findings = waive(pattern, tuple(dict.fromkeys(findings)))
        _draw(garment, findings, pictures)
    write_json(checked, FindingsFile(findings=findings))


def _changes(folder: Path) -> str | None:
    file = folder / "CHANGES.md"
    return file.read_text(encoding="utf-8", errors="replace") if file.is_file() else None


def _too_wide(pattern: Pattern, sizes: list[SizeFile]) -> tuple[Finding, ...]:
    requests = (request for file in sizes for request in lay_requests(pattern, file.size, file.pieces))
    return tuple(finding for request in requests for finding in too_wide(pattern, request))


def _draw(garment: Garment, findings: tuple[Finding, ...], pictures: Path) -> None:
    blocking = [finding for finding in findings if blocks(finding)]
    if not blocking:
        return
    from pipeline.drawing.svg import document  # most runs have nothing to draw
    from pipeline.proof.finding_picture import finding_picture

    for number, finding in enumerate(blocking, start=1):
        picture = finding_picture(garment, finding)
        if picture is not None:
            place = finding.piece or (finding.where or "").replace(".", "-")
            parts = (f"{number:03d}", finding.check, place, finding.size)
            write(pictures / f"{'-'.join(part for part in parts if part)}.svg", document(picture).encode())

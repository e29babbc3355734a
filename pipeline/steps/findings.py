"""All that is known of a pattern before it is drawn in; its findings, and a picture of each that blocks, out."""

import logging
from pathlib import Path

from pipeline.booklet.checks import BOOKLET, check_booklet
from pipeline.booklet.drawn import own_figure_findings
from pipeline.checks.all import check_garment
from pipeline.checks.attempts import attempted
from pipeline.checks.catalogue import CHECKS, ON_BUILT_FILES, ON_THE_WAY
from pipeline.checks.garment import Garment
from pipeline.checks.ignored import counted_once
from pipeline.checks.waivers import waive
from pipeline.drawing.doubts import CHECK as TEXTS_DRAWABLE
from pipeline.drawing.doubts import text_findings
from pipeline.drawing.pages.doubts import page_findings
from pipeline.drawing.pages.logo_doubts import logo_findings
from pipeline.lays.demand import lay_requests
from pipeline.lays.fit import CHECK as LAY_WIDTH
from pipeline.lays.fit import too_wide
from pipeline.masters.copied import DRAWN, LOGO, cut_anew
from pipeline.masters.drawings.origins import said_of_drawings
from pipeline.masters.drawings.result import Doubt
from pipeline.masters.drawings.write import Origin, origin_of
from pipeline.masters.lookup import MASTERS
from pipeline.masters.references import check_references
from pipeline.masters.stages import MASTERS as MASTERS_READ
from pipeline.masters.stages import OF_LOGO
from pipeline.masters.toml.load import load_pattern
from pipeline.model.findings import Finding, FindingsFile, blocks
from pipeline.model.pattern import Pattern
from pipeline.model.pieces import SizeFile, by_piece
from pipeline.steps.inputs import booklet_files, changes_by_language, changes_text, pattern_text
from pipeline.steps.printed import speak
from pipeline.work.files import read_json, write, write_json

_APART = ("kept-files", TEXTS_DRAWABLE, "booklet-figures", OF_LOGO.id)
"""What blocks here leaves every check something to look at."""


def main(folder: Path, found: Path, checked: Path, read: list[Path], pieces: list[Path], pictures: Path) -> None:
    """Merge what was found on the way here with what the checks say. A fault in a pattern is no failure of the step."""
    pattern, _ = load_pattern(folder)
    findings = read_json(found, FindingsFile).findings
    pictures.mkdir(parents=True, exist_ok=True)
    if pattern is not None:
        sizes = [read_json(path, SizeFile) for path in pieces]
        on_reading = tuple(finding for path in read for finding in read_json(path, FindingsFile).findings)
        speak(pattern)
        garment = Garment(
            pattern, by_piece(sizes), changes_text(folder), pattern_text(folder), changes_by_language(folder)
        )
        booklet = booklet_files(folder)
        findings = _findings(garment, sizes, folder, booklet, (*findings, *counted_once(on_reading)))
        findings = said_of_drawings(findings, _origins(folder, findings, sizes))
        _draw(garment, findings, folder, pictures)
    write_json(checked, FindingsFile(findings=findings))


def _findings(
    garment: Garment, sizes: list[SizeFile], folder: Path, booklet: dict[str, bytes], told: tuple[Finding, ...]
) -> tuple[Finding, ...]:
    pattern = garment.pattern
    figures = [name for name in booklet if name.endswith(".svg")]
    drawn = {file.size: tuple(cut.drawn for cut in file.pieces) for file in sizes}
    found = (
        *told,
        *attempted("booklet-figures", pattern.name, lambda: _own_figures(pattern, folder, figures)),
        *attempted(OF_LOGO.id, pattern.name, lambda: _of_logo(pattern, booklet)),
        *attempted("references", pattern.name, lambda: check_references(pattern, drawn)),
        *attempted(TEXTS_DRAWABLE, pattern.name, lambda: text_findings(pattern) or tuple(page_findings(pattern))),
    )
    # What could not be read would only be told again in other words. What is accepted is no reason to look no further.
    checks_run = not any(blocks(finding) and finding.check not in _APART for finding in waive(pattern, found))
    if checks_run:
        found = (
            *found,
            *check_garment(garment),
            *attempted("booklet-text", pattern.name, lambda: check_booklet(pattern, garment.cuts, booklet)),
            *attempted(LAY_WIDTH, pattern.name, lambda: _too_wide(pattern, sizes)),
        )
    skipped = (LAY_WIDTH, *(check.id for check in (*CHECKS, *BOOKLET))) if not checks_run else ()
    later = {*ON_THE_WAY, *skipped}
    return waive(
        pattern, tuple(dict.fromkeys(found)), lambda check: check not in later and not check.startswith(ON_BUILT_FILES)
    )


def _own_figures(pattern: Pattern, folder: Path, names: list[str]) -> tuple[Finding, ...]:
    return own_figure_findings(pattern.name, folder, names) if names else ()


def _of_logo(pattern: Pattern, booklet: dict[str, bytes]) -> tuple[Finding, ...]:
    if LOGO not in booklet:
        return ()
    from pipeline.masters.logo import read_logo  # most patterns have no logo

    logo, findings = read_logo(booklet[LOGO], pattern.name)
    return (*findings, *(logo_findings(pattern, logo) if logo and not text_findings(pattern) else ()))


def _origins(folder: Path, findings: tuple[Finding, ...], sizes: list[SizeFile]) -> dict[str, Origin | None]:
    """The drawings that masters were cut out of, of all that findings may name."""
    drawn = {cut.drawn.file for file in sizes for cut in file.pieces}
    files = drawn | {finding.file for finding in findings if finding.file and finding.file.startswith(f"{MASTERS}/")}
    return {name: origin_of((folder / name).read_bytes()) for name in sorted(files) if (folder / name).is_file()}


def _too_wide(pattern: Pattern, sizes: list[SizeFile]) -> tuple[Finding, ...]:
    requests = (request for file in sizes for request in lay_requests(pattern, file.size, file.pieces))
    return tuple(finding for request in requests for finding in too_wide(pattern, request))


def _doubts(pattern: Pattern, folder: Path, blocking: list[Finding]) -> dict[tuple[str | None, str | None], Doubt]:
    """The outlines in drawings that could not be named, by piece and size; drawings are looked at again for these."""
    drawn = folder / DRAWN
    if not drawn.is_dir() or not any(finding.check == MASTERS_READ.id for finding in blocking):
        return {}
    doubts = cut_anew(pattern, drawn, {}).doubts
    return {(each.piece, each.size if each.size in pattern.sizes else None): each for each in doubts}


def _draw(garment: Garment, findings: tuple[Finding, ...], folder: Path, pictures: Path) -> None:
    blocking = [finding for finding in findings if blocks(finding)]
    if not blocking:
        return
    from pipeline.drawing.svg import document  # most runs have nothing to draw
    from pipeline.proof.corners_picture import corners_picture
    from pipeline.proof.finding_picture import finding_picture

    doubts = _doubts(garment.pattern, folder, blocking)
    for number, finding in enumerate(blocking, start=1):
        try:
            doubt = doubts.get((finding.piece, finding.size)) if finding.check == MASTERS_READ.id else None
            picture = corners_picture(doubt, finding.message) if doubt else finding_picture(garment, finding)
        except Exception:  # what is found is told, with its picture or without
            logging.exception("no picture of %s", finding)
            continue
        if picture is not None:
            place = finding.piece or (finding.where or "").replace(".", "-")
            parts = (f"{number:03d}", finding.check, place, finding.size)
            write(pictures / f"{'-'.join(part for part in parts if part)}.svg", document(picture).encode())

"""The scale of print files: a page is its paper, nothing is scaled or turned, squares measure what they say."""

from collections.abc import Iterator

from pipeline.bundle.built import Built, is_print, name_parts
from pipeline.bundle.built_catalogue import BUILT, at_file
from pipeline.bundle.built_pdf import BuiltPage, BuiltPdf
from pipeline.bundle.pdf_content import Box, odd_matrix, rectangles
from pipeline.checks.registry import Outcome
from pipeline.drawing.pages.calibration import SQUARE_MM as PROJECTED_MM
from pipeline.drawing.panels.squares import INCH_SQUARE_MM, SQUARE_MM
from pipeline.model.lengths import MM_PER_POINT
from pipeline.sheets.papers import MOST_PAGE_MM, PAPERS

_PAGE_MM = 0.05
_SQUARE_MM = 0.1
_NEAR = 0.4
CALIBRATION = "project/calibration.pdf"


@BUILT.register(
    id="built-scale",
    title="Every page is as large as its paper, and its squares measure what they say",
    rationale="A file at 96 % is a garment one size too small, and nobody sees it before the first fitting.",
    remedy="build the pattern again; where it is told again, the fault is the pipeline's: report it with this line",
    severity="block",
    source="ISO 216; ASME Y14.1; 1 pt = 1/72 in: ISO 32000-1, 8.3.2.3; largest page: PDF Reference, Appendix C",
)
def built_scale(built: Built) -> Iterator[Outcome]:
    """Page sizes against the paper, matrices of pages, and the squares as they are drawn."""
    for pdf in built.at_scale:
        yield from built.told(pdf, _scale)


def _scale(built: Built, pdf: BuiltPdf) -> Iterator[Outcome]:
    name = name_parts(built.pattern, pdf.path).format if is_print(pdf.path) else ""
    for page in pdf.pages:
        width, height = page.width_pt * MM_PER_POINT, page.height_pt * MM_PER_POINT
        if max(width, height) > MOST_PAGE_MM + _PAGE_MM:
            text = "the page is longer than readers show"
            yield _told(pdf, page, "too-large", text, _by(width, height), "14,400 points, 5080 mm")
        if page.user_unit != 1.0:
            text = "the page has a user unit, which readers ignore"
            yield _told(pdf, page, "user-unit", text, f"{page.user_unit:g}", "none")
        if (matrix := odd_matrix(page.content)) is not None:
            yield _told(pdf, page, "scaled", "what the page shows is scaled or turned", matrix, "1 0 0 1")
        if name in PAPERS:
            yield from _paper(pdf, page, name, width, height)
    yield from _squares(built, pdf)


def _paper(pdf: BuiltPdf, page: BuiltPage, name: str, width: float, height: float) -> Iterator[Outcome]:
    paper = PAPERS[name]
    if paper.kind == "roll":
        fits = abs(width - paper.width_mm) <= _PAGE_MM and height <= paper.height_mm + _PAGE_MM
    else:
        fits = any(abs(width - wide) <= _PAGE_MM and abs(height - high) <= _PAGE_MM for wide, high in paper.sides)
    if not fits:
        allowed = _by(paper.width_mm, paper.height_mm)
        yield _told(pdf, page, "page-size", f"the page is not the paper {name}", _by(width, height), allowed)


def _squares(built: Built, pdf: BuiltPdf) -> Iterator[Outcome]:
    """The squares of the start page, of every large sheet, and of the projector's calibration."""
    if pdf.path == CALIBRATION:
        sides: tuple[float, ...] = (PROJECTED_MM,)
    elif is_print(pdf.path):
        sides = (SQUARE_MM, INCH_SQUARE_MM)
    else:
        return
    tiled = (
        is_print(pdf.path) and getattr(PAPERS.get(name_parts(built.pattern, pdf.path).format), "kind", "") == "tiled"
    )
    for page in pdf.pages[:1] if tiled else pdf.pages:
        if page.around is not None and page.around.matrix is not None:
            text, found = "what stands around the pattern has a matrix", page.around.matrix
            yield _told(pdf, page, "scaled", text, found, "none")
        boxes = rectangles(page.around_content)
        for side in sides:
            if not any(_is_square(box, side, _SQUARE_MM) for box in boxes):
                found = ", ".join(sorted({_by(*_mm(box)) for box in boxes if _is_square(box, side, _NEAR * side)}))
                text = f"it has no square of {side:g} mm"
                yield _told(pdf, page, "square", text, found or "no square", f"{side:g} ± {_SQUARE_MM:g} mm")


def _mm(box: Box) -> tuple[float, float]:
    return box.width * MM_PER_POINT, box.height * MM_PER_POINT


def _is_square(box: Box, side_mm: float, within_mm: float) -> bool:
    return all(abs(length - side_mm) <= within_mm for length in _mm(box))


def _by(width_mm: float, height_mm: float) -> str:
    return f"{width_mm:.1f} x {height_mm:.1f} mm"


def _told(pdf: BuiltPdf, page: BuiltPage, code: str, text: str, found: str, allowed: str) -> Outcome:
    return at_file(pdf.path, code, text, found, allowed, page=page.number)

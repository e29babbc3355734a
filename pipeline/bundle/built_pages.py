"""Pages of print files: all there, each once, upright, as the map says, and inside what printers reach."""

from collections.abc import Iterator, Sequence

from pipeline.bundle.built import Built
from pipeline.bundle.built_catalogue import BUILT, at_file
from pipeline.bundle.built_pdf import BuiltPage, BuiltPdf
from pipeline.bundle.pdf_content import ink
from pipeline.checks.registry import Outcome
from pipeline.model.lengths import MM_PER_POINT
from pipeline.model.questions import ending_in
from pipeline.sheets.tile import START_LABEL
from pipeline.tables.pages import PageRow

EDGE_MM = 6.35
_ROUNDING_MM = 0.005
"""Windows of large sheets stand exactly at the edge, and PDF keeps three digits of a point."""


def page_rows_of(built: Built, pdf: BuiltPdf) -> list[PageRow]:
    """The rows of the pages table that speak of a print file."""
    name = pdf.path.removeprefix("print/").removesuffix(".pdf").removesuffix(ending_in(built.pattern, pdf.path))
    return [row for row in built.tables.pages if row.format == name]


@BUILT.register(
    id="built-pages",
    title="Every page of the map is in its file, once, upright, with its own label",
    rationale="A page that is lost, doubled or turned is found at the buyer's table, after the paper is cut.",
    remedy="build the pattern again; where it is told again, the fault is the pipeline's: report it with this line",
    severity="block",
    source="what the pages table lists is what is in the file: common practice",
)
def built_pages(built: Built) -> Iterator[Outcome]:
    """Count, labels in the reader and on the paper, turns, equal pages, layers that a page must show."""
    for pdf in built.prints:
        yield from built.told(pdf, _pages, page_rows_of(built, pdf))


def _pages(built: Built, pdf: BuiltPdf) -> Iterator[Outcome]:
    rows = page_rows_of(built, pdf)
    if len(rows) != len(pdf.pages):
        text = "its pages are not those of tables/tables.json"
        yield at_file(pdf.path, "page-count", text, f"{len(pdf.pages)} pages", f"{len(rows)} pages")
        return
    labels = [row.label for row in rows]
    wrong = [f"{page.label} for {label}" for page, label in zip(pdf.pages, labels, strict=True) if page.label != label]
    if wrong:
        yield at_file(pdf.path, "labels", "page labels differ from the map", ", ".join(wrong[:5]), "the map's")
    seen: dict[bytes, str] = {}
    for page, row in zip(pdf.pages, rows, strict=True):
        yield from _page(built, pdf, page, row, seen)


def _page(built: Built, pdf: BuiltPdf, page: BuiltPage, row: PageRow, seen: dict[bytes, str]) -> Iterator[Outcome]:
    def told(code: str, text: str, found: str, allowed: str) -> Outcome:
        return at_file(pdf.path, code, text, found, allowed, page=page.number, label=row.label)

    if page.turned_deg:
        yield told("turned", "the page is turned", f"{page.turned_deg} degrees", "0 degrees")
    whole = page.content + b"\0" + page.around_content
    if whole in seen:
        text = f"the page shows the same as page {seen[whole]}"
        yield told("doubled", text, f"a copy of {seen[whole]}", "a page of its own")
    elif row.label != START_LABEL and not _names(page, row.label):
        text = "what is printed on the page does not name it"
        yield told("other-page", text, "another label or none", row.label)
    seen.setdefault(whole, row.label)
    if row.label != START_LABEL and pdf.layers:
        there = {layer for shown in page.shown for layer in shown.layers}
        known = dict(zip(built.pattern.sizes, pdf.layers, strict=False))
        lost = [size for size in row.sizes if known.get(size) not in there]
        if lost:
            text = "the page shows nothing in the layers of sizes that the map says it has"
            yield told("size-not-shown", text, f"nothing of {', '.join(lost)}", ", ".join(row.sizes))


def _names(page: BuiltPage, label: str) -> bool:
    return any(label in run.text.split(" · ") for run in page.around_texts)


@BUILT.register(
    id="built-ink",
    title="Ink stays inside what printers reach",
    rationale="Printers leave the paper's edge blank; a line or number that falls into it is missing on paper.",
    remedy="raise [print] margin in pattern.toml to 10 mm; where it is 10 mm, report this line",
    severity="block",
    source="laser 4 to 4.23 mm; inkjet up to 6.7 mm; 6.35 mm called safe: printer manuals; common practice",
)
def built_ink(built: Built) -> Iterator[Outcome]:
    """What stands around the pattern, by its extents; the pattern, by the window that it is cut off at."""
    for pdf in built.prints:
        yield from built.told(pdf, _ink)


def _ink(_: Built, pdf: BuiltPdf) -> Iterator[Outcome]:
    """Pages of a file are framed alike: the worst stands for all."""
    gaps = {page.number: _edge_mm(page) for page in pdf.pages}
    number = min(gaps, key=lambda page: gaps[page], default=None)
    if number is not None and gaps[number] < EDGE_MM - _ROUNDING_MM:
        text = f"ink reaches {EDGE_MM - gaps[number]:.2f} mm into the edge that printers leave blank"
        found = f"{gaps[number]:.2f} mm from the edge"
        yield at_file(pdf.path, "in-the-edge", text, found, f"at least {EDGE_MM} mm", page=number)


def _edge_mm(page: BuiltPage) -> float:
    """How near anything comes to the page's edge; 0 where nothing cuts the pattern off."""
    gaps = [EDGE_MM]
    box = ink(page.around_content, page.around_texts)
    if box is not None:
        gaps += _gaps(page, (box.left, box.top, box.right, box.bottom))
    if page.clip is not None:
        left, bottom, width, height = page.clip
        gaps += _gaps(page, (left, page.height_pt - bottom - height, left + width, page.height_pt - bottom))
    elif any(shown.layers for shown in page.shown):
        return 0.0
    return min(gaps)


def _gaps(page: BuiltPage, box: Sequence[float]) -> list[float]:
    """From the four edges of the page, in mm."""
    left, top, right, bottom = box
    return [gap * MM_PER_POINT for gap in (left, top, page.width_pt - right, page.height_pt - bottom)]

"""Booklets as documents that everybody can read: tagged, in their language, figures told in words."""

from collections.abc import Iterator

from pipeline.bundle.booklet_texts import code_widths, outside, overprinted, text_boxes
from pipeline.bundle.built import Built
from pipeline.bundle.built_catalogue import BUILT, at_file
from pipeline.bundle.built_pdf import BuiltPdf
from pipeline.bundle.pdf_tags import Tag, unmarked
from pipeline.checks.registry import Outcome


@BUILT.register(
    id="built-booklets",
    title="Booklets are tagged, say their language and title, and tell their figures in words",
    rationale="Who listens to a booklet, or reads it on a phone, has nothing but its tags.",
    remedy="build the pattern again; where it is told again, the fault is the pipeline's: report it with this line",
    severity="block",
    source="ISO 14289-1 (PDF/UA-1), clauses 5, 7.1 to 7.5 and 7.18",
)
def built_booklets(built: Built) -> Iterator[Outcome]:
    """What PDF/UA-1 asks for that can be read from a file without rendering it, of every file under booklet/."""
    for pdf in built.booklets:
        yield from built.told(pdf, _booklet)


def _booklet(_: Built, pdf: BuiltPdf) -> Iterator[Outcome]:
    language = pdf.path.removeprefix("booklet/").rpartition("-")[0].removesuffix("-large")
    if not pdf.pages:
        yield at_file(pdf.path, "no-pages", "it has no pages", "0 pages", "pages")
        return
    if not pdf.is_tagged:
        yield at_file(pdf.path, "not-tagged", "it has no tags", "no /MarkInfo /Marked", "a tagged PDF")
        return
    if pdf.language.lower() != language.lower() and pdf.language != language.partition("-")[0]:
        yield at_file(pdf.path, "language", "it says another language", pdf.language or "none", language)
    if not pdf.shows_title:
        yield at_file(pdf.path, "title", "readers show its file name", "no /DisplayDocTitle", "its title")
    if pdf.accessible_part != "1":
        text = "its metadata do not say that it is PDF/UA-1"
        yield at_file(pdf.path, "standard", text, pdf.accessible_part or "no part", "pdfuaid:part 1")
    if pdf.is_suspect:
        yield at_file(pdf.path, "suspects", "it says that its tags may be wrong", "/Suspects true", "/Suspects false")
    yield from _pages(pdf)
    yield from _tags(pdf.path, tuple(pdf.tags))


def _pages(pdf: BuiltPdf) -> Iterator[Outcome]:
    """Content without a mark, and what is laid over pages."""
    if bare := [page.number for page in pdf.pages if unmarked(page.content)]:
        text = f"what page {bare[0]} shows is in part neither tagged nor an artifact"
        yield at_file(pdf.path, "not-marked", text, f"{len(bare)} pages", "all content marked")
    linked = [page for page in pdf.pages if page.annotations]
    if loose := [page.number for page in linked if not page.keeps_order]:
        text = f"keys go through the links of page {loose[0]} in any order"
        yield at_file(pdf.path, "tab-order", text, f"{len(loose)} pages", "/Tabs /S")
    if silent := [link for page in linked for link in page.annotations if not str(link.get("/Contents", ""))]:
        text = "links do not say where they lead"
        yield at_file(pdf.path, "silent-links", text, f"{len(silent)} links", "/Contents each")


@BUILT.register(
    id="built-booklet-pages",
    title="All texts of booklets stand on their pages, and none on another",
    rationale="A row that runs off the paper is a length to buy that nobody reads.",
    remedy="build the pattern again; where it is told again, the fault is the pipeline's: report it with this line",
    severity="block",
    source="the area of text that the booklet's own pages have",
)
def built_booklet_pages(built: Built) -> Iterator[Outcome]:
    """Where all texts of every page of every language and edition stand; heads and feet of pages are no part of it."""
    for pdf in built.booklets:
        yield from built.told(pdf, _texts)


def _texts(_: Built, pdf: BuiltPdf) -> Iterator[Outcome]:
    large = pdf.path.endswith("-large-print.pdf")
    out: list[int] = []
    over: list[int] = []
    for page in pdf.pages:
        boxes = text_boxes(page.content, {name: code_widths(font) for name, font in page.fonts.items()})
        out += [page.number] if outside(boxes, page.width_pt, page.height_pt, large) else []
        over += [page.number] if overprinted(boxes) else []
    if out:
        text = f"texts of page {out[0]} run out of its area of text"
        yield at_file(pdf.path, "out-of-page", text, f"{len(out)} pages", "all texts within the margins")
    if over:
        text = f"texts of page {over[0]} are printed on one another"
        yield at_file(pdf.path, "overprinted", text, f"{len(over)} pages", "each text on ground of its own")


def _tags(path: str, tags: tuple[Tag, ...]) -> Iterator[Outcome]:
    level = 0
    for tag in tags:
        if tag.level > level + 1:
            text = "a heading leaves a level out"
            yield at_file(path, "heading-level", text, f"level {tag.level} after {level}", f"at most {level + 1}")
        level = tag.level or level
    if silent := [tag for tag in tags if tag.kind == "Figure" and not tag.alt]:
        text = "figures have no text alternative"
        yield at_file(path, "no-alternative", text, f"{len(silent)} figures", "a text alternative each")
    if headless := [tag for tag in tags if tag.kind == "Table" and "TH" not in tag.below]:
        text = "tables have no heading cells"
        yield at_file(path, "no-headings", text, f"{len(headless)} tables", "cells that head columns")
    if loose := [tag for tag in tags if tag.kind == "TH" and tag.scope not in ("Column", "Row", "Both")]:
        text = "heading cells do not say what they head"
        yield at_file(path, "no-scope", text, f"{len(loose)} cells", "/Scope each")

"""What of a pattern's texts finds no room on a start page, told before anything is drawn."""

from collections.abc import Iterator

from pipeline.cutting.strips import CutSize
from pipeline.drawing.doubts import CHECK
from pipeline.drawing.names import PAPER_NAMES
from pipeline.drawing.pages.start import start_page
from pipeline.drawing.panels.marks_key import ALL_SIGNS
from pipeline.model.findings import Finding, PatternFaultError
from pipeline.model.pattern import Pattern
from pipeline.sheets.layout import Page, PagePlan, Window
from pipeline.sheets.papers import PAPERS, tile_of
from pipeline.sheets.tile import START_LABEL

_LONG = CutSize(999.9, 9999.9)
"""A strip whose figures take as much room as any."""


def page_findings(pattern: Pattern) -> Iterator[Finding]:
    """A finding that blocks for each paper whose start page cannot hold the texts, be its map as small as it may.

    Of a pattern whose texts can all be printed.
    """
    strips = {size: dict.fromkeys(pattern.strips, _LONG) for size in pattern.sizes}
    for name in pattern.print.formats:
        paper = PAPERS.get(name)
        if paper is None or paper.kind != "tiled":
            continue
        try:
            start_page(pattern, _two_pages(pattern, name), pattern.sizes, (), ALL_SIGNS, strips)
        except PatternFaultError as fault:
            yield Finding(
                check=CHECK,
                code="no-room",
                severity="block",
                pattern=pattern.name,
                file="pattern.toml",
                object="pattern",
                message=f"The start page of {PAPER_NAMES[name]} cannot hold its texts: {fault}.",
                remedy="Shorten the longest of them, or sell fewer languages in one file.",
            )


def _two_pages(pattern: Pattern, name: str) -> PagePlan:
    """The start page and one more: fewer than any pattern has, so that its texts are the least there can be."""
    paper = PAPERS[name]
    tile = tile_of(paper, pattern.print.margin_mm, pattern.print.overlap_mm)
    window = Window(0.0, 0.0, tile.width_mm, tile.height_mm)
    pages = tuple(
        Page(number=number, label=label, row=row, column=row, window=shown, sizes=pattern.sizes, views=())
        for number, label, row, shown in ((1, START_LABEL, 0, None), (2, "2A", 1, window))
    )
    return PagePlan(
        format=name,
        page_width_mm=paper.width_mm,
        page_height_mm=paper.height_mm,
        margin_mm=pattern.print.margin_mm,
        overlap_mm=pattern.print.overlap_mm,
        rows=1,
        columns=1,
        pages=pages,
    )

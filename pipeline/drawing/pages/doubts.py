"""What of a pattern's texts finds no room on a start page or a large sheet, told before anything is drawn."""

from collections.abc import Iterable, Iterator
from itertools import product

from pipeline.cutting.strips import CutSize
from pipeline.drawing.doubts import CHECK
from pipeline.drawing.names import PAPER_NAMES
from pipeline.drawing.pages.large import large_pages
from pipeline.drawing.pages.start import start_page
from pipeline.drawing.panels.marks_key import ALL_SIGNS
from pipeline.drawing.scene import Group, Scene, Shape, Text
from pipeline.masters.toml.toml_file import PATTERN_FILE
from pipeline.model.findings import Finding, PatternFaultError, Severity
from pipeline.model.pattern import Pattern
from pipeline.model.questions import spoken
from pipeline.sheets.layout import HEADER_MM, Page, PagePlan, Window
from pipeline.sheets.papers import LARGE_MARGIN_MM, PAPERS, Paper, tile_of
from pipeline.sheets.tile import START_LABEL
from pipeline.words import catalogue

_LONG = CutSize(999.9, 9999.9)
"""A strip whose figures take as much room as any."""
APART = "say languages_together = false in [print]"
"""What to do where there is too much to say in one file."""
_MOST_TOGETHER = 2
"""Languages of one label: with more, what a cutter looks for is lost among them (a judgement)."""
_SEVERAL_SIGNS = tuple(ALL_SIGNS)[:12]
_TOLD = {
    "tiled": ("start.print", "start.measures", "start.join", "start.care"),
    "large": ("large.print", "large.measure", "start.join", "start.care"),
}
"""What each language says on the page that is tried, if it is said at all."""


def page_findings(pattern: Pattern) -> Iterator[Finding]:
    """A finding that blocks for each paper whose start page cannot hold the texts, be its map as small as it may.

    One that warns for each language that a start page or a large sheet leaves out for want of room, where the pieces
    show several signs, and one for more languages together than can be read. Of a pattern whose texts can all be
    printed.
    """
    if pattern.print.languages_together and len(pattern.languages) > _MOST_TOGETHER:
        yield _many(pattern)
    for speaking, name in product(spoken(pattern).values(), pattern.print.formats):
        yield from _paper_findings(speaking, PAPERS.get(name))


def _paper_findings(pattern: Pattern, paper: Paper | None) -> Iterator[Finding]:
    if paper is None:
        return
    try:
        if paper.kind == "tiled":
            _tried(pattern, paper, tuple(ALL_SIGNS))
        said = " ".join(_said(_tried(pattern, paper, _SEVERAL_SIGNS).shapes))
    except PatternFaultError as fault:
        message = f"{page_name(paper)} cannot hold its texts: {fault}."
        remedy = f"Shorten the longest of them, or {APART}."
        yield _told(pattern, "pattern", "no-room", message, remedy, severity="block")
    else:
        yield from _left_out(pattern, paper, said)


def _many(pattern: Pattern) -> Finding:
    message = f"{len(pattern.languages)} languages stand on every label and page."
    found, allowed = f"{len(pattern.languages)} languages", f"at most {_MOST_TOGETHER} in a file"
    remedy = f"For a file a language, {APART}."
    return _told(pattern, "languages", "many-languages", message, remedy, found, allowed)


def _told(
    pattern: Pattern,
    object: str,
    code: str,
    message: str,
    remedy: str,
    found: str = "",
    allowed: str = "",
    severity: Severity = "warn",
) -> Finding:
    return Finding(
        check=CHECK,
        code=code,
        severity=severity,
        pattern=pattern.name,
        file=PATTERN_FILE,
        object=object,
        found=found,
        allowed=allowed,
        message=message,
        remedy=remedy,
    )


def _left_out(pattern: Pattern, paper: Paper, said: str) -> Iterator[Finding]:
    """The languages in which something is not said, in one finding."""
    keys: tuple[str, ...] = _TOLD["tiled" if paper.kind == "tiled" else "large"]
    if pattern.print.overlap_mm and paper.kind == "tiled":
        keys = tuple("start.join-overlap" if key == "start.join" else key for key in keys)
    left = [
        language
        for language in pattern.languages
        if any(catalogue(language)[key].split("{")[0].rstrip() not in said for key in keys)
    ]
    if left:
        message = f"{page_name(paper)} has no room to tell all in {', '.join(left)}."
        remedy = f"For a file a language, {APART}; of one file the last of `languages` are left out first."
        found, allowed = f"{len(pattern.languages)} languages", "as many as there is room for"
        yield _told(pattern, "languages", "left-out", message, remedy, found, allowed)


def page_name(paper: Paper) -> str:
    """What a page that tells of a file is called in a sentence."""
    what = "The start page" if paper.kind == "tiled" else "The strip across sheets"
    return f"{what} of {PAPER_NAMES[paper.format]}"


def _said(shapes: Iterable[Shape]) -> Iterator[str]:
    for shape in shapes:
        if isinstance(shape, Text):
            yield shape.content
        elif isinstance(shape, Group):
            yield from _said(shape.shapes)


def _tried(pattern: Pattern, paper: Paper, signs: tuple[str, ...]) -> Scene:
    """The page of a paper that tells the most, for the fewest pages that there can be, with signs and strips."""
    strips = {size: dict.fromkeys(pattern.strips, _LONG) for size in pattern.sizes}
    if paper.kind == "tiled":
        return start_page(pattern, two_pages(pattern, paper), pattern.sizes, (), signs, strips)
    return large_pages(pattern, _two_sheets(pattern, paper), pattern.sizes, (), signs, "", strips)[1]


def _two_sheets(pattern: Pattern, paper: Paper) -> PagePlan:
    """Two large sheets that are joined."""
    wide, high = paper.width_mm - 2 * LARGE_MARGIN_MM, HEADER_MM
    pages = tuple(
        Page(
            number=row,
            label=str(row),
            row=row,
            column=1,
            window=Window(0.0, (row - 1) * high, wide, high),
            sizes=pattern.sizes,
            views=(),
        )
        for row in (1, 2)
    )
    return PagePlan(
        format=paper.format,
        page_width_mm=paper.width_mm,
        page_height_mm=high + 2 * LARGE_MARGIN_MM + HEADER_MM,
        margin_mm=LARGE_MARGIN_MM,
        overlap_mm=0.0,
        rows=2,
        columns=1,
        pages=pages,
        header_mm=HEADER_MM,
    )


def two_pages(pattern: Pattern, paper: Paper, views: tuple[str, ...] = ()) -> PagePlan:
    """The start page and one more: fewer than any pattern has, so that its texts are the least there can be."""
    tile = tile_of(paper, pattern.print.margin_mm, pattern.print.overlap_mm)
    window = Window(0.0, 0.0, tile.width_mm, tile.height_mm)
    pages = tuple(
        Page(number=number, label=label, row=row, column=row, window=shown, sizes=pattern.sizes, views=views)
        for number, label, row, shown in ((1, START_LABEL, 0, None), (2, "2A", 1, window))
    )
    return PagePlan(
        format=paper.format,
        page_width_mm=paper.width_mm,
        page_height_mm=paper.height_mm,
        margin_mm=pattern.print.margin_mm,
        overlap_mm=pattern.print.overlap_mm,
        rows=1,
        columns=1,
        pages=pages,
    )

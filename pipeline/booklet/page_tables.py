"""Which pages of a print file a size needs, and how many every file has."""

from collections import Counter

from pipeline.booklet.file_names import size_in_name, view_in_name
from pipeline.booklet.grids import Column, Grids
from pipeline.booklet.nodes import Grid, Node, Text, cell, plain
from pipeline.drawing.names import PAPER_NAMES
from pipeline.drawing.wording import size_range
from pipeline.model.pattern import in_language
from pipeline.model.questions import in_view
from pipeline.sheets.papers import PAPERS
from pipeline.sheets.ranges import page_ranges
from pipeline.tables.pages import PageRow

_TILED = tuple(name for name, paper in PAPERS.items() if paper.kind == "tiled")


def pages_needed(grids: Grids, level: int) -> list[Node]:
    """Which pages of each print file for home printers a size needs; one sentence where each needs all."""
    files: dict[str, list[PageRow]] = {row.format: [] for row in grids.rows.pages if row.format in _TILED}
    for row in grids.rows.pages:
        if row.format in files:
            files[row.format].append(row)
    needed = [set(row.sizes) for rows in files.values() for row in rows if row.sizes]
    if not files:
        return []
    if all(sizes == set(grids.pattern.sizes) for sizes in needed):
        return [_told(grids, "pages-all-view" if grids.pattern.views else "pages-all")]
    tables = grids.by_view(level, lambda view: _page_columns(grids, files, view), alike=True)
    return [_told(grids, "pages-some"), *tables]


def _told(grids: Grids, key: str) -> Text:
    """What is true of the file with all sizes, and of files of one where there are any; of one size, neither."""
    if len(grids.pattern.sizes) == 1:
        return Text(plain(grids.say("start.key-all")))
    own = f" {grids.say('booklet.pages-own')}" if grids.pattern.print.by_size else ""
    return Text(plain(f"{grids.say(f'booklet.{key}')}{own}"))


def page_counts(grids: Grids) -> list[Node]:
    """How many pages every print file has: that of all sizes, those of one view, those of one size.

    A file is told by what is in its name, in the bundle and where buyers get all files in one folder.
    """
    counts = Counter(row.format for row in grids.rows.pages)
    papers = [name for name in PAPER_NAMES if counts[name]]
    all_sizes = size_range(grids.pattern.sizes, grids.pattern, grids.language)
    lines = [(grids.sizes(grids.pattern.sizes), "", "{}")]
    for name, view in grids.pattern.views.items():
        lines.append(
            (
                f"{all_sizes}, {in_language(view.title, grids.language)}",
                view_in_name(grids.pattern, name),
                f"by-view/{name}-{{}}",
            )
        )
    lines += [
        (grids.sizes((size,)), size_in_name(grids.pattern, size), f"by-size/{size}-{{}}")
        for size in grids.pattern.sizes
    ]
    rows = tuple(
        (cell(told, bold=True), cell(in_name or "–"), *(cell(str(count) if count else "–") for count in found))
        if grids.wide
        else (cell(f"{told}\n{in_name}".strip()), *(cell(str(count) if count else "–") for count in found))
        for told, in_name, form in lines
        if any(found := [counts[form.format(paper)] for paper in papers])
    )
    heads = (
        grids.say("size.several"),
        *((grids.say("booklet.in-name"),) if grids.wide else ()),
        *(PAPER_NAMES[name] for name in papers),
    )
    shares = (2.0, *((1.5,) if grids.wide else ()), *(1.1 for _ in papers))
    return [Text(plain(grids.say("booklet.counts"))), Grid(tuple(map(cell, heads)), rows, shares)] if papers else []


def _page_columns(grids: Grids, files: dict[str, list[PageRow]], view: str | None) -> list[Column]:
    """A column a print file; the start page, which has no sizes, is needed by all."""
    return [
        Column(
            PAPER_NAMES[name],
            {
                size: page_ranges(
                    row.page for row in rows if (size in row.sizes or not row.sizes) and in_view(row.views, view)
                )
                for size in grids.pattern.sizes
            },
        )
        for name, rows in files.items()
    ]

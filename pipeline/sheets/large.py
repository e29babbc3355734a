"""Pages of large sheets: a window each, numbered; joints only where something lies across two."""

from collections.abc import Sequence
from itertools import combinations

import msgspec
import shapely

from pipeline.sheets.layout import HEADER_MM, LargeLayout, Page, PagePlan, SavedGrid, Window
from pipeline.sheets.papers import LARGE_MARGIN_MM, Paper, Tile
from pipeline.sheets.placed import Field, PlacedStack
from pipeline.sheets.windows import as_numbered, grid_at, kept_pages


def plan_large(
    arranged: LargeLayout,
    placed: Sequence[PlacedStack],
    paper: Paper,
    sizes: Sequence[str],
    views: Sequence[str] = (),
    sold: SavedGrid | None = None,
) -> PagePlan:
    """The pages of a sheet or roll; each has its header above its window, and none is a start page.

    A sheet stands or lies as its windows do; a roll's pages are as long as theirs. Those that were `sold` keep their
    numbers.
    """
    width, height = arranged.sheet_width_mm, arranged.sheet_height_mm
    grid = grid_at(arranged.layout, Tile(width, height, width, height))
    numbered = kept_pages(grid, Field(placed), sizes, views, 1)
    if sold is not None:
        numbered = as_numbered(numbered, sold, 1)
    # A1 would be read as a paper
    pages = tuple(msgspec.structs.replace(page, label=str(page.number)) for page in numbered)
    return PagePlan(
        format=paper.format,
        page_width_mm=width + 2 * LARGE_MARGIN_MM,
        page_height_mm=height + 2 * LARGE_MARGIN_MM + HEADER_MM,
        margin_mm=LARGE_MARGIN_MM,
        overlap_mm=0.0,
        rows=max(page.row for page in pages),
        columns=max(page.column for page in pages),
        pages=pages,
        header_mm=HEADER_MM,
        apart=_apart(pages, placed),
    )


def _apart(pages: Sequence[Page], placed: Sequence[PlacedStack]) -> tuple[tuple[str, str], ...]:
    """Neighbours across whose joint nothing lies, by their labels."""
    boxes = {page.label: _box(page.window) for page in pages if page.window is not None}
    return tuple(
        (one.label, other.label)
        for one, other in combinations(pages, 2)
        if abs(one.row - other.row) + abs(one.column - other.column) == 1
        and not any(
            stack.region.intersects(boxes[one.label]) and stack.region.intersects(boxes[other.label])
            for stack in placed
        )
    )


def _box(window: Window) -> shapely.Polygon:
    return shapely.box(
        window.left_mm, window.top_mm, window.left_mm + window.width_mm, window.top_mm + window.height_mm
    )

"""Pages of tiled papers: a start page, then windows over the sheet; blank ones left out, joints kept off notches."""

from collections.abc import Sequence

from pipeline.sheets.layout import Layout, Page, PagePlan, SavedGrid
from pipeline.sheets.papers import Paper, tile_of
from pipeline.sheets.placed import Field, PlacedStack
from pipeline.sheets.windows import as_numbered, best_grid, grid_at, is_of, kept_pages

START_LABEL = "1"


def plan_pages(
    layout: Layout,
    placed: Sequence[PlacedStack],
    paper: Paper,
    sizes: Sequence[str],
    views: Sequence[str] = (),
    margin_mm: float = 10.0,
    overlap_mm: float = 0.0,
    sold: SavedGrid | None = None,
) -> PagePlan:
    """The start page and one page for each tile that holds something, row by row.

    `sizes` and `views` are the pattern's, in its order. The grid may begin left of and above the sheet's corner,
    where that saves pages or keeps joints off notches, points and text places; where it began as `sold`, if it was.
    Raises ValueError where the margins leave nothing.
    """
    tile, field = tile_of(paper, margin_mm, overlap_mm), Field(placed)
    if sold is not None and is_of(sold, tile):
        grid = grid_at(layout, tile, sold.left_mm, sold.top_mm)
        tiles = as_numbered(kept_pages(grid, field, sizes, views, 2), sold, 2)
        rows, columns = max(page.row for page in tiles), max(page.column for page in tiles)
    else:
        grid = best_grid(layout, placed, tile)
        tiles, rows, columns = kept_pages(grid, field, sizes, views, 2), grid.rows, grid.columns
    start = Page(number=1, label=START_LABEL, row=0, column=0, window=None, sizes=tuple(sizes), views=tuple(views))
    return PagePlan(
        format=paper.format,
        page_width_mm=paper.width_mm,
        page_height_mm=paper.height_mm,
        margin_mm=margin_mm,
        overlap_mm=overlap_mm,
        rows=rows,
        columns=columns,
        pages=(start, *tiles),
    )

"""Large sheets from the same layout: whole where the paper is wide enough, otherwise cut, with joints."""

import math
from collections.abc import Sequence

from pipeline.sheets.ink import Field, Ink
from pipeline.sheets.layout import HEADER_MM, Layout, PagePlan
from pipeline.sheets.papers import Paper, Tile
from pipeline.sheets.windows import best_grid, kept_pages

_SLACK_MM = 0.01


def plan_large(
    layout: Layout,
    inks: Sequence[Ink],
    paper: Paper,
    sizes: Sequence[str],
    views: Sequence[str] = (),
    margin_mm: float = 10.0,
) -> PagePlan:
    """The pages of a sheet or roll; each has its header above its window, and none is a start page.

    A roll's pages are as long as the layout needs, split evenly where that is beyond the longest page. A sheet stands
    or lies, whichever needs fewer pages.
    """
    if paper.kind == "roll":
        most = paper.height_mm - 2 * margin_mm - HEADER_MM
        count = max(1, math.ceil((layout.height_mm - _SLACK_MM) / most))
        height = math.ceil((layout.height_mm - _SLACK_MM) / count)
        tall = height + HEADER_MM + 2 * margin_mm
        return _planned(layout, inks, paper.format, paper.width_mm, tall, sizes, views, margin_mm)
    plans = [_planned(layout, inks, paper.format, *side, sizes, views, margin_mm) for side in paper.sides]
    return min(plans, key=lambda plan: len(plan.pages))


def _planned(
    layout: Layout,
    inks: Sequence[Ink],
    format_name: str,
    page_width_mm: float,
    page_height_mm: float,
    sizes: Sequence[str],
    views: Sequence[str],
    margin_mm: float,
) -> PagePlan:
    width, height = page_width_mm - 2 * margin_mm, page_height_mm - 2 * margin_mm - HEADER_MM
    tile = Tile(width, height, width, height)
    grid = best_grid(layout, inks, tile)
    return PagePlan(
        format=format_name,
        page_width_mm=page_width_mm,
        page_height_mm=page_height_mm,
        margin_mm=margin_mm,
        overlap_mm=0.0,
        rows=grid.rows,
        columns=grid.columns,
        pages=kept_pages(grid, Field(inks), sizes, views, 1),
        header_mm=HEADER_MM,
    )

"""Which page of which print file shows which sizes and views."""

from collections.abc import Iterable

import msgspec

from pipeline.sheets.layout import PagePlan


class PageRow(msgspec.Struct, frozen=True, kw_only=True):
    """One page of one format."""

    format: str
    page: int
    label: str
    row: int
    column: int
    sizes: tuple[str, ...]
    views: tuple[str, ...]


def page_rows(plans: Iterable[PagePlan]) -> tuple[PageRow, ...]:
    """Every page of every plan, in their order."""
    return tuple(
        PageRow(
            format=plan.format,
            page=page.number,
            label=page.label,
            row=page.row,
            column=page.column,
            sizes=page.sizes,
            views=page.views,
        )
        for plan in plans
        for page in plan.pages
    )

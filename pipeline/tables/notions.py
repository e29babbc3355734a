"""Notions by size: buttons counted, elastic and zips measured."""

from collections.abc import Mapping

import msgspec

from pipeline.model.lengths import imperial_text, metric_text
from pipeline.model.pattern import Pattern
from pipeline.model.pieces import CutPiece
from pipeline.model.sums import lengths_of, sum_mm


class NotionRow(msgspec.Struct, frozen=True, kw_only=True):
    """One notion in one size: a count, or a length."""

    view: str | None
    notion: str
    size: str
    count: int | None
    length_mm: float | None
    metric: str | None
    imperial: str | None
    title: dict[str, str]


def notion_rows(pattern: Pattern, cuts: Mapping[str, Mapping[str, CutPiece]]) -> tuple[NotionRow, ...]:
    """Every notion of every view and size that needs it; `cuts` has the cut pieces by size and name."""
    rows = []
    for view in tuple(pattern.views) or (None,):
        for notion in pattern.notions.values():
            if view is not None and notion.views and view not in notion.views:
                continue
            for size in pattern.sizes:
                count = None if notion.count is None else notion.count.get(size)
                lengths = lengths_of(pattern, size, cuts.get(size, {}))
                total = (notion.length or {}).get(size)
                length = None if total is None else sum_mm(total, lengths)
                if count or length is not None:
                    rows.append(
                        NotionRow(
                            view=view,
                            notion=notion.name,
                            size=size,
                            count=count,
                            length_mm=None if length is None else round(length, 1),
                            metric=None if length is None else metric_text(length),
                            imperial=None if length is None else imperial_text(length, 8),
                            title=notion.title,
                        )
                    )
    return tuple(rows)

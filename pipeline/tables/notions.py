"""Notions by size: buttons counted, elastic and zips measured."""

import msgspec
from msgspec import UNSET, UnsetType

from pipeline.drawing.wording import length_words
from pipeline.model.lengths import imperial_text, nearest_mm, next_mm
from pipeline.model.mark_counts import notion_count
from pipeline.model.pattern import Pattern, in_language
from pipeline.model.pieces import Cuts, in_size
from pipeline.model.questions import in_view, shown_views
from pipeline.model.sums import lengths_of, sum_mm
from pipeline.tables.measures import EIGHTH_MM, HALF_CM_MM, cm_text, half_cm
from pipeline.words import say


class NotionRow(msgspec.Struct, frozen=True, kw_only=True):
    """One notion in one size: a count, or a length.

    `metric` and `imperial` tell what is needed, rounded up to 0.5 cm and 1/8 in so that nobody buys too little. Where
    it is sold in lengths, `sold_mm` is the one nearest to `length_mm`, and what is needed is told to the mm and 1/8 in.
    `width_mm` is there where the pattern says it, as of elastic.
    """

    view: str | None
    notion: str
    size: str
    count: int | None
    length_mm: float | None
    metric: str | None = None
    imperial: str | None = None
    title: dict[str, str]
    sold_mm: float | None = None
    sold_metric: str | None = None
    sold_imperial: str | None = None
    width_mm: float | UnsetType = UNSET


def notion_rows(pattern: Pattern, cuts: Cuts) -> tuple[NotionRow, ...]:
    """Every notion of every view and size that needs it."""
    rows = []
    for view in shown_views(pattern):
        for notion in pattern.notions.values():
            if not in_view(notion.views, view):
                continue
            for size in pattern.sizes:
                count = notion_count(pattern, notion, view, size, in_size(cuts, size))
                lengths = lengths_of(pattern, size, in_size(cuts, size))
                total = (notion.length or {}).get(size)
                length = None if total is None else sum_mm(total, lengths)
                if count or length is not None:
                    row = NotionRow(
                        view=view,
                        notion=notion.name,
                        size=size,
                        count=count,
                        length_mm=None,
                        title=notion.title,
                        width_mm=UNSET if notion.width_mm is None else round(notion.width_mm, 1),
                    )
                    rows.append(row if length is None else _measured(row, length, notion.sold_mm))
    return tuple(rows)


def _measured(row: NotionRow, length_mm: float, sold_mm: tuple[float, ...]) -> NotionRow:
    row = msgspec.structs.replace(
        row,
        length_mm=round(length_mm, 1),
        metric=cm_text(told_mm(length_mm, bool(sold_mm))),
        imperial=imperial_text(length_mm if sold_mm else next_mm(length_mm, EIGHTH_MM), 8),
    )
    if not sold_mm:
        return row
    sold = nearest_mm(length_mm, sold_mm)
    return msgspec.structs.replace(
        row, sold_mm=round(sold, 1), sold_metric=cm_text(half_cm(sold)), sold_imperial=imperial_text(sold, 8)
    )


def notion_words(pattern: Pattern, row: NotionRow, language: str) -> str:
    """What a notion is called where it is bought: with its width, where it has one: "Elastic, 2.5 cm (1 in) wide"."""
    title = in_language(row.title, language)
    if row.width_mm is UNSET:
        return title
    return f"{title}, {say(language, 'notion.width', width=length_words(language, row.width_mm, pattern.units))}"


def told_mm(length_mm: float, sold: bool) -> float:
    """What is needed, as it is told: to the mm beside a length that is `sold`, else rounded up to 0.5 cm."""
    return round(length_mm) if sold else next_mm(length_mm, HALF_CM_MM)

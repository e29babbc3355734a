"""Tables of a booklet as grids: a row a size, as many columns as a page holds, lengths in both systems."""

from collections.abc import Callable, Sequence
from itertools import groupby
from typing import NamedTuple

from pipeline.booklet.model import Model
from pipeline.booklet.nodes import Cell, Grid, Head, Node, cell, plain, run
from pipeline.booklet.unbroken import NO_BREAK, unbroken
from pipeline.booklet.values import kept_together
from pipeline.drawing.fonts import text_width_mm
from pipeline.drawing.wording import in_decimals, size_heading, size_range
from pipeline.model.pattern import in_language
from pipeline.model.questions import shown_views
from pipeline.model.sizes import ladders
from pipeline.tables.write import TablesFile
from pipeline.words import say

_WIDE = 5
"""Columns beside the size that a page holds which is not set in large print."""
_DENSE = 5
"""More columns than these are set close."""
_HEAD_MM, _CELL_MM, _INSET_MM = 2.9, 3.2, 2.6
"""Heights of texts in a close table, and the room beside them."""
_PAGE_MM = 166.0
"""The column of text of an A4 page, the narrower paper."""
_ONE_LINE = 4
"""Columns of lengths that a page holds with both systems beside each other."""


class Column(NamedTuple):
    """A heading, a text a size, and the heading that it shares with its neighbours."""

    title: str
    told: dict[str, str]
    group: str = ""


class Grids:
    """What all tables of a pattern in one language share, for pages that hold `columns` beside the size."""

    def __init__(self, model: Model, rows: TablesFile, columns: int) -> None:
        self.model, self.rows, self.columns = model, rows, columns
        self.pattern, self.language = model.pattern, model.language

    @property
    def wide(self) -> bool:
        """Whether a page holds more than a large print's."""
        return self.columns >= _WIDE

    def say(self, key: str, **values: object) -> str:
        return say(self.language, key, **values)

    def by_size(self, columns: Sequence[Column], alike: bool = False) -> list[Node]:
        """A row a size, or a row for all that are `alike`; where a page does not hold all columns, several tables."""
        parts = -(-len(columns) // self.columns) or 1
        step = -(-len(columns) // parts)
        return [self._part(columns[at : at + step], alike) for at in range(0, len(columns), step)]

    def by_axes(self, columns: Sequence[Column], alike: bool = False) -> list[Node]:
        """As `by_size`; where there are axes, what some of them do not change is told by the values of the others."""
        groups: dict[tuple[int, ...], list[Column]] = {}
        for column in columns:
            groups.setdefault(self._axes_of(column), []).append(column)
        return [
            node
            for axes, group in groups.items()
            for node in self.by_size(group, alike or len(axes) < len(self.pattern.size_axes))
        ]

    def _axes_of(self, column: Column) -> tuple[int, ...]:
        """The axes along which a column changes, by their places; none where sizes are one ladder."""
        rows = ladders(self.pattern)
        axes = enumerate(self.pattern.size_axes)
        told = {
            axis: [[column.told.get(size) for size in row.sizes] for row in rows if row.axis == axis]
            for axis in self.pattern.size_axes
        }
        return tuple(place for place, axis in axes if any(len(set(row)) > 1 for row in told[axis]))

    def _part(self, columns: Sequence[Column], alike: bool) -> Grid:
        sizes = [size for size in self.pattern.sizes if any(size in column.told for column in columns)]
        groups: dict[object, list[str]] = {}
        for size in sizes:
            key = tuple(column.told.get(size) for column in columns) if alike else size
            groups.setdefault(key, []).append(size)
        head = (cell(self.say("size.name")), *(cell(column.title) for column in columns))
        made = self.length_cell if len(columns) <= _ONE_LINE else cell
        rows = tuple(
            (
                cell(size_heading(group, self.pattern, self.language), bold=True),
                *(made(column.told.get(group[0], "–")) for column in columns),
            )
            for group in groups.values()
        )
        runs = [(name, len(list(run))) for name, run in groupby(column.group for column in columns)]
        above = (("", 1), *((unbroken(name), count) for name, count in runs)) if any(name for name, _ in runs) else ()
        dense = len(columns) > _DENSE
        alone = {name for name, count in runs if count == 1}
        shares = (0.7, *(1.0 for _ in columns))
        if dense and self.wide:
            own = (_room_mm(column, column.group if column.group in alone else "") for column in columns)
            shares = (_room_mm(Column(self.say("size.name"), {}), ""), *own)
        fits = dense and self.wide and sum(shares) <= _PAGE_MM
        return Grid(head, rows, shares, dense=dense, above=above, words_fit=fits)

    def length_cell(self, text: str) -> Cell:
        """A length in both systems: beside each other where a page is wide."""
        first, _, rest = text.partition("\n")
        if not rest or not self.wide:
            return cell(text)
        return Cell((run(f"{first} "), run(f"({rest})", small=True)))

    def by_view(self, level: int, column_of: Callable[[str | None], list[Column]]) -> list[Node]:
        """A table a view, under the view's title; one alone where there are no views or they do not differ."""
        views = shown_views(self.pattern)
        columns = {view: column_of(view) for view in views}
        if all(told == columns[views[0]] for told in columns.values()):
            return self.by_size(columns[views[0]]) if columns[views[0]] else []
        nodes: list[Node] = []
        for view, told in columns.items():
            if told:
                title = in_language(self.pattern.views[view].title, self.language) if view else ""
                nodes += [Head(level, plain(f"{self.say('table.view')}: {title}")), *self.by_size(told)]
        return nodes

    def both(self, metric: str, imperial: str) -> str:
        """A length in both systems, one above the other, the pattern's own first."""
        metric = in_decimals(self.language, metric)
        lines = (metric, imperial) if self.pattern.units == "metric" else (imperial, metric)
        return "\n".join(map(kept_together, lines))

    def sizes(self, sizes: Sequence[str]) -> str:
        key = "size.name" if len(sizes) == 1 else "size.several"
        return f"{self.say(key)}{NO_BREAK}{size_range(sizes, self.pattern)}"


def _room_mm(column: Column, group: str) -> float:
    """What a column is wide whose words, and lengths, are not parted."""
    words = [text_width_mm(word, _HEAD_MM, bold=True) for word in unbroken(f"{column.title} {group}").split(" ")]
    told = [text_width_mm(line, _CELL_MM) for text in column.told.values() for line in text.split("\n")]
    return max(0.0, *words, *told) + _INSET_MM

"""Tables of a booklet as grids: a row a size, as many columns as a page holds, lengths in both systems."""

from collections.abc import Callable, Sequence
from itertools import groupby
from typing import NamedTuple

from pipeline.booklet.column_widths import ColumnTexts, Look, Widths, column_widths, least_widths
from pipeline.booklet.model import Model
from pipeline.booklet.nodes import Cell, Grid, Head, Node, cell, margins_of, plain, run
from pipeline.booklet.unbroken import NO_BREAK, unbroken
from pipeline.booklet.values import kept_together
from pipeline.drawing.wording import in_decimals, size_heading, size_range, told_of
from pipeline.model.pattern import in_language
from pipeline.model.questions import shown_views
from pipeline.model.sizes import ladders
from pipeline.tables.write import TablesFile
from pipeline.words import say

_WIDE = 5
"""Columns beside the size that a page holds which is not set in large print."""
_CLOSE_FROM, _CLOSEST_FROM = 6, 10
"""From how many columns beside the size on a table is set close, and closer."""
_A4_MM = 210.0
_ROOM_MM, _LARGE_ROOM_MM = (_A4_MM - 2 * margins_of(large).beside for large in (False, True))
_PLAIN = Look("plain", _ROOM_MM, head_mm=3.2, cell_mm=3.2, inset_mm=3.4)
_CLOSE = Look("close", _ROOM_MM, head_mm=2.9, cell_mm=3.2, inset_mm=2.6)
_CLOSEST = Look("closest", _ROOM_MM, head_mm=2.7, cell_mm=3.2, inset_mm=2.2)
_LARGE = Look("plain", _LARGE_ROOM_MM, head_mm=6.0, cell_mm=6.0, inset_mm=3.4)
"""Tables of few columns, of more, and those of large print, on A4, the narrower paper."""
_SIZE_SHARE = 0.7
"""A column of sizes beside others that are as wide as each other, where that is enough for all."""
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
        """A row a size, or a row for all that are `alike`; where a page does not hold all columns, several tables, of
        which one that says the same of every size says it once."""
        step = max(1, len(columns))
        for count in range(-(-len(columns) // self.columns) or 1, len(columns) + 1):
            step = -(-len(columns) // count)
            if all(self._widths(part, alike) is not None for part in _parted(columns, step)):
                break
        parts = _parted(columns, step)
        return [self._part(part, alike or (len(parts) > 1 and self._is_one_row(part))) for part in parts]

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

    def _is_one_row(self, columns: Sequence[Column]) -> bool:
        return all(len({column.told.get(size) for size in self.pattern.sizes}) == 1 for column in columns)

    def _part(self, columns: Sequence[Column], alike: bool) -> Grid:
        head = (cell(self.say("size.name")), *(cell(column.title) for column in columns))
        made = self.length_cell if len(columns) <= _ONE_LINE else cell
        rows = tuple(
            (cell(heading, bold=True), *(made(column.told.get(size, "–")) for column in columns))
            for heading, size in self._headings(columns, alike)
        )
        runs = [(name, len(list(run))) for name, run in groupby(column.group for column in columns)]
        above = (("", 1), *((unbroken(name), count) for name, count in runs)) if any(name for name, _ in runs) else ()
        widths = self._widths(columns, alike) or least_widths(*self._texts(columns, alike))
        shares = (_SIZE_SHARE, *(1.0 for _ in columns))
        look = self._look(columns)
        enough = (share / sum(shares) * look.page_mm >= width for share, width in zip(shares, widths[0], strict=True))
        if look.name == "plain" and all(enough):
            return Grid(head, rows, shares, above=above, words_fit=widths.fit)
        return Grid(head, rows, widths.widths_mm, look.name, above, widths.fit, widths.parted)

    def _headings(self, columns: Sequence[Column], alike: bool) -> list[tuple[str, str]]:
        """Of every row what it is called, and the first of its sizes."""
        sizes = [size for size in self.pattern.sizes if any(size in column.told for column in columns)]
        groups: dict[object, list[str]] = {}
        for size in sizes:
            key = tuple(column.told.get(size) for column in columns) if alike else size
            groups.setdefault(key, []).append(size)
        return [(size_heading(group, self.pattern, self.language), group[0]) for group in groups.values()]

    def _widths(self, columns: Sequence[Column], alike: bool) -> Widths | None:
        return column_widths(*self._texts(columns, alike))

    def _texts(self, columns: Sequence[Column], alike: bool) -> tuple[str, list[str], list[ColumnTexts], Look]:
        """All that needs room in a table."""
        found = []
        for group, shared in groupby(columns, key=lambda column: column.group):
            together = list(shared)
            for column in together:
                told = (line for text in column.told.values() for line in text.split("\n"))
                found.append(ColumnTexts(column.title, tuple(dict.fromkeys(told)), group, len(together)))
        headings = [heading for heading, _ in self._headings(columns, alike)]
        return self.say("size.name"), headings, found, self._look(columns)

    def _look(self, columns: Sequence[Column]) -> Look:
        if not self.wide:
            return _LARGE
        if len(columns) < _CLOSE_FROM:
            return _PLAIN
        return _CLOSE if len(columns) < _CLOSEST_FROM else _CLOSEST

    def length_cell(self, text: str) -> Cell:
        """A length in both systems: beside each other where a page is wide."""
        first, _, rest = text.partition("\n")
        if not rest or not self.wide:
            return cell(text)
        return Cell((run(f"{first} "), run(f"({rest})", small=True)))

    def by_view(self, level: int, column_of: Callable[[str | None], list[Column]], alike: bool = False) -> list[Node]:
        """A table a view, under the view's title; one alone where there are no views or they do not differ."""
        views = shown_views(self.pattern)
        columns = {view: column_of(view) for view in views}
        if all(told == columns[views[0]] for told in columns.values()):
            return self.by_size(columns[views[0]], alike) if columns[views[0]] else []
        nodes: list[Node] = []
        for view, told in columns.items():
            if told:
                title = in_language(self.pattern.views[view].title, self.language) if view else ""
                nodes += [
                    Head(level, plain(told_of(self.language, self.say("table.view"), title))),
                    *self.by_size(told, alike),
                ]
        return nodes

    def both(self, metric: str, imperial: str) -> str:
        """A length in both systems, one above the other, the pattern's own first."""
        metric = in_decimals(self.language, metric)
        lines = (metric, imperial) if self.pattern.units == "metric" else (imperial, metric)
        return "\n".join(map(kept_together, lines))

    def sizes(self, sizes: Sequence[str]) -> str:
        key = "size.name" if len(sizes) == 1 else "size.several"
        return f"{self.say(key)}{NO_BREAK}{size_range(sizes, self.pattern, self.language)}"


def _parted(columns: Sequence[Column], step: int) -> list[Sequence[Column]]:
    return [columns[at : at + step] for at in range(0, len(columns), step)]

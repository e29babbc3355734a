"""The tables of a booklet, from the rows that `tables.json` has: a row a size, as many columns as a page holds."""

from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from itertools import groupby
from typing import NamedTuple

from pipeline.booklet.model import Model
from pipeline.booklet.nodes import Cell, Grid, Head, Node, Run, Text, cell, plain
from pipeline.booklet.values import NO_BREAK, kept_together
from pipeline.drawing.fonts import text_width_mm
from pipeline.drawing.lay_names import cloth_width
from pipeline.drawing.names import PAPER_NAMES
from pipeline.drawing.wording import in_decimals, size_range, told_of
from pipeline.model.lengths import imperial_text
from pipeline.model.pattern import in_language
from pipeline.tables.cloth import ClothRow
from pipeline.tables.cut_list import CutRow
from pipeline.tables.measures import cm_text
from pipeline.tables.notions import NotionRow
from pipeline.tables.pages import PageRow
from pipeline.tables.sizes import SizeRow
from pipeline.tables.strip_blocks import IMPERIAL_STEP_MM, METRIC_STEP_MM, rounded_up
from pipeline.tables.strips import StripRow
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
_STRIP_HEADS = ("table.count", "booklet.width", "booklet.length")


class Column(NamedTuple):
    """A heading, a text a size, and the heading that it shares with its neighbours."""

    title: str
    told: dict[str, str]
    group: str = ""


class Tables:
    """A pattern's tables in one language, for pages that hold `columns` beside the size."""

    def __init__(self, model: Model, rows: TablesFile, columns: int) -> None:
        self.model, self.rows, self.columns = model, rows, columns
        self.pattern, self.language = model.pattern, model.language

    @property
    def wide(self) -> bool:
        """Whether a page holds more than a large print's."""
        return self.columns >= _WIDE

    def named(self, name: str, level: int) -> list[Node]:
        """A table by the name that references have for it, without a heading of its own."""
        made: dict[str, Callable[[int], list[Node]]] = {
            "cloth": self.cloth,
            "sizes": lambda level: self.measures("body"),
            "finished": lambda level: self.measures("finished"),
            "cut-list": lambda level: self.cut_list(),
            "strips": self.strips,
            "notions": self.notions,
            "pages": self.pages,
        }
        return made[name](level)

    def say(self, key: str, **values: object) -> str:
        return say(self.language, key, **values)

    def by_size(self, columns: Sequence[Column], alike: bool = False) -> list[Node]:
        """A row a size, or a row for all that are `alike`; where a page does not hold all columns, several tables."""
        parts = -(-len(columns) // self.columns) or 1
        step = -(-len(columns) // parts)
        return [self._part(columns[at : at + step], alike) for at in range(0, len(columns), step)]

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
                cell(size_range(group, self.pattern.sizes), bold=True),
                *(made(column.told.get(group[0], "–")) for column in columns),
            )
            for group in groups.values()
        )
        runs = [(name, len(list(run))) for name, run in groupby(column.group for column in columns)]
        above = (("", 1), *runs) if any(name for name, _ in runs) else ()
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
        return Cell((Run(f"{first} "), Run(f"({rest})", small=True)))

    def _views(self, level: int, column_of: Callable[[str | None], list[Column]]) -> list[Node]:
        """A table a view, under the view's title; one alone where there are no views or they do not differ."""
        views = tuple(self.pattern.views) or (None,)
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

    # Cloth and notions

    def cloth(self, level: int) -> list[Node]:
        """Lengths to buy."""
        return self._views(level, self.cloth_columns)

    def shopping(self, level: int) -> list[Node]:
        """All that is bought for a size on one line."""
        return self._views(level, lambda view: [*self.cloth_columns(view), *self.notion_columns(view)])

    def cloth_columns(self, view: str | None) -> list[Column]:
        """A column a material, width and nap."""
        found: dict[tuple[object, ...], Column] = {}
        for row in self.rows.cloth:
            if row.view == view:
                key = row.material, row.width_mm, row.one_way
                column = found.setdefault(key, self._cloth_column(row))
                column.told[row.size] = self.both(row.metric, row.imperial)
        return list(found.values())

    def _cloth_column(self, row: ClothRow) -> Column:
        """A width, under its material."""
        title = in_language(self.pattern.materials[row.material].title, self.language)
        width = self.say("cloth.width", width=cloth_width(row.width_mm, self.pattern.units))
        nap = f", {self.say('cloth.one-way')}" if row.one_way else ""
        return Column(f"{in_decimals(self.language, width)}{nap}", {}, title)

    def notions(self, level: int) -> list[Node]:
        """Counts and lengths of notions."""
        return self._views(level, self.notion_columns)

    def notion_columns(self, view: str | None) -> list[Column]:
        """A column a notion."""
        found: dict[str, Column] = {}
        for row in self.rows.notions:
            if row.view == view:
                title = in_language(row.title, self.language)
                found.setdefault(row.notion, Column(title, {})).told[row.size] = self._notion(row)
        return list(found.values())

    def _notion(self, row: NotionRow) -> str:
        """A count, or a length: the one that is sold, where it is sold in lengths."""
        if row.metric is None or row.imperial is None:
            return f"{row.count}"
        if row.sold_metric is not None and row.sold_imperial is not None:
            return self.both(row.sold_metric, row.sold_imperial)
        return self.both(row.metric, row.imperial)

    # Measures

    def measures(self, of: str) -> list[Node]:
        """Body measures, or those of the finished garment."""
        columns = self.measure_columns(of)
        return self.by_size(columns) if columns else []

    def measure_columns(self, of: str) -> list[Column]:
        """A column a measure."""
        found: dict[str, Column] = {}
        for row in self._measures(of):
            title = in_language(row.title, self.language)
            found.setdefault(row.measure, Column(title, {})).told[row.size] = self.both(row.metric, row.imperial)
        return list(found.values())

    def ease_columns(self) -> list[Column]:
        """What finished measures have over body measures of the same name, as the tables tell both."""
        body = {(row.measure, row.size): row for row in self._measures("body")}
        columns: dict[str, Column] = {}
        for row in self._measures("finished"):
            worn = body.get((row.measure, row.size))
            if worn is not None:
                told = _cm(row) - _cm(worn)
                text = self.both(cm_text(told), imperial_text(row.length_mm - worn.length_mm, 8))
                title = in_language(worn.title, self.language)
                columns.setdefault(row.measure, Column(title, {})).told[row.size] = text
        return list(columns.values())

    def _measures(self, of: str) -> list[SizeRow]:
        return [row for row in self.rows.sizes if row.of == of]

    # What is cut

    def cut_list(self) -> list[Node]:
        """A row a piece and material, views where they differ; on pages with little room, all of the count in one."""
        rows: dict[tuple[str, ...], list[str]] = {}
        for row in self.rows.cut_list:
            title = in_language(row.title, self.language)
            material = in_language(self.pattern.materials[row.material].title, self.language)
            sizes = "" if row.sizes == self.pattern.sizes else f"\n{self._sizes(row.sizes)}"
            named = f"{self.model.names[row.piece].short}{NO_BREAK}{title}{sizes}"
            counted = self._in_one(row) if not self.wide else self._apart(row)
            rows.setdefault((named, material, *counted), []).append(row.view or "")
        told = tuple((*map(cell, key), *self._in_views(seen)) for key, seen in rows.items())
        keys = ("count",) if not self.wide else ("count", "mirrored", "on-fold")
        heads = ("piece", "material", *keys, *(("views",) if self.pattern.views else ()))
        shares = (2.6, 1.5, *((1.6,) if len(keys) == 1 else (0.8, 1.1, 0.9)), *((1.0,) if self.pattern.views else ()))
        return [Grid(tuple(cell(self.say(f"table.{key}")) for key in heads), told, shares)]

    def _apart(self, row: CutRow) -> tuple[str, str, str]:
        return str(row.count), str(row.mirrored or "–"), self.say("table.yes") if row.on_fold else "–"

    def _in_one(self, row: CutRow) -> tuple[str]:
        more = [told_of(self.language, self.say("table.mirrored"), str(row.mirrored))] if row.mirrored else []
        more += [self.say("table.on-fold")] if row.on_fold else []
        return (f"{row.count}\n{', '.join(more)}".strip(),)

    def _in_views(self, views: Iterable[str]) -> tuple[Cell, ...]:
        if not self.pattern.views:
            return ()
        titles = [in_language(self.pattern.views[view].title, self.language) for view in dict.fromkeys(views) if view]
        return (cell(", ".join(titles)),)

    def _sizes(self, sizes: Sequence[str]) -> str:
        key = "size.name" if len(sizes) == 1 else "size.several"
        return f"{self.say(key)}{NO_BREAK}{size_range(sizes, self.pattern.sizes)}"

    def strips(self, level: int, shown: Callable[[str], list[Node]] = lambda name: []) -> list[Node]:
        """A table a strip under its name, and what is `shown` of it: a row a run of sizes that are cut alike, lengths
        rounded up as rulers show them."""
        nodes: list[Node] = []
        for name in self.pattern.strips:
            groups: dict[tuple[str, ...], list[str]] = {}
            rows = [row for row in self.rows.strips if row.strip == name]
            for row in rows:
                groups.setdefault(self._strip(row), []).append(row.size)
            if not groups:
                continue
            several = len({row.material for row in rows}) > 1
            head = (cell(self.say("size.several")), *(cell(self.say(key)) for key in _STRIP_HEADS))
            told = tuple(
                (
                    cell(size_range(tuple(dict.fromkeys(sizes)), self.pattern.sizes), bold=True),
                    cell(f"{key[0]}\n{key[1]}" if several else key[0]),
                    *map(self.length_cell, key[2:]),
                )
                for key, sizes in groups.items()
            )
            called = self.model.names[f"strips.{name}"]
            made_of = dict.fromkeys(self._material(row) for row in rows)
            nodes += [
                Head(level, plain(f"{called.short}{NO_BREAK}{called.title}")),
                Text(plain(" · ".join(f"{material}, {self.say(f'strips.{rows[0].grain}')}" for material in made_of))),
                Grid(head, told, (1.0, 1.0, 1.2, 1.2)),
                *shown(name),
            ]
        return [*nodes, Text(plain(self.say("strips.as-cut")))] if nodes else []

    def _strip(self, row: StripRow) -> tuple[str, ...]:
        metric, imperial = (rounded_up(row, step) for step in (METRIC_STEP_MM, IMPERIAL_STEP_MM))
        return (
            str(row.count),
            self._material(row),
            self.both(cm_text(row.cut_width_mm), imperial_text(row.cut_width_mm)),
            self.both(cm_text(metric.cut_length_mm), imperial_text(imperial.cut_length_mm)),
        )

    def _material(self, row: StripRow) -> str:
        return in_language(self.pattern.materials[row.material].title, self.language)

    # Pages

    def pages(self, level: int) -> list[Node]:
        """Which pages of each print file for home printers a size needs; one sentence where each needs all."""
        files: dict[str, list[PageRow]] = {row.format: [] for row in self.rows.pages if row.format in _TILED}
        for row in self.rows.pages:
            if row.format in files:
                files[row.format].append(row)
        needed = [set(row.sizes) for rows in files.values() for row in rows if row.sizes]
        if not files:
            return []
        if all(sizes == set(self.pattern.sizes) for sizes in needed):
            return [Text(plain(self.say("start.key-all" if not self.pattern.views else "start.key-all-view")))]
        return [Text(plain(self.say("start.key"))), *self._views(level, lambda view: _page_columns(self, files, view))]

    def page_counts(self) -> list[Node]:
        """How many pages every print file has: that of all sizes, those of one view, those of one size."""
        counts = Counter(row.format for row in self.rows.pages)
        papers = [name for name in PAPER_NAMES if counts[name]]
        all_sizes = size_range(self.pattern.sizes, self.pattern.sizes)
        lines = [(self._sizes(self.pattern.sizes), "print", "{}")]
        for name, view in self.pattern.views.items():
            lines.append(
                (f"{all_sizes}, {in_language(view.title, self.language)}", "print/by-view", f"by-view/{name}-{{}}")
            )
        lines += [(self._sizes((size,)), "print/by-size", f"by-size/{size}-{{}}") for size in self.pattern.sizes]
        rows = tuple(
            (cell(told, bold=True), cell(folder), *(cell(str(count) if count else "–") for count in found))
            if self.wide
            else (cell(f"{told}\n{folder}"), *(cell(str(count) if count else "–") for count in found))
            for told, folder, form in lines
            if any(found := [counts[form.format(paper)] for paper in papers])
        )
        heads = (self.say("size.several"), *((self.say("booklet.folder"),) if self.wide else ()), *papers)
        shares = (2.0, *((1.5,) if self.wide else ()), *(1.1 for _ in papers))
        return [Text(plain(self.say("booklet.counts"))), Grid(tuple(map(cell, heads)), rows, shares)] if papers else []


_TILED = ("a4", "letter", "a4-letter")


def _room_mm(column: Column, group: str) -> float:
    """What a column is wide whose words, and lengths, are not parted."""
    words = [text_width_mm(word, _HEAD_MM, bold=True) for word in f"{column.title} {group}".split()]
    told = [text_width_mm(line, _CELL_MM) for text in column.told.values() for line in text.split("\n")]
    return max(0.0, *words, *told) + _INSET_MM


def _page_columns(tables: Tables, files: dict[str, list[PageRow]], view: str | None) -> list[Column]:
    """A column a print file; the start page, which has no sizes, is needed by all."""
    return [
        Column(
            f"print/{name}.pdf",
            {
                size: _runs([row.page for row in rows if (size in row.sizes or not row.sizes) and _shows(row, view)])
                for size in tables.pattern.sizes
            },
        )
        for name, rows in files.items()
    ]


def _shows(row: PageRow, view: str | None) -> bool:
    return view is None or not row.views or view in row.views


def _runs(pages: Sequence[int]) -> str:
    """Page numbers as print dialogues take them: "1-4, 6, 8-9"."""
    runs: list[list[int]] = []
    for page in sorted(set(pages)):
        if runs and page == runs[-1][-1] + 1:
            runs[-1].append(page)
        else:
            runs.append([page])
    return ", ".join(f"{run[0]}-{run[-1]}" if len(run) > 1 else f"{run[0]}" for run in runs)


def _cm(row: SizeRow) -> float:
    """What the metric text of a measure says, in mm."""
    return float(row.metric.removesuffix(" cm")) * 10

"""The tables as people read them: a CSV file a table and language, with words for headings and for all that has a code.

Metric lengths are numbers whose unit is in the heading; inches and yards are texts with their unit, since spreadsheets
make a date of a bare 1/2. What programs read is `tables.json`.
"""

from collections.abc import Iterable, Sequence
from typing import TypeVar

from msgspec import UNSET

from pipeline.drawing.lay_names import laid_names
from pipeline.drawing.wording import in_decimals, size_range, view_titles
from pipeline.model.lengths import cloth_width, imperial_text, next_mm
from pipeline.model.pattern import Pattern, in_language
from pipeline.model.questions import ending_of, turns_freely
from pipeline.model.sizes import size_title
from pipeline.sheets.windows import row_letters
from pipeline.tables.cloth import ClothRow
from pipeline.tables.csv_text import Cells, csv_text
from pipeline.tables.cut_list import CutRow
from pipeline.tables.measures import half_cm
from pipeline.tables.notions import NotionRow, notion_words, told_mm
from pipeline.tables.pages import PageRow
from pipeline.tables.sizes import SizeRow
from pipeline.tables.strip_blocks import IMPERIAL_STEP_MM, METRIC_STEP_MM, rounded_up
from pipeline.tables.strips import StripRow
from pipeline.tables.write import TABLES, TablesFile
from pipeline.words import say

_LAID = {"two-folds": "two-folds", "partial-fold": "partial-fold-as-needed", True: "folded", False: "open"}
"""How deep a fold is that is as deep as needed, the picture of the lay tells."""
_GRAIN = {"warp": "along", "weft": "across"}
_One = TypeVar("_One")

Rows = tuple[list[str], list[Cells]]
"""Headings and rows of a table."""
Parted = tuple[str, Cells, Cells]
"""A row of one size: the size, and the cells before and after it."""


def csv_files(tables: TablesFile, pattern: Pattern) -> dict[str, str]:
    """CSV text by its place under `tables/`: `cloth.csv` in the first language, `de/cloth.csv` in a further one."""
    files = {}
    for language in pattern.languages:
        sheets = _Sheets(pattern, language)
        made = (
            sheets.cloth(tables.cloth),
            sheets.cut_list(tables.cut_list),
            sheets.strips(tables.strips),
            sheets.notions(tables.notions),
            sheets.sizes(tables.sizes),
            sheets.pages(tables.pages),
        )
        for name, (heads, rows) in zip(TABLES, made, strict=True):
            files[_place(pattern, name, language)] = csv_text(*_used(heads, rows), language)
    return files


def table_files(pattern: Pattern) -> tuple[str, ...]:
    """The files under `tables/`."""
    return (*(_place(pattern, name, language) for language in pattern.languages for name in TABLES), "tables.json")


def _place(pattern: Pattern, name: str, language: str) -> str:
    return f"{name}.csv" if language == pattern.languages[0] else f"{language}/{name}.csv"


def _used(heads: list[str], rows: list[Cells]) -> Rows:
    """The table without columns that are empty in every row, as that of views is where there are none."""
    used = [place for place in range(len(heads)) if not rows or any(row[place] is not None for row in rows)]
    return [heads[place] for place in used], [[row[place] for place in used] for row in rows]


class _Sheets:
    """Every table of a pattern in one language: a row has a cell a heading."""

    def __init__(self, pattern: Pattern, language: str) -> None:
        self.pattern, self.language = pattern, language
        self.names = laid_names(pattern, language)

    def cloth(self, rows: Sequence[ClothRow]) -> Rows:
        heads = [*self.heads("view", "material", "cloth-width", "laid", "way"), self.say("size.name")]
        repeats = any(row.repeat_imperial is not UNSET for row in rows)
        buy = [*self.pair_heads("buy", "m", "yd"), *(self.pair_heads("buy-repeat", "m", "yd") if repeats else [])]
        return [*heads, *buy], [
            [
                self.view(row.view),
                self.material(row.material),
                in_decimals(self.language, cloth_width(row.width_mm, self.pattern.units)),
                self.say(f"lay.{_LAID[row.fold]}"),
                self.say(f"lay.{self.way(row)}"),
                row.size,
                *self.lengths(row.length_to_buy_mm / 1000, row.imperial),
                *(self.with_repeat(row) if repeats else []),
            ]
            for row in rows
        ]

    def with_repeat(self, row: ClothRow) -> Cells:
        """What is bought of cloth with a repeat; nothing of any other."""
        if row.repeat_to_buy_mm is UNSET or row.repeat_imperial is UNSET:
            return [None, None]
        return self.lengths(row.repeat_to_buy_mm / 1000, row.repeat_imperial)

    def way(self, row: ClothRow) -> str:
        if row.one_way:
            return "one-way"
        return "any-way" if turns_freely(self.pattern.materials[row.material]) else "either-way"

    def cut_list(self, rows: Sequence[CutRow]) -> Rows:
        heads = [*self.heads("view", "material", "number", "piece"), self.say("size.several")]
        sided = any(row.side for row in rows)
        return [*heads, *self.heads("count", "mirrored", "on-fold", "grain", *(["side"] if sided else []))], [
            [
                self.view(row.view),
                self.material(row.material),
                self.names[row.piece].short,
                in_language(row.title, self.language),
                size_range(row.sizes, self.pattern, self.language),
                row.count,
                row.mirrored,
                self.say("table.yes" if row.on_fold else "table.no"),
                self.grain(row.grain),
                *([self.say(f"mark-side.{row.side}") if row.side else ""] if sided else []),
            ]
            for row in rows
        ]

    def strips(self, rows: Sequence[StripRow]) -> Rows:
        heads = [*self.heads("view", "material", "number", "strip"), self.say("size.several")]
        heads += [*self.heads("count", "grain"), *self.pair_heads("width"), *self.pair_heads("length")]
        heads += [*self.heads("parts", "joins"), *self.pair_heads("total"), *self.pair_heads("square")]
        return heads, self.alike(self.strip(row) for row in rows)

    def strip(self, row: StripRow) -> Parted:
        metric, imperial = (rounded_up(row, step_mm) for step_mm in (METRIC_STEP_MM, IMPERIAL_STEP_MM))
        square = None if self.pattern.strips[row.strip].join_mm is None else row.square_mm
        sides = [None if square is None else next_mm(square, step_mm) for step_mm in (METRIC_STEP_MM, IMPERIAL_STEP_MM)]
        title = in_language(row.title, self.language)
        before: Cells = [
            self.view(row.view),
            self.material(row.material),
            self.names[f"strips.{row.strip}"].short,
            title,
        ]
        return (
            row.size,
            before,
            [
                row.count,
                self.grain(row.grain),
                *self.pair(row.cut_width_mm, row.cut_width_mm),
                *self.pair(metric.cut_length_mm, imperial.cut_length_mm),
                row.pieces,
                row.joins,
                *self.pair(metric.total_length_mm, imperial.total_length_mm),
                *self.pair(*sides),
            ],
        )

    def notions(self, rows: Sequence[NotionRow]) -> Rows:
        heads = [*self.heads("view", "notion"), self.say("size.several"), *self.heads("count")]
        heads += [*self.pair_heads("needed"), *self.pair_heads("sold")]
        return heads, self.alike(self.notion(row) for row in rows)

    def notion(self, row: NotionRow) -> Parted:
        needed = None if row.length_mm is None else told_mm(row.length_mm, row.sold_mm is not None) / 10
        sold = None if row.sold_mm is None else half_cm(row.sold_mm) / 10
        lengths = [*self.lengths(needed, row.imperial), *self.lengths(sold, row.sold_imperial)]
        title = notion_words(self.pattern, row, self.language)
        return row.size, [self.view(row.view), title], [row.count, *lengths]

    def sizes(self, rows: Sequence[SizeRow]) -> Rows:
        """A row a measure and unit, a column a size."""
        measures: dict[tuple[str, str], dict[str, SizeRow]] = {}
        for row in rows:
            measures.setdefault((row.of, row.measure), {})[row.size] = row
        sizes = self.pattern.sizes
        cells: list[Cells] = []
        for (of, _), found in measures.items():
            title = in_language(next(iter(found.values())).title, self.language)
            metric: Cells = ["cm", *(found[size].told_cm if size in found else None for size in sizes)]
            imperial: Cells = ["in", *(found[size].imperial if size in found else None for size in sizes)]
            cells += [[self.say(f"table.of-{of}"), title, *told] for told in self.in_order(metric, imperial)]
        columns = [f"{self.say('size.name')} {size_title(self.pattern, size, self.language)}" for size in sizes]
        return [*self.heads("of", "measure", "unit"), *columns], cells

    def pages(self, rows: Sequence[PageRow]) -> Rows:
        heads = [*self.heads("file", "page", "label", "row", "column"), self.say("size.several")]
        return [*heads, *self.heads("views")], [
            [
                f"print/{row.format}{ending_of(self.pattern, self.language)}.pdf",
                row.page,
                row.label,
                row_letters(row.row) or None,
                row.column or None,
                size_range(row.sizes, self.pattern, self.language),
                view_titles(row.views, self.pattern, self.language) or None,
            ]
            for row in rows
        ]

    def alike(self, rows: Iterable[Parted]) -> list[Cells]:
        """Sizes that have the same cells share a row."""
        groups: dict[tuple[object, ...], tuple[Cells, list[str], Cells]] = {}
        for size, before, after in rows:
            groups.setdefault((*before, *after), (before, [], after))[1].append(size)
        return [
            [*before, size_range(sizes, self.pattern, self.language), *after]
            for before, sizes, after in groups.values()
        ]

    def say(self, key: str, **values: object) -> str:
        return say(self.language, key, **values)

    def heads(self, *keys: str) -> list[str]:
        return [self.say(f"table.{key}") for key in keys]

    def pair_heads(self, key: str, metric: str = "cm", imperial: str = "in") -> list[str]:
        return [self.say(f"table.{key}", unit=unit) for unit in self.in_order(metric, imperial)]

    def pair(self, metric_mm: float | None, imperial_mm: float | None) -> Cells:
        """A length in both systems, each rounded for itself."""
        metric = None if metric_mm is None else round(metric_mm / 10, 1)
        return self.lengths(metric, None if imperial_mm is None else imperial_text(imperial_mm))

    def lengths(self, metric: float | None, imperial: str | None) -> Cells:
        return [metric, imperial] if self.pattern.units == "metric" else [imperial, metric]

    def in_order(self, metric: _One, imperial: _One) -> tuple[_One, _One]:
        """The pattern's own system first."""
        return (metric, imperial) if self.pattern.units == "metric" else (imperial, metric)

    def view(self, view: str | None) -> str | None:
        return None if view is None else in_language(self.pattern.views[view].title, self.language)

    def material(self, material: str) -> str:
        return in_language(self.pattern.materials[material].title, self.language)

    def grain(self, grain: str) -> str:
        return self.say(f"strips.{_GRAIN.get(grain, grain)}")

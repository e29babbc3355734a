"""The tables of a booklet, from the rows that `tables.json` has: a row a size, as many columns as a page holds."""

from collections.abc import Callable, Iterable, Iterator, Sequence

from msgspec import UNSET

from pipeline.booklet.grids import Column, Grids
from pipeline.booklet.nodes import Cell, Grid, Head, Node, Text, cell, plain
from pipeline.booklet.page_tables import pages_needed
from pipeline.booklet.unbroken import NO_BREAK
from pipeline.drawing.piece.own_image import told_copies
from pipeline.drawing.wording import in_decimals, length_words, size_range, told_of, view_titles
from pipeline.model.lengths import cloth_width, imperial_text
from pipeline.model.pattern import in_language
from pipeline.tables.cloth import ClothRow
from pipeline.tables.cut_list import CutRow
from pipeline.tables.measures import cm_text
from pipeline.tables.notions import NotionRow, notion_words
from pipeline.tables.sizes import Ease, SizeRow, ease_of
from pipeline.tables.strip_blocks import IMPERIAL_STEP_MM, METRIC_STEP_MM, rounded_up
from pipeline.tables.strips import StripRow

_STRIP_HEADS = ("table.count", "booklet.width", "booklet.length")
_STRIP_SHARES, _JOINED_SHARES = (1.0, 1.0, 1.2, 1.2), (0.9, 0.8, 1.1, 1.3, 2.0)


class Tables(Grids):
    """A pattern's tables in one language."""

    def named(self, name: str, level: int) -> list[Node]:
        """A table by the name that references have for it, without a heading of its own."""
        made: dict[str, Callable[[int], list[Node]]] = {
            "cloth": self.cloth,
            "sizes": lambda level: self.measures("body"),
            "finished": lambda level: self.measures("finished"),
            "cut-list": lambda level: self.cut_list(),
            "strips": self.strips,
            "notions": self.notions,
            "pages": lambda level: pages_needed(self, level),
        }
        return made[name](level)

    # Cloth and notions

    @property
    def matched(self) -> bool:
        """Whether some cloth has a repeat on which lines are matched."""
        return any(row.repeat_metric is not UNSET for row in self.rows.cloth)

    def cloth(self, level: int) -> list[Node]:
        """Lengths to buy."""
        return self.by_view(level, self.cloth_columns)

    def shopping(self, level: int) -> list[Node]:
        """All that is bought for a size on one line."""
        return self.by_view(level, lambda view: [*self.cloth_columns(view), *self.notion_columns(view)])

    def cloth_columns(self, view: str | None) -> list[Column]:
        """A column a material, width and nap."""
        found: dict[tuple[object, ...], Column] = {}
        for row in self.rows.cloth:
            if row.view == view:
                key = row.material, row.width_mm, row.one_way
                column = found.setdefault(key, self._cloth_column(row))
                column.told[row.size] = self.both(row.metric, row.imperial)
                if row.repeat_metric is not UNSET and row.repeat_imperial is not UNSET:
                    told = found.setdefault((*key, "repeat"), self._cloth_column(row, repeat=True)).told
                    told[row.size] = self.both(row.repeat_metric, row.repeat_imperial)
        return list(found.values())

    def _cloth_column(self, row: ClothRow, repeat: bool = False) -> Column:
        """A width, under its material."""
        title = in_language(self.pattern.materials[row.material].title, self.language)
        width = self.say("cloth.width", width=cloth_width(row.width_mm, self.pattern.units))
        nap = f", {self.say('cloth.one-way')}" if row.one_way else ""
        nap += f", {self.say('cloth.with-repeat')}" if repeat else ""
        return Column(f"{in_decimals(self.language, width)}{nap}", {}, title)

    def notions(self, level: int) -> list[Node]:
        """Counts and lengths of notions."""
        return self.by_view(level, self.notion_columns)

    def notion_columns(self, view: str | None) -> list[Column]:
        """A column a notion."""
        found: dict[str, Column] = {}
        for row in self.rows.notions:
            if row.view == view:
                title = notion_words(self.pattern, row, self.language)
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
        return self.by_axes(columns) if columns else []

    def measure_columns(self, of: str) -> list[Column]:
        """A column a measure."""
        found: dict[str, Column] = {}
        for row in self._measures(of):
            title = in_language(row.title, self.language)
            found.setdefault(row.measure, Column(title, {})).told[row.size] = self.both(row.metric, row.imperial)
        return list(found.values())

    def ease_columns(self) -> list[Column]:
        """What finished measures have over body measures of the same name, as a reader works it out of the tables."""
        columns: dict[str, Column] = {}
        for worn, ease in self._eases():
            title = in_language(worn.title, self.language)
            columns.setdefault(worn.measure, Column(title, {})).told[worn.size] = self.both(ease.metric, ease.imperial)
        return list(columns.values())

    @property
    def less_than_body(self) -> bool:
        """Whether the garment is told as smaller than the body anywhere, as one of a knit is that stretches to it."""
        return any(ease.less for _, ease in self._eases())

    def _eases(self) -> Iterator[tuple[SizeRow, Ease]]:
        """Each body measure that the garment is measured at too, and what that has over it."""
        body = {(row.measure, row.size): row for row in self._measures("body")}
        for row in self._measures("finished"):
            if worn := body.get((row.measure, row.size)):
                yield worn, ease_of(worn, row, self.pattern.units)

    def _measures(self, of: str) -> list[SizeRow]:
        return [row for row in self.rows.sizes if row.of == of]

    # What is cut

    def cut_list(self) -> list[Node]:
        """A row a piece and material, views where they differ; on pages with little room, all of the count in one."""
        rows: dict[tuple[str, ...], list[str]] = {}
        for row in self.rows.cut_list:
            title = in_language(row.title, self.language)
            material = in_language(self.pattern.materials[row.material].title, self.language)
            sizes = "" if row.sizes == self.pattern.sizes else f"\n{self.sizes(row.sizes)}"
            side = f"\n{self.say(f'mark-side.{row.side}')}" if row.side else ""
            named = f"{self.model.names[row.piece].short}{NO_BREAK}{title}{side}{sizes}"
            counted = self._in_one(row) if not self.wide else self._apart(row)
            rows.setdefault((named, material, *counted), []).append(row.view or "")
        told = tuple((*map(cell, key), *self._in_views(seen)) for key, seen in rows.items())
        keys = ("count",) if not self.wide else ("count", "mirrored", "on-fold")
        heads = ("piece", "material", *keys, *(("views",) if self.pattern.views else ()))
        of_counts = (2.4, 1.5, 0.8, 1.2, 1.0) if self.wide else (2.2, 1.4, 2.0)
        shares = (*of_counts, *((1.8,) if self.pattern.views else ()))
        grid = Grid(tuple(cell(self.say(f"table.{key}")) for key in heads), told, shares)
        mirrored = any(map(self._mirrored, self.rows.cut_list))
        return [Text(plain(self.say("booklet.mirrored"))), grid] if mirrored else [grid]

    def _mirrored(self, row: CutRow) -> int:
        """How many are mirrored, as labels tell it: none of a piece that is its own mirror image in all these sizes."""
        spec, cuts = self.pattern.pieces.get(row.piece), self.model.cuts.get(row.piece, {})
        entries = [entry for entry in spec.cut if entry.material == row.material] if spec else []
        drawn = [cuts[size] for size in row.sizes if size in cuts]
        told = [told_copies(self.pattern, cut, entry).mirrored for cut in drawn for entry in entries]
        return row.mirrored if any(told) or not told else 0

    def _apart(self, row: CutRow) -> tuple[str, str, str]:
        return str(row.count), str(self._mirrored(row) or "–"), self.say("table.yes") if row.on_fold else "–"

    def _in_one(self, row: CutRow) -> tuple[str]:
        mirrored = self._mirrored(row)
        more = [told_of(self.language, self.say("table.mirrored"), str(mirrored))] if mirrored else []
        more += [self.say("table.on-fold")] if row.on_fold else []
        return (f"{row.count}\n{', '.join(more)}".strip(),)

    def _in_views(self, views: Iterable[str]) -> tuple[Cell, ...]:
        if not self.pattern.views:
            return ()
        shown = {view for view in views if view}
        if shown == set(self.pattern.views):
            return (cell(self.say("table.all-views")),)
        return (cell(view_titles((view for view in self.pattern.views if view in shown), self.pattern, self.language)),)

    def strips(self, level: int, shown: Callable[[str], list[Node]] = lambda name: []) -> list[Node]:
        """A table a strip under its name, and what is `shown` of it."""
        nodes: list[Node] = []
        for name in self.pattern.strips:
            rows = [row for row in self.rows.strips if row.strip == name]
            if not rows:
                continue
            called = self.model.names[f"strips.{name}"]
            made_of = dict.fromkeys(self._material(row) for row in rows)
            nodes += [
                Head(level, plain(f"{called.short}{NO_BREAK}{called.title}")),
                Text(plain(" · ".join(f"{material}, {self.say(f'strips.{rows[0].grain}')}" for material in made_of))),
                self._strip_grid(rows, several=len(made_of) > 1),
                *shown(name),
            ]
        notes = ["as-cut", *(["parted"] if any(row.joins for row in self.rows.strips) else [])]
        return [*nodes, *(Text(plain(self.say(f"strips.{note}"))) for note in notes)] if nodes else []

    def _strip_grid(self, rows: Sequence[StripRow], several: bool) -> Grid:
        """A row a run of sizes that are cut alike, lengths rounded up as rulers show them; with a column for the pieces
        that a strip is joined of where it is in some size."""
        groups: dict[tuple[str, ...], list[str]] = {}
        for row in rows:
            groups.setdefault(self._strip(row), []).append(row.size)
        joined = any(row.joins for row in rows)
        told = tuple(
            (
                cell(size_range(tuple(dict.fromkeys(sizes)), self.pattern, self.language), bold=True),
                cell(f"{count}\n{material}" if several else count),
                *map(self.length_cell, lengths),
                *([cell(pieces)] if joined else []),
            )
            for (count, material, pieces, *lengths), sizes in groups.items()
        )
        heads = ("size.several", *_STRIP_HEADS, *(["strips.pieces"] if joined else []))
        return Grid(tuple(cell(self.say(key)) for key in heads), told, _JOINED_SHARES if joined else _STRIP_SHARES)

    def _strip(self, row: StripRow) -> tuple[str, ...]:
        metric, imperial = (rounded_up(row, step) for step in (METRIC_STEP_MM, IMPERIAL_STEP_MM))
        return (
            str(row.count),
            self._material(row),
            self._pieces(row, metric, imperial),
            self.both(cm_text(row.cut_width_mm), imperial_text(row.cut_width_mm)),
            self.both(cm_text(metric.cut_length_mm), imperial_text(imperial.cut_length_mm)),
        )

    def _pieces(self, row: StripRow, metric: StripRow, imperial: StripRow) -> str:
        """Of how many pieces a strip is joined, how long they are, and the joins with their allowance."""
        allowance_mm = self.pattern.strips[row.strip].join_mm
        if not row.joins or allowance_mm is None:
            return self.say("strips.one-piece")
        pieces = row.count * row.pieces
        lengths = cm_text(metric.total_length_mm / pieces), imperial_text(imperial.total_length_mm / pieces)
        first, second = self.both(*lengths).split("\n")
        told = self.say("strips.several-pieces", count=row.pieces, length=f"{first} ({second})")
        allowance = length_words(self.language, allowance_mm, self.pattern.units)
        joins = self.say("strips.join" if row.joins == 1 else "strips.joins", count=row.joins, allowance=allowance)
        return f"{told}\n{joins}"

    def _material(self, row: StripRow) -> str:
        return in_language(self.pattern.materials[row.material].title, self.language)

"""The designer's text as it is set: references resolved, steps numbered through, boxes named."""

from collections.abc import Mapping, Sequence

from pipeline.booklet.drawn import drawn_figure
from pipeline.booklet.folder import FOLDER, page_mm
from pipeline.booklet.lays import Lays
from pipeline.booklet.model import Model
from pipeline.booklet.nodes import Boxed, Cell, Figure, Grid, Head, Listed, Node, Pictures, Run, Runs, run
from pipeline.booklet.nodes import Text as TextNode
from pipeline.booklet.references import LAYS
from pipeline.booklet.tables import Tables
from pipeline.booklet.text import (
    Block,
    Booklet,
    Box,
    Break,
    Bullets,
    FigureOf,
    Heading,
    Inline,
    Inserted,
    Item,
    Link,
    Named,
    Paragraph,
    Picture,
    Steps,
    Strong,
    Table,
    TableOf,
    Value,
    Words,
)
from pipeline.booklet.unbroken import unbroken
from pipeline.booklet.values import value_text
from pipeline.booklet.walk import blocks_within
from pipeline.model.pattern import in_language
from pipeline.words import say

_ENDS = (".", "!", "?")


class Sewing:
    """One text being set. `top` is the level of its highest heading in the whole booklet."""

    def __init__(
        self,
        model: Model,
        tables: Tables,
        pictures: Pictures,
        drawings: Mapping[str, bytes],
        text: Booklet,
        top: int,
        lays: Lays | None = None,
    ) -> None:
        self.model, self.tables, self.pictures, self.drawings = model, tables, pictures, drawings
        self.text, self.next_step, self.lays = text, 1, lays
        self.within = 0  # how many steps and boxes are open
        levels = [block.level for block in blocks_within(text.blocks) if isinstance(block, Heading)]
        self.raise_by = top - min(levels, default=1)
        self.level = top - 1

    def nodes(self) -> list[Node]:
        """The whole text."""
        return self._blocks(self.text.blocks)

    def _blocks(self, blocks: Sequence[Block], inner: bool = False) -> list[Node]:
        return [node for block in blocks for node in self._block(block, inner)]

    def _block(self, block: Block, inner: bool) -> Sequence[Node]:
        match block:
            case Heading():
                # no level is left out, however the designer counts: readers that are heard go by levels
                self.level = min(block.level + self.raise_by, self.level + 1)
                return [Head(self.level, self._runs(block.inside))]
            case Paragraph():
                return [TextNode(self._runs(block.inside))]
            case Steps():
                return [self._steps(block, inner)]
            case Bullets():
                return [Listed(tuple(self._item(item) for item in block.items))]
            case Table():
                return [self._table(block)]
            case Box():
                return [self._box(block)]
            case Picture():
                return [self._picture(block)]
            case Inserted():
                return self._inserted(block)

    def _inserted(self, block: Inserted) -> Sequence[Node]:
        if isinstance(block.reference, TableOf) and block.reference.name == LAYS:
            if self.lays is None:
                return []
            return self.lays.within() if self.within else self.lays.pages(self.level + 1)
        if isinstance(block.reference, TableOf):
            return self.tables.named(block.reference.name, self.level + 1)
        figure = drawn_figure(block.reference.words, self.model, self.pictures.large)
        return [self.pictures.draw(figure.scene, figure.alt)]

    def _steps(self, block: Steps, inner: bool) -> Listed:
        start = 1 if inner else self.next_step
        if not inner:
            self.next_step += len(block.items)
        return Listed(tuple(self._item(item) for item in block.items), start, inner)

    def _item(self, item: Item) -> tuple[Node, ...]:
        return self._contained(item.blocks, inner=True)

    def _contained(self, blocks: Sequence[Block], inner: bool = False) -> tuple[Node, ...]:
        self.within += 1
        nodes = tuple(self._blocks(blocks, inner))
        self.within -= 1
        return nodes

    def _table(self, block: Table) -> Grid:
        def cells(row: Sequence[object]) -> tuple[Cell, ...]:
            return tuple(Cell(self._runs(one.inside), right=one.align == "right") for one in row)  # type: ignore[attr-defined]

        return Grid(cells(block.head), tuple(map(cells, block.rows)), tuple(1.0 for _ in block.head))

    def _box(self, block: Box) -> Boxed:
        language = self.model.language
        label = say(language, f"booklet.{block.kind}", view="") if block.kind != "view" else ""
        if block.view is not None:
            title = in_language(self.model.pattern.views[block.view].title, language)
            label = say(language, "booklet.view", view=title)
        return Boxed(block.kind, unbroken(label), self._contained(block.blocks))

    def _picture(self, block: Picture) -> Figure:
        data = self.drawings[f"{FOLDER}/{block.file}"]
        return self.pictures.add(data, *page_mm(data), block.alt)

    def _runs(self, inside: Sequence[Inline], bold: bool = False, address: str = "", before: str = "") -> Runs:
        runs: list[Run] = []
        for inline in self._once_each(inside):
            runs += self._run(inline, bold, address, runs[-1].text if runs else before)
        return tuple(runs)

    def _once_each(self, inside: Sequence[Inline]) -> list[Inline]:
        """A sentence without a seam of its list, and the comma before it, that reads as one before it does."""
        kept: list[Inline] = []
        told: set[str] = set()
        for inline in inside:
            if isinstance(inline, Value) and isinstance(inline.reference, Named) and inline.reference.kind == "seam":
                text = value_text(self.model, inline.reference)
                if text in told and isinstance(kept[-1], Words) and kept[-1].text.strip() == ",":
                    kept.pop()
                    continue
                told.add(text)
            kept.append(inline)
        return kept

    def _run(self, inline: Inline, bold: bool, address: str, before: str) -> Runs:
        match inline:
            case Words(text):
                return (run(text, bold, address),)
            case Break():
                return (run("", ends=True),)
            case Strong(inside):
                return self._runs(inside, True, address, before)
            case Link(to, inside):
                return self._runs(inside, bold, to, before)
            case Value():
                if isinstance(inline.reference, TableOf | FigureOf):
                    raise ValueError(f"{inline.written} stands within a text")
                told = value_text(self.model, inline.reference)
                if not before or before.rstrip().endswith(_ENDS):
                    told = told[:1].upper() + told[1:]  # it begins a sentence
                return (run(told, bold, address),)

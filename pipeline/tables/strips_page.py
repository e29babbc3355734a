"""Strips to cut on pages of their own, in one language and both unit systems: beside the pictures of lays."""

from collections.abc import Iterable, Iterator
from itertools import groupby
from typing import NamedTuple

from pipeline.drawing import scene
from pipeline.drawing.cloth.lay_pages import PAGE_HEIGHT_MM, PAGE_WIDTH_MM
from pipeline.drawing.lay_names import laid_names
from pipeline.drawing.scene import Scene, Shape
from pipeline.drawing.styles import BLACK, HAIRLINE_MM
from pipeline.drawing.text_lines import fitted, wrapped
from pipeline.drawing.wording import in_decimals, length_words, size_range, told_of
from pipeline.geometry.points import Point
from pipeline.model.lengths import imperial_text
from pipeline.model.pattern import Pattern, in_language
from pipeline.tables.cloth_page import HEIGHT_MM, MARGIN_MM, WIDTH_MM
from pipeline.tables.strip_blocks import Rounded, Square, StripBlock, StripFigures, strip_blocks
from pipeline.tables.strips import StripRow
from pipeline.words import say

_TEXT_MM = 2.8
_LINE_STEP_MM = 3.8
_ROW_SPACE_MM = 1.7
_RULE_MM = 0.25
_TOP_MM = 11.0
_COLUMNS_MM = 8.0
_VIEW_MM = 7.0
_BLOCK_MM = 6.0
_APART_MM = 4.0
_MOST_TITLE_LINES = 3


class _Column(NamedTuple):
    left_mm: float
    width_mm: float


_STRIP, _SIZES, _CUT, _PIECES, _TOTAL = (
    _Column(0.0, 42.0),
    _Column(44.0, 20.0),
    _Column(66.0, 38.0),
    _Column(106.0, 49.0),
    _Column(157.0, 33.0),
)
_HEADS = {
    "strips.strip": _STRIP,
    "size.several": _SIZES,
    "strips.cut": _CUT,
    "strips.pieces": _PIECES,
    "strips.total": _TOTAL,
}
_SQUARE = _Column(_CUT.left_mm, _PIECES.left_mm + _PIECES.width_mm - _CUT.left_mm)


class _Cell(NamedTuple):
    column: _Column
    lines: tuple[str, ...]
    bold: bool


class _Row(NamedTuple):
    """What is told of some sizes under a title, which stands where it `opens` and again at the top of a page.

    A title of several lines hangs down beside the rows that come `after` it under the same title.
    """

    title: _Cell
    cells: tuple[_Cell, ...]
    opens: bool
    after: int

    def height_mm(self, titled: bool) -> float:
        own = max(len(cell.lines) for cell in self.cells)
        lines = max(own, len(self.title.lines) - self.after) if titled else own
        return _ROW_SPACE_MM + _LINE_STEP_MM * lines


def _height_mm(rows: list[_Row]) -> float:
    """What the first row takes with its title, and with the rows beside which the title hangs."""
    beside = min(rows[0].after, len(rows[0].title.lines) - 1)
    return rows[0].height_mm(titled=True) + sum(row.height_mm(titled=False) for row in rows[1 : 1 + beside])


def strips_pages(pattern: Pattern, rows: Iterable[StripRow], language: str) -> tuple[Scene, ...]:
    """A4 pages, inside what Letter shares: a block for all that can be cut as one; none without strips."""
    return _StripsPages(pattern, language).drawn(strip_blocks(pattern, rows))


class _StripsPages:
    def __init__(self, pattern: Pattern, language: str) -> None:
        self.pattern, self.language = pattern, language
        self.names = laid_names(pattern, language)
        self.by_view = False
        self.pages: list[list[Shape]] = []
        self.y = HEIGHT_MM

    def say(self, key: str, **values: object) -> str:
        return say(self.language, key, **values)

    def drawn(self, blocks: tuple[StripBlock, ...]) -> tuple[Scene, ...]:
        if not blocks:
            return ()
        self.by_view = any(block.view is not None for block in blocks)
        for number, block in enumerate(blocks):
            self._block(block, opens_view=number == 0 or block.view != blocks[number - 1].view)
        notes = [wrapped(note, _TEXT_MM, WIDTH_MM) for note in self._notes(blocks)]
        for lines in notes:
            if not self._fits(len(lines) * _LINE_STEP_MM + 1.0):
                self._open_page()
            for line in lines:
                self._text(Point(0, self.y + 3), line)
                self.y += _LINE_STEP_MM
            self.y += 1.0
        return tuple(self._page(number, body) for number, body in enumerate(self.pages, 1))

    def _page(self, number: int, body: list[Shape]) -> Scene:
        head = told_of(self.language, self.say("strips.head"), in_language(self.pattern.title, self.language))
        count = f" ({number}/{len(self.pages)})" if len(self.pages) > 1 else ""
        title = scene.text(Point(0, 6), *fitted([head + count], WIDTH_MM, 5.0, 2.0, bold=True), bold=True)
        return scene.of(-MARGIN_MM, -MARGIN_MM, PAGE_WIDTH_MM, PAGE_HEIGHT_MM, [title, *body])

    def _fits(self, height_mm: float) -> bool:
        return self.y + height_mm <= HEIGHT_MM

    def _open_page(self) -> None:
        self.pages.append([])
        self.y = _TOP_MM

    def _open_table(self) -> None:
        """A page that goes on with the table: its columns are headed once."""
        self._open_page()
        for key, column in _HEADS.items():
            told = fitted([self.say(key)], column.width_mm, _TEXT_MM, 1.5)
            self.pages[-1].append(scene.text(Point(column.left_mm, self.y + 3.6), *told))
        self.y += _COLUMNS_MM

    def _text(self, place: Point, content: str, bold: bool = False) -> None:
        self.pages[-1].append(scene.text(place, content, _TEXT_MM, bold=bold))

    def _rule(self, width_mm: float, left_mm: float = 0.0) -> None:
        self.pages[-1].append(scene.line(Point(left_mm, self.y), Point(WIDTH_MM, self.y), BLACK, width_mm))

    def _block(self, block: StripBlock, opens_view: bool) -> None:
        """A block stays on one page where a page holds it; each page that it goes on to repeats its heading."""
        rows = self._rows(block)
        head_mm = _BLOCK_MM + (_VIEW_MM if self.by_view else 0.0)
        whole_mm = head_mm + sum(row.height_mm(row.opens) for row in rows)
        least_mm = head_mm + _height_mm(rows)
        if not self._fits(whole_mm if _TOP_MM + _COLUMNS_MM + whole_mm <= HEIGHT_MM else least_mm):
            self._open_table()
            opens_view = True
        self._heading(block, opens_view)
        for number, row in enumerate(rows):
            titled = row.opens
            if number and not self._fits(_height_mm(rows[number:]) if titled else row.height_mm(titled)):
                self._rule(_RULE_MM)
                self._open_table()
                self._heading(block, opens_view=True)
                titled = True
            self._row(row, titled)
        self._rule(_RULE_MM)
        self.y += _APART_MM

    def _heading(self, block: StripBlock, opens_view: bool) -> None:
        if opens_view and self.by_view:
            title = self._view_title(block.view)
            self.pages[-1].append(
                scene.text(Point(0, self.y + 4), *fitted([title], WIDTH_MM, 4.0, 2.0, bold=True), bold=True)
            )
            self.y += _VIEW_MM
        material = in_language(self.pattern.materials[block.material].title, self.language)
        width = length_words(self.language, block.cut_width_mm, self.pattern.units)
        words = (
            material[:1].upper() + material[1:],
            self.say(f"strips.{block.grain}"),
            self.say("cloth.width", width=width),
        )
        told = fitted([", ".join(words)], WIDTH_MM, 3.2, 2.0, bold=True)
        self.pages[-1].append(scene.text(Point(0, self.y + 3.6), *told, bold=True))
        self.y += _BLOCK_MM

    def _view_title(self, view: str | None) -> str:
        if view is None:
            return told_of(self.language, self.say("table.views"), self.say("table.all-views"))
        return in_language(self.pattern.views[view].title, self.language)

    def _row(self, row: _Row, titled: bool) -> None:
        self._rule(_RULE_MM if titled else HAIRLINE_MM, 0.0 if titled else _SIZES.left_mm)
        for cell in (row.title, *row.cells) if titled else row.cells:
            for number, line in enumerate(cell.lines):
                self._text(Point(cell.column.left_mm, self.y + 3.6 + number * _LINE_STEP_MM), line, cell.bold)
        self.y += row.height_mm(titled)

    def _rows(self, block: StripBlock) -> list[_Row]:
        rows: list[_Row] = []
        for strip, lines in groupby(block.strips.items(), key=lambda line: line[0].strip):
            name = self.names[f"strips.{strip}"]
            told = [(sizes, self._figures(figures)) for figures, sizes in lines]
            rows.extend(self._group(f"{name.short} {name.title}", told))
        told = [
            (sizes, (self._cell(_TOTAL, self._length(total), bold=True),)) for total, sizes in block.together.items()
        ]
        rows.extend(self._group(self.say("strips.together"), told))
        told = [(sizes, self._square(square)) for square, sizes in block.squares.items()]
        rows.extend(self._group(self.say("strips.square-name"), told))
        return rows

    def _group(self, title: str, told: list[tuple[tuple[str, ...], tuple[_Cell, ...]]]) -> Iterator[_Row]:
        for number, (sizes, cells) in enumerate(told):
            of_sizes = self._cell(_SIZES, size_range(sizes, self.pattern), bold=True)
            yield _Row(self._title(title), (of_sizes, *cells), opens=number == 0, after=len(told) - number - 1)

    def _title(self, title: str) -> _Cell:
        lines = wrapped(title, _TEXT_MM, _STRIP.width_mm, bold=True)
        if len(lines) > _MOST_TITLE_LINES:
            rest = " ".join(lines[_MOST_TITLE_LINES - 1 :])
            lines[_MOST_TITLE_LINES - 1 :] = [fitted([rest], _STRIP.width_mm, _TEXT_MM, _TEXT_MM, bold=True)[0]]
        return _Cell(_STRIP, tuple(lines), bold=True)

    def _figures(self, figures: StripFigures) -> tuple[_Cell, ...]:
        times = self.say("lay.times", count=figures.count)
        return (
            self._cell(_CUT, f"{times} {self._length(figures.cut)}", bold=True),
            self._pieces(figures),
            self._cell(_TOTAL, self._length(figures.total)),
        )

    def _square(self, square: Square) -> tuple[_Cell, ...]:
        return (
            self._cell(_SQUARE, self.say("strips.square", side=self._length(square.side))),
            self._cell(_TOTAL, self._length(square.yields)),
        )

    def _pieces(self, figures: StripFigures) -> _Cell:
        joins = figures.pieces - 1
        if not joins:
            return self._cell(_PIECES, self.say("strips.one-piece"))
        allowance_mm = self.pattern.strips[figures.strip].join_mm
        assert allowance_mm is not None  # nothing else is cut in several pieces
        allowance = length_words(self.language, allowance_mm, self.pattern.units)
        return self._cell(
            _PIECES,
            self.say("strips.several-pieces", count=figures.pieces, length=self._length(figures.piece)),
            self.say("strips.join" if joins == 1 else "strips.joins", count=joins, allowance=allowance),
        )

    def _cell(self, column: _Column, *texts: str, bold: bool = False) -> _Cell:
        lines = [line for text in texts for line in wrapped(text, _TEXT_MM, column.width_mm, bold)]
        return _Cell(column, tuple(lines), bold)

    def _length(self, length: Rounded) -> str:
        metric, imperial = f"{length.metric_mm / 10:g} cm", imperial_text(length.imperial_mm)
        both = f"{metric} ({imperial})" if self.pattern.units == "metric" else f"{imperial} ({metric})"
        return in_decimals(self.language, both)

    def _notes(self, blocks: tuple[StripBlock, ...]) -> list[str]:
        keys = ["as-cut", "round"]
        if any(figures.pieces > 1 for block in blocks for figures in block.strips):
            keys.append("parted")
        if any(block.squares for block in blocks):
            keys.append("yields")
        return [self.say(f"strips.{key}") for key in keys]

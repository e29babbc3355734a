"""The lengths to buy in one language and both unit systems, on as many pages as keep them legible."""

from collections.abc import Iterator

import msgspec
from msgspec import UNSET

from pipeline.drawing import scene
from pipeline.drawing.cloth.lay_pages import PAGE_HEIGHT_MM, PAGE_WIDTH_MM
from pipeline.drawing.labels.block_layouts import NO_BREAK
from pipeline.drawing.scene import Scene, Shape
from pipeline.drawing.styles import BLACK
from pipeline.drawing.text_lines import fitted, wrapped
from pipeline.drawing.wording import in_decimals, told_of
from pipeline.geometry.points import Affine, Point
from pipeline.lays.lay import way_of
from pipeline.model.lengths import cloth_width
from pipeline.model.pattern import Pattern, in_language
from pipeline.tables.cloth import ClothLine
from pipeline.tables.cloth_heads import GAP_MM, heads
from pipeline.words import say

WIDTH_MM = 190.0
HEIGHT_MM = 259.0
"""The area that A4 and Letter share inside 10 mm margins (190 x 259.4 mm, calculated)."""
MARGIN_MM = 10.0
_SIZE_COLUMN_MM = 18.0
_TALLEST_ROW_MM, _LEAST_ROW_MM = 9.0, 7.0
_LINE_MM = 0.15
_NOTES_MM = 24.0


_TOLD = {"fold": "folded", "two-folds": "two-folds", "partial-fold": "partial-fold", "open": "one-layer"}
_GRANTED = ("fold", "open")
_MARKS = {"open": "*", "one-layer": "°", "two-folds": "†", "partial-fold": "‡", "folded": "#"}


class _Column(msgspec.Struct, frozen=True):
    material: str
    width_mm: float
    one_way: bool
    repeat: bool = False


def cloth_pages(pattern: Pattern, lines: tuple[ClothLine, ...], language: str) -> tuple[Scene, ...]:
    """A4 pages, inside what Letter shares: a table a view, a row a size, a column a width; views share a page as long
    as no letter is under six points."""
    pages: list[_ClothPage] = []
    for part in _parts(pattern, lines, language):
        together = _ClothPage(pattern, (*(pages[-1].lines if pages else ()), *part), language)
        if pages and together.is_legible:
            pages[-1] = together
        else:
            pages.append(_ClothPage(pattern, part, language))
    return tuple(scene.of(-MARGIN_MM, -MARGIN_MM, PAGE_WIDTH_MM, PAGE_HEIGHT_MM, page.body()) for page in pages)


def _parts(pattern: Pattern, lines: tuple[ClothLine, ...], language: str) -> Iterator[tuple[ClothLine, ...]]:
    """What stays together: a view, or of one with too many sizes for a page as few runs of them as there must be."""
    for view in dict.fromkeys(line.row.view for line in lines):
        own = tuple(line for line in lines if line.row.view == view)
        sizes = [size for size in pattern.sizes if any(line.row.size == size for line in own)]
        for count in range(1, len(sizes) + 1):
            each = -(-len(sizes) // count)
            runs = [set(sizes[at : at + each]) for at in range(0, len(sizes), each)]
            parts = [tuple(line for line in own if line.row.size in run) for run in runs]
            if count == len(sizes) or all(_ClothPage(pattern, part, language).is_legible for part in parts):
                yield from parts
                break


class _ClothPage:
    def __init__(self, pattern: Pattern, lines: tuple[ClothLine, ...], language: str) -> None:
        self.pattern, self.lines, self.language = pattern, lines, language
        self.views = tuple(dict.fromkeys(line.row.view for line in lines))
        self.columns = {view: self._columns(view) for view in self.views}
        self.heads = {
            view: heads([self._told(column) for column in columns], WIDTH_MM - _SIZE_COLUMN_MM)
            for view, columns in self.columns.items()
        }
        rows = sum(len({line.row.size for line in lines if line.row.view == view}) for view in self.views)
        above = sum(own.height_mm + 8 for own in self.heads.values())
        self.row_mm = min(_TALLEST_ROW_MM, (HEIGHT_MM - 12 - _NOTES_MM - above) / max(1, rows))

    @property
    def is_legible(self) -> bool:
        """Whether both lines of a row are at least as high as six points."""
        return self.row_mm >= _LEAST_ROW_MM

    def say(self, key: str, **values: object) -> str:
        return say(self.language, key, **values)

    def body(self) -> list[Shape]:
        head = told_of(self.language, self.say("cloth.head"), in_language(self.pattern.title, self.language))
        drawn: list[Shape] = [scene.text(Point(0, 6), *fitted([head], WIDTH_MM, 5.0, 2.0, bold=True), bold=True)]
        y = 12.0
        for view in self.views:
            if view is not None:
                title = in_language(self.pattern.views[view].title, self.language)
                drawn.append(scene.text(Point(0, y + 4), *fitted([title], WIDTH_MM, 3.6, 2.0, bold=True), bold=True))
                y += 6.0
            y = self._table(drawn, view, y) + 4.0
        for note in self._notes():
            for text in wrapped(note, 2.5, WIDTH_MM):
                y += 3.8
                drawn.append(scene.text(Point(0, y), text, 2.5))
        return drawn

    def _columns(self, view: str | None) -> tuple[_Column, ...]:
        shown = (line for line in self.lines if line.row.view == view)
        return tuple(dict.fromkeys(column for line in shown for (column, _), _ in _cells(line)))

    def _told(self, column: _Column) -> tuple[str, str, str]:
        """What stands over a column: the material, its width, and how it lies or what is bought with it."""
        material = in_language(self.pattern.materials[column.material].title, self.language)
        width = in_decimals(self.language, cloth_width(column.width_mm, self.pattern.units))
        width = width.replace(" ", NO_BREAK).replace(f"{NO_BREAK}(", " (")  # a number and its unit on one line
        besides = [self.say("cloth.one-way")] * column.one_way + [self.say("cloth.with-repeat")] * column.repeat
        return material, self.say("cloth.width", width=width), ", ".join(besides)

    def _table(self, drawn: list[Shape], view: str | None, top: float) -> float:
        lines = [line for line in self.lines if line.row.view == view]
        cells = {key: line for one in lines for key, line in _cells(one)}
        head = self.heads[view]
        right = _SIZE_COLUMN_MM + head.right_mm
        drawn.append(scene.text(Point(0, top + head.height_mm - 3), self.say("size.name"), 2.8, bold=True))
        drawn.append(scene.group(head.texts, Affine(1, 0, 0, 1, _SIZE_COLUMN_MM, top)))
        y = top + head.height_mm
        for size in self.pattern.sizes:
            if not any((column, size) in cells for column in self.columns[view]):
                continue
            drawn.append(scene.line(Point(0, y), Point(right, y), BLACK, _LINE_MM))
            middle = y + self.row_mm / 2
            drawn.append(scene.text(Point(0, middle + 1), *fitted([size], _SIZE_COLUMN_MM - 1, 3.0, 1.5), bold=True))
            for column, x, wide in zip(self.columns[view], head.middles_mm, head.widths_mm, strict=True):
                if (column, size) in cells:
                    self._cell(drawn, cells[column, size], _SIZE_COLUMN_MM + x, middle, wide)
            y += self.row_mm
        drawn.append(scene.line(Point(0, y), Point(right, y), BLACK, _LINE_MM))
        return y

    def _cell(self, drawn: list[Shape], line: ClothLine, x: float, middle: float, wide: float) -> None:
        metric_first = self.pattern.units == "metric"
        metric = in_decimals(self.language, line.row.metric)
        first, second = (metric, line.row.imperial) if metric_first else (line.row.imperial, metric)
        marks = (_MARKS[way] if (way := self._way(line)) else "") + ("+" if line.raised_to is not None else "")
        big = min(3.0, self.row_mm * 0.36)
        drawn.append(scene.text(Point(x, middle - 0.3), *fitted([first + marks], wide - GAP_MM, big, 1.0), "middle"))
        drawn.append(scene.text(Point(x, middle + big), *fitted([second], wide - GAP_MM, big * 0.85, 1.0), "middle"))

    def _way(self, line: ClothLine) -> str | None:
        """The key of what is told of the way of laying; nothing of the way that the designer named first, where that
        is one that buyers take for granted."""
        way, ways = way_of(line.row.fold), self.pattern.materials[line.row.material].ways
        if way not in ways:
            return "open"
        return None if way == ways[0] and way in _GRANTED else _TOLD[way]

    def _notes(self) -> list[str]:
        notes = [self.say("cloth.round"), self.say("cloth.selvedge")]
        told = {self._way(line) for line in self.lines}
        notes += [self.say(f"cloth.{way}-mark") for way in _MARKS if way in told]
        if any(line.raised_to is not None for line in self.lines):
            notes.append(self.say("cloth.raised-mark"))
        if any(line.row.repeat_metric is not UNSET for line in self.lines):
            notes.append(self.say("cloth.repeat-mark"))
        return notes


def _cells(line: ClothLine) -> Iterator[tuple[tuple[_Column, str], ClothLine]]:
    """A cell for what is bought, and one beside it for what is bought of cloth with a repeat."""
    row = line.row
    yield (_Column(row.material, row.width_mm, row.one_way), row.size), line
    if row.repeat_metric is not UNSET and row.repeat_imperial is not UNSET:
        told = msgspec.structs.replace(row, metric=row.repeat_metric, imperial=row.repeat_imperial)
        own = msgspec.structs.replace(line, row=told, raised_to=None)
        yield (_Column(row.material, row.width_mm, row.one_way, repeat=True), row.size), own

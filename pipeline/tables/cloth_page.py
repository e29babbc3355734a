"""The lengths to buy on one page, in one language and both unit systems: for the booklet and for a listing."""

from collections.abc import Iterator

import msgspec
from msgspec import UNSET

from pipeline.drawing import scene
from pipeline.drawing.cloth.lay_pages import PAGE_HEIGHT_MM, PAGE_WIDTH_MM
from pipeline.drawing.lay_names import cloth_width
from pipeline.drawing.scene import Scene, Shape
from pipeline.drawing.styles import BLACK
from pipeline.drawing.text_lines import fitted, wrapped
from pipeline.drawing.wording import in_decimals, told_of
from pipeline.geometry.points import Point
from pipeline.lays.lay import way_of
from pipeline.model.pattern import Pattern, in_language
from pipeline.tables.cloth import ClothLine
from pipeline.words import say

WIDTH_MM = 190.0
HEIGHT_MM = 259.0
"""The area that A4 and Letter share inside 10 mm margins (190 x 259.4 mm, calculated)."""
MARGIN_MM = 10.0
_SIZE_COLUMN_MM = 18.0
_HEAD_MM = 16.0
_TALLEST_ROW_MM = 9.0
_LINE_MM = 0.15
_NOTES_MM = 24.0
_NAME_MM, _LEAST_MM = 2.6, 2.12
"""A material's name above its column: 6 pt at least, in two lines where one has no room."""


_TOLD = {"fold": "folded", "two-folds": "two-folds", "partial-fold": "partial-fold", "open": "one-layer"}
_GRANTED = ("fold", "open")
_MARKS = {"open": "*", "one-layer": "°", "two-folds": "†", "partial-fold": "‡", "folded": "#"}


class _Column(msgspec.Struct, frozen=True):
    material: str
    width_mm: float
    one_way: bool
    repeat: bool = False


def cloth_page(pattern: Pattern, lines: tuple[ClothLine, ...], language: str) -> Scene:
    """An A4 page, inside what Letter shares: a table a view, a row a size, a column a width."""
    page = _ClothPage(pattern, lines, language)
    return scene.of(-MARGIN_MM, -MARGIN_MM, PAGE_WIDTH_MM, PAGE_HEIGHT_MM, page.body())


class _ClothPage:
    def __init__(self, pattern: Pattern, lines: tuple[ClothLine, ...], language: str) -> None:
        self.pattern, self.lines, self.language = pattern, lines, language
        self.views = tuple(dict.fromkeys(line.row.view for line in lines))
        rows = sum(len({line.row.size for line in lines if line.row.view == view}) for view in self.views)
        blocks = max(1, len(self.views))
        self.row_mm = min(_TALLEST_ROW_MM, (HEIGHT_MM - 12 - _NOTES_MM - blocks * (_HEAD_MM + 8)) / max(1, rows))

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

    def _table(self, drawn: list[Shape], view: str | None, top: float) -> float:
        lines = [line for line in self.lines if line.row.view == view]
        cells = {key: line for one in lines for key, line in _cells(one)}
        columns = tuple(dict.fromkeys(column for column, _ in cells))
        wide = min(34.0, (WIDTH_MM - _SIZE_COLUMN_MM) / len(columns))
        right = _SIZE_COLUMN_MM + wide * len(columns)
        drawn.append(scene.text(Point(0, top + _HEAD_MM - 3), self.say("size.name"), 2.8, bold=True))
        for number, column in enumerate(columns):
            self._head(drawn, column, _SIZE_COLUMN_MM + wide * (number + 0.5), top, wide)
        y = top + _HEAD_MM
        for size in self.pattern.sizes:
            if not any((column, size) in cells for column in columns):
                continue
            drawn.append(scene.line(Point(0, y), Point(right, y), BLACK, _LINE_MM))
            middle = y + self.row_mm / 2
            drawn.append(scene.text(Point(0, middle + 1), *fitted([size], _SIZE_COLUMN_MM - 1, 3.0, 1.5), bold=True))
            for number, column in enumerate(columns):
                if (column, size) in cells:
                    self._cell(drawn, cells[column, size], _SIZE_COLUMN_MM + wide * (number + 0.5), middle, wide)
            y += self.row_mm
        drawn.append(scene.line(Point(0, y), Point(right, y), BLACK, _LINE_MM))
        return y

    def _head(self, drawn: list[Shape], column: _Column, x: float, top: float, wide: float) -> None:
        material = in_language(self.pattern.materials[column.material].title, self.language)
        width = in_decimals(self.language, cloth_width(column.width_mm, self.pattern.units))
        named, size = fitted([material], wide - 1.5, _NAME_MM, _LEAST_MM, bold=True)
        lines = [named]
        if named != material:
            size = _LEAST_MM
            first, *rest = wrapped(material, size, wide - 1.5, bold=True)
            lines = [first, fitted([" ".join(rest)], wide - 1.5, size, _LEAST_MM, bold=True)[0]]
        for number, text in enumerate(reversed(lines)):
            drawn.append(scene.text(Point(x, top + 4 - 1.1 * size * number), text, size, "middle", 0.0, True))
        besides = [self.say("cloth.one-way")] * column.one_way + [self.say("cloth.with-repeat")] * column.repeat
        for number, text in enumerate((self.say("cloth.width", width=width), ", ".join(besides))):
            if text:
                place = Point(x, top + 8.2 + 4.2 * number)
                drawn.append(scene.text(place, *fitted([text], wide - 1.5, _NAME_MM, 1.4), "middle"))

    def _cell(self, drawn: list[Shape], line: ClothLine, x: float, middle: float, wide: float) -> None:
        metric_first = self.pattern.units == "metric"
        metric = in_decimals(self.language, line.row.metric)
        first, second = (metric, line.row.imperial) if metric_first else (line.row.imperial, metric)
        marks = (_MARKS[way] if (way := self._way(line)) else "") + ("+" if line.raised_to is not None else "")
        big = min(3.0, self.row_mm * 0.36)
        drawn.append(scene.text(Point(x, middle - 0.3), *fitted([first + marks], wide - 1.5, big, 1.0), "middle"))
        drawn.append(scene.text(Point(x, middle + big), *fitted([second], wide - 1.5, big * 0.85, 1.0), "middle"))

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

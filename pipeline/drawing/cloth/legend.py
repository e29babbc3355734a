"""What stands under a cloth, set in one column or in several, so that the cloth keeps its room.

Several languages stand side by side, each in a column of its own; one language alone runs on from column to column.
"""

from collections.abc import Iterator, Sequence

import msgspec

from pipeline.drawing import scene
from pipeline.drawing.cloth.lay_marks import SMALL_MM
from pipeline.drawing.scene import Text
from pipeline.drawing.text_lines import wrapped
from pipeline.geometry.points import Point

LEADING = 1.35
_MOST_COLUMNS = 3
"""On a page of 190 mm: a fourth would break the count of a piece into three lines and more."""
GAP_MM = 6.0
_INDENT_MM = 3.0
"""Of a second line in a column, where most sentences have one."""
_BLOCK_MM = 1.5
_FOOT_MM = 2.0


class Legend(msgspec.Struct, frozen=True):
    """Lines from y = 0 on, and how high they are with what is left free under them."""

    height_mm: float
    lines: tuple[Text, ...]


Told = Sequence[Sequence[str]]
"""What each language says, a text a piece."""


def legends(told: Told, width_mm: float) -> tuple[Legend, ...]:
    """The settings of a legend as wide as a page, from one column to three.

    Of several languages no more columns than languages: a line of them stands above the next.
    """
    most = _MOST_COLUMNS if len(told) == 1 else min(_MOST_COLUMNS, len(told))
    return tuple(_in_columns(told, columns, width_mm) for columns in range(1, most + 1))


def legend_in_column(told: Told, width_mm: float) -> Legend:
    """A legend in one narrow column, a language under the other."""
    return _set([[list(_rows(texts, width_mm, _INDENT_MM))] for texts in told], 0.0)


def _in_columns(told: Told, columns: int, width_mm: float) -> Legend:
    wide = (width_mm - GAP_MM * (columns - 1)) / columns
    set_in = [list(_rows(texts, wide, _INDENT_MM if columns > 1 else 0.0)) for texts in told]
    if len(told) == 1:
        return _set([_run_on(set_in[0], columns)], wide + GAP_MM)
    return _set([set_in[start : start + columns] for start in range(0, len(told), columns)], wide + GAP_MM)


def _set(blocks: Sequence[Sequence[Sequence["_Entry"]]], step_mm: float) -> Legend:
    """Blocks of columns, one under the other; columns of a block `step_mm` apart."""
    lines: list[Text] = []
    top = 0.0
    for columns in blocks:
        for number, entries in enumerate(columns):
            lines += _column([row for entry in entries for row in entry], number * step_mm, top)
        top += max(sum(map(len, entries)) for entries in columns) * SMALL_MM * LEADING + _BLOCK_MM
    return Legend(top + _FOOT_MM, tuple(lines))


_Entry = list[tuple[float, str]]
"""The lines of one text, each with how far it is indented, in mm."""


def _rows(texts: Sequence[str], wide_mm: float, indent_mm: float) -> Iterator[_Entry]:
    for content in texts:
        first, *rest = wrapped(content, SMALL_MM, wide_mm)
        more = wrapped(" ".join(rest), SMALL_MM, wide_mm - indent_mm) if rest and indent_mm else rest
        yield [(0.0, first), *((indent_mm, line) for line in more)]


def _run_on(entries: list[_Entry], columns: int) -> list[list[_Entry]]:
    """Entries in columns as even as can be: none is parted."""
    least = max(max(map(len, entries)), -(-sum(map(len, entries)) // columns))
    while len(parted := _filled(entries, least)) > columns:
        least += 1
    return parted


def _filled(entries: list[_Entry], lines: int) -> list[list[_Entry]]:
    found: list[list[_Entry]] = [[]]
    for entry in entries:
        if sum(map(len, found[-1])) + len(entry) > lines:
            found.append([])
        found[-1].append(entry)
    return found


def _column(rows: Sequence[tuple[float, str]], left_mm: float, top_mm: float) -> Iterator[Text]:
    for number, (indent_mm, content) in enumerate(rows, 1):
        yield scene.text(Point(left_mm + indent_mm, top_mm + number * SMALL_MM * LEADING), content, SMALL_MM)

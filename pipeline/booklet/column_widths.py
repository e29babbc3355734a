"""How wide the columns of a booklet's tables are: no word of a row is parted, and none of a heading where a page has
room for all of them."""

from collections.abc import Sequence
from typing import Literal, NamedTuple

from pipeline.booklet.unbroken import NO_BREAK, unbroken
from pipeline.drawing.fonts import text_width_mm

WordsFit = Literal["no", "rows", "all"]
"""Of which words of a table it is sure that none needs parting."""
TableLook = Literal["plain", "close", "closest"]
"""How close columns are set."""
_WHOLE = 1.0
_PARTED = 0.65
"""What of a heading's longest word needs room where it may be parted by the language's rules (estimated)."""
_LONG_WORD = 8
_TRIED: tuple[tuple[float, int], ...] = (
    *((_WHOLE, 2), (_WHOLE, 3), (_PARTED, 2), (_PARTED, 3)),
    *((_WHOLE, 4), (_PARTED, 4), (_WHOLE, 99), (_PARTED, 99)),
)
"""What is tried in this order: headings whole or parted, and in how many lines a size is told."""


class Look(NamedTuple):
    """How a table is set: the room of a page, the heights of texts, and the room beside them, in mm."""

    name: TableLook
    page_mm: float
    head_mm: float
    cell_mm: float
    inset_mm: float


class ColumnTexts(NamedTuple):
    """What needs room in a column: its own heading, what is told in lines that are not parted, and the heading that it
    shares with so many columns."""

    head: str
    told: tuple[str, ...]
    group: str = ""
    shared_by: int = 1


class Widths(NamedTuple):
    """Widths in mm, that of the sizes first, which words fit in them, and of each whether its heading may be parted."""

    widths_mm: tuple[float, ...]
    fit: WordsFit
    parted: tuple[bool, ...]


def column_widths(size_head: str, sizes: Sequence[str], columns: Sequence[ColumnTexts], look: Look) -> Widths | None:
    """The widths that the columns need; None where a page does not hold them side by side."""
    for share, lines in _TRIED:
        whole, parted = (_all_mm(size_head, sizes, columns, look, tried, lines) for tried in (_WHOLE, share))
        if sum(parted) <= look.page_mm:
            return _fewest_parted(whole, parted, look.page_mm)
    return None


def _all_mm(
    size_head: str, sizes: Sequence[str], columns: Sequence[ColumnTexts], look: Look, share: float, lines: int
) -> tuple[float, ...]:
    """What the columns need where so much of a heading's longest word does, and a size is told in so many lines."""
    head_mm = _longest_mm(size_head, look.head_mm, share)
    first = max(head_mm, *(_in_lines_mm(size, lines, look) for size in sizes)) + look.inset_mm
    return first, *(_needed_mm(column, share, look) for column in columns)


def _fewest_parted(whole: tuple[float, ...], parted: tuple[float, ...], page_mm: float) -> Widths:
    """Headings are parted one by one, that which gains most first, until the page holds all columns."""
    widths = list(whole)
    for place in sorted(range(len(whole)), key=lambda place: parted[place] - whole[place]):
        if sum(widths) <= page_mm:
            break
        widths[place] = parted[place]
    shrunk = tuple(width < own for width, own in zip(widths, whole, strict=True))
    return Widths(tuple(widths), "rows" if any(shrunk) else "all", shrunk)


def least_widths(size_head: str, sizes: Sequence[str], columns: Sequence[ColumnTexts], look: Look) -> Widths:
    """What columns of which a page does not hold even one beside the sizes get: words are parted."""
    first = max(_longest_mm(text, look.cell_mm) for text in (size_head, *sizes)) + look.inset_mm
    widths = first, *(_needed_mm(column, _PARTED, look) for column in columns)
    return Widths(widths, "no", tuple(True for _ in widths))


def _needed_mm(column: ColumnTexts, share: float, look: Look) -> float:
    group = _longest_mm(column.group, look.head_mm, share) / column.shared_by
    told = (text_width_mm(line, look.cell_mm) for line in column.told)
    return max(_longest_mm(column.head, look.head_mm, share), group, *told) + look.inset_mm


def _longest_mm(text: str, size_mm: float, share: float = _WHOLE) -> float:
    """The longest word in bold; of one that may be parted its longest part. Short words and lengths never are."""
    words = unbroken(text).split(" ")
    parted = {word: len(word.rstrip(",;:")) >= _LONG_WORD and NO_BREAK not in word for word in words}
    return max(text_width_mm(word, size_mm, bold=True) * (share if parted[word] else _WHOLE) for word in words)


def _in_lines_mm(text: str, lines: int, look: Look) -> float:
    """The least width at which a text in bold stands in so many lines, its words whole."""
    words = unbroken(text).split(" ")
    runs = {
        text_width_mm(" ".join(words[start:end]), look.cell_mm, bold=True)
        for start in range(len(words))
        for end in range(start + 1, len(words) + 1)
    }
    longest = _longest_mm(text, look.cell_mm)
    return min(run for run in runs if run >= longest and _lines(words, run, look.cell_mm) <= lines)


def _lines(words: Sequence[str], width_mm: float, size_mm: float) -> int:
    count, line = 1, words[0]
    for word in words[1:]:
        if text_width_mm(f"{line} {word}", size_mm, bold=True) <= width_mm:
            line = f"{line} {word}"
        else:
            count, line = count + 1, word
    return count

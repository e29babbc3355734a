"""The lines of a text block, broken to ever narrower widths."""

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from pipeline.drawing.fonts import text_width_mm
from pipeline.drawing.wording import SEPARATOR

NO_BREAK = "\u00a0"
_LEADING = 1.3
_ASCENT = 0.95
_SLOT_GAP = 0.6
_WIDTHS = (70.0, 34.0, 24.0, 17.0, 12.0, 8.0)
"""Widths at which lines are broken, in text sizes."""


class Words(NamedTuple):
    """One line of the block: its text, the sizes that show it, its weight and its height against the base text.

    `slots` are sizes that are written after the text, each shown in its own size, or values for several. A `vital` line
    stands in the shortest block too.
    """

    text: str
    sizes: tuple[str, ...]
    scale: float = 1.0
    bold: bool = False
    slots: tuple[tuple[str, tuple[str, ...]], ...] = ()
    vital: bool = False


class _Part(NamedTuple):
    """A word, or words that are not parted."""

    text: str
    sizes: tuple[str, ...]
    bold: bool


class Run(NamedTuple):
    """Text at a place of the unit block (text size 1), from its left end on the baseline."""

    text: str
    x: float
    y: float
    scale: float
    bold: bool
    sizes: tuple[str, ...]


class Layout(NamedTuple):
    """A block at text size 1."""

    width: float
    height: float
    runs: tuple[Run, ...]


def layouts_of(words: Sequence[Words], flowed: bool = False, widths: Sequence[float] = _WIDTHS) -> tuple[Layout, ...]:
    """The block broken to ever narrower widths, each different shape once; `flowed`: all of it as one paragraph."""
    paragraphs = [(_parts(line), line.scale) for line in words]
    if flowed:
        parts = [part for line in words for part in (*_parts(line), _Part(SEPARATOR.strip(), line.sizes, False))]
        paragraphs = [(parts[:-1], 1.0)]
    found: dict[tuple[float, float], Layout] = {}
    for width in widths:
        layout = _broken(paragraphs, width)
        if layout.width <= width or not found:
            found.setdefault((round(layout.width, 6), round(layout.height, 6)), layout)
    return tuple(found.values())


def _parts(line: Words) -> list[_Part]:
    words = [_Part(word.replace(NO_BREAK, " "), line.sizes, line.bold) for word in line.text.split(" ")]
    return words + [_Part(name, sizes, line.bold) for name, sizes in line.slots]


def _broken(paragraphs: Sequence[tuple[Sequence[_Part], float]], width: float) -> Layout:
    runs: list[Run] = []
    y = 0.0
    for parts, scale in paragraphs:
        for line in _lines(parts, scale, width):
            y += _LEADING * scale
            baseline = y - (_LEADING - _ASCENT) * scale
            runs.extend(Run(part.text, x, baseline, scale, part.bold, part.sizes) for part, x in line)
    right = max(run.x + text_width_mm(run.text, run.scale, run.bold) for run in runs)
    return Layout(right, y, tuple(runs))


def _lines(parts: Sequence[_Part], scale: float, width: float) -> Iterator[list[tuple[_Part, float]]]:
    """Broken lines as texts with their left ends; words that show in the same sizes and weight stay one text."""
    line: list[tuple[_Part, float]] = []
    for part in parts:
        if line:
            last, x = line[-1]
            alike = last.sizes == part.sizes and last.bold == part.bold
            together = part._replace(text=f"{last.text} {part.text}") if alike else part
            start = x if alike else x + text_width_mm(last.text, scale, last.bold) + _SLOT_GAP * scale
            if start + text_width_mm(together.text, scale, together.bold) <= width:
                line[-1:] = [(together, x)] if alike else [line[-1], (part, start)]
                continue
            yield line
        line = [(part, 0.0)]
    yield line

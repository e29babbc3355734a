"""The heads of columns of cloth: what it is, how wide, and how it lies, in lines that keep apart and part no word."""

from collections.abc import Iterator, Sequence
from itertools import accumulate

import msgspec

from pipeline.drawing import scene
from pipeline.drawing.fonts import text_width_mm
from pipeline.drawing.labels.block_layouts import NO_BREAK
from pipeline.drawing.scene import Text
from pipeline.drawing.text_lines import unbroken, wrapped
from pipeline.geometry.points import Point

WIDEST_MM = 34.0
GAP_MM = 3.0
"""Between what stands in one column and in the next, at least."""
_NAME_MM, _LEAST_MM = 2.6, 2.12
"""6 pt at least."""
_LEADING = 1.1
_FIRST_MM, _STEP_MM, _FOOT_MM = 4.0, 4.2, 3.6
"""Down to the last line of the first band, from band to band, and under the last one."""


class Heads(msgspec.Struct, frozen=True):
    """What stands over columns, from y = 0 and from the first one's left side on, and how wide each column is."""

    widths_mm: tuple[float, ...]
    height_mm: float
    texts: tuple[Text, ...]

    @property
    def right_mm(self) -> float:
        """All columns together."""
        return sum(self.widths_mm)

    @property
    def middles_mm(self) -> tuple[float, ...]:
        """The middle of each column."""
        return tuple(end - wide / 2 for end, wide in zip(accumulate(self.widths_mm), self.widths_mm, strict=True))


def heads(told: Sequence[tuple[str, str, str]], room_mm: float) -> Heads:
    """Heads of three bands (the first one bold) in `room_mm`; a column as wide as the others where its words have
    room in that, else as wide as its longest word."""
    widths = tuple(_widths(told, room_mm))
    bands = [_band([column[band] for column in told], widths, bold=band == 0) for band in range(3)]
    (first_size, first), *_ = bands
    y = _FIRST_MM + _LEADING * first_size * (max(map(len, first)) - 1)
    middles = Heads(widths, 0.0, ()).middles_mm
    texts = list(_placed(first, first_size, middles, y, upward=True, bold=True))
    for size, lines in bands[1:]:
        texts += _placed(lines, size, middles, y + _STEP_MM)
        y += _STEP_MM + _LEADING * size * max(0, max(map(len, lines)) - 1)
    return Heads(widths, y + _FOOT_MM, tuple(texts))


def _widths(told: Sequence[tuple[str, str, str]], room_mm: float) -> Iterator[float]:
    """Equal, or what words need and an equal share of the rest."""
    even = min(WIDEST_MM, room_mm / len(told))
    needs = [max(_longest(text, _LEAST_MM, bold=not band) for band, text in enumerate(column)) for column in told]
    needs = [need + GAP_MM for need in needs]
    if max(needs) <= even or sum(needs) > room_mm:
        yield from (even for _ in needs)
    else:
        more = min(WIDEST_MM * len(told), room_mm) - sum(needs)
        yield from (need + max(0.0, more) / len(needs) for need in needs)


def _longest(text: str, size_mm: float, bold: bool) -> float:
    return max(text_width_mm(word, size_mm, bold) for word in unbroken(text))


def _band(texts: Sequence[str], widths: Sequence[float], bold: bool) -> tuple[float, list[list[str]]]:
    """The size of letters in which all words have room, and the lines of each column."""
    rooms = [wide - GAP_MM for wide in widths]
    shares = [room / max(_longest(text, 1.0, bold), 1e-9) for text, room in zip(texts, rooms, strict=True)]
    size = max(_LEAST_MM, min(_NAME_MM, *shares))
    lines = [wrapped(text, size, room, bold) if text else [] for text, room in zip(texts, rooms, strict=True)]
    return size, lines


def _placed(
    columns: Sequence[Sequence[str]],
    size: float,
    middles: Sequence[float],
    y: float,
    upward: bool = False,
    bold: bool = False,
) -> Iterator[Text]:
    """Lines of each column from y on, or up to it."""
    for lines, middle in zip(columns, middles, strict=True):
        for number, text in enumerate(reversed(lines) if upward else lines):
            down = _LEADING * size * (-number if upward else number)
            yield scene.text(Point(middle, y + down), text.replace(NO_BREAK, " "), size, "middle", 0.0, bold)

"""The text block of a piece: its lines broken to a width, and the largest size at which it finds room."""

from collections.abc import Iterator, Sequence
from functools import cache
from typing import NamedTuple

import shapely
import shapely.affinity

from pipeline.drawing import scene
from pipeline.drawing.fonts import text_width_mm
from pipeline.drawing.free_area import FreeArea, Rectangle
from pipeline.drawing.ink import Ink
from pipeline.drawing.wording import SEPARATOR
from pipeline.geometry.points import Point

NO_BREAK = "\u00a0"
_LEADING = 1.3
_ASCENT = 0.95
_WIDTHS = (70.0, 34.0, 24.0, 17.0, 12.0, 8.0)
"""Widths at which lines are broken, in text sizes."""
_AFAR_WIDTHS = (70.0, 45.0, 34.0, 28.0, 24.0, 20.0, 17.0, 14.0, 12.0, 10.0, 8.0)
_SCALES = (1.0, 0.9, 0.8, 0.7, 0.6, 0.52)
"""The least is 6 pt and a little more, of the block of a piece on paper."""
_SLOT_GAP = 0.6
_AFAR_MM = (14.0, 12.5, 11.0, 10.0, 9.0, 8.0)
"""Text sizes that are read from standing height."""
LEAST_READ_AFAR_MM = _AFAR_MM[-1]
_LEAST_AFAR_MM = (7.0, 6.0, 5.0)
_TINY_MM = (4.0, 3.2, 2.5, 2.0)
_NUMBER_MM = (4.0, 3.2, 2.6, 2.2)
"""The least is 6 pt and a little more."""


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


class _Run(NamedTuple):
    """Text at a place of the unit block (text size 1), from its left end on the baseline."""

    text: str
    x: float
    y: float
    scale: float
    bold: bool
    sizes: tuple[str, ...]


class _Layout(NamedTuple):
    """A block at text size 1."""

    width: float
    height: float
    runs: tuple[_Run, ...]


def block_ink(
    words: Sequence[Words],
    shorter: Sequence[Sequence[Words]],
    free: Sequence[shapely.Geometry],
    wanted: shapely.Geometry | None,
    base_mm: float,
    fill: str,
) -> tuple[Ink, ...] | None:
    """The block inside a free area, first where the designer wants it; None where not even the shortest has room.

    Where it has no room in six points it is said `shorter`, never smaller.

    `free` are areas, the dearest first: in all but the last the block is tried upright, line by line before its lines
    flow into one paragraph, then the first two of the `shorter`. `base_mm` is the text size of a plain line where there
    is room. The block stands upright; only on a piece too narrow for small text it is turned a quarter, to be read
    from the right.
    """
    for layouts, scales, searches in _stages(words, shorter, free, wanted):
        found = _largest(layouts, [scale * base_mm for scale in scales], searches)
        if found is not None:
            return tuple(_inks(*found, fill))
    return None


def terse_block_ink(
    wordings: tuple[tuple[Words, ...], tuple[Words, ...], tuple[Words, ...]],
    free: shapely.Geometry,
    wanted: shapely.Geometry | None,
    fill: str,
) -> tuple[Ink, ...] | None:
    """The block that is read from afar, first where the designer wants it; None where no wording has room.

    `wordings`: in all languages, in the first alone, and the least. The first two are tried at sizes that are read
    well, upright, then turned to be read from the right; then the last two smaller; then the name and what is vital,
    this at any size.
    """
    for layouts, sizes_mm, searches in _stages_afar(wordings, free, wanted):
        found = _largest(layouts, sizes_mm, searches)
        if found is not None:
            return tuple(_inks(*found, fill))
    return None


def number_ink(
    text: str, sizes: tuple[str, ...], free: shapely.Geometry, ground: shapely.Geometry, fill: str, afar: bool = False
) -> tuple[Ink, ...]:
    """A piece's number alone, for one too small for any words; across its lines where nothing else is free.

    A piece is never without a name: the lists of pieces say the rest. What is read from `afar` is as large as it can.
    """
    sizes_mm = _AFAR_MM + _LEAST_AFAR_MM + _NUMBER_MM if afar else _NUMBER_MM
    layouts = _layouts((Words(text, sizes, bold=True),))
    turned = FreeArea(shapely.affinity.rotate(free, 90, origin=(0, 0)))
    found = _largest(layouts, sizes_mm, [(FreeArea(free), False), (turned, True)])
    if found is None:
        size_mm, middle = _NUMBER_MM[-1], ground.representative_point()
        width, height = layouts[0].width * size_mm, layouts[0].height * size_mm
        found = layouts[0], size_mm, Rectangle(middle.x - width / 2, middle.y - height / 2, width, height), False
    return tuple(_inks(*found, fill))


def _stages_afar(
    wordings: Sequence[tuple[Words, ...]], free: shapely.Geometry, wanted: shapely.Geometry | None
) -> Iterator[tuple[Sequence[_Layout], tuple[float, ...], list[tuple[FreeArea, bool]]]]:
    """What is tried, one after the other, as in `_stages`; what is not reached is not made."""

    @cache
    def area(quarter: bool) -> tuple[FreeArea, bool]:
        return FreeArea(shapely.affinity.rotate(free, 90, origin=(0, 0)) if quarter else free, even=True), quarter

    @cache
    def layouts(words: tuple[Words, ...]) -> tuple[_Layout, ...]:
        return _layouts(words, widths=_AFAR_WIDTHS)

    *well, least = wordings
    for words in dict.fromkeys(well):
        if wanted is not None:
            yield layouts(words), _AFAR_MM, [(FreeArea(free.intersection(wanted), even=True), False)]
        yield layouts(words), _AFAR_MM, [area(False)]
        yield layouts(words), _AFAR_MM, [area(True)]
    for words in (well[-1], least):
        yield layouts(words), _LEAST_AFAR_MM, [area(False), area(True)]
    name = (least[0], *(line for line in least[1:] if line.vital))
    small = _TINY_MM if len(name) > 1 else ()
    yield layouts(name), _AFAR_MM + _LEAST_AFAR_MM + small, [area(False), area(True)]


def _stages(
    words: Sequence[Words],
    shorter: Sequence[Sequence[Words]],
    free: Sequence[shapely.Geometry],
    wanted: shapely.Geometry | None,
) -> Iterator[tuple[Sequence[_Layout], tuple[float, ...], list[tuple[FreeArea, bool]]]]:
    """What is tried, one after the other: layouts, text sizes, areas (and whether they are turned)."""
    full = _layouts(words)
    for area in free if wanted is not None else ():
        yield full, _SCALES, [(FreeArea(area.intersection(wanted)), False)]
    flowed: tuple[_Layout, ...] = ()
    for area in free[:-1]:
        upright = (FreeArea(area), False)
        yield full, _SCALES, [upright]
        flowed = flowed or _layouts(words, flowed=True)
        yield flowed, _SCALES, [upright]
        for some in shorter[:2]:
            yield _layouts(some) + _layouts(some, flowed=True), _SCALES, [upright]
    flowed = flowed or _layouts(words, flowed=True)
    upright = (FreeArea(free[-1]), False)
    yield full, _SCALES, [upright]
    yield flowed, _SCALES, [upright]
    turned = (FreeArea(shapely.affinity.rotate(free[-1], 90, origin=(0, 0))), True)
    yield full, _SCALES, [turned]
    yield flowed, _SCALES, [turned]
    for some in shorter:
        yield _layouts(some), _SCALES, [upright, turned]
        yield _layouts(some, flowed=True), _SCALES, [upright, turned]


def _largest(
    layouts: Sequence[_Layout], sizes_mm: Sequence[float], searches: Sequence[tuple[FreeArea, bool]]
) -> tuple[_Layout, float, Rectangle, bool] | None:
    """The largest text size at which a layout finds room, where, and whether in the area that is turned."""
    for size_mm in sizes_mm:
        for area, quarter in searches:
            for layout in layouts:
                place = area.place(layout.width * size_mm, layout.height * size_mm)
                if place is not None:
                    return layout, size_mm, place, quarter
    return None


def _layouts(words: Sequence[Words], flowed: bool = False, widths: Sequence[float] = _WIDTHS) -> tuple[_Layout, ...]:
    """The block broken to ever narrower widths, each different shape once; `flowed`: all of it as one paragraph."""
    paragraphs = [(_parts(line), line.scale) for line in words]
    if flowed:
        parts = [part for line in words for part in (*_parts(line), _Part(SEPARATOR.strip(), line.sizes, False))]
        paragraphs = [(parts[:-1], 1.0)]
    found: dict[tuple[float, float], _Layout] = {}
    for width in widths:
        layout = _broken(paragraphs, width)
        if layout.width <= width or not found:
            found.setdefault((round(layout.width, 6), round(layout.height, 6)), layout)
    return tuple(found.values())


def _parts(line: Words) -> list[_Part]:
    words = [_Part(word.replace(NO_BREAK, " "), line.sizes, line.bold) for word in line.text.split(" ")]
    return words + [_Part(name, sizes, line.bold) for name, sizes in line.slots]


def _broken(paragraphs: Sequence[tuple[Sequence[_Part], float]], width: float) -> _Layout:
    runs: list[_Run] = []
    y = 0.0
    for parts, scale in paragraphs:
        for line in _lines(parts, scale, width):
            y += _LEADING * scale
            baseline = y - (_LEADING - _ASCENT) * scale
            runs.extend(_Run(part.text, x, baseline, scale, part.bold, part.sizes) for part, x in line)
    right = max(run.x + text_width_mm(run.text, run.scale, run.bold) for run in runs)
    return _Layout(right, y, tuple(runs))


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


def _inks(layout: _Layout, size_mm: float, place: Rectangle, quarter: bool, fill: str) -> Iterator[Ink]:
    for run in layout.runs:
        x, y = place.left + run.x * size_mm, place.top + run.y * size_mm
        text_mm = run.scale * size_mm
        width = text_width_mm(run.text, text_mm, run.bold)
        left, top, right, bottom = x, y - 0.96 * text_mm, x + width, y + 0.24 * text_mm
        spot, turned = Point(x, y), 0.0
        if quarter:  # the search saw the free area turned clockwise: (x, y) there is (y, -x) on the page
            spot, turned = Point(y, -x), -90.0
            left, top, right, bottom = top, -right, bottom, -left
        box = shapely.box(left, top, right, bottom)
        yield Ink(
            run.sizes,
            (scene.text(spot, run.text, text_mm, "start", turned, run.bold, fill),),
            (left, top, right, bottom),
            boxes=(box,),
        )

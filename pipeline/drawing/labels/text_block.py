"""The text block of a piece: where it finds room, and the largest size at which it does."""

from collections.abc import Iterable, Iterator, Sequence
from functools import cache
from itertools import product
from typing import NamedTuple

import shapely
import shapely.affinity

from pipeline.drawing import scene
from pipeline.drawing.fonts import text_width_mm
from pipeline.drawing.free_area import FreeArea, Rectangle
from pipeline.drawing.ink import Ink
from pipeline.drawing.labels.block_layouts import Layout, Words, layouts_of
from pipeline.geometry.points import Point

_MANY_WIDTHS = (70.0, 45.0, 34.0, 28.0, 24.0, 20.0, 17.0, 14.0, 12.0, 10.0, 8.0)
_APART_WIDTHS = (70.0, 34.0, 24.0, 17.0, 14.0, 12.0, 10.0, 9.0, 8.0, 7.0, 6.0)
_MOST_TITLE_LINES = 2
_LEAST_OF_SQUEEZED = 0.7
_SMALL = 0.6
"""Of the usual text size: letters that are worth another search for wider lines."""
_SCALES = (1.0, 0.9, 0.8, 0.7, 0.6, 0.52)
"""The least is 6 pt and a little more, of the block of a piece on paper."""
_AFAR_MM = (14.0, 12.5, 11.0, 10.0, 9.0, 8.0)
"""Text sizes that are read from standing height."""
LEAST_READ_AFAR_MM = _AFAR_MM[-1]
_LEAST_AFAR_MM = (7.0, 6.0, 5.0)
_TINY_MM = (4.0, 3.2, 2.5, 2.0)
_NUMBER_MM = (4.0, 3.2, 2.6, 2.2)
"""The least is 6 pt and a little more."""


class _Stage(NamedTuple):
    """Layouts that are tried together, in which areas, and whether these are turned; of a block of whole lines also its
    words, to be broken otherwise where it came out squeezed."""

    layouts: Sequence[Layout]
    searches: Sequence[tuple[FreeArea, bool]]
    words: Sequence[Words] = ()


_Found = tuple[Layout, float, Rectangle, bool]
"""A layout, its text size, where it stands, and whether in the area that is turned."""


def block_ink(
    words: Sequence[Words],
    apart: Sequence[Sequence[Sequence[Words]]],
    shorter: Sequence[Sequence[Words]],
    free: Sequence[shapely.Geometry],
    wanted: shapely.Geometry | None,
    base_mm: float,
    fill: str,
) -> tuple[Ink, ...] | None:
    """The block inside a free area, first where the designer wants it; None where not even the shortest has room.

    Where it has no room in six points, the words of each language stand `apart`, each in a place of their own, the
    longer wordings of it first; where these have none, it is said `shorter`, never smaller.

    `free` are areas, the dearest first: in all but the last the block is tried upright, line by line before its lines
    flow into one paragraph; of one language then the first two of the `shorter`, which come last where they would leave
    out a language. `base_mm` is the text size of a plain line where there is room. The block stands upright; only on a
    piece too narrow for small text it is turned a quarter, to be read from the right.
    """
    sizes_mm = [scale * base_mm for scale in _SCALES]
    if apart:
        placed = _of_several(words, apart, shorter, free, wanted, sizes_mm)
    else:
        placed = _first(_stages(words, shorter, free, wanted), sizes_mm)
    return tuple(ink for found in placed for ink in _inks(*found, fill)) or None


def terse_block_ink(
    wordings: Sequence[tuple[Words, ...]],
    free: shapely.Geometry,
    wanted: shapely.Geometry | None,
    fill: str,
) -> tuple[Ink, ...] | None:
    """The block that is read from afar, first where the designer wants it; None where no wording has room.

    `wordings`: in all languages, with the title alone in all, in the first, and the least. All but the last are tried
    at sizes that are read well, upright, then turned to be read from the right; then the last two smaller; then the
    name and what is vital, this at any size.
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
    layouts = layouts_of((Words(text, sizes, bold=True),))
    turned = FreeArea(shapely.affinity.rotate(free, 90, origin=(0, 0)))
    found = _largest(layouts, sizes_mm, [(FreeArea(free), False), (turned, True)])
    if found is None:
        size_mm, middle = _NUMBER_MM[-1], ground.representative_point()
        width, height = layouts[0].width * size_mm, layouts[0].height * size_mm
        found = layouts[0], size_mm, Rectangle(middle.x - width / 2, middle.y - height / 2, width, height), False
    return tuple(_inks(*found, fill))


def _stages_afar(
    wordings: Sequence[tuple[Words, ...]], free: shapely.Geometry, wanted: shapely.Geometry | None
) -> Iterator[tuple[Sequence[Layout], tuple[float, ...], list[tuple[FreeArea, bool]]]]:
    """What is tried, one after the other, as in `_stages`; what is not reached is not made."""

    @cache
    def area(quarter: bool) -> tuple[FreeArea, bool]:
        return FreeArea(shapely.affinity.rotate(free, 90, origin=(0, 0)) if quarter else free, even=True), quarter

    @cache
    def layouts(words: tuple[Words, ...]) -> tuple[Layout, ...]:
        return layouts_of(words, widths=_MANY_WIDTHS)

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


def _first(stages: Iterable[_Stage], sizes_mm: Sequence[float]) -> list[_Found]:
    """The one block of the first stage that has room."""
    for stage in stages:
        if (found := _largest(stage.layouts, sizes_mm, stage.searches)) is not None:
            return [_better(found, stage, sizes_mm) if stage.words else found]
    return []


def _better(found: _Found, stage: _Stage, sizes_mm: Sequence[float]) -> _Found:
    """A block whose title was parted again and again in wider lines, though in somewhat smaller letters; one of small
    letters in the widest lines that have room."""
    layout, size_mm, *_ = found
    squeezed = _title_lines(layout) > _MOST_TITLE_LINES
    if not squeezed and size_mm > _SMALL * sizes_mm[0]:
        return found
    wider = layouts_of(stage.words, widths=_MANY_WIDTHS)
    if squeezed:
        wider = tuple(other for other in wider if _title_lines(other) <= _MOST_TITLE_LINES)
    least_mm = size_mm * (_LEAST_OF_SQUEEZED if squeezed else 1.0)
    return _largest(wider, [mm for mm in sizes_mm if mm >= least_mm], stage.searches) or found


def _title_lines(layout: Layout) -> int:
    """In how many lines the title stands, which is larger than all else."""
    return len({run.y for run in layout.runs if run.scale == layout.runs[0].scale})


def _of_several(
    words: Sequence[Words],
    apart: Sequence[Sequence[Sequence[Words]]],
    shorter: Sequence[Sequence[Words]],
    free: Sequence[shapely.Geometry],
    wanted: shapely.Geometry | None,
    sizes_mm: Sequence[float],
) -> list[_Found]:
    """Of a block in several languages what says all of them: off the joints of pages, in blocks apart and without
    allowances too, before it lies on them; then what leaves a language out."""
    if placed := _first(_wanted(words, free, wanted), sizes_mm):
        return placed
    for area in free[:-1]:
        upright = [(FreeArea(area), False)]
        off_joints = [_Stage(layouts_of(words), upright, words), _Stage(layouts_of(words, flowed=True), upright)]
        in_short = _Stage(layouts_of(shorter[0]) + layouts_of(shorter[0], flowed=True), upright)
        placed = _first(off_joints, sizes_mm) or _apart(apart, [(area, False)], sizes_mm)
        if placed := placed or _first([in_short], sizes_mm):
            return placed
    last, turned = free[-1], shapely.affinity.rotate(free[-1], 90, origin=(0, 0))
    placed = _first(_stages(words, (), [last], None), sizes_mm)
    placed = placed or _apart(apart, [(last, False), (turned, True)], sizes_mm)
    return placed or _first(_said_shorter(shorter, free), sizes_mm)


def _apart(
    wordings: Sequence[Sequence[Sequence[Words]]],
    areas: Sequence[tuple[shapely.Geometry, bool]],
    sizes_mm: Sequence[float],
) -> list[_Found]:
    """A place for each of several blocks, all in letters of one size, of the first wording that finds them."""
    for blocks in wordings:
        layouts = [layouts_of(words, widths=_APART_WIDTHS) + layouts_of(words, True, _APART_WIDTHS) for words in blocks]
        for (area, quarter), size_mm in product(areas, sizes_mm):
            if placed := _in_turn(layouts, area, size_mm, quarter):
                return placed
    return []


def _in_turn(blocks: Sequence[Sequence[Layout]], area: shapely.Geometry, size_mm: float, quarter: bool) -> list[_Found]:
    """Each block where those before it leave room; nothing where one has none."""
    placed: list[_Found] = []
    for layouts in blocks:
        found = _largest(layouts, (size_mm,), [(FreeArea(area), quarter)])
        if found is None:
            return []
        placed.append(found)
        left, top, width, height = found[2]
        area = area.difference(shapely.box(left, top, left + width, top + height).buffer(size_mm))
    return placed


def _wanted(
    words: Sequence[Words], free: Sequence[shapely.Geometry], wanted: shapely.Geometry | None
) -> Iterator[_Stage]:
    """Where the designer wants the block, if anywhere."""
    for area in free if wanted is not None else ():
        yield _Stage(layouts_of(words), [(FreeArea(area.intersection(wanted)), False)], words)


def _said_shorter(shorter: Sequence[Sequence[Words]], free: Sequence[shapely.Geometry]) -> Iterator[_Stage]:
    """What leaves something out, the most told first: off the joints of pages, then anywhere and turned."""
    turned = (FreeArea(shapely.affinity.rotate(free[-1], 90, origin=(0, 0))), True)
    upright = [(FreeArea(area), False) for area in free]
    for some in shorter:
        for search in upright[:-1]:
            yield _Stage(layouts_of(some) + layouts_of(some, flowed=True), [search])
        yield _Stage(layouts_of(some), [upright[-1], turned])
        yield _Stage(layouts_of(some, flowed=True), [upright[-1], turned])


def _stages(
    words: Sequence[Words],
    shorter: Sequence[Sequence[Words]],
    free: Sequence[shapely.Geometry],
    wanted: shapely.Geometry | None,
) -> Iterator[_Stage]:
    """What is tried, one after the other: layouts, areas (and whether they are turned)."""
    yield from _wanted(words, free, wanted)
    full = layouts_of(words)
    flowed: tuple[Layout, ...] = ()
    for area in free[:-1]:
        upright = (FreeArea(area), False)
        yield _Stage(full, [upright], words)
        flowed = flowed or layouts_of(words, flowed=True)
        yield _Stage(flowed, [upright])
        for some in shorter[:2]:
            yield _Stage(layouts_of(some) + layouts_of(some, flowed=True), [upright])
    flowed = flowed or layouts_of(words, flowed=True)
    upright = (FreeArea(free[-1]), False)
    yield _Stage(full, [upright], words)
    yield _Stage(flowed, [upright])
    turned = (FreeArea(shapely.affinity.rotate(free[-1], 90, origin=(0, 0))), True)
    yield _Stage(full, [turned], words)
    yield _Stage(flowed, [turned])
    for some in shorter:
        yield _Stage(layouts_of(some), [upright, turned])
        yield _Stage(layouts_of(some, flowed=True), [upright, turned])


def _largest(
    layouts: Sequence[Layout], sizes_mm: Sequence[float], searches: Sequence[tuple[FreeArea, bool]]
) -> _Found | None:
    """The largest text size at which a layout finds room, where, and whether in the area that is turned."""
    for size_mm in sizes_mm:
        for area, quarter in searches:
            for layout in layouts:
                place = area.place(layout.width * size_mm, layout.height * size_mm)
                if place is not None:
                    return layout, size_mm, place, quarter
    return None


def _inks(layout: Layout, size_mm: float, place: Rectangle, quarter: bool, fill: str) -> Iterator[Ink]:
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

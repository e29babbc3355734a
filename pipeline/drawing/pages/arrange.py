"""Where things stand on the start page: the map as large as the texts beside it and below it allow.

Left stand head and squares, with texts in them. The column right of the squares holds the map and what tells the pages;
it ends above a foot as wide as the page, or goes on to the page's end beside a foot as wide as the squares. In the
column the texts stand below the map or beside it. The largest map is taken for which all texts keep a size.
"""

from collections.abc import Callable, Iterator
from typing import NamedTuple

from pipeline.drawing.free_area import Rectangle
from pipeline.drawing.pages.frame import STRIP_MM
from pipeline.drawing.panels.column import TEXT_SIZES_MM, Column, too_long
from pipeline.drawing.panels.map import cell_mm, map_extent
from pipeline.drawing.panels.squares import INCH_SQUARE_MM, SIDES_MM
from pipeline.drawing.panels.strip_list import Detail
from pipeline.drawing.panels.words import Languages, fewer
from pipeline.geometry.points import Point
from pipeline.model.pattern import Units
from pipeline.sheets.layout import PagePlan

_LEAST_MARGIN_MM = 6.5
_HEAD_MM = 21.0
_GAP_MM = 5.0
_FOOT_GAP_MM = 3.0
_NARROWEST_MM = 38.0
"""Texts beside the map."""
_GOOD_SIZES_MM = (2.4, 2.2, TEXT_SIZES_MM[-1])
_LEGIBLE_CELL_MM = 10.0
"""The shorter side of a page on the map that has room for a label with digits 2 mm tall."""
_LEAST_CELL_MM = 7.1
"""The same for a label in six points: for it lists tell less, or go."""
_AMPLE_CELL_MM = 20.0
"""A larger map is worth no text."""
_SHRINK = 0.96
_LEAST_SHARE = 0.2
_SAME_MM = 1e-6

Fill = Callable[[Column, Languages], None]


class Listed(NamedTuple):
    """In which languages pieces are listed, none: no list; how much is told of strips, and what stands in the foot."""

    pieces: Languages
    detail: Detail
    strips_below: bool
    gauges_below: bool = True


ListFill = Callable[[Column, Languages, Listed], None]


class Frame(NamedTuple):
    """What is the same on every start page of a paper."""

    left: float
    top: float
    right: float
    bottom: float

    def squares(self, units: Units = "metric") -> tuple[Point, Point]:
        """Top left corners of the two squares, first that of the pattern's own units."""
        first = Point(self.left, self.top + _HEAD_MM)
        return first, Point(self.left, first.y + SIDES_MM[units][0] + _GAP_MM)


class Places(NamedTuple):
    """What goes where. `languages` are those of the texts."""

    foot: Rectangle
    head: Rectangle
    map: Rectangle
    pages: Rectangle
    languages: Languages
    listed: Listed


def frame_of(plan: PagePlan) -> Frame:
    """The part of the start page that is printed on: as far out as what stands around the pattern on other pages."""
    margin = max(plan.margin_mm - STRIP_MM, _LEAST_MARGIN_MM)
    return Frame(margin, margin, plan.page_width_mm - margin, plan.page_height_mm - margin)


def arranged(
    plan: PagePlan,
    all_languages: Languages,
    head: Fill,
    foot: ListFill,
    pages: ListFill,
    strips: bool = False,
    gauges: bool = False,
) -> Places:
    """The places of map, foot and the texts about pages. Raises PatternFaultError where the texts fit nowhere.

    `head` stands above the map, `pages` below or beside it. Text is made a little smaller for a map that can be read;
    then lists have fewer languages and tell less; a language is left out of the rest only where nothing fits. Where
    there are `strips`, the foot may tell of them; `gauges` of knits stand in it where there is room.
    """
    for languages in fewer(all_languages):
        lists = _lists(languages, strips)
        lists += [each._replace(gauges_below=False) for each in lists if gauges]
        whole, brief = ([each for each in lists if each.pieces and each.detail == some] for some in ("sizes", "range"))
        for least_mm, variants, sizes in (
            (_LEGIBLE_CELL_MM, whole, _GOOD_SIZES_MM),
            (_LEGIBLE_CELL_MM, brief, _GOOD_SIZES_MM),
            (_LEAST_CELL_MM, lists, TEXT_SIZES_MM[-1:]),
            (0.0, lists, TEXT_SIZES_MM[-1:]),
        ):
            for size in sizes:
                for listed in variants:
                    found = _largest(plan, size, languages, listed, head, foot, pages, least_mm)
                    if found is not None:
                        return found
    raise too_long(_grounds(frame_of(plan))[0][0], TEXT_SIZES_MM[-1])


def _lists(languages: Languages, strips: bool) -> list[Listed]:
    """What may be listed, from the most on."""
    most: list[tuple[Languages, Detail]] = [(some, "sizes") for some in fewer(languages)]
    if not strips:
        return [Listed(pieces, detail, False) for pieces, detail in (*most, ((), "sizes"))]
    brief: list[tuple[Languages, Detail]] = [(languages[:1], "range"), ((), "range"), ((), "names")]
    return [Listed(pieces, detail, below) for pieces, detail in (*most, *brief) for below in (True, False)]


def _grounds(frame: Frame) -> list[tuple[Rectangle, Rectangle]]:
    """Foot and column: the wide foot first."""
    first, second = frame.squares()
    end = second.y + INCH_SQUARE_MM
    side = frame.left + INCH_SQUARE_MM + _GAP_MM
    below, high = end + _FOOT_GAP_MM, frame.bottom - end - _FOOT_GAP_MM
    return [
        (
            Rectangle(frame.left, below, frame.right - frame.left, high),
            Rectangle(side, first.y, frame.right - side, end - first.y),
        ),
        (
            Rectangle(frame.left, below, INCH_SQUARE_MM, high),
            Rectangle(side, first.y, frame.right - side, frame.bottom - first.y),
        ),
    ]


def _largest(
    plan: PagePlan,
    size_mm: float,
    languages: Languages,
    listed: Listed,
    head: Fill,
    foot: ListFill,
    pages: ListFill,
    least_mm: float,
) -> Places | None:
    """The places with the largest map for which the texts fit in a size, its pages' shorter side `least_mm` or more."""
    heights: dict[float, float] = {}

    def high(width: float) -> float:
        if width not in heights:
            heights[width] = _height(lambda column: pages(column, languages, listed), width, size_mm)
        return heights[width]

    found: list[tuple[float, Places]] = []
    for under, column in _grounds(frame_of(plan)):
        if _height(lambda column: foot(column, languages, listed), under.width, size_mm) > under.height:
            continue
        top = _height(lambda column: head(column, languages), column.width, size_mm)
        rest = column._replace(top=column.top + top, height=column.height - top)
        for shown, texts in _splits(plan, rest):
            cell = cell_mm(plan, shown.width, shown.height)
            if cell < least_mm:
                break
            if high(texts.width) <= texts.height:
                places = Places(under, column._replace(height=top), shown, texts, languages, listed)
                found.append((min(cell, _AMPLE_CELL_MM), places))
                break
    return max(found, key=lambda one: one[0])[1] if found else None  # of two alike the first, with the wide foot


def _height(fill: Callable[[Column], None], width_mm: float, size_mm: float) -> float:
    column = Column(0.0, 0.0, width_mm, size_mm)
    fill(column)
    return column.y


def _splits(plan: PagePlan, rest: Rectangle) -> Iterator[tuple[Rectangle, Rectangle]]:
    """Map and texts, from the largest map on: over the texts or beside them. It is never turned, only made smaller."""
    wide, high = map_extent(plan)
    best = min(rest.width / wide, rest.height / high)
    scale = best
    while scale >= _LEAST_SHARE * best > 0:
        width, height = wide * scale, high * scale
        shown = Rectangle(rest.left, rest.top, width, height)
        if (left := rest.width - width - _GAP_MM) >= _NARROWEST_MM:
            yield shown, Rectangle(rest.left + width + _GAP_MM, rest.top, left, rest.height)
        below = height + _GAP_MM
        centred = shown._replace(left=rest.left + (rest.width - width) / 2)
        yield centred, rest._replace(top=rest.top + below, height=rest.height - below)
        scale *= _SHRINK

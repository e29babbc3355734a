"""What stands around the pattern on a large sheet: a strip across its top, joining marks, and its name on every edge.

The strip holds what the start page of a tiled file holds: squares, ruler, sizes, marks and map. The name on the edges
shows when the sheet is rolled or folded.
"""

from collections.abc import Callable, Collection, Mapping, Sequence
from functools import partial
from typing import get_args

import msgspec

from pipeline.drawing import scene
from pipeline.drawing.fonts import text_width_mm
from pipeline.drawing.free_area import Rectangle
from pipeline.drawing.names import PAPER_NAMES
from pipeline.drawing.pages.frame import Box, along, frame_lines, joint_marks, window_box
from pipeline.drawing.pages.how_to import care_and_licence, join_heading, join_words
from pipeline.drawing.pages.joints import Joint, Side, joints_of
from pipeline.drawing.pages.logo import corner_of, logo_shapes
from pipeline.drawing.pages.numbering import sheet_count_words, sheet_words
from pipeline.drawing.panels.column import TEXT_SIZES_MM, Column, fitted_column
from pipeline.drawing.panels.map import MapPiece, page_map
from pipeline.drawing.panels.marks_key import marks_key
from pipeline.drawing.panels.sizes_key import samples
from pipeline.drawing.panels.squares import (
    INCH_SQUARE_MM,
    SIDES_MM,
    SQUARE_MM,
    caption,
    measure_text,
    ruler,
    side_caption,
    square,
    wrong_scales,
)
from pipeline.drawing.panels.stretch_gauge import stretch_gauges
from pipeline.drawing.panels.strip_list import NO_STRIPS, Detail, StripSizes, strip_list
from pipeline.drawing.panels.words import SEPARATOR, fewer, in_all, moved_words, part_words, size_words, version_words
from pipeline.drawing.scene import Scene, Shape
from pipeline.drawing.styles import LEAST_TEXT_MM
from pipeline.drawing.text_lines import fitted
from pipeline.drawing.wording import in_decimals, told_of
from pipeline.geometry.points import Point
from pipeline.model.lengths import MM_PER_INCH, mixed_fraction
from pipeline.model.logo import Logo
from pipeline.model.pattern import Pattern, Units, in_language
from pipeline.sheets.layout import Page, PagePlan
from pipeline.words import say

_GAP_MM = 6.0
_INSET_MM = 5.0
_EDGE_TEXT_MM = LEAST_TEXT_MM
_EDGE_STRIP_MM = 4.4
"""Its middle: the text stands off the line along which margins are cut off, and inside what printers reach."""
_EDGE_STEP_MM = 400.0
_MAP_MM = 130.0
_TEXT_SIZES_MM = (5.0, 4.4, 3.8, *TEXT_SIZES_MM)
_RULER_BELOW_MM = 4.0


def large_pages(
    pattern: Pattern,
    plan: PagePlan,
    sizes: Sequence[str],
    pieces: Sequence[MapPiece],
    signs: Collection[str],
    file_name: str,
    strips: StripSizes = NO_STRIPS,
    logo: Logo | None = None,
) -> dict[int, Scene]:
    """What stands around each large sheet that is printed, by its number; the logo where the strip across its top has
    room for it.
    """
    joints = joints_of(plan)
    return {
        page.number: scene.of(
            0,
            0,
            plan.page_width_mm,
            plan.page_height_mm,
            [
                *_strip(pattern, plan, page, sizes, pieces, signs, strips, logo),
                *joint_marks(window_box(plan, page), joints[page.label], plan.overlap_mm),
                *frame_lines(window_box(plan, page), joints[page.label], plan.overlap_mm),
                *_edges(pattern, plan, page, sizes, file_name, joints[page.label]),
            ],
        )
        for page in plan.printed
        if page.window is not None
    }


def square_corners(plan: PagePlan, units: Units = "metric") -> tuple[Point, Point]:
    """Top left corners of the two squares as `SIDES_MM` has them, in mm from the page's top left corner."""
    return Point(plan.margin_mm, plan.margin_mm), Point(plan.margin_mm + SIDES_MM[units][0] + _GAP_MM, plan.margin_mm)


def _strip(
    pattern: Pattern,
    plan: PagePlan,
    page: Page,
    sizes: Sequence[str],
    pieces: Sequence[MapPiece],
    signs: Collection[str],
    strips: StripSizes,
    logo: Logo | None,
) -> list[Shape]:
    left, top, right = plan.margin_mm, plan.margin_mm, plan.page_width_mm - plan.margin_mm
    side, other = SIDES_MM[pattern.units]
    second = square_corners(plan, pattern.units)[1].x
    texts = second + other + _GAP_MM
    map_left = right - _MAP_MM
    choices = [msgspec.structs.replace(pattern, languages=languages) for languages in fewer(pattern.languages)]
    room, inner = SQUARE_MM - 2 * _INSET_MM, SQUARE_MM - 8 - _INSET_MM
    block = Rectangle(texts, top, map_left - _GAP_MM - texts, INCH_SQUARE_MM)
    title = fitted_column(
        *block,
        [
            _title_block(spoken, plan, page, sizes, signs, strips, detail)
            for spoken in choices
            for detail in get_args(Detail)
        ],
        _TEXT_SIZES_MM,
    )
    place = corner_of(logo, block, title) if logo else None
    return [
        square(left, top, side),
        *caption(left, top, side, side_caption(side, pattern.languages[0])),
        *fitted_column(
            left + _INSET_MM,
            top + 8,
            room,
            inner,
            [partial(_measure_and_join, pattern=spoken, plan=plan) for spoken in choices],
        ),
        square(second, top, other),
        *caption(second, top, other, side_caption(other, pattern.languages[0])),
        *fitted_column(
            second + _INSET_MM,
            top + 8,
            room,
            inner,
            [partial(care_and_licence, pattern=pattern, languages=spoken.languages) for spoken in choices],
        ),
        *ruler(left, top + INCH_SQUARE_MM + _RULER_BELOW_MM),
        *title,
        *(logo_shapes(logo, place, pattern.print.black) if logo and place else ()),
        *page_map(pattern, plan, pieces, map_left, top, _MAP_MM, INCH_SQUARE_MM, page),
    ]


def _measure_and_join(column: Column, pattern: Pattern, plan: PagePlan) -> None:
    for language in pattern.languages:
        column.heading(say(language, "large.measure"))
        column.text(say(language, "start.measures"))
        wrong = [scale for scale in wrong_scales(210.0, 297.0, pattern.units) if scale.word == "wrong.dots"]
        measures = in_decimals(
            language, SEPARATOR.join(measure_text(scale.measure_mm, pattern.units) for scale in wrong)
        )
        column.text(told_of(language, measures, say(language, "wrong.dots")), indent_mm=2)
        column.gap()
    if any(joints_of(plan).values()):
        join_heading(column, pattern.languages)
        join_words(column, pattern, plan, pattern.languages)


def _title_block(
    pattern: Pattern,
    plan: PagePlan,
    page: Page,
    sizes: Sequence[str],
    signs: Collection[str],
    strips: StripSizes,
    detail: Detail,
) -> Callable[[Column], None]:
    def fill(column: Column) -> None:
        languages = pattern.languages
        column.text(in_all(pattern.title, languages), bold=True, times=2.4)
        column.text(f"{version_words(pattern, languages)} · {in_all(pattern.maker, languages)}", times=1.3)
        shown = part_words(pattern, plan, sizes, languages)
        column.text(f"{shown} · {PAPER_NAMES[plan.format]} · {sheet_words(plan, page, languages)}", times=1.3)
        column.gap()
        _for_the_counter(column, pattern, plan, sizes)
        if told := moved_words(pattern, plan, languages):
            column.text(told)
        column.gap()
        if len(sizes) > 1:
            samples(column, pattern, sizes)
            for language in languages:
                column.text(f"{say(language, 'start.solid')} {say(language, 'start.layers')}")
        column.gap()
        marks_key(column, sizes, languages, signs, pattern.style)
        column.gap()
        strip_list(column, pattern, sizes, strips, languages, detail)
        column.gap()
        stretch_gauges(column, pattern, languages)

    return fill


def _for_the_counter(column: Column, pattern: Pattern, plan: PagePlan, sizes: Sequence[str]) -> None:
    """What whoever prints must know, and nothing of sewing."""
    ink = "large.colour" if len(sizes) > 1 and not pattern.print.black else "large.black"
    sheet = _sheet_size(plan, pattern.units)
    for language in pattern.languages:
        sheets = sheet_count_words(plan, sheet, language)
        told = f"{say(language, 'large.print')} {sheets} {say(language, ink)}"
        column.text(told_of(language, say(language, "large.counter"), told), bold=True)


def _sheet_size(plan: PagePlan, units: Units) -> str:
    """ "914 × 1224 mm (36 × 48 1/4 in)"; of inch patterns the inches first, to 1/4 in as counters measure rolls."""
    sides = plan.page_width_mm, plan.page_height_mm
    metric = f"{' × '.join(f'{side:.0f}' for side in sides)} mm"
    inches = f"{' × '.join(mixed_fraction(side / MM_PER_INCH, 4) for side in sides)} in"
    return f"{metric} ({inches})" if units == "metric" else f"{inches} ({metric})"


def _edges(
    pattern: Pattern,
    plan: PagePlan,
    page: Page,
    sizes: Sequence[str],
    file_name: str,
    joints: Mapping[Side, Joint],
) -> list[Shape]:
    """The sheet's name along all four edges, again and again, but not on a joining mark."""
    margin = plan.margin_mm
    box = Box(margin, margin, plan.page_width_mm - margin, plan.page_height_mm - margin)
    languages = pattern.languages
    content = " · ".join(
        (
            in_language(pattern.title, languages[0]),
            version_words(pattern, languages),
            file_name,
            size_words(sizes, pattern, languages),
            sheet_words(plan, page, languages),
        )
    )
    drawn = []
    sides: tuple[tuple[Side, float], ...] = (
        ("top", box.right - box.left),
        ("bottom", box.right - box.left),
        ("left", box.bottom - box.top),
        ("right", box.bottom - box.top),
    )
    for side, length in sides:
        name, size = fitted([content], min(length - 2, _EDGE_STEP_MM), _EDGE_TEXT_MM, LEAST_TEXT_MM)
        width = text_width_mm(name, size)
        for at in _starts(length, width):
            middle = at - length / 2
            if side not in joints or not _on_mark(box, plan, page, side, middle, width, joints[side]):
                drawn.append(along(box, side, middle, name, size, strip_mm=_EDGE_STRIP_MM))
    return drawn


def _starts(length_mm: float, width_mm: float) -> list[float]:
    """Where along an edge its name begins: at both ends, and between them every 400 mm or so."""
    room = length_mm - 2 - width_mm
    if room < width_mm:
        return [1.0]
    count = max(1, round(room / _EDGE_STEP_MM))
    return [1 + room * n / count for n in range(count + 1)]


def _on_mark(box: Box, plan: PagePlan, page: Page, side: Side, start: float, width: float, joint: Joint) -> bool:
    """Whether a text along an edge would meet the joining mark, which stands at the middle of the window's side."""
    window = window_box(plan, page)
    shift = window.middle.y - box.middle.y if side in ("left", "right") else window.middle.x - box.middle.x
    ticks = joint.ticks_mm()
    name = text_width_mm(joint.name, _EDGE_TEXT_MM) + _GAP_MM
    return start < shift + ticks[-1] + name and start + width > shift + ticks[0] - _GAP_MM

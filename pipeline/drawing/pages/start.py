"""The first page of a tiled file: what it is, two squares to measure, the map, and how to print and join the pages.

The texts stand in the squares, so that both have their full size on every paper: how to print and to join, and what
marks mean. Beside them stand the map and the pages of sizes and pieces, below them what
to beware of and the licence.
"""

from collections.abc import Collection, Sequence

from pipeline.drawing import scene
from pipeline.drawing.free_area import Rectangle
from pipeline.drawing.names import PAPER_NAMES
from pipeline.drawing.pages.arrange import Listed, arranged, frame_of
from pipeline.drawing.pages.how_to import care_and_licence
from pipeline.drawing.pages.in_squares import texts_in_squares
from pipeline.drawing.pages.logo import GAP_MM, logo_shapes, sizes_of
from pipeline.drawing.pages.numbering import page_count_words
from pipeline.drawing.pages.piece_list import pages_by_piece, piece_list
from pipeline.drawing.panels.column import TEXT_SIZES_MM, Column, fitted_column
from pipeline.drawing.panels.map import MapPiece, page_map
from pipeline.drawing.panels.sizes_key import sizes_key
from pipeline.drawing.panels.squares import SIDES_MM, caption, side_caption, square
from pipeline.drawing.panels.stretch_gauge import stretch_gauges, stretches
from pipeline.drawing.panels.strip_list import NO_STRIPS, StripSizes, any_strips, strip_list
from pipeline.drawing.panels.words import SEPARATOR, Languages, in_all, moved_words, part_words, version_words
from pipeline.drawing.scene import Scene, Shape, Text
from pipeline.drawing.text_lines import fitted
from pipeline.geometry.points import Point
from pipeline.model.logo import Logo
from pipeline.model.pattern import Pattern, Units
from pipeline.sheets.layout import PagePlan
from pipeline.sheets.windows import row_letters
from pipeline.words import say_all

_INSET_MM = 4.0
_CAPTION_MM = 7.5
_HIGH_MM = 18.0
"""From the page's upper edge to the last line of the head."""
_MOST_PAGES = 999
"""A logo has room beside a head that tells so many pages."""
_SIZES_MM = TEXT_SIZES_MM[2:]
"""Of texts beside and below the squares: not larger than those in them."""


def start_page(
    pattern: Pattern,
    plan: PagePlan,
    sizes: Sequence[str],
    pieces: Sequence[MapPiece],
    signs: Collection[str],
    strips: StripSizes = NO_STRIPS,
    logo: Logo | None = None,
) -> Scene:
    """The start page of a file that shows `sizes` and, on its pieces, `signs`; with the designer's logo.

    Raises ValueError where its texts do not fit.
    """

    def foot_texts(column: Column, languages: Languages, listed: Listed) -> None:
        if listed.gauges_below:
            stretch_gauges(column, pattern, languages)
        care_and_licence(column, pattern, languages)
        if listed.strips_below:
            column.gap()
            strip_list(column, pattern, sizes, strips, languages, listed.detail)

    def map_head(column: Column, languages: Languages) -> None:
        column.heading(say_all(languages, "start.map-head", SEPARATOR))
        last = plan.pages[-1]
        named = {"label": last.label, "number": last.number, "row": row_letters(last.row)}
        column.text(say_all(languages, "start.map-key", " ", **named))
        if sum(page.window is not None for page in plan.pages) < plan.rows * plan.columns:
            column.text(say_all(languages, "start.blank", " "))
        if told := moved_words(pattern, plan, languages, " "):
            column.text(told, bold=True)
        column.gap()

    def page_texts(column: Column, languages: Languages, listed: Listed) -> None:
        if len(sizes) > 1:
            sizes_key(column, pattern, plan, sizes, languages)
            column.gap()
        if listed.pieces:
            piece_list(column, pattern, pages, listed.pieces)
            column.gap()
        if not listed.strips_below:
            strip_list(column, pattern, sizes, strips, languages, listed.detail)
        if not listed.gauges_below:
            column.gap()
            stretch_gauges(column, pattern, languages)

    pages = pages_by_piece(plan, pieces)
    first, second = square_corners(plan, pattern.units)
    side, other = SIDES_MM[pattern.units]
    told = any_strips(pattern, sizes, strips), any(stretches(pattern))
    places = arranged(plan, pattern.languages, map_head, foot_texts, page_texts, *told)
    languages, listed = places.languages, places.listed
    body = [
        *_head(pattern, plan, sizes, logo),
        square(*first, side),
        *caption(*first, side, side_caption(side, pattern.languages[0])),
        *texts_in_squares(pattern, plan, sizes, signs, _inside(first, side), _inside(second, other)),
        square(*second, other),
        *caption(*second, other, side_caption(other, pattern.languages[0])),
        *fitted_column(*places.foot, [lambda column: foot_texts(column, languages, listed)], _SIZES_MM),
        *fitted_column(*places.head, [lambda column: map_head(column, languages)]),
        *page_map(pattern, plan, pieces, *places.map),
        *fitted_column(*places.pages, [lambda column: page_texts(column, languages, listed)], _SIZES_MM),
    ]
    return scene.of(0, 0, plan.page_width_mm, plan.page_height_mm, body)


def square_corners(plan: PagePlan, units: Units = "metric") -> tuple[Point, Point]:
    """Top left corners of the two squares as `SIDES_MM` has them, in mm from the page's top left corner."""
    return frame_of(plan).squares(units)


def _inside(corner: Point, side_mm: float) -> Rectangle:
    """The part of a square below its caption that texts may fill."""
    return Rectangle(
        corner.x + _INSET_MM, corner.y + _CAPTION_MM, side_mm - 2 * _INSET_MM, side_mm - _CAPTION_MM - _INSET_MM
    )


def logo_place(pattern: Pattern, plan: PagePlan, sizes: Sequence[str], logo: Logo) -> Rectangle | None:
    """Where the logo stands: right of the head, as large as leaves its lines whole. None where that has no room."""
    frame = frame_of(plan)
    count = say_all(pattern.languages, "page.count", SEPARATOR, count=max(len(plan.pages), _MOST_PAGES))
    whole = _head_lines(pattern, plan, sizes, frame.right - frame.left, count)
    for width, height in sizes_of(logo):
        beside = _head_lines(pattern, plan, sizes, frame.right - frame.left - width - GAP_MM, count)
        if [line.content for line in beside] == [line.content for line in whole]:
            return Rectangle(frame.right - width, frame.top + (_HIGH_MM - height) / 2, width, height)
    return None


def _head(pattern: Pattern, plan: PagePlan, sizes: Sequence[str], logo: Logo | None) -> list[Shape]:
    """What the file is, and the logo where there is one that has room."""
    frame = frame_of(plan)
    place = logo_place(pattern, plan, sizes, logo) if logo else None
    end = place.left - GAP_MM if place else frame.right
    lines = _head_lines(pattern, plan, sizes, end - frame.left, page_count_words(plan, pattern.languages))
    drawn = logo_shapes(logo, place, pattern.print.black) if logo and place else []
    return [*lines, *drawn]


def _head_lines(pattern: Pattern, plan: PagePlan, sizes: Sequence[str], width: float, pages: str) -> list[Text]:
    languages, (left, top, *_) = pattern.languages, frame_of(plan)
    title, title_size = fitted([in_all(pattern.title, languages)], width, 7.0, 4.0, bold=True)
    maker = in_all(pattern.maker, languages)
    second, second_size = fitted([f"{version_words(pattern, languages)} · {maker}"], width, 3.6, 2.4)
    size_text = part_words(pattern, plan, sizes, languages)
    third, third_size = fitted([f"{size_text} · {PAPER_NAMES[plan.format]} · {pages}"], width, 3.6, 2.4)
    return [
        scene.text(Point(left, top + 6), title, title_size, bold=True),
        scene.text(Point(left, top + 11.8), second, second_size),
        scene.text(Point(left, top + 17), third, third_size),
    ]

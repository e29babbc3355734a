"""The first page of a tiled file: what it is, two squares to measure, the map, and how to print and join the pages.

The texts stand in the squares, so that both have their full size on every paper: in the upper one how to print, in the
lower one how to join and what marks mean. Beside them stand the map and the pages of sizes and pieces, below them what
to beware of and the licence.
"""

from collections.abc import Callable, Collection, Sequence
from functools import partial

from pipeline.drawing import scene
from pipeline.drawing.free_area import Rectangle
from pipeline.drawing.names import PAPER_NAMES
from pipeline.drawing.pages.arrange import Fill, Listed, arranged, frame_of
from pipeline.drawing.pages.how_to import care_and_licence, how_to_join, how_to_print
from pipeline.drawing.pages.piece_list import pages_by_piece, piece_list
from pipeline.drawing.panels.column import TEXT_SIZES_MM, Column, fitted_column
from pipeline.drawing.panels.map import MapPiece, page_map
from pipeline.drawing.panels.marks_key import marks_key
from pipeline.drawing.panels.sizes_key import sizes_key
from pipeline.drawing.panels.squares import INCH_SQUARE_MM, SQUARE_MM, caption, inch_caption, square
from pipeline.drawing.panels.stretch_gauge import stretch_gauges
from pipeline.drawing.panels.strip_list import NO_STRIPS, StripSizes, any_strips, strip_list
from pipeline.drawing.panels.words import SEPARATOR, Languages, fewer, in_all, moved_words, part_words, version_words
from pipeline.drawing.scene import Scene, Shape
from pipeline.drawing.text_lines import fitted
from pipeline.geometry.points import Point
from pipeline.model.pattern import Pattern
from pipeline.sheets.layout import PagePlan
from pipeline.sheets.windows import row_letters
from pipeline.words import say_all

_INSET_MM = 4.0
_CAPTION_MM = 7.5
_SIZES_MM = TEXT_SIZES_MM[2:]
"""Of texts beside and below the squares: not larger than those in them."""


def start_page(
    pattern: Pattern,
    plan: PagePlan,
    sizes: Sequence[str],
    pieces: Sequence[MapPiece],
    signs: Collection[str],
    strips: StripSizes = NO_STRIPS,
) -> Scene:
    """The start page of a file that shows `sizes` and, on its pieces, `signs`.

    Raises ValueError where its texts do not fit.
    """

    def print_texts(column: Column, languages: Languages) -> None:
        how_to_print(column, plan, languages)

    def join_texts(column: Column, languages: Languages, picture: bool = True) -> None:
        how_to_join(column, pattern, plan, languages, picture)
        column.gap()
        marks_key(column, sizes, languages, signs)

    def foot_texts(column: Column, languages: Languages, listed: Listed) -> None:
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

    pages = pages_by_piece(plan, pieces)
    first, second = square_corners(plan)
    places = arranged(plan, pattern.languages, map_head, foot_texts, page_texts, any_strips(pattern, sizes, strips))
    languages, listed = places.languages, places.listed
    # the words say what the picture shows: it goes before a language does
    joins: list[Callable[[Column], None]] = [
        partial(join_texts, languages=some, picture=shown)
        for some in fewer(pattern.languages)
        for shown in (True, False)
    ]
    body = [
        *_head(pattern, plan, sizes),
        square(*first, SQUARE_MM),
        *caption(*first, SQUARE_MM, "100 mm × 100 mm"),
        *fitted_column(*_inside(first, SQUARE_MM), _in_each(fewer(pattern.languages), print_texts)),
        square(*second, INCH_SQUARE_MM),
        *caption(*second, INCH_SQUARE_MM, inch_caption(pattern.languages[0])),
        *fitted_column(*_inside(second, INCH_SQUARE_MM), joins),
        *fitted_column(*places.foot, [lambda column: foot_texts(column, languages, listed)], _SIZES_MM),
        *fitted_column(*places.head, _in_each([languages], map_head)),
        *page_map(pattern, plan, pieces, *places.map),
        *fitted_column(*places.pages, [lambda column: page_texts(column, languages, listed)], _SIZES_MM),
    ]
    return scene.of(0, 0, plan.page_width_mm, plan.page_height_mm, body)


def square_corners(plan: PagePlan) -> tuple[Point, Point]:
    """Top left corners of the 100 mm and of the 4 in square, in mm from the page's top left corner."""
    return frame_of(plan).squares


def _inside(corner: Point, side_mm: float) -> Rectangle:
    """The part of a square below its caption that texts may fill."""
    return Rectangle(
        corner.x + _INSET_MM, corner.y + _CAPTION_MM, side_mm - 2 * _INSET_MM, side_mm - _CAPTION_MM - _INSET_MM
    )


def _in_each(wanted: Sequence[Languages], fill: Fill) -> list[Callable[[Column], None]]:
    """A filling in each of several choices of languages."""

    def filled(languages: Languages) -> Callable[[Column], None]:
        return lambda column: fill(column, languages)

    return [filled(languages) for languages in wanted]


def _head(pattern: Pattern, plan: PagePlan, sizes: Sequence[str]) -> list[Shape]:
    languages, frame = pattern.languages, frame_of(plan)
    left, top, width = frame.left, frame.top, frame.right - frame.left
    title, title_size = fitted([in_all(pattern.title, languages)], width, 7.0, 4.0, bold=True)
    maker = in_all(pattern.maker, languages)
    second, second_size = fitted([f"{version_words(pattern, languages)} · {maker}"], width, 3.6, 2.4)
    count = len(plan.pages)
    pages = say_all(languages, "page.count" if count > 1 else "page.count-one", SEPARATOR, count=count)
    size_text = part_words(pattern, plan, sizes, languages)
    third, third_size = fitted([f"{size_text} · {PAPER_NAMES[plan.format]} · {pages}"], width, 3.6, 2.4)
    return [
        scene.text(Point(left, top + 6), title, title_size, bold=True),
        scene.text(Point(left, top + 11.8), second, second_size),
        scene.text(Point(left, top + 17), third, third_size),
    ]

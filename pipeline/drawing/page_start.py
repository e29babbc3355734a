"""The first page of a tiled file: what it is, two squares to measure, the map, and how to print and join the pages.

The texts stand in the squares, so that both have their full size on every paper: in the upper one how to print, in
the lower one the map, beside them the sizes and how to join.
"""

from collections.abc import Callable, Sequence

from pipeline.checks.cautions import cautions
from pipeline.drawing import svg
from pipeline.drawing.fonts import ASCENT
from pipeline.drawing.page_column import Column, fitted_column
from pipeline.drawing.page_join_picture import HEIGHT_MM, join_picture
from pipeline.drawing.page_map import MapPiece, page_map
from pipeline.drawing.page_squares import INCH_SQUARE_MM, SQUARE_IN, SQUARE_MM, square, wrong_scales
from pipeline.drawing.page_text import PAPER_NAMES, fitted
from pipeline.drawing.piece_words import size_range
from pipeline.drawing.styles import BLACK, NESTED
from pipeline.model.lengths import both_units
from pipeline.model.pattern import Pattern, Texts, in_language
from pipeline.model.points import Point
from pipeline.sheets.layout import PagePlan
from pipeline.sheets.ranges import page_ranges, pages_of_size
from pipeline.words import say, say_all

_LEAST_MARGIN_MM = 6.5
_GAP_MM = 5.0
_INSET_MM = 5.0
_HEAD_MM = 21.0
_CAPTION_MM = 2.8
_SAMPLE_STEP_MM = 90.0

Languages = tuple[str, ...]


def start_page(pattern: Pattern, plan: PagePlan, sizes: Sequence[str], pieces: Sequence[MapPiece]) -> str:
    """The SVG of the start page of a file that shows `sizes`. Raises ValueError where its texts do not fit."""
    margin = max(plan.margin_mm, _LEAST_MARGIN_MM)
    right, bottom = plan.page_width_mm - margin, plan.page_height_mm - margin
    (left, first_top), (_, second_top) = square_corners(plan)
    foot_top = second_top + INCH_SQUARE_MM + 3
    column_left = left + INCH_SQUARE_MM + _GAP_MM
    body = [
        *_head(pattern, plan, sizes, left, margin, right - left),
        square(left, first_top, SQUARE_MM),
        *caption(left, first_top, SQUARE_MM, "100 mm × 100 mm"),
        *_print_panel(pattern, plan, left, first_top),
        square(left, second_top, INCH_SQUARE_MM),
        *caption(left, second_top, INCH_SQUARE_MM, f"{SQUARE_IN} in × {SQUARE_IN} in (101.6 mm)"),
        *_map_panel(pattern, plan, pieces, left, second_top),
        *_side_column(pattern, plan, sizes, column_left, first_top, right - column_left, foot_top - 3 - first_top),
        *_foot(pattern, left, foot_top, right - left, bottom - foot_top),
    ]
    return svg.document(0, 0, plan.page_width_mm, plan.page_height_mm, body)


def square_corners(plan: PagePlan) -> tuple[Point, Point]:
    """Top left corners of the 100 mm and of the 4 in square, in mm from the page's top left corner."""
    margin = max(plan.margin_mm, _LEAST_MARGIN_MM)
    first = Point(margin, margin + _HEAD_MM)
    return first, Point(margin, first.y + SQUARE_MM + _GAP_MM)


def _head(pattern: Pattern, plan: PagePlan, sizes: Sequence[str], left: float, top: float, width: float) -> list[str]:
    languages = pattern.languages
    title, title_size = fitted([in_all(pattern.title, languages, " / ")], width, 7.0, 4.0, bold=True)
    version = say_all(languages, "page.version", " / ", version=pattern.version)
    maker = in_all(pattern.maker, languages, " / ")
    second, second_size = fitted([f"{version} · {maker}"], width, 3.6, 2.4)
    name = "size.name" if len(sizes) == 1 else "size.several"
    size_text = f"{say_all(languages, name, ' / ')} {size_range(sizes, pattern.sizes)}"
    count = len(plan.pages)
    pages = say_all(languages, "page.count" if count > 1 else "page.count-one", " / ", count=count)
    third, third_size = fitted([f"{size_text} · {PAPER_NAMES[plan.format]} · {pages}"], width, 3.6, 2.4)
    return [
        svg.text(Point(left, top + 6), title, title_size, bold=True),
        svg.text(Point(left, top + 11.8), second, second_size),
        svg.text(Point(left, top + 17), third, third_size),
    ]


def caption(left: float, top: float, side: float, content: str) -> list[str]:
    """What a square measures, between two arrows that do not touch its sides."""
    middle, y = left + side / 2, top + 4.0
    half = 19.0
    drawn = [svg.text(Point(middle, y + 1), content, _CAPTION_MM, anchor="middle", bold=True)]
    for direction in (-1, 1):
        tip = Point(middle + direction * (side / 2 - 1.2), y)
        drawn.append(svg.line(Point(middle + direction * half, y), tip, BLACK, 0.2))
        drawn.append(
            svg.polygon((tip, Point(tip.x - direction * 2, y - 0.7), Point(tip.x - direction * 2, y + 0.7)), BLACK)
        )
    return drawn


def _print_panel(pattern: Pattern, plan: PagePlan, left: float, top: float) -> list[str]:
    def filled(languages: Languages) -> Callable[[Column], None]:
        def fill(column: Column) -> None:
            for number, language in enumerate(languages):
                if number:
                    column.gap(0.6)
                column.heading(say(language, "start.print-head"))
                column.text(say(language, "start.print"))
                column.gap(0.3)
                column.text(say(language, "start.measures"))
                scales = wrong_scales(plan.page_width_mm, plan.page_height_mm)
                by_word: dict[str, list[str]] = {}
                for scale in scales:
                    by_word.setdefault(scale.word, []).append(f"{scale.measure_mm:.1f} mm")
                for word, measures in by_word.items():
                    column.text(f"{' / '.join(measures)}: {say(language, word)}", indent_mm=2)

        return fill

    fills = [filled(languages) for languages in _fewer(pattern.languages)]
    room = SQUARE_MM - 2 * _INSET_MM
    return fitted_column(left + _INSET_MM, top + 8, room, SQUARE_MM - 8 - _INSET_MM, fills)


def _map_panel(pattern: Pattern, plan: PagePlan, pieces: Sequence[MapPiece], left: float, top: float) -> list[str]:
    room = INCH_SQUARE_MM - 2 * _INSET_MM
    head = say_all(pattern.languages, "start.map-head", " / ")
    shown = sum(page.window is not None for page in plan.pages)
    blank = say_all(pattern.languages, "start.blank", " ") if shown < plan.rows * plan.columns else ""
    head_text, head_size = fitted([head], room, 3.0, 2.0, bold=True)
    drawn = [svg.text(Point(left + _INSET_MM, top + 10.5), head_text, head_size, bold=True)]
    height = INCH_SQUARE_MM - 13 - _INSET_MM
    if blank:
        height -= 7
        blanks = fitted_column(
            left + _INSET_MM, top + 13.5 + height + 1, room, 6.5, [lambda column: column.text(blank)]
        )
        drawn += blanks
    drawn.append(page_map(pattern, plan, pieces, left + _INSET_MM, top + 13, room, height))
    return drawn


def _side_column(
    pattern: Pattern, plan: PagePlan, sizes: Sequence[str], left: float, top: float, width: float, height: float
) -> list[str]:
    def filled(languages: Languages) -> Callable[[Column], None]:
        def fill(column: Column) -> None:
            _key(column, pattern, plan, sizes, languages)
            column.gap(0.8)
            column.heading(" / ".join(dict.fromkeys(say(language, "start.join-head") for language in languages)))
            column.body.append(join_picture(left, column.y, width))
            column.y += HEIGHT_MM + 1
            for number, language in enumerate(languages):
                if number:
                    column.gap(0.4)
                column.text(_join_text(pattern, plan, language))

        return fill

    return fitted_column(left, top, width, height, [filled(languages) for languages in _fewer(pattern.languages)])


def _join_text(pattern: Pattern, plan: PagePlan, language: str) -> str:
    if plan.overlap_mm:
        return say(language, "start.join-overlap", overlap=both_units(plan.overlap_mm, pattern.units))
    return say(language, "start.join")


def _key(column: Column, pattern: Pattern, plan: PagePlan, sizes: Sequence[str], languages: Languages) -> None:
    """A sample of each size's line with the pages that the size needs."""
    needed = {size: pages_of_size(plan, size) for size in sizes}
    every = tuple(page.number for page in plan.pages)
    alike = all(pages == every for pages in needed.values())
    for language in languages:
        column.heading(say(language, "start.key-head"))
    for language in languages:
        column.text(say(language, "start.key-all" if alike else "start.key"))
    column.gap(0.4)
    if len(sizes) == 1:
        column.text(f"{_size_name(languages, sizes[0])}: {page_ranges(needed[sizes[0]])}", bold=True)
        return
    if alike:
        samples(column, pattern, sizes)
    else:
        for size in sizes:
            _key_row(column, pattern, size, page_ranges(needed[size]))
    column.gap(0.3)
    for language in languages:
        column.text(f"{say(language, 'start.solid')} {say(language, 'start.layers')}")


def _key_row(column: Column, pattern: Pattern, size: str, pages: str) -> None:
    """One line: sample, size, pages; long lists of pages go on below."""
    sample, name = 24.0, 11.0
    top = column.y
    _sample(column, pattern, size, column.left, top, sample)
    label, label_size = fitted([size], name - 1, column.size_mm, 1.4, bold=True)
    column.body.append(
        svg.text(Point(column.left + sample + 1.5, top + column.size_mm * ASCENT), label, label_size, bold=True)
    )
    column.text(pages, indent_mm=sample + name + 1.5)
    column.y += 0.12 * column.size_mm


def samples(column: Column, pattern: Pattern, sizes: Sequence[str]) -> None:
    """Samples alone, two or more in a row."""
    name = 4.6 * column.size_mm
    count = max(2, int(column.width_mm // _SAMPLE_STEP_MM))
    step = column.width_mm / count
    for number, size in enumerate(sizes):
        left = column.left + (number % count) * step
        _sample(column, pattern, size, left, column.y, step - name)
        label, label_size = fitted([size], name - 3, column.size_mm, 1.4, bold=True)
        place = Point(left + step - name + 1.5, column.y + column.size_mm * ASCENT)
        column.body.append(svg.text(place, label, label_size, bold=True))
        if number % count == count - 1 or number == len(sizes) - 1:
            column.y += 1.4 * column.size_mm


def _sample(column: Column, pattern: Pattern, size: str, left: float, top: float, length: float) -> None:
    style = NESTED.cut((size,), {size: pattern.sizes.index(size) + 1})
    y = top + column.size_mm * 0.45
    column.body.append(svg.line(Point(left, y), Point(left + length, y), style.colour, style.width_mm, style.dash_mm))


def _foot(pattern: Pattern, left: float, top: float, width: float, height: float) -> list[str]:
    def filled(languages: Languages) -> Callable[[Column], None]:
        def fill(column: Column) -> None:
            for language in languages:
                for caution in care_texts(pattern, language):
                    column.text(caution)
            column.gap(0.3)
            licence = in_all(pattern.licence, languages, " / ")
            contact = in_all(pattern.contact, languages, " / ")
            column.text(f"{licence} · {contact}")

        return fill

    return fitted_column(left, top, width, height, [filled(languages) for languages in _fewer(pattern.languages)])


def care_texts(pattern: Pattern, language: str) -> tuple[str, ...]:
    """What to beware of: in sewing, then in what a child wears."""
    return f"{say(language, 'start.care-head')}: {say(language, 'start.care')}", *cautions(pattern, language)


def _size_name(languages: Languages, size: str) -> str:
    return f"{say_all(languages, 'size.name', ' / ')} {size}"


def in_all(texts: Texts, languages: Languages, joint: str) -> str:
    """A text of the pattern in several languages, each once."""
    return joint.join(dict.fromkeys(in_language(texts, language) for language in languages))


def _fewer(languages: Languages) -> list[Languages]:
    """All languages, then without the last, and so on: what is tried where room is scarce."""
    return [languages[:count] for count in range(len(languages), 0, -1)]

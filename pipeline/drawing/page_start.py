"""The first page of a tiled file: what it is, two squares to measure, the map, and how to print and join the pages.

The texts stand in the squares, so that both have their full size on every paper: in the upper one how to print,
beside them the sizes and how to join. The map stands where it is larger, in the lower square or across the foot of the
page, and marks, cautions and licence in the other place.
"""

from collections.abc import Callable, Sequence
from typing import NamedTuple

from pipeline.checks.cautions import cautions
from pipeline.drawing import svg
from pipeline.drawing.fonts import ASCENT
from pipeline.drawing.length_words import in_decimals, length_words
from pipeline.drawing.page_column import Column, fitted_column
from pipeline.drawing.page_join_picture import HEIGHT_MM, join_picture
from pipeline.drawing.page_map import MapPiece, map_scale, page_map, pages_of_piece
from pipeline.drawing.page_marks import marks_key
from pipeline.drawing.page_squares import INCH_SQUARE_MM, SQUARE_IN, SQUARE_MM, square, wrong_scales
from pipeline.drawing.page_text import PAPER_NAMES, fitted
from pipeline.drawing.piece_words import size_range
from pipeline.drawing.styles import BLACK, NESTED, PLAIN
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

_MAP_HEAD_MM = 7.0
_LIST_SIZES_MM = (2.8, 2.6, 2.4, 2.2, 2.0, 1.8)
_LIST_COLUMNS = (1, 2)

Languages = tuple[str, ...]


class _Place(NamedTuple):
    """A rectangle of the page that something may fill."""

    left: float
    top: float
    width: float
    height: float


def start_page(pattern: Pattern, plan: PagePlan, sizes: Sequence[str], pieces: Sequence[MapPiece]) -> str:
    """The SVG of the start page of a file that shows `sizes`. Raises ValueError where its texts do not fit."""
    margin = max(plan.margin_mm, _LEAST_MARGIN_MM)
    right, bottom = plan.page_width_mm - margin, plan.page_height_mm - margin
    (left, first_top), (_, second_top) = square_corners(plan)
    foot_top = second_top + INCH_SQUARE_MM + 3
    column_left = left + INCH_SQUARE_MM + _GAP_MM
    inner = INCH_SQUARE_MM - 2 * _INSET_MM
    places = (
        _Place(left + _INSET_MM, second_top + 7, inner, INCH_SQUARE_MM - 7 - _INSET_MM),
        _Place(left, foot_top, right - left, bottom - foot_top),
    )
    for_map, for_rest = sorted(places, key=lambda place: -map_scale(plan, place.width, place.height - _MAP_HEAD_MM))
    body = [
        *_head(pattern, plan, sizes, left, margin, right - left),
        square(left, first_top, SQUARE_MM),
        *caption(left, first_top, SQUARE_MM, "100 mm × 100 mm"),
        *_print_panel(pattern, plan, left, first_top),
        square(left, second_top, INCH_SQUARE_MM),
        *caption(left, second_top, INCH_SQUARE_MM, f"{SQUARE_IN} in × {SQUARE_IN} in (101.6 mm)"),
        *_map_panel(pattern, plan, pieces, for_map),
        *_marks_and_cautions(pattern, sizes, for_rest),
        *_side_column(
            pattern,
            plan,
            sizes,
            pieces,
            _Place(column_left, first_top, right - column_left, foot_top - 3 - first_top),
        ),
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
                    shown = in_decimals(language, " / ".join(measures))
                    column.text(f"{shown}: {say(language, word)}", indent_mm=2)

        return fill

    fills = [filled(languages) for languages in _fewer(pattern.languages)]
    room = SQUARE_MM - 2 * _INSET_MM
    return fitted_column(left + _INSET_MM, top + 8, room, SQUARE_MM - 8 - _INSET_MM, fills)


def _map_panel(pattern: Pattern, plan: PagePlan, pieces: Sequence[MapPiece], place: _Place) -> list[str]:
    """The map below its heading; what crosses mean stands beside the heading."""
    head = say_all(pattern.languages, "start.map-head", " / ")
    shown = sum(page.window is not None for page in plan.pages)
    blank = say_all(pattern.languages, "start.blank", " ") if shown < plan.rows * plan.columns else ""
    head_text, head_size = fitted([head], place.width, 3.0, 2.0, bold=True)
    drawn = [svg.text(Point(place.left, place.top + 2.6), head_text, head_size, bold=True)]
    if blank:
        blank_text, blank_size = fitted([blank], place.width, 2.2, 1.5)
        drawn.append(svg.text(Point(place.left, place.top + 5.6), blank_text, blank_size))
    top, height = place.top + _MAP_HEAD_MM, place.height - _MAP_HEAD_MM
    drawn.append(page_map(pattern, plan, pieces, place.left, top, place.width, height))
    return drawn


def _side_column(
    pattern: Pattern, plan: PagePlan, sizes: Sequence[str], pieces: Sequence[MapPiece], place: _Place
) -> list[str]:
    ends: list[float] = []

    def filled(languages: Languages) -> Callable[[Column], None]:
        def fill(column: Column) -> None:
            _key(column, pattern, plan, sizes, languages)
            column.gap(0.8)
            column.heading(" / ".join(dict.fromkeys(say(language, "start.join-head") for language in languages)))
            column.body.append(join_picture(place.left, column.y, place.width))
            column.y += HEIGHT_MM + 1
            for number, language in enumerate(languages):
                if number:
                    column.gap(0.4)
                column.text(_join_text(pattern, plan, language))
            ends.append(column.y)

        return fill

    drawn = fitted_column(*place, [filled(languages) for languages in _fewer(pattern.languages)])
    top = ends[-1] + _GAP_MM
    below = place._replace(top=top, height=place.top + place.height - top)
    return [*drawn, *_piece_list(pattern, plan, pieces, below)]


def _piece_list(pattern: Pattern, plan: PagePlan, pieces: Sequence[MapPiece], place: _Place) -> list[str]:
    """Every piece with the pages that it lies on, in the pattern's languages or the first; nothing where that has no
    room.
    """
    titles = {spec.number: spec.title for spec in pattern.pieces.values()}
    rows = sorted(
        ((piece.number, page_ranges(pages_of_piece(plan, piece))) for piece in pieces if piece.number in titles),
        key=lambda row: row[0] or 0,
    )

    for languages in _fewer(pattern.languages) if rows else ():
        head = say_all(languages, "start.pieces-head", " / ")
        texts = [f"{number} {in_all(titles[number or 0], languages, ' / ')}: {pages}" for number, pages in rows]
        for size in _LIST_SIZES_MM:
            for count in _LIST_COLUMNS:
                columns = _listed(head, texts, place, size, count)
                if max(column.y for column in columns) <= place.top + place.height:
                    return [piece for column in columns for piece in column.body]
    return []


def _listed(head: str, texts: Sequence[str], place: _Place, size_mm: float, count: int) -> list[Column]:
    """Texts below a heading, one after the other down `count` columns."""
    top = Column(place.left, place.top, place.width, size_mm)
    top.heading(head)
    columns = [top]
    width, each = (place.width - (count - 1) * 3.0) / count, -(-len(texts) // count)
    for number in range(count):
        column = Column(place.left + number * (width + 3.0), top.y, width, size_mm)
        for content in texts[number * each : (number + 1) * each]:
            column.text(content)
        columns.append(column)
    return columns


def _join_text(pattern: Pattern, plan: PagePlan, language: str) -> str:
    if plan.overlap_mm:
        return say(language, "start.join-overlap", overlap=length_words(language, plan.overlap_mm, pattern.units))
    return say(language, "start.join")


def _key(column: Column, pattern: Pattern, plan: PagePlan, sizes: Sequence[str], languages: Languages) -> None:
    """A sample of each size's line with the pages that the size needs."""
    needed = {size: pages_of_size(plan, size) for size in sizes}
    every = tuple(page.number for page in plan.pages)
    alike = all(pages == every for pages in needed.values())
    for language in languages:
        column.heading(say(language, "start.key-head"))
    if len(sizes) == 1:
        column.text(f"{_size_name(languages, sizes[0])}: {page_ranges(needed[sizes[0]])}", bold=True)
        return
    for language in languages:
        column.text(say(language, "start.key-all" if alike else "start.key"))
    column.gap(0.4)
    if alike:
        samples(column, pattern, sizes)
    else:
        for size in sizes:
            _key_row(column, pattern, size, page_ranges(needed[size]))
    column.gap(0.3)
    for language in languages:
        own = f" {say(language, 'start.own-files')}" if pattern.print.by_size else ""
        column.text(f"{say(language, 'start.solid')} {say(language, 'start.layers')}{own}")


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


def _marks_and_cautions(pattern: Pattern, sizes: Sequence[str], place: _Place) -> list[str]:
    def filled(languages: Languages) -> Callable[[Column], None]:
        def fill(column: Column) -> None:
            marks_key(column, NESTED if len(sizes) > 1 else PLAIN, languages)
            column.gap(0.4)
            for language in languages:
                for caution in care_texts(pattern, language):
                    column.text(caution)
            column.gap(0.3)
            licence = in_all(pattern.licence, languages, " / ")
            contact = in_all(pattern.contact, languages, " / ")
            column.text(f"{licence} · {contact}")

        return fill

    return fitted_column(*place, [filled(languages) for languages in _fewer(pattern.languages)])


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

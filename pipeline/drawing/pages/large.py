"""What stands around the pattern on a large sheet: a strip across its top, joining marks, and its name on every edge.

The strip holds what the start page of a tiled file holds: squares, ruler, sizes, marks and map. The name on the edges
shows when the sheet is rolled or folded.
"""

from collections.abc import Mapping, Sequence

from pipeline.drawing import scene
from pipeline.drawing.fonts import text_width_mm
from pipeline.drawing.names import PAPER_NAMES
from pipeline.drawing.pages.arrange import in_each
from pipeline.drawing.pages.frame import Box, along, frame_lines, joint_marks, window_box
from pipeline.drawing.pages.how_to import care_and_licence, how_to_join
from pipeline.drawing.pages.joints import Joint, Side, joints_of
from pipeline.drawing.panels.column import TEXT_SIZES_MM, Column, fitted_column
from pipeline.drawing.panels.map import MapPiece, page_map
from pipeline.drawing.panels.marks_key import marks_key
from pipeline.drawing.panels.sizes_key import samples
from pipeline.drawing.panels.squares import INCH_SQUARE_MM, SQUARE_IN, SQUARE_MM, caption, ruler, square, wrong_scales
from pipeline.drawing.panels.words import SEPARATOR, Languages, fewer, in_all, part_words, size_words, version_words
from pipeline.drawing.scene import Scene, Shape
from pipeline.drawing.text_lines import fitted
from pipeline.drawing.wording import in_decimals
from pipeline.model.pattern import Pattern, in_language
from pipeline.model.points import Point
from pipeline.sheets.layout import Page, PagePlan
from pipeline.words import say, say_all

_GAP_MM = 6.0
_INSET_MM = 5.0
_EDGE_TEXT_MM = 2.0
_EDGE_STRIP_MM = 4.4
"""Its middle: the text stands off the line along which margins are cut off, and inside what printers reach."""
_EDGE_STEP_MM = 400.0
_MAP_MM = 130.0
_TEXT_SIZES_MM = (5.0, 4.4, 3.8, *TEXT_SIZES_MM)
_RULER_BELOW_MM = 4.0


def large_pages(
    pattern: Pattern, plan: PagePlan, sizes: Sequence[str], pieces: Sequence[MapPiece], file_name: str
) -> dict[int, Scene]:
    """What stands around each large sheet, by its number."""
    joints = joints_of(plan)
    return {
        page.number: scene.of(
            0,
            0,
            plan.page_width_mm,
            plan.page_height_mm,
            [
                *_strip(pattern, plan, page, sizes, pieces),
                *joint_marks(window_box(plan, page), joints[page.label], plan.overlap_mm),
                *frame_lines(window_box(plan, page), joints[page.label], plan.overlap_mm),
                *_edges(pattern, plan, page, sizes, file_name, joints[page.label]),
            ],
        )
        for page in plan.pages
        if page.window is not None
    }


def square_corners(plan: PagePlan) -> tuple[Point, Point]:
    """Top left corners of the 100 mm and of the 4 in square, in mm from the page's top left corner."""
    return Point(plan.margin_mm, plan.margin_mm), Point(plan.margin_mm + SQUARE_MM + _GAP_MM, plan.margin_mm)


def _strip(
    pattern: Pattern, plan: PagePlan, page: Page, sizes: Sequence[str], pieces: Sequence[MapPiece]
) -> list[Shape]:
    left, top, right = plan.margin_mm, plan.margin_mm, plan.page_width_mm - plan.margin_mm
    second = square_corners(plan)[1].x
    texts = second + INCH_SQUARE_MM + _GAP_MM
    map_left = right - _MAP_MM
    choices = fewer(pattern.languages)
    room, inner = SQUARE_MM - 2 * _INSET_MM, SQUARE_MM - 8 - _INSET_MM

    def measures(column: Column, languages: Languages) -> None:
        _measure_and_join(column, pattern, plan, languages)

    def titles(column: Column, languages: Languages) -> None:
        _title_block(column, pattern, plan, page, sizes, languages)

    return [
        square(left, top, SQUARE_MM),
        *caption(left, top, SQUARE_MM, "100 mm × 100 mm"),
        *fitted_column(left + _INSET_MM, top + 8, room, inner, in_each(choices, measures)),
        square(second, top, INCH_SQUARE_MM),
        *caption(second, top, INCH_SQUARE_MM, f"{SQUARE_IN} in × {SQUARE_IN} in (101.6 mm)"),
        *fitted_column(
            second + _INSET_MM,
            top + 8,
            room,
            inner,
            in_each(choices, lambda column, languages: care_and_licence(column, pattern, languages)),
        ),
        *ruler(left, top + INCH_SQUARE_MM + _RULER_BELOW_MM),
        *fitted_column(
            texts,
            top,
            map_left - _GAP_MM - texts,
            INCH_SQUARE_MM,
            in_each(choices, titles),
            _TEXT_SIZES_MM,
        ),
        *page_map(pattern, plan, pieces, map_left, top, _MAP_MM, INCH_SQUARE_MM, page),
    ]


def _measure_and_join(column: Column, pattern: Pattern, plan: PagePlan, languages: Languages) -> None:
    for language in languages:
        column.heading(say(language, "large.measure"))
        column.text(say(language, "start.measures"))
        wrong = [scale for scale in wrong_scales(210.0, 297.0) if scale.word == "wrong.dots"]
        measures = in_decimals(language, SEPARATOR.join(f"{scale.measure_mm:.1f} mm" for scale in wrong))
        column.text(f"{measures}: {say(language, 'wrong.dots')}", indent_mm=2)
        column.gap()
    if any(joints_of(plan).values()):
        how_to_join(column, pattern, plan, languages, picture=False)


def _title_block(
    column: Column, pattern: Pattern, plan: PagePlan, page: Page, sizes: Sequence[str], languages: Languages
) -> None:
    column.text(in_all(pattern.title, languages), bold=True, times=2.4)
    column.text(f"{version_words(pattern, languages)} · {in_all(pattern.maker, languages)}", times=1.3)
    shown = part_words(pattern, plan, sizes, languages)
    column.text(f"{shown} · {PAPER_NAMES[plan.format]} · {_number(plan, page, languages)}", times=1.3)
    column.gap()
    _for_the_counter(column, plan, sizes, languages)
    column.gap()
    if len(sizes) > 1:
        samples(column, pattern, sizes)
        for language in languages:
            column.text(f"{say(language, 'start.solid')} {say(language, 'start.layers')}")
    column.gap()
    marks_key(column, sizes, languages)


def _for_the_counter(column: Column, plan: PagePlan, sizes: Sequence[str], languages: Languages) -> None:
    """What whoever prints must know, and nothing of sewing."""
    count, ink = len(plan.pages), "large.colour" if len(sizes) > 1 else "large.black"
    sides = {"width": round(plan.page_width_mm), "height": round(plan.page_height_mm)}
    for language in languages:
        sheets = say(language, "large.count-one" if count == 1 else "large.count", count=count, **sides)
        told = f"{say(language, 'large.print')} {sheets} {say(language, ink)}"
        column.text(f"{say(language, 'large.counter')}: {told}", bold=True)


def _number(plan: PagePlan, page: Page, languages: Languages) -> str:
    return say_all(languages, "large.sheet", SEPARATOR, number=page.number, count=len(plan.pages))


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
            size_words(sizes, pattern.sizes, languages),
            _number(plan, page, languages),
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
        name, size = fitted([content], min(length - 2, _EDGE_STEP_MM), _EDGE_TEXT_MM, 1.8)
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

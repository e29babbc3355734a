"""Where things stand on the start page: a map that can be read, whole squares, nothing on anything else."""

import itertools

import msgspec
import pytest
import shapely

from pipeline.drawing.fonts import CAP_HEIGHT, text_width_mm
from pipeline.drawing.pages.arrange import Fill, Listed, ListFill, Places, arranged, frame_of
from pipeline.drawing.pages.start import square_corners, start_page
from pipeline.drawing.panels.column import Column
from pipeline.drawing.panels.map import MapPiece, cell_mm, page_map
from pipeline.drawing.panels.squares import INCH_SQUARE_MM, SQUARE_MM
from pipeline.drawing.panels.words import Languages
from pipeline.drawing.scene import Path
from pipeline.geometry.points import Point
from pipeline.sheets.layout import PagePlan, Window
from pipeline.sheets.windows import page_label
from tests.drawing.seen import written
from tests.press import synthetic

PAPERS = {"a4": (210.0, 297.0), "letter": (215.9, 279.4), "a4-letter": (210.0, 279.4)}
GRIDS = {"tall": (4, 12), "wide": (8, 5), "square": (3, 3), "one": (1, 1)}
DIGITS_MM = 1.6
LANGUAGES = ("en", "de")


def plan_of(paper: str, columns: int, rows: int, margin_mm: float = 10.0) -> PagePlan:
    """Pages of a paper on a grid without a blank place."""
    width, height = PAPERS[paper]
    wide, high = width - 2 * margin_mm, height - 2 * margin_mm
    start = synthetic.tiles(synthetic.sheet()[0]).pages[0]
    pages = [start]
    for row in range(rows):
        for column in range(columns):
            window = Window(column * wide, row * high, wide, high)
            number = len(pages) + 1
            page = msgspec.structs.replace(
                start,
                number=number,
                label=page_label(number, row + 1),
                row=row + 1,
                column=column + 1,
                window=window,
            )
            pages.append(page)
    return PagePlan(
        format=paper,
        page_width_mm=width,
        page_height_mm=height,
        margin_mm=margin_mm,
        overlap_mm=0.0,
        rows=rows,
        columns=columns,
        pages=tuple(pages),
    )


def lines(count: int) -> Fill:
    """Text of so many short lines a language."""

    def fill(column: Column, languages: Languages) -> None:
        for _ in range(count * len(languages)):
            column.text("text")

    return fill


def listed(texts: int, pieces: int) -> ListFill:
    def fill(column: Column, languages: Languages, listed: Listed) -> None:
        lines(texts)(column, languages)
        lines(pieces)(column, listed.pieces)

    return fill


def placed(plan: PagePlan, texts: int, pieces: int = 0, foot: int = 2) -> Places:
    return arranged(plan, LANGUAGES, lines(1), listed(foot, 0), listed(texts, pieces))


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("grid", GRIDS)
def test_nothing_stands_on_anything_else_or_beyond_the_margins(paper: str, grid: str) -> None:
    plan = plan_of(paper, *GRIDS[grid])
    places = placed(plan, 12, 10)
    boxes = [
        shapely.box(*corner, corner.x + side, corner.y + side)
        for corner, side in zip(square_corners(plan), (SQUARE_MM, INCH_SQUARE_MM), strict=True)
    ]
    boxes += [
        shapely.box(place.left, place.top, place.left + place.width, place.top + place.height)
        for place in (places.foot, places.head, places.map, places.pages)
    ]
    frame = frame_of(plan)
    page = shapely.box(*frame).buffer(1e-6)
    for number, box in enumerate(boxes):
        assert page.contains(box)
        for other in boxes[:number]:
            assert box.intersection(other).area < 1e-6


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("grid", ["tall", "wide", "square"])
def test_labels_and_numbers_of_the_map_can_be_read(paper: str, grid: str) -> None:
    """48 pages in 4 columns were told on 5 mm each, in digits 1.2 mm tall, when the map stood in the foot."""
    plan = plan_of(paper, *GRIDS[grid])
    shown = placed(plan, 14, 20).map
    assert cell_mm(plan, shown.width, shown.height) >= 10
    piece = MapPiece("7", (Point(30, 30), Point(300, 30), Point(300, 200), Point(30, 200)))
    drawn = page_map(synthetic.pattern(), plan, [piece], *shown)
    sizes = {text.content: text.size_mm for text in written(drawn)}
    for label in ("7", *(page.label for page in plan.pages[1:])):
        assert sizes[label] * CAP_HEIGHT >= DIGITS_MM, label


@pytest.mark.parametrize(
    ("paper", "texts", "pieces", "kept"), [("a4", 6, 40, 0), ("a4", 10, 22, 1), ("letter", 10, 40, 0)]
)
def test_lists_go_before_labels_of_the_map_are_smaller_than_six_points(
    paper: str, texts: int, pieces: int, kept: int
) -> None:
    """With two views and 23 pieces in two languages, 53 pages stood on a map 14 mm wide, their labels 2.4 pt tall."""

    def long_texts(column: Column, languages: Languages, listed: Listed) -> None:
        for _ in range(texts * len(languages) + pieces * len(listed.pieces)):
            column.text("text " * 14)

    plan = plan_of(paper, 5, 11)
    places = arranged(plan, LANGUAGES, lines(1), listed(2, 0), long_texts)
    drawn = page_map(synthetic.pattern(), plan, [], *places.map)
    assert min(text.size_mm for text in written(drawn)) >= 6 / 72 * 25.4
    assert (len(places.languages), len(places.listed.pieces)) == (2, kept)


def test_a_piece_without_room_has_its_number_in_its_middle() -> None:
    """It lies where the corners of four pages meet, smaller than its number."""
    plan = plan_of("a4", *GRIDS["square"])
    corner = plan.pages[1].window
    assert corner is not None
    x, y = corner.left_mm + corner.width_mm, corner.top_mm + corner.height_mm
    piece = MapPiece("7", (Point(x - 4, y - 4), Point(x + 4, y - 4), Point(x + 4, y + 4), Point(x - 4, y + 4)))
    drawn = page_map(synthetic.pattern(), plan, [piece], *placed(plan, 14, 20).map)
    (number,) = (text for text in written(drawn) if text.content == "7")
    (outline,) = (shape for shape in drawn if isinstance(shape, Path) and shape.fill == "#ececec")
    middle = shapely.Polygon(outline.runs[0].points).centroid
    assert number.place.x == pytest.approx(middle.x, abs=0.01)
    assert number.place.y - CAP_HEIGHT * number.size_mm / 2 == pytest.approx(middle.y, abs=0.01)


@pytest.mark.parametrize("grid", ["tall", "wide", "square"])
def test_no_number_stands_on_the_line_of_a_label(grid: str) -> None:
    """Read together, 2 and 6D would be a page that there is not."""
    plan = plan_of("letter", *GRIDS[grid])
    last = plan.pages[-1].window
    assert last is not None
    right, bottom = last.left_mm + last.width_mm, last.top_mm + last.height_mm
    piece = MapPiece(
        "2", (Point(20, 20), Point(right - 20, 20), Point(right - 20, bottom - 20), Point(20, bottom - 20))
    )
    drawn = page_map(synthetic.pattern(), plan, [piece], *placed(plan, 14, 20).map)
    (number,) = (text for text in written(drawn) if text.content == "2")
    labels = [text for text in written(drawn) if text.content != "2"]
    assert len(labels) == len(plan.pages) - 1
    base, size = number.place.y, number.size_mm
    for label in labels:
        assert base - CAP_HEIGHT * size > label.place.y or base < label.place.y - CAP_HEIGHT * label.size_mm


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("grid", GRIDS)
@pytest.mark.parametrize("texts", [4, 14, 30])
def test_the_map_shows_pages_as_they_lie_on_the_table(paper: str, grid: str, texts: int) -> None:
    """Turned by a quarter, 3A stood above 2A where the text says that it joins on the left."""
    plan = plan_of(paper, *GRIDS[grid])
    drawn = page_map(synthetic.pattern(), plan, [], *placed(plan, texts).map)
    at = {text.content: text.place for text in written(drawn)}
    rows: dict[int, set[float]] = {}
    for page, other in itertools.pairwise(plan.pages[1:]):
        left_of = at[page.label].x < at[other.label].x
        assert left_of == (page.row == other.row)
        rows.setdefault(page.row, set()).add(at[page.label].y)
    assert all(len(found) == 1 for found in rows.values())


def test_the_map_tells_the_sizes_of_pages_that_not_all_need() -> None:
    plan = plan_of("letter", 4, 12)
    few = msgspec.structs.replace(plan.pages[7], sizes=("36", "38"))
    plan = msgspec.structs.replace(plan, pages=(*plan.pages[:7], few, *plan.pages[8:]))
    drawn = page_map(synthetic.pattern(), plan, [], *placed(plan, 14, 20).map)
    (few_sizes,) = (text for text in written(drawn) if text.content == "36, 38")
    assert few_sizes.size_mm * CAP_HEIGHT >= DIGITS_MM


def test_a_long_narrow_map_has_the_texts_beside_it_and_a_wide_one_below() -> None:
    tall, wide = placed(plan_of("letter", 4, 12), 12, 10), placed(plan_of("letter", 8, 5), 12, 10)
    assert tall.pages.left > tall.map.left + tall.map.width
    assert wide.pages.top > wide.map.top + wide.map.height


def test_more_text_makes_the_map_smaller() -> None:
    plan = plan_of("a4", 4, 12)
    few, many = placed(plan, 4), placed(plan, 15, 12)
    assert many.map.height < few.map.height
    assert many.listed.pieces == LANGUAGES


def test_pieces_are_listed_in_one_language_then_not_at_all_before_a_text_is_left_out() -> None:
    plan = plan_of("a4", 4, 12)
    assert placed(plan, 10, 40).listed.pieces == ("en",)
    none = placed(plan, 10, 300)
    assert none.listed.pieces == ()
    assert none.languages == LANGUAGES


def test_a_language_is_left_out_only_where_both_fit_nowhere() -> None:
    assert placed(plan_of("a4", 4, 12), 70).languages == ("en",)
    with pytest.raises(ValueError, match="shorten the pattern's title, maker, contact or licence"):
        placed(plan_of("a4", 4, 12), 300)


def test_the_start_page_is_printed_as_far_out_as_the_marks_around_the_pattern() -> None:
    assert frame_of(plan_of("a4", 1, 1)).left == 6.5
    assert frame_of(plan_of("a4", 1, 1, margin_mm=15)).left == pytest.approx(11.4)
    assert frame_of(plan_of("a4", 1, 1, margin_mm=5)).left == 6.5


@pytest.mark.parametrize("margin_mm", [5.0, 10.0, 15.0])
def test_all_texts_of_the_page_fit_at_every_usual_margin(margin_mm: float) -> None:
    plan = plan_of("letter", 4, 12, margin_mm)
    drawn = start_page(synthetic.pattern(), plan, synthetic.SIZES, synthetic.map_pieces(), synthetic.SIGNS)
    frame = frame_of(plan)
    texts = written(drawn)
    assert len(texts) > 60
    for text in texts:
        width = text_width_mm(text.content, text.size_mm, text.bold) if text.anchor == "start" else 0.0
        assert frame.left <= text.place.x <= frame.right - width + 0.001, text.content
        assert text.place.y <= frame.bottom, text.content

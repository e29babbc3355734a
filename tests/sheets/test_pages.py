import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from pipeline.drawing.pages.joints import joints_of
from pipeline.model.outputs import PrintSpec
from pipeline.model.pattern import View
from pipeline.sheets.large import plan_large
from pipeline.sheets.layout import HEADER_MM, LargeLayout, Layout, Placement, Window
from pipeline.sheets.papers import PAPERS, tile_of, tiles_of
from pipeline.sheets.placed import Field, placed_stacks
from pipeline.sheets.ranges import page_ranges, pages_of_size
from pipeline.sheets.stacks import stacks_of
from pipeline.sheets.tile import plan_pages
from pipeline.sheets.windows import grid_at, kept_pages, page_label
from tests.sheets.samples import GROWN_MM, cut_piece, pattern, rectangle, rectangles, stacks


def planned(sides, places, width, height, format="a4", overlap_mm=0.0):
    pieces = rectangles(*sides)
    at = tuple(Placement(f"r{n}", x + 2.05, y + 2.05) for n, (x, y) in enumerate(places))
    layout = Layout(width, height, at)
    return plan_pages(layout, placed_stacks(pieces, layout), PAPERS[format], ("38",), (), 10.0, overlap_mm)


def test_letter_is_exactly_612_by_792_points():
    letter = PAPERS["letter"]
    assert (letter.width_mm * 72 / 25.4, letter.height_mm * 72 / 25.4) == pytest.approx((612, 792), abs=1e-9)


def test_the_shared_tile_lies_within_both_papers():
    shared, a4, letter = (tile_of(PAPERS[name], 10.0) for name in ("a4-letter", "a4", "letter"))
    assert shared.width_mm == min(a4.width_mm, letter.width_mm) == 190.0
    assert shared.height_mm == min(a4.height_mm, letter.height_mm) == pytest.approx(259.4)


def test_a_layout_is_arranged_for_the_tiled_formats_of_the_pattern():
    spec = PrintSpec(formats=("a0", "a4-letter", "projector"), margin_mm=8.0, overlap_mm=5.0)
    assert tiles_of(spec) == (tile_of(PAPERS["a4-letter"], 8.0, 5.0),)
    assert len(tiles_of(PrintSpec(formats=("a0",)))) == 2


def test_margins_that_leave_nothing_are_refused():
    with pytest.raises(ValueError, match=r"a4: margins of 110 mm"):
        tile_of(PAPERS["a4"], 110.0)


@pytest.mark.parametrize(
    ("number", "row", "label"), [(2, 1, "2A"), (9, 9, "9J"), (60, 24, "60Z"), (4, 25, "4AA"), (5, 49, "5BA")]
)
def test_labels_are_the_page_number_and_the_row_letters(number, row, label):
    """A4, A0, B5 and C4 are papers: a page so named would seem to be one."""
    assert page_label(number, row) == label


def test_the_first_page_is_the_start_page_and_tiles_follow_row_by_row():
    plan = planned([(380, 554)], [(0, 0)], 380, 554)
    assert [(page.number, page.label) for page in plan.pages] == [(1, "1"), (2, "2A"), (3, "3A"), (4, "4B"), (5, "5B")]
    assert (plan.rows, plan.columns) == (2, 2)
    start = plan.pages[0]
    assert (start.window, start.row, start.column) == (None, 0, 0)


def test_blank_tiles_are_left_out_and_numbers_run_on():
    # two pieces in opposite corners of a sheet of 3 x 3 tiles
    plan = planned([(190, 277), (190, 277)], [(0, 0), (380, 554)], 570, 831)
    assert [(page.number, page.label) for page in plan.pages] == [(1, "1"), (2, "2A"), (3, "3C")]


@settings(max_examples=30, deadline=None)
@given(st.floats(150, 900), st.floats(150, 900), st.sampled_from(["a4", "letter", "a4-letter"]), st.floats(0, 20))
def test_windows_cover_the_sheet_and_neighbours_overlap_as_asked(width, height, format, overlap):
    plan = planned([(width, height)], [(0, 0)], width, height, format, overlap)
    windows = {(page.row, page.column): page.window for page in plan.pages if page.window}
    assert len(windows) == plan.rows * plan.columns
    union = shapely.union_all(
        [shapely.box(w.left_mm, w.top_mm, w.left_mm + w.width_mm, w.top_mm + w.height_mm) for w in windows.values()]
    )
    # beyond the cut line there is only what is written along it, and less than half a mm of a piece is no page
    room = GROWN_MM + 0.5
    assert union.buffer(1e-6).covers(shapely.box(room, room, width - room, height - room))
    for (row, column), window in windows.items():
        right, below = windows.get((row, column + 1)), windows.get((row + 1, column))
        if right:
            assert window.left_mm + window.width_mm - right.left_mm == pytest.approx(overlap, abs=1e-6)
        if below:
            assert window.top_mm + window.height_mm - below.top_mm == pytest.approx(overlap, abs=1e-6)


def test_a_page_lists_the_sizes_whose_pieces_lie_on_it_by_outline_not_by_box():
    # an L whose inner corner is empty: its box would reach the second page, its cut line does not
    ell = [(0.0, 0.0), (300.0, 0.0), (300.0, 60.0), (60.0, 60.0), (60.0, 400.0), (0.0, 400.0)]
    pieces = stacks(cut_piece("ell", ell, "34"), cut_piece("ell", rectangle(300, 400), "38"))
    layout = Layout(304.1, 404.1, (Placement("ell", 2.05, 2.05),))
    plan = plan_pages(layout, placed_stacks(pieces, layout), PAPERS["a4"], ("34", "38"))
    assert [(page.label, page.sizes) for page in plan.pages[1:]] == [
        ("2A", ("34", "38")),
        ("3A", ("34", "38")),
        ("4B", ("34", "38")),
        ("5B", ("38",)),
    ]
    assert pages_of_size(plan, "34") == (1, 2, 3, 4)
    assert pages_of_size(plan, "38") == (1, 2, 3, 4, 5)


def test_a_page_lists_the_views_of_its_pieces():
    spec = pattern(("long-front", "short-front"))
    spec = replace(
        spec,
        views={name: View(name, {"en": name}) for name in ("long", "short")},
        pieces={name: replace(piece, views=(name.split("-")[0],)) for name, piece in spec.pieces.items()},
    )
    cut = {name: {"38": cut_piece(name, rectangle(100, 100))} for name in spec.pieces}
    pieces = stacks_of(spec, cut)
    layout = Layout(380, 277, (Placement("long-front", 10, 10), Placement("short-front", 200, 10)))
    plan = plan_pages(layout, placed_stacks(pieces, layout), PAPERS["a4"], ("38",), ("long", "short"))
    assert [page.views for page in plan.pages] == [("long", "short"), ("long",), ("short",)]


@pytest.mark.parametrize(
    ("numbers", "text"),
    [([], ""), ([3], "3"), ([1, 2], "1, 2"), ([1, 3, 4, 5], "1, 3-5"), ([7, 5, 6, 1, 2, 9], "1, 2, 5-7, 9")],
)
def test_page_ranges_are_written_as_print_dialogues_take_them(numbers, text):
    assert page_ranges(numbers) == text


@given(st.sets(st.integers(1, 60)))
def test_page_ranges_say_exactly_the_pages(numbers):
    read = set()
    for part in filter(None, page_ranges(numbers).split(", ")):
        first, _, last = part.partition("-")
        read.update(range(int(first), int(last or first) + 1))
    assert read == numbers


def large(sides, places, window, columns, rows):
    """Rectangles on pages of a window."""
    pieces = rectangles(*sides)
    at = tuple(Placement(f"r{n}", x + GROWN_MM, y + GROWN_MM) for n, (x, y) in enumerate(places))
    arranged = LargeLayout(*window, Layout(columns * window[0], rows * window[1], at))
    return plan_large(arranged, placed_stacks(pieces, arranged.layout), PAPERS["a0"], ("38",))


def test_a_large_page_is_its_window_with_a_header_above_and_a_margin_around():
    (page,), plan = (plan := large([(800, 900)], [(0, 0)], (821, 1039), 1, 1)).pages, plan
    assert (plan.page_width_mm, plan.page_height_mm, plan.header_mm) == (841, 1189, HEADER_MM)
    assert (page.number, page.window) == (1, Window(0, 0, 821, 1039))


def test_large_sheets_are_numbered_since_a1_is_a_paper():
    plan = large([(200, 200)] * 3, [(0, 0), (821, 0), (0, 1039)], (821, 1039), 2, 2)
    assert [page.label for page in plan.pages] == ["1", "2", "3"]
    assert not {page.label for page in plan.pages} & {f"A{n}" for n in range(9)}


def test_nothing_joins_sheets_across_which_nothing_lies():
    plan = large([(900, 300), (700, 300)], [(0, 0), (0, 1100)], (821, 1039), 2, 2)
    assert plan.apart == (("1", "3"),)
    assert {label: set(sides) for label, sides in joints_of(plan).items()} == {
        "1": {"right"},
        "2": {"left"},
        "3": set(),
    }


@pytest.mark.parametrize(("reach_mm", "needed"), [(-0.3, ["1A"]), (0.2, ["1A"]), (0.8, ["1A", "2A"])])
def test_a_page_with_less_than_a_millimetre_of_a_piece_is_none(reach_mm, needed):
    """The room for what is written along the line reaches into the second tile always, the line's 0.5 mm do too."""
    pieces = stacks(cut_piece("p", rectangle(180 + reach_mm, 100)))
    layout = Layout(400, 105, (Placement("p", 10, 3),))
    assert pieces[0].region.bounds[2] + 10 > 190
    grid = grid_at(layout, tile_of(PAPERS["a4"], 10.0))
    pages = kept_pages(grid, Field(placed_stacks(pieces, layout)), ("38",), (), 1)
    assert [page.label for page in pages] == needed


def test_a_size_needs_no_page_that_only_a_larger_one_reaches():
    """Size 34 ends on the joint; its line's room and the room for its name reach across."""
    pieces = stacks(cut_piece("p", rectangle(179.9, 100), "34"), cut_piece("p", rectangle(200, 100), "38"))
    layout = Layout(400, 105, (Placement("p", 10, 3),))
    grid = grid_at(layout, tile_of(PAPERS["a4"], 10.0))
    pages = kept_pages(grid, Field(placed_stacks(pieces, layout)), ("34", "38"), (), 1)
    assert [(page.label, page.sizes) for page in pages] == [("1A", ("34", "38")), ("2A", ("38",))]


def test_a_sheet_has_no_rows_or_columns_without_a_page():
    pieces = rectangles((190, 277))
    layout = Layout(570, 831, (Placement("r0", 190 + 2.05, 277 + 2.05),))
    plan = plan_pages(layout, placed_stacks(pieces, layout), PAPERS["a4"], ("38",))
    assert (plan.rows, plan.columns, [page.label for page in plan.pages]) == (1, 1, ["1", "2A"])


@pytest.mark.parametrize(("columns", "pages"), [(1, ["1", "2A"]), (2, ["1", "2A", "3A"])])
def test_what_lies_in_the_strip_of_overlap_of_the_last_page_belongs_to_that_page(columns, pages):
    """A tile of A4 shows 190 mm; with 20 mm of overlap the next would begin at 170."""
    width = 190 + 170 * (columns - 1)
    sides, places = [(8, 20)], [(width - 10, 5)]
    if columns == 2:
        sides, places = [*sides, (8, 20)], [*places, (5, 5)]
    assert [page.label for page in planned(sides, places, width, 277, overlap_mm=20.0).pages] == pages


def test_what_lies_in_the_strip_that_the_next_page_repeats_belongs_to_the_next_alone():
    layout = Layout(360, 277, (Placement("r0", 177.05, 7.05),))
    field = Field(placed_stacks(rectangles((8, 20)), layout))
    grid = grid_at(layout, tile_of(PAPERS["a4"], 10.0, 20.0))
    assert [page.column for page in kept_pages(grid, field, ("38",), (), 1)] == [2]


@pytest.mark.parametrize("format", ["a4", "letter", "a4-letter"])
def test_an_overlap_of_half_a_page_is_refused_and_a_little_less_is_not(format):
    paper = PAPERS[format]
    plain = tile_of(paper, 10.0)
    half = min(plain.width_mm, plain.height_mm) / 2
    tile = tile_of(paper, 10.0, half - 0.01)
    assert (tile.step_x_mm, tile.step_y_mm) == pytest.approx(
        (plain.width_mm - half + 0.01, plain.height_mm - half + 0.01)
    )
    with pytest.raises(ValueError, match="leave"):
        tile_of(paper, 10.0, half)
    for margin_mm, overlap_mm in ((-0.01, 0.0), (10.0, -0.01)):
        with pytest.raises(ValueError, match="leave"):
            tile_of(paper, margin_mm, overlap_mm)

"""What stands around the pattern: outside the window, within reach of printers, and meeting across each joint."""

import msgspec
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pipeline.drawing.pages.frame import STRIP_MM, TINT, frame_lines, frame_pages, joint_marks, window_box
from pipeline.drawing.pages.joints import Side, joints_of, row_middles_mm
from pipeline.drawing.pages.large import large_pages
from pipeline.drawing.scene import Scene
from pipeline.geometry.points import Point
from pipeline.model.pattern import Material
from pipeline.press.forms import render_pages
from pipeline.sheets.layout import PagePlan, Window
from pipeline.sheets.windows import page_label
from pipeline.words import say
from tests.drawing.seen import contents, paths
from tests.press import proof, synthetic

LAYOUT = synthetic.sheet()[0]
PLAN = synthetic.tiles(LAYOUT)
DPI = 254.0
PIXELS = 10
FAINTEST = 255 - 32


def pictures(scenes: dict[int, Scene], tmp_path_factory: pytest.TempPathFactory) -> dict[int, proof.Grey]:
    file = tmp_path_factory.mktemp("frames") / "frames.pdf"
    file.write_bytes(render_pages(scenes.values()))
    return {number: proof.pdfium(file, index, DPI) for index, number in enumerate(scenes)}


@pytest.fixture(scope="module")
def frames(tmp_path_factory: pytest.TempPathFactory) -> dict[int, proof.Grey]:
    few = {number: drawn for number, drawn in frame_pages(synthetic.pattern(), PLAN).items() if number in (2, 3, 5, 6)}
    return pictures(few, tmp_path_factory)


def test_nothing_of_the_frame_covers_the_pattern(frames: dict[int, proof.Grey]) -> None:
    """Within the window there is only a tint, which the comparison of tiles and sheet does not count as a line."""
    for grey in frames.values():
        window = grey[100:-100, 100:-100]
        assert window.shape == (2770, 1900)
        assert FAINTEST < window.min() < 255


def test_the_frame_keeps_to_what_printers_reach(frames: dict[int, proof.Grey]) -> None:
    """6.35 mm (1/4 in) of a page are out of reach of many printers: common practice."""
    reach = round((10 - STRIP_MM) * PIXELS)
    assert reach / PIXELS >= 6.35
    for grey in frames.values():
        outside = np.ones_like(grey, dtype=bool)
        outside[reach:-reach, reach:-reach] = False
        assert grey[outside].min() > 250
        assert grey[~outside].min() < 10


def test_ticks_of_a_joint_stand_at_the_same_places_on_both_pages(frames: dict[int, proof.Grey]) -> None:
    """Pages 5 and 6 are neighbours; a column of pixels 2 mm outside the window crosses all ticks of the side."""
    joint = joints_of(PLAN)["5B"]["right"]
    middle = slice(1485 - 150, 1485 + round((joint.ticks_mm()[-1] + 1) * PIXELS))
    right = frames[5][middle, 100 + 1900 + 20] < 128
    left = frames[6][middle, 100 - 20] < 128
    assert np.array_equal(right, left)
    starts = np.flatnonzero(np.diff(right.astype(int)) == 1)
    expected = [1485 + at * PIXELS for at in joint.ticks_mm()]
    assert len(starts) >= len(expected)
    measured = [1485 - 150 + start + 2.5 for start in starts[: len(expected)]]
    assert measured == pytest.approx(expected, abs=1.5)


def test_the_tint_of_a_joint_goes_on_across_it(frames: dict[int, proof.Grey]) -> None:
    """What is left of the ticks when the margins are gone: bars in the last and the first 6 mm of the two windows."""
    right, left = frames[5][100:-100, 1999 - 5], frames[6][100:-100, 100 + 5]
    assert np.abs(right.astype(int) - left).max() <= 2
    assert np.array_equal(frames[5][100:-100, 1999 - 55], frames[5][100:-100, 1999 - 5]), "bars are 6 mm long"
    joint = joints_of(PLAN)["5B"]["right"]
    middles = row_middles_mm(277.0)
    assert len(middles) == 2
    for middle in middles:
        for at in joint.ticks_mm(middle):
            row = round((138.5 + at) * PIXELS)
            assert (right[row - 6 : row + 6] < 235).all(), "a bar is 1.5 mm wide"
    expected = len(middles) * len(joint.ticks_mm()) * 1.5 * PIXELS
    assert (right < 240).sum() == pytest.approx(expected, rel=0.1)


@pytest.mark.parametrize(("length_mm", "count"), [(190.0, 2), (277.0, 2), (821.0, 3), (2000.0, 8)])
def test_rows_of_bars_stand_about_every_250_mm_and_twice_at_least(length_mm: float, count: int) -> None:
    middles = row_middles_mm(length_mm)
    assert len(middles) == count
    assert sum(middles) == pytest.approx(0)
    assert np.diff(middles) == pytest.approx(length_mm / count)


@given(
    rows=st.integers(1, 9), columns=st.integers(1, 9), blank=st.sets(st.tuples(st.integers(0, 8), st.integers(0, 8)))
)
def test_every_joint_of_a_file_has_a_row_of_ticks_of_its_own(
    rows: int, columns: int, blank: set[tuple[int, int]]
) -> None:
    plan = grid(rows, columns, blank)
    joints = joints_of(plan)
    different = {joint for sides in joints.values() for joint in sides.values()}
    assert len({joint.gaps_mm for joint in different}) == len(different)
    for label, sides in joints.items():
        for side, joint in sides.items():
            other = joint.second if joint.first == label else joint.first
            opposite = {"left": "right", "right": "left", "top": "bottom", "bottom": "top"}[side]
            assert joints[other][opposite] == joint


def test_two_rows_of_ticks_differ_in_two_gaps_or_more() -> None:
    joints = {joint for sides in joints_of(grid(6, 9, set())).values() for joint in sides.values()}
    gaps = [joint.gaps_mm for joint in joints]
    assert len(gaps) == 6 * 8 + 5 * 9
    fewest = min(
        sum(a != b for a, b in zip(one, other, strict=True)) for n, one in enumerate(gaps) for other in gaps[:n]
    )
    assert fewest >= 2


def test_a_left_out_page_has_no_joint() -> None:
    joints = joints_of(PLAN)
    assert set(joints["8C"]) == {"top"}
    assert set(joints["6B"]) == {"left", "right", "top"}


def test_row_column_sizes_and_number_stand_on_the_page() -> None:
    said = contents(frame_pages(synthetic.pattern(), PLAN)[2])
    for words in ("2A · Row A · Reihe A", "2A · Column 1 · Spalte 1", "2A + 3A", "2A + 5B"):
        assert words in said
    assert "Invented jacket / Erfundene Jacke · version 1.2.0 · A4" in said
    assert "Page 2 of 9 / Seite 2 von 9 · 2A · Sizes / Größen 36–40" in said


def test_a_strip_of_overlap_shows_where_the_neighbour_comes_to_lie() -> None:
    plan = msgspec.structs.replace(PLAN, overlap_mm=12.0)
    page = plan.pages[1]
    box = window_box(plan, page)
    drawn = frame_pages(synthetic.pattern(), plan)[page.number]
    x, y = box.right - 12, box.bottom - 12
    tinted = [run.points for path in paths(drawn) if path.stroke and path.stroke.colour == TINT for run in path.runs]
    assert (Point(x, box.top), Point(x, box.bottom)) in tinted
    assert (Point(box.left, y), Point(box.right, y)) in tinted


@pytest.mark.parametrize(("side", "starts_mm"), [("left", 0), ("top", 0), ("right", 12), ("bottom", 12)])
def test_bars_begin_where_the_pages_edge_comes_to_lie(side: Side, starts_mm: float) -> None:
    """With an overlap, the right and lower neighbour lie on the page: its bars go on beyond their edge."""
    plan = msgspec.structs.replace(PLAN, overlap_mm=12.0)
    page = next(page for page in plan.pages if side in joints_of(plan).get(page.label, {}))
    box = window_box(plan, page)
    joint = joints_of(plan)[page.label][side]
    marks = paths(joint_marks(box, {side: joint}, 12.0))
    (tint,) = [path for path in marks if path.stroke and path.stroke.colour == TINT]
    ends = [tuple(point) for run in tint.runs for point in run.points]
    depths = {
        "left": [x - box.left for x, _ in ends],
        "right": [box.right - x for x, _ in ends],
        "top": [y - box.top for _, y in ends],
        "bottom": [box.bottom - y for _, y in ends],
    }[side]
    assert {round(depth, 3) for depth in depths} == {starts_mm, starts_mm + 6}


def test_ticks_of_the_overlap_stand_outside_the_window_at_its_four_ends() -> None:
    plan = msgspec.structs.replace(PLAN, overlap_mm=12.0)
    page = next(page for page in plan.pages if {"right", "bottom"} <= set(joints_of(plan).get(page.label, {})))
    box = window_box(plan, page)
    drawn = [run.points for path in paths(frame_lines(box, joints_of(plan)[page.label], 12.0)) for run in path.runs]
    x, y, tick = box.right - 12, box.bottom - 12, 3.2
    for a, b in (
        ((x, box.top), (x, box.top - tick)),
        ((x, box.bottom), (x, box.bottom + tick)),
        ((box.left, y), (box.left - tick, y)),
        ((box.right, y), (box.right + tick, y)),
    ):
        assert (Point(*a), Point(*b)) in drawn


def test_a_large_sheet_is_named_on_all_its_edges_and_has_a_ruler() -> None:
    plan = synthetic.large_sheet(LAYOUT)
    drawn = large_pages(
        synthetic.pattern(), plan, synthetic.SIZES, synthetic.map_pieces(), synthetic.SIGNS, "roll-36in.pdf"
    )[1]
    said = contents(drawn)
    named = [content for content in said if "roll-36in.pdf" in content]
    assert len(named) >= 8
    whole = "1.2.0 · roll-36in.pdf · Sizes / Größen 34–40 · The whole roll / Die ganze Rolle"
    assert all(whole in content for content in named)
    assert "50 cm" in said
    ruler = (Point(10, 121.6), Point(510, 121.6))
    assert any(run.points == ruler for path in paths(drawn) for run in path.runs), "the ruler's line is 500 mm long"
    for measures in ("75.0 mm / 133.3 mm", "75,0 mm / 133,3 mm"):
        own = [content for content in said if content.startswith(f"{measures}: ")]
        assert own, "each language has its own decimal sign"


def test_of_several_large_sheets_each_shows_itself_on_the_map_and_tells_how_to_join() -> None:
    plan = synthetic.large_sheet(LAYOUT)
    first = plan.pages[0]
    second = msgspec.structs.replace(first, number=2, label="2", column=2, window=moved(first.window, LAYOUT.width_mm))
    both = msgspec.structs.replace(plan, columns=2, pages=(first, second))
    drawn = large_pages(synthetic.pattern(), both, synthetic.SIZES, (), synthetic.SIGNS, "a0.pdf")
    frames = {number: framed(page) for number, page in drawn.items()}
    assert [len(found) for found in frames.values()] == [1, 1]
    assert frames[1] != frames[2]
    alone = large_pages(synthetic.pattern(), plan, synthetic.SIZES, (), synthetic.SIGNS, "a0.pdf")[1]
    assert framed(alone) == [], "one sheet needs no frame"
    assert say("de", "start.join-head") in " ".join(contents(drawn[2]))
    assert say("de", "start.join-head") not in " ".join(contents(alone)), "one sheet is not joined"
    apart = msgspec.structs.replace(both, apart=(("1", "2"),))
    loose = large_pages(synthetic.pattern(), apart, synthetic.SIZES, (), synthetic.SIGNS, "a0.pdf")[2]
    said = " ".join(contents(loose))
    assert say("de", "start.join-head") not in said, "sheets across which nothing lies are not joined"
    assert "1 + 2" not in said
    assert "1 + 2" in " ".join(contents(drawn[2]))


@pytest.mark.parametrize("sizes", [synthetic.SIZES, synthetic.SIZES[:1]])
def test_every_large_sheet_tells_the_copy_shop_what_to_set_in_each_language(sizes) -> None:
    plan = synthetic.large_sheet(LAYOUT)
    second = msgspec.structs.replace(plan.pages[0], number=2, label="2", row=2)
    ink = {"en": "In colour or in black", "de": "In Farbe oder in Schwarz"}
    if len(sizes) == 1:
        ink = {"en": "In black: there is no colour", "de": "In Schwarz: Farbe kommt nicht vor"}
    wide, high = round(plan.page_width_mm), round(plan.page_height_mm)
    several = msgspec.structs.replace(plan, rows=2, pages=(plan.pages[0], second))
    for one, counts in (
        (plan, ("1 sheet,", "1 Bogen,")),
        (several, ("The whole pattern: 2 sheets, each", "Der ganze Schnitt: 2 Bogen, jeder")),
    ):
        for page in large_pages(synthetic.pattern(), one, sizes, (), synthetic.SIGNS, "a0.pdf").values():
            said = " ".join(contents(page))
            assert "Print at 100 %, actual size: no scaling" in said
            assert "Mit 100 %, in tatsächlicher Größe drucken: nicht skalieren" in said
            assert all(f"{count} {wide} × {high} mm" in said for count in counts)
            assert all(text in said for text in ink.values())


def framed(drawn: Scene) -> list[tuple[Point, ...]]:
    """The corners of what is framed on the map."""
    thick = [path for path in paths(drawn) if path.stroke and path.stroke.width_mm == 0.7]
    return [run.points for path in thick for run in path.runs if run.closed]


def moved(window: Window | None, by_mm: float) -> Window:
    assert window is not None
    return msgspec.structs.replace(window, left_mm=window.left_mm + by_mm)


def grid(rows: int, columns: int, blank: set[tuple[int, int]]) -> PagePlan:
    """Pages on a grid without some places, at least one kept."""
    example = PLAN.pages[1]
    kept = [(r, c) for r in range(rows) for c in range(columns) if (r, c) not in blank] or [(0, 0)]
    pages = tuple(
        msgspec.structs.replace(example, number=n, label=page_label(n, r + 1), row=r + 1, column=c + 1)
        for n, (r, c) in enumerate(kept, start=2)
    )
    return msgspec.structs.replace(PLAN, rows=rows, columns=columns, pages=(PLAN.pages[0], *pages))


def test_a_large_sheet_has_the_gauge_of_a_knit_and_none_for_what_does_not_stretch() -> None:
    plan = synthetic.large_sheet(LAYOUT)

    def said(**more: float) -> bool:
        cloth = Material(title={"en": "jersey", "de": "Jersey"}, widths_mm=(1500.0,), **more)
        pattern = msgspec.structs.replace(synthetic.pattern(), materials={"shell": cloth})
        drawn = large_pages(pattern, plan, synthetic.SIZES, (), synthetic.SIGNS, "a0.pdf")[1]
        return any("stretch enough?" in content for content in contents(drawn))

    assert said(stretch_width=0.5)
    assert not said()

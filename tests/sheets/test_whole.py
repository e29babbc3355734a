"""Copy-shop files: nothing cut that a sheet holds, few sheets, a short roll; on demos and garments from outside."""

import math
from functools import cache
from pathlib import Path

import pytest
import shapely
from msgspec.structs import replace

from pipeline.cutting.cut import cut_pieces
from pipeline.masters.read_size import read_size
from pipeline.masters.toml.load import load_pattern
from pipeline.sheets.arrange import arrange
from pipeline.sheets.improve import shorten
from pipeline.sheets.large import plan_large
from pipeline.sheets.layout import HEADER_MM, LargeLayout, Layout, Placement, SavedLayout
from pipeline.sheets.packing import Packing, Taste, poses_of
from pipeline.sheets.papers import MOST_PAGE_MM, PAPERS, tiles_of
from pipeline.sheets.placed import placed_stacks
from pipeline.sheets.stacks import moved, stacks_of
from pipeline.sheets.starts import place
from pipeline.sheets.verify import TOLERANCE_MM, verify_layout
from pipeline.sheets.whole import arrange_large, holds, turns_of
from pipeline.work.files import read_json
from tests.sheets.samples import rectangles

ROOT = Path(__file__).parents[2]
AROUND_MM = HEADER_MM + 20.0
MOST = {
    # garment: sheets of A0, metres of roll 24 in, 36 in and 42 in, header and margins counted
    "source/work-jacket": (3, 4.3, 2.95, 2.65),
    "source/child-pinafore": (1, 0.95, 0.7, 0.65),
    "source/half-circle-skirt": (3, 3.5, 2.5, 2.5),
    "tests/garments/suit-trousers": (5, 6.9, 4.15, 3.55),
    "tests/garments/child-hoodie": (2, 2.45, 1.6, 1.4),
}
"""What a build's arrangement reached when this was written, and at most 5 cm of roll for each metre more."""
FORMATS = ("a0", "roll-24in", "roll-36in", "roll-42in")


@cache
def garment(folder):
    """The stacks, and the layout of the tiles: as kept, else as a build arranges it."""
    pattern, findings = load_pattern(ROOT / folder)
    assert pattern is not None, findings
    cuts = {}
    for size in pattern.sizes:
        for cut in cut_pieces(pattern, size, read_size(pattern, ROOT / folder, size)[0])[0]:
            cuts.setdefault(cut.piece, {})[size] = cut
    stacks, kept = stacks_of(pattern, cuts), ROOT / folder / "layout.json"
    tiled = read_json(kept, SavedLayout).layout if kept.exists() else arrange(stacks, tiles_of(pattern.print))
    return pattern, stacks, tiled


@cache
def arranged(folder, format):
    _, stacks, tiled = garment(folder)
    return arrange_large(stacks, PAPERS[format], drawn=turns_of(tiled))


def fits(stack, width, height):
    left, top, right, bottom = stack.region.bounds
    wide, high = right - left, bottom - top
    return (wide <= width and high <= height) or (high <= width and wide <= height)


def cut_in_vain(stacks, large, most_high):
    """The stacks that lie on several pages of a file though one page would hold them."""
    plan = plan_large(large, placed_stacks(stacks, large.layout), PAPERS["a0"], tuple(stacks[0].lines))
    windows = [
        shapely.box(at.left_mm, at.top_mm, at.left_mm + at.width_mm, at.top_mm + at.height_mm)
        for page in plan.pages
        if (at := page.window) is not None
    ]
    lying = {one.piece: one for one in large.layout.placements}
    return [
        stack.piece
        for stack in stacks
        if fits(stack, large.sheet_width_mm, most_high)
        and sum(w.intersects(moved(stack.region, lying[stack.piece]).buffer(-TOLERANCE_MM)) for w in windows) > 1
    ]


@pytest.mark.parametrize("format", FORMATS)
@pytest.mark.parametrize("folder", MOST)
def test_no_stack_is_cut_that_a_sheet_holds(folder, format):
    _, stacks, _ = garment(folder)
    large, paper = arranged(folder, format), PAPERS[format]
    assert verify_layout(stacks, large.layout) == ()
    most_high = large.sheet_height_mm if paper.kind == "sheet" else MOST_PAGE_MM - AROUND_MM
    assert cut_in_vain(stacks, large, most_high) == []
    if paper.kind == "sheet":
        cut = [sum(not fits(stack, w - 20, h - AROUND_MM) for stack in stacks) for w, h in paper.sides]
        assert sum(not fits(stack, large.sheet_width_mm, large.sheet_height_mm) for stack in stacks) == min(cut)


@pytest.mark.parametrize("folder", MOST)
def test_few_sheets_and_a_short_roll(folder):
    pattern, stacks, _ = garment(folder)
    area = sum(stack.region.area for stack in stacks)
    for format, most in zip(FORMATS, MOST[folder], strict=True):
        large = arranged(folder, format)
        pages = plan_large(large, placed_stacks(stacks, large.layout), PAPERS[format], pattern.sizes).pages
        assert len(pages) >= math.ceil(area / (large.sheet_width_mm * large.sheet_height_mm) - 1e-9)
        used = len(pages) if format == "a0" else len(pages) * (large.sheet_height_mm + AROUND_MM) / 1000
        assert used <= most, f"{format}: {used}"
        assert large.sheet_height_mm + AROUND_MM <= MOST_PAGE_MM


@pytest.mark.parametrize("folder", [name for name in MOST if name.startswith("source/")])
def test_what_is_kept_for_the_demos_holds_and_is_no_worse(folder):
    _, stacks, _ = garment(folder)
    kept = read_json(ROOT / folder / "layout.json", SavedLayout).large
    assert list(kept)[:2] == ["a0", "roll-36in"]
    for format, large in list(kept.items())[:2]:
        assert arrange_large(stacks, PAPERS[format], large) == large
        own = arranged(folder, format)
        assert large.layout.height_mm <= own.layout.height_mm


@pytest.mark.parametrize("folder", ["source/work-jacket", "tests/garments/suit-trousers"])
def test_a_roll_as_wide_as_the_stacks_need_no_turn_that_is_not_drawn(folder):
    _, _, tiled = garment(folder)
    assert turns_of(arranged(folder, "roll-36in").layout) <= turns_of(tiled)


def test_few_stacks_are_drawn_anew_to_save_a_sheet():
    """The jacket needs four sheets in the turns of its tiles, and three with a few others; each costs 0.35 s."""
    _, stacks, tiled = garment("source/work-jacket")
    assert len(turns_of(arranged("source/work-jacket", "a0").layout) - turns_of(tiled)) <= len(stacks) // 4


def test_what_no_sheet_holds_is_cut_as_little_as_can_be_and_the_rest_is_not():
    """A0 shows 821 x 1039 mm or 1169 x 691: 1000 x 1600 needs four that stand and three that lie below each other."""
    pieces = rectangles((1000, 1600), (600, 900), (300, 300))
    large = arrange_large(pieces, PAPERS["a0"])
    plan = plan_large(large, placed_stacks(pieces, large.layout), PAPERS["a0"], ("38",))
    assert cut_in_vain(pieces, large, large.sheet_height_mm) == []
    assert (plan.rows, plan.columns, plan.apart) == (4, 1, (("3", "4"),))


def test_a_roll_longer_than_a_page_can_be_is_pages_of_equal_length():
    pieces = rectangles(*[(850, 1000)] * 8)
    large = arrange_large(pieces, PAPERS["roll-36in"])
    plan = plan_large(large, placed_stacks(pieces, large.layout), PAPERS["roll-36in"], ("38",))
    assert len(plan.pages) == 2
    assert plan.page_height_mm <= MOST_PAGE_MM
    assert large.sheet_height_mm == 4000


def test_the_same_stacks_always_lie_the_same():
    pieces = rectangles((300, 200), (120, 410), (77, 90), (250, 250), (180, 60), (600, 700), (500, 900))
    assert arrange_large(pieces, PAPERS["a0"]) == arrange_large(pieces, PAPERS["a0"])


def test_no_stacks_no_sheet():
    assert arrange_large((), PAPERS["a0"]) == LargeLayout(0.0, 0.0, Layout(0.0, 0.0, ()))


def test_a_kept_arrangement_is_used_as_long_as_it_holds():
    pieces = rectangles((300, 300), (300, 300))
    apart = Layout(821.0, 1039.0, (Placement("r0", 400.0, 600.0), Placement("r1", 30.0, 70.0)))
    kept = LargeLayout(821.0, 1039.0, apart)
    assert arrange_large(pieces, PAPERS["a0"], kept) == kept
    wrong = {
        "another paper's": replace(kept, sheet_width_mm=894.4),
        "a stack across a joint": LargeLayout(
            821.0, 1039.0, Layout(821.0, 2078.0, (Placement("r0", 400.0, 900.0), Placement("r1", 30.0, 70.0)))
        ),
        "stacks on each other": replace(
            kept, layout=replace(apart, placements=(apart.placements[0], Placement("r1", 420.0, 620.0)))
        ),
        "one is missing": replace(kept, layout=replace(apart, placements=apart.placements[:1])),
    }
    for why, one in wrong.items():
        assert not holds(pieces, PAPERS["a0"], one), why
        assert holds(pieces, PAPERS["a0"], arrange_large(pieces, PAPERS["a0"], one)), why


def test_a_shorter_window_is_a_rolls_and_no_sheets():
    pieces = rectangles((300, 300))
    roll = LargeLayout(894.4, 310.0, Layout(894.4, 310.0, (Placement("r0", 3.0, 3.0),)))
    assert holds(pieces, PAPERS["roll-36in"], roll)
    assert not holds(
        pieces, PAPERS["a0"], replace(roll, sheet_width_mm=821.0, layout=replace(roll.layout, width_mm=821.0))
    )


def test_a_roll_that_is_worked_on_is_never_longer():
    pieces = rectangles((300, 200), (120, 410), (77, 90), (250, 250), (180, 60), (600, 700), (500, 900))
    poses = {stack.piece: poses_of(stack) for stack in pieces}
    packing = Packing(894.4, ())
    for stack in pieces:
        place(packing, poses[stack.piece], Taste(0.0))
    before = packing.height_mm
    shorten(packing, poses, 60)
    assert packing.height_mm <= before
    assert set(packing.placed) == set(poses)

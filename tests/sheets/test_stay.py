"""What was sold stays where it lay: tiles, sheets, rolls and what is thrown."""

import msgspec
import pytest

from pipeline.sheets.arrange import arrange
from pipeline.sheets.large import plan_large
from pipeline.sheets.layout import LargeLayout, Layout, PagePlan, Placement, SavedLayout
from pipeline.sheets.papers import PAPERS
from pipeline.sheets.placed import placed_stacks
from pipeline.sheets.projector import arrange_projector
from pipeline.sheets.stacks import Stack
from pipeline.sheets.stay import Before, Sold, areas_of, grid_of
from pipeline.sheets.tile import plan_pages
from pipeline.sheets.verify import verify_layout
from pipeline.sheets.whole import arrange_large
from tests.sheets.test_arrange import rectangles

SIDES = ((300, 500), (250, 420), (180, 620), (90, 90), (410, 130), (330, 330))
BEFORE = rectangles(*SIDES)
ROLL = PAPERS["roll-36in"]


def changed(index: int, wider: float, higher: float = 0.0) -> tuple[Stack, ...]:
    sides = list(SIDES)
    sides[index] = sides[index][0] + wider, sides[index][1] + higher
    return rectangles(*sides)


def places(layout: Layout) -> dict[str, Placement]:
    return {place.piece: place for place in layout.placements}


def moved_pieces(before: Layout, after: Layout) -> set[str]:
    return {piece for piece, place in places(after).items() if places(before).get(piece) != place}


TILES = arrange(BEFORE, effort=0.2)
SOLD = Sold(TILES, areas_of(BEFORE))


@pytest.mark.parametrize("index", range(len(SIDES)))
@pytest.mark.parametrize("wider", [-3.0, 3.0])
def test_an_edge_by_three_millimetres_moves_nothing_on_any_paper(index, wider):
    """To the right and down: what grows beyond the corner of the sheet steps aside."""
    after = changed(index, wider)
    assert moved_pieces(TILES, arrange(after, sold=SOLD)) == set()
    for paper in (PAPERS["a0"], ROLL):
        large = arrange_large(BEFORE, paper)
        now = arrange_large(after, paper, large, areas=areas_of(BEFORE))
        assert moved_pieces(large.layout, now.layout) <= {f"r{index}"}
    thrown = arrange_projector(BEFORE, 1500.0)
    now = arrange_projector(after, 1500.0, sold=Sold(thrown, areas_of(BEFORE)))
    assert moved_pieces(thrown, now) <= {f"r{index}"}


@pytest.mark.parametrize("index", range(len(SIDES)))
def test_only_the_piece_that_was_changed_gives_way(index):
    after = changed(index, 80.0, 60.0)
    now = arrange(after, sold=SOLD)
    assert moved_pieces(TILES, now) <= {f"r{index}"}
    for paper in (PAPERS["a0"], ROLL):
        large = arrange_large(BEFORE, paper)
        later = arrange_large(after, paper, large, areas=areas_of(BEFORE))
        assert moved_pieces(large.layout, later.layout) <= {f"r{index}"}
        assert verify_layout(after, later.layout) == ()
    thrown = arrange_projector(BEFORE, 1500.0)
    later_thrown = arrange_projector(after, 1500.0, sold=Sold(thrown, areas_of(BEFORE)))
    assert moved_pieces(thrown, later_thrown) <= {f"r{index}"}


def test_a_new_piece_finds_room_and_one_that_is_gone_leaves_it():
    more = rectangles(*SIDES, (200, 200))
    now = arrange(more, sold=SOLD)
    assert moved_pieces(TILES, now) == {"r6"}
    assert verify_layout(more, now) == ()
    fewer = rectangles(*SIDES[:-1])
    assert moved_pieces(TILES, arrange(fewer, sold=SOLD)) == set()


def test_the_same_pieces_have_the_same_layout():
    assert arrange(BEFORE, sold=SOLD) == TILES
    roll = arrange_large(BEFORE, ROLL)
    assert arrange_large(BEFORE, ROLL, roll, areas=areas_of(BEFORE)) == roll


def test_other_sheets_are_arranged_anew():
    """What was sold for a window that the paper does not have says nothing."""
    roll = arrange_large(BEFORE, ROLL)
    assert arrange_large(BEFORE, PAPERS["a0"], roll, areas=areas_of(BEFORE)) == arrange_large(BEFORE, PAPERS["a0"])


def test_a_piece_that_is_turned_another_way_by_its_nap_is_thrown_anew():
    thrown = arrange_projector(BEFORE, 1500.0)
    upside = tuple(
        msgspec.structs.replace(place, quarter_turns=(place.quarter_turns + 2) % 4) for place in thrown.placements
    )
    now = arrange_projector(BEFORE, 1500.0, True, Sold(Layout(thrown.width_mm, thrown.height_mm, upside), {}))
    assert len({place.quarter_turns for place in now.placements}) == 1


def tiled(stacks, layout: Layout, before: PagePlan | None = None) -> PagePlan:
    grid = grid_of(before) if before else None
    return plan_pages(layout, placed_stacks(stacks, layout), PAPERS["a4"], ("38",), sold=grid)


@pytest.mark.parametrize("index", range(len(SIDES)))
@pytest.mark.parametrize(("wider", "higher"), [(80.0, 300.0), (3.0, 0.0), (-60.0, -80.0)])
def test_pages_keep_their_windows_and_numbers_but_for_those_in_gaps(index, wider, higher):
    """New pages come last; one that became blank gives its number to a new page, or to the last."""
    plan = tiled(BEFORE, TILES)
    after = changed(index, wider, higher)
    now = tiled(after, arrange(after, sold=SOLD), plan)
    old, new = ({page.window: page.number for page in each.pages} for each in (plan, now))
    assert sorted(new.values()) == list(range(1, len(new) + 1))
    renumbered = [window for window in new.keys() & old.keys() if new[window] != old[window]]
    assert len(renumbered) <= len(old.keys() - new.keys())


def test_sheets_of_another_margin_begin_where_they_would():
    plan = tiled(BEFORE, TILES)
    grid = grid_of(plan)
    wide = plan_pages(TILES, placed_stacks(BEFORE, TILES), PAPERS["a4"], ("38",), margin_mm=12.0, sold=grid)
    assert wide == plan_pages(TILES, placed_stacks(BEFORE, TILES), PAPERS["a4"], ("38",), margin_mm=12.0)


def test_a_plan_tells_which_pieces_lie_elsewhere_since_when():
    kept = SavedLayout(layout=TILES, areas={"": areas_of(BEFORE)}, sold="1.0.0")
    after = changed(0, 400.0, 400.0)
    now = arrange(after, sold=Before(kept).tiles(("a4",)))
    plan = Before(kept).told(tiled(after, now), now, TILES)
    assert (plan.moved, plan.since) == (("r0",), "1.0.0")
    same = Before(kept).told(tiled(BEFORE, TILES), TILES, TILES)
    assert (same.moved, same.since) == ((), "")


def test_what_a_search_saved_is_no_sold_layout():
    kept = SavedLayout(layout=TILES, large={"a0": LargeLayout(1.0, 1.0, TILES)})
    before = Before(kept)
    assert (before.tiles(("a4",)), before.areas(""), before.grid("a4"), before.thrown("shell")) == (None,) * 4


def test_sheets_keep_their_numbers():
    sheets = arrange_large(BEFORE, PAPERS["a0"])
    plan = plan_large(sheets, placed_stacks(BEFORE, sheets.layout), PAPERS["a0"], ("38",))
    again = plan_large(sheets, placed_stacks(BEFORE, sheets.layout), PAPERS["a0"], ("38",), sold=grid_of(plan))
    assert again == plan

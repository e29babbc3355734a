import msgspec
import pytest

from pipeline.lays.engine import Engine
from pipeline.lays.worker import EngineItem
from pipeline.sheets.arrange import arrange
from pipeline.sheets.layout import LargeLayout, Layout, Placement, SavedLayout
from pipeline.sheets.papers import PAPERS, tile_of
from pipeline.sheets.placed import placed_stacks
from pipeline.sheets.search import StripPlace, search_large, search_layout
from pipeline.sheets.tile import plan_pages
from pipeline.sheets.verify import verify_layout
from pipeline.sheets.whole import arrange_large, holds, turns_of
from tests.sheets.samples import cut_piece, rectangles, stacks

TRIANGLES = tuple(
    stacks(cut_piece(f"t{n}", [(0.0, 0.0), (170.0 + 13 * n, 0.0), (0.0, 250.0 - 17 * n)]))[0] for n in range(3)
)


def pages(pieces, layout):
    tiles = (plan_pages(layout, placed_stacks(pieces, layout), PAPERS[name], ("38",)) for name in ("a4", "letter"))
    return sum(len(plan.pages) for plan in tiles)


def test_an_engine_that_fails_leaves_what_a_build_arranges():
    pieces = rectangles((200, 150), (90, 300))
    assert search_layout(pieces, lambda width, items, seed: None) == arrange(pieces)


def test_an_engine_that_answers_nonsense_is_not_believed():
    pieces = rectangles((200, 150), (90, 300))
    piled = [StripPlace(0.0, 0.0, 0.0) for _ in pieces]
    assert search_layout(pieces, lambda width, items, seed: piled) == arrange(pieces)


def test_an_engine_that_knows_better_is_followed_whichever_way_its_strip_runs():
    # told the answer: two halves of one tile side by side, though a build is handed a worse one as the best so far
    pieces = rectangles((95, 277), (95, 277))
    tile = tile_of(PAPERS["a4"], 10.0)
    worse = SavedLayout(layout=Layout(190, 1000, (Placement("r0", 10, 10), Placement("r1", 10, 600))))

    def told(width, items, seed):
        left = -min(x for x, _ in items[0].shape), -min(y for _, y in items[0].shape)
        # lying along the strip: the height of a piece runs with x
        return [StripPlace(278 - left[1], left[0] + 95 * n, 90.0) for n in range(2)]

    layout = search_layout(pieces, told, (tile,), worse)
    assert verify_layout(pieces, layout) == ()
    assert len(plan_pages(layout, placed_stacks(pieces, layout), PAPERS["a4"], ("38",)).pages) == 2


def test_pinned_pieces_stay_and_need_no_engine():
    pieces = rectangles((200, 150), (90, 300), (120, 120))
    pin = Placement("r1", 260.0, 120.0)
    kept = SavedLayout(layout=Layout(400, 900, (Placement("r0", 5, 500), pin, Placement("r2", 5, 700))), pinned=("r1",))

    def never(width, items, seed):
        pytest.fail("the engine cannot hold a piece where it is pinned")

    layout = search_layout(pieces, never, saved=kept)
    assert layout.placements[1] == pin
    assert verify_layout(pieces, layout) == ()


ROLL = PAPERS["roll-24in"]
HALVES = rectangles((290, 500), (290, 500))
SIDE_BY_SIDE = arrange_large(HALVES, ROLL)
APART = LargeLayout(
    SIDE_BY_SIDE.sheet_width_mm,
    1200.0,
    Layout(SIDE_BY_SIDE.sheet_width_mm, 1200.0, (Placement("r0", 3, 3), Placement("r1", 3, 690))),
)


def failing(width, items, seed):
    return None


def test_of_a_kept_roll_and_a_builds_the_shorter_is_kept():
    assert SIDE_BY_SIDE.sheet_height_mm == 500
    assert search_large(HALVES, failing, ROLL, APART, ()) == SIDE_BY_SIDE
    shifted = msgspec.structs.replace(
        SIDE_BY_SIDE, layout=Layout(589.6, 500.0, (Placement("r0", 4.05, 2.05), Placement("r1", 295.05, 2.05)))
    )
    assert search_large(HALVES, failing, ROLL, shifted, ()) == shifted


@pytest.mark.parametrize("places", [[(0.0, 0.0)] * 2, [(0.0, 0.0), (100.0, 0.0)], [(0.0, 0.0), (9000.0, 0.0)]])
def test_an_engine_whose_roll_does_not_hold_is_not_believed(places):
    def told(width, items, seed):
        return [StripPlace(x, y, 0.0) for x, y in places]

    assert search_large(HALVES, told, ROLL, None, ()) == SIDE_BY_SIDE


def test_an_engine_is_offered_the_turns_that_are_drawn_and_followed_where_its_roll_is_shorter():
    pieces = TRIANGLES
    own = arrange_large(pieces, ROLL)
    drawn = turns_of(own.layout)
    offered = []
    with Engine() as engine:

        def pack(width, items, seed):
            offered.append([item.angles for item in items])
            shapes = tuple(EngineItem(shape=item.shape, demand=1, angles=item.angles) for item in items)
            found = engine.solve(width, 0.0, shapes, 1, seed)
            return [StripPlace(p.x_mm, p.y_mm, p.angle_deg) for p in sorted(found, key=lambda p: p.item)]

        best = search_large(pieces, pack, ROLL, None, drawn)
    assert [len(angles) for angles in offered[0]] == [1, 1, 1]
    assert holds(pieces, ROLL, best)
    assert turns_of(best.layout) == drawn
    assert best.sheet_height_mm <= own.sheet_height_mm


def test_a_sheet_needs_no_engine():
    def never(width, items, seed):
        pytest.fail("the engine knows strips alone")

    assert holds(HALVES, PAPERS["a0"], search_large(HALVES, never, PAPERS["a0"], None, ()))
    assert search_large((), never, ROLL, None, ()) == arrange_large((), ROLL)


def test_the_engine_of_the_lays_room_finds_a_layout_that_holds():
    asked = []
    with Engine() as engine:

        def pack(width, items, seed):
            asked.append(width)
            shapes = tuple(EngineItem(shape=item.shape, demand=1, angles=item.angles) for item in items)
            places = sorted(engine.solve(width, 0.0, shapes, 1, seed), key=lambda place: place.item)
            return [StripPlace(place.x_mm, place.y_mm, place.angle_deg) for place in places]

        layout = search_layout(TRIANGLES, pack)
    assert asked
    assert verify_layout(TRIANGLES, layout) == ()
    assert pages(TRIANGLES, layout) <= pages(TRIANGLES, arrange(TRIANGLES))

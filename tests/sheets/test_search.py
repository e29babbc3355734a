import pytest

from pipeline.lays.engine import Engine
from pipeline.lays.worker import EngineItem
from pipeline.sheets.arrange import arrange
from pipeline.sheets.ink import ink_of
from pipeline.sheets.layout import KeptLayout, Layout, Placement
from pipeline.sheets.papers import PAPERS, tile_of
from pipeline.sheets.search import StripPlace, search_layout
from pipeline.sheets.tile import plan_pages
from pipeline.sheets.verify import verify_layout
from tests.sheets.samples import cut_piece, rectangles, stacks

TRIANGLES = tuple(
    stacks(cut_piece(f"t{n}", [(0.0, 0.0), (170.0 + 13 * n, 0.0), (0.0, 250.0 - 17 * n)]))[0] for n in range(3)
)


def pages(pieces, layout):
    tiles = (plan_pages(layout, ink_of(pieces, layout), PAPERS[name], ("38",)) for name in ("a4", "letter"))
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
    worse = KeptLayout(layout=Layout(190, 1000, (Placement("r0", 10, 10), Placement("r1", 10, 600))))

    def told(width, items, seed):
        left = -min(x for x, _ in items[0].shape), -min(y for _, y in items[0].shape)
        # lying along the strip: the height of a piece runs with x
        return [StripPlace(278 - left[1], left[0] + 95 * n, 90.0) for n in range(2)]

    layout = search_layout(pieces, told, (tile,), worse)
    assert verify_layout(pieces, layout) == ()
    assert len(plan_pages(layout, ink_of(pieces, layout), PAPERS["a4"], ("38",)).pages) == 2


def test_pinned_pieces_stay_and_need_no_engine():
    pieces = rectangles((200, 150), (90, 300), (120, 120))
    pin = Placement("r1", 260.0, 120.0)
    kept = KeptLayout(layout=Layout(400, 900, (Placement("r0", 5, 500), pin, Placement("r2", 5, 700))), pinned=("r1",))

    def never(width, items, seed):
        pytest.fail("the engine cannot hold a piece where it is pinned")

    layout = search_layout(pieces, never, kept=kept)
    assert layout.placements[1] == pin
    assert verify_layout(pieces, layout) == ()


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

import math

import pytest
import shapely
from hypothesis import example, given, settings
from hypothesis import strategies as st

from pipeline.geometry.points import Point
from pipeline.model.pieces import Slit
from pipeline.sheets.arrange import COMMON_TILES, arrange
from pipeline.sheets.layout import Layout, Placement
from pipeline.sheets.papers import PAPERS, tile_of
from pipeline.sheets.placed import placed_stacks
from pipeline.sheets.stacks import Stack, moved
from pipeline.sheets.tile import plan_pages
from pipeline.sheets.verify import TOLERANCE_MM, verify_layout
from tests.sheets.samples import cut_piece, rectangle, rectangles, stacks

A4 = PAPERS["a4"]
A4_TILE = tile_of(A4, 10.0)
W, H = A4_TILE.width_mm, A4_TILE.height_mm

BEST_KNOWN = [
    # name, sides, fewest A4 pages: each reached by a packing that fills its pages, so by area none is better
    ("one tile", [(W, H)], 1),
    ("four quarters", [(W / 2, H / 2)] * 4, 1),
    ("six tiles", [(W, H)] * 6, 6),
    ("a tile that was drawn lying", [(H, W)], 1),
    ("eight halves across", [(W, H / 2)] * 8, 4),
    ("eight halves along", [(W / 2, H)] * 8, 4),
    ("one large and its rest", [(2 * W, 2 * H), (W, 2 * H), (W, H), (W, H)], 8),
    ("strips", [(W / 5, H)] * 10, 2),
    ("thirds and two thirds", [(W, H / 3)] * 3 + [(W, 2 * H / 3)] * 3, 3),
    (
        "mixed cuts of four tiles",
        [(W, H * 0.7), (W, H * 0.3), (W / 2, H), (W / 2, H), (2 * W, H / 2), (2 * W, H / 2)],
        4,
    ),
]


@pytest.mark.parametrize(("sides", "fewest"), [case[1:] for case in BEST_KNOWN], ids=[case[0] for case in BEST_KNOWN])
def test_the_best_known_number_of_pages_is_reached(sides, fewest):
    pieces = rectangles(*sides)
    layout = arrange(pieces, (A4_TILE,), effort=0.5)
    plan = plan_pages(layout, placed_stacks(pieces, layout), A4, ("38",))
    assert verify_layout(pieces, layout) == ()
    assert sum(page.window is not None for page in plan.pages) == fewest
    assert fewest == math.ceil(sum(w * h for w, h in sides) / (W * H) - 1e-9)


def star(name: str, radii: list[float], stretch: float) -> Stack:
    corners = [
        (stretch * r * math.cos(2 * math.pi * n / len(radii)), r * math.sin(2 * math.pi * n / len(radii)))
        for n, r in enumerate(radii)
    ]
    return stacks(cut_piece(name, corners))[0]


radii = st.lists(st.floats(15, 170), min_size=3, max_size=9)
shapes = st.lists(st.tuples(radii, st.floats(0.3, 3.0)), min_size=1, max_size=7)


@settings(max_examples=20, deadline=None)
@given(shapes)
@example([([15.0, 170.0, 15.0, 170.0, 15.0, 170.0], 1.0)] * 5)
def test_random_stacks_are_all_placed_apart_and_inside(drawn):
    pieces = tuple(star(f"s{n}", radii, stretch) for n, (radii, stretch) in enumerate(drawn))
    layout = arrange(pieces, effort=0.1)
    assert verify_layout(pieces, layout) == ()
    assert [place.piece for place in layout.placements] == [stack.piece for stack in pieces]
    lying = [moved(stack.region, place) for stack, place in zip(pieces, layout.placements, strict=True)]
    # a second opinion beside verify_layout: areas of the overlaps, counted by inclusion
    covered = shapely.union_all(lying).area
    assert covered == pytest.approx(sum(shape.area for shape in lying), abs=TOLERANCE_MM * 400)
    sheet = shapely.box(0, 0, layout.width_mm, layout.height_mm).buffer(0.002)
    assert all(sheet.covers(shape) for shape in lying)


def test_the_same_stacks_always_lie_the_same():
    pieces = rectangles((300, 200), (120, 410), (77, 90), (250, 250), (180, 60))
    assert arrange(pieces, effort=0.3) == arrange(pieces, effort=0.3)


def test_no_stacks_no_sheet():
    assert arrange(()) == Layout(0.0, 0.0, ())


def test_a_valid_former_layout_is_kept_as_it_was():
    pieces = rectangles((100, 100), (100, 100))
    former = Layout(700.0, 600.0, (Placement("r0", 500.0, 300.0, 1), Placement("r1", 50.0, 480.0, 3)))
    assert arrange(pieces, previous=former) == former


def test_after_a_fix_only_what_no_longer_fits_moves():
    before = rectangles((100, 100), (100, 100), (100, 100))
    former = arrange(before, effort=0.2)
    after = rectangles((100, 100), (100, 160), (100, 100))
    layout = arrange(after, previous=former, effort=0.2)
    assert verify_layout(after, layout) == ()
    assert sum(a == b for a, b in zip(former.placements, layout.placements, strict=True)) >= 2


def test_a_pin_holds_and_the_others_lie_around_it():
    pieces = rectangles((180, 120), (180, 120), (90, 90))
    pin = Placement("r1", 120.0, 140.0, 1)
    layout = arrange(pieces, pins={"r1": pin}, effort=0.2)
    assert layout.placements[1] == pin
    assert verify_layout(pieces, layout) == ()


def test_a_pin_that_was_moved_is_obeyed_though_the_former_layout_still_has_room():
    pieces = rectangles((100, 100), (100, 100))
    former = Layout(700.0, 600.0, (Placement("r0", 500.0, 300.0, 1), Placement("r1", 50.0, 480.0, 3)))
    pin = Placement("r0", 300.0, 200.0, 0)
    assert arrange(pieces, previous=former, pins={"r0": pin}, effort=0.2).placements[0] == pin
    assert arrange(pieces, previous=former, pins={"r0": former.placements[0]}) == former


def test_pins_on_top_of_each_other_are_refused_by_name():
    pieces = rectangles((180, 120), (180, 120))
    pins = {"r0": Placement("r0", 50.0, 50.0), "r1": Placement("r1", 60.0, 60.0)}
    with pytest.raises(ValueError, match=r"r0 and r1 lie on top of each other"):
        arrange(pieces, pins=pins)


@pytest.mark.parametrize(
    ("layout", "code"),
    [
        (Layout(500, 500, (Placement("r0", 50, 50),)), "missing"),
        (Layout(500, 500, (Placement("r0", 50, 50), Placement("r1", 60, 60))), "overlap"),
        (Layout(150, 500, (Placement("r0", 50, 50), Placement("r1", 50, 300))), "outside"),
        (Layout(500, 500, (Placement("r0", 50, 50), Placement("r1", 50, 300), Placement("r1", 250, 300))), "twice"),
        (Layout(500, 500, (Placement("r0", 50, 50), Placement("r1", 50, 300), Placement("x", 0, 0))), "unknown"),
    ],
)
def test_a_layout_that_does_not_hold_is_told(layout, code):
    assert [problem.code for problem in verify_layout(rectangles((120, 120), (100, 100)), layout)] == [code]


def test_a_notch_moves_off_a_joint_where_there_is_room():
    # flush in the corner, the notch would lie across the first A4 joint, 190 mm from the left
    slit = Slit("n", "side-0", Point(187.5, 0), Point(188.5, 5))
    piece = cut_piece("long", rectangle(300, 100), slits=(slit,))
    pieces = stacks(piece)
    layout = arrange(pieces, (A4_TILE,))
    (ink,) = placed_stacks(pieces, layout)
    plan = plan_pages(layout, (ink,), A4, ("38",))
    left, _, right, _ = ink.marks[0].bounds
    joints = {page.window.left_mm for page in plan.pages if page.window}
    assert not any(left < joint < right for joint in joints)
    assert len(plan.pages) == 3


def test_common_tiles_are_what_prints_on_both_papers():
    assert [(tile.width_mm, tile.height_mm) for tile in COMMON_TILES] == [
        (190.0, 277.0),
        pytest.approx((195.9, 259.4)),
    ]


def test_one_size_alone_needs_no_more_pages_than_its_part_of_the_nest():
    small = [(0.0, 0.0), (120.0, 0.0), (90.0, 180.0), (0.0, 180.0)]
    large = [(0.0, 0.0), (240.0, 0.0), (200.0, 330.0), (0.0, 330.0)]
    nest = stacks(
        *(cut_piece(f"p{n}", corners, size) for n in range(4) for size, corners in (("34", small), ("50", large)))
    )
    alone = stacks(*(cut_piece(f"p{n}", small, "34") for n in range(4)))
    in_nest, by_itself = (arrange(pieces, (A4_TILE,), effort=0.3) for pieces in (nest, alone))
    shared = plan_pages(in_nest, placed_stacks(nest, in_nest), A4, ("34", "50"))
    own = plan_pages(by_itself, placed_stacks(alone, by_itself), A4, ("34",))
    assert len(own.pages) <= sum("34" in page.sizes for page in shared.pages)
    assert {place.piece for place in by_itself.placements} == {"p0", "p1", "p2", "p3"}

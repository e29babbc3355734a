"""What is laid: counts, folds, grains, strips and widths."""

import math

import msgspec
import pytest

from pipeline.geometry.points import Point
from pipeline.lays.demand import lay_requests, strip_sizes
from pipeline.lays.fit import too_wide
from pipeline.lays.items import allowed_angles, usable_width_mm
from pipeline.lays.strip_pieces import longest_piece_mm, strip_pieces
from pipeline.model.pattern import Material, View
from pipeline.model.pieces import GrainLine
from tests.lays.samples import cut, cut_piece, pattern, piece_spec, strip

SHELL = Material(title={"en": "main cloth"}, widths_mm=(1400.0, 1500.0), selvedge_mm=10.0, ways=("fold",))
# 300 wide and 600 long on the page, its middle upright: the whole of a piece drawn as the right half.
BACK = cut_piece(
    "back",
    [(-150, 0), (150, 0), (150, 600), (-150, 600)],
    fold=(Point(0, 600), Point(0, 0)),
    grain=GrainLine(Point(50, 500), Point(50, 100)),
)
POCKET = cut_piece("pocket", [(0, 0), (100, 0), (100, 200)])


def test_a_piece_on_the_fold_lies_with_its_middle_on_the_fold():
    made = pattern([piece_spec("back", cut(1))], shell=SHELL)
    item = lay_requests(made, "40", (BACK,))[0].items[0]
    assert (item.on_fold, item.symmetric, item.count) == (True, True, 1)
    assert {(round(x, 6), round(y, 6)) for x, y in item.outline} == {(0, -150), (600, -150), (600, 150), (0, 150)}


@pytest.mark.parametrize("x", [20.0, 50.0, 80.0])
def test_where_a_grain_line_is_drawn_is_nothing_to_a_lay(x):
    made, moved = pattern([piece_spec("pocket", cut(2, 1))]), msgspec.structs.replace
    drawn = moved(POCKET.drawn, grain=GrainLine(Point(x, 180), Point(x, 20)))
    (item,) = lay_requests(made, "40", (moved(POCKET, drawn=drawn),))[0].items
    assert {(round(a, 9), round(b, 9)) for a, b in item.outline} == {(0, 50), (200, -50), (200, 50)}


def test_every_width_is_asked_for_less_both_selvedges():
    made = pattern([piece_spec("back", cut(1))], shell=SHELL)
    assert [(r.width_mm, r.usable_mm, r.way) for r in lay_requests(made, "40", (BACK,))] == [
        (1400, 1380, "fold"),
        (1500, 1480, "fold"),
    ]


def test_shrinkage_in_width_is_taken_before_the_selvedges():
    shrinking = msgspec.structs.replace(SHELL, shrinkage_width=0.05)
    assert usable_width_mm(shrinking, 1400) == pytest.approx(1310)


def test_nap_left_open_is_worked_out_both_ways():
    made = pattern([piece_spec("back", cut(1))], shell=msgspec.structs.replace(SHELL, nap="either"))
    assert [r.one_way for r in lay_requests(made, "40", (BACK,))] == [False, True, False, True]


def test_counts_and_mirror_images_are_those_of_the_size():
    made = pattern([piece_spec("pocket", cut(3, 1), cut(2, 2, "lining"))])
    item = lay_requests(made, "40", (POCKET,))[0].items[0]
    assert (item.count, item.mirrored, item.symmetric) == (3, 1, False)


def test_a_view_lays_only_what_it_takes():
    views = {"long": View("long", {"en": "Long"}), "short": View("short", {"en": "Short"})}
    made = pattern([piece_spec("back", cut(1)), piece_spec("pocket", cut(2, 1), views=("long",))], views=views)
    laid = {(r.view, len(r.items)) for r in lay_requests(made, "40", (BACK, POCKET))}
    assert laid == {("long", 2), ("short", 1)}


def test_what_is_too_wide_for_the_fold_is_tried_open():
    wide = cut_piece("back", [(0, 0), (800, 0), (800, 600), (0, 600)])
    made = pattern([piece_spec("back", cut(1))], shell=SHELL)
    assert {(r.way, r.tried_open) for r in lay_requests(made, "40", (wide,))} == {("open", True)}


def test_one_millimetre_too_wide_is_told_with_the_width_that_would_do():
    wide = cut_piece("back", [(0, 0), (1381, 0), (1381, 600), (0, 600)])
    made = pattern([piece_spec("back", cut(1))], shell=SHELL)
    told = [finding for r in lay_requests(made, "40", (wide,)) for finding in too_wide(made, r)]
    assert [(f.code, f.severity, f.piece, f.size) for f in told] == [("too-wide", "block", "back", "40")]
    assert "1.0 mm wider than the cloth" in told[0].message
    assert "150 cm" in told[0].remedy


def test_a_piece_that_no_declared_width_takes_says_what_it_needs():
    wide = cut_piece("back", [(0, 0), (1600, 0), (1600, 600), (0, 600)])
    made = pattern([piece_spec("back", cut(1))], shell=SHELL)
    told = [finding for r in lay_requests(made, "40", (wide,)) for finding in too_wide(made, r)]
    assert len(told) == 2
    assert all("1620.0 mm" in finding.remedy for finding in told)


def test_an_exact_fit_fits():
    exact = cut_piece("back", [(0, 0), (1380, 0), (1380, 600), (0, 600)])
    made = pattern([piece_spec("back", cut(1))], shell=SHELL)
    assert not [finding for r in lay_requests(made, "40", (exact,)) for finding in too_wide(made, r)]


@pytest.mark.parametrize(
    ("grain", "one_way", "angles"),
    [
        ("warp", False, {0, 180}),
        ("warp", True, {0}),
        ("weft", False, {90, 270}),
        ("weft", True, {90}),
        ("bias", False, {45, 135, 225, 315}),
        ("bias", True, {45}),
    ],
)
def test_allowed_angles(grain, one_way, angles):
    assert set(allowed_angles(grain, one_way, free_turn=False) or ()) == angles


def test_without_grain_any_angle_is_allowed():
    assert allowed_angles("warp", one_way=False, free_turn=True) is None


def test_seven_loops_of_135_mm_are_laid():
    """Common practice: a loop for an 80 mm belt opens 90 mm and, with 45 mm to tuck away, is cut 135 mm long."""
    loop = strip("loop", 135, width_mm=15.0, cut=(cut(7),))
    made = pattern(strips=[loop])
    assert strip_sizes(made, "40", ()) == {"loop": (30, 135)}  # 30 mm wide finishes 15 mm, 7.5 mm a side
    item = lay_requests(made, "40", ())[0].items[0]
    assert (item.name, item.count, item.grain) == ("strips.loop", 7, "warp")
    assert 7 * 135 == 945


def test_a_drawn_strip_is_laid_once():
    loop = strip("loop", 135, drawn=True)
    made = pattern(strips=[loop])
    drawn = cut_piece("loop", [(0, 0), (20, 0), (20, 135), (0, 135)])
    assert [item.count for item in lay_requests(made, "40", (drawn,))[0].items] == [1]


def test_a_bias_strip_is_pieced_only_where_it_may_be_joined():
    narrow = Material(title={"en": "cloth"}, widths_mm=(1000.0,))
    longest = 1000 * math.sqrt(2) - 40
    binding = strip("binding", 2500, grain="bias", join_mm=10.0)
    pieces = strip_pieces(binding, 40, 2500, narrow)
    assert (pieces.pieces, pieces.joins) == (2, 1)
    assert pieces.length_mm == pytest.approx(2520 / 2)
    assert pieces.length_mm <= longest
    whole = strip("binding", 2500, grain="bias")
    assert strip_pieces(whole, 40, 2500, narrow).pieces == 1


def test_the_pieces_of_a_joined_strip_are_as_few_as_can_be():
    narrow = Material(title={"en": "cloth"}, widths_mm=(500.0,))
    across = strip("band", 1000, grain="across", join_mm=10.0)
    assert strip_pieces(across, 40, 980, narrow).pieces == 2
    assert strip_pieces(across, 40, 981, narrow).pieces == 3


@pytest.mark.parametrize(
    ("ways", "usable_mm"),
    [(("open",), 1000.0), (("fold",), 500.0), (("two-folds", "open"), 250.0), (("two-folds", "partial-fold"), 500.0)],
)
def test_the_longest_bias_piece_laid_at_45_degrees_is_as_broad_as_the_cloth(ways, usable_mm):
    """A rectangle of L by w that is turned by 45 degrees is (L + w) / √2 high."""
    cloth = Material(title={"en": "cloth"}, widths_mm=(1000.0, 1500.0), ways=ways)
    binding = strip("binding", 2500, grain="bias", join_mm=10.0)
    longest = longest_piece_mm(binding, 40, cloth)
    assert (longest + 40) * math.sin(math.radians(45)) == pytest.approx(usable_mm)
    assert strip_pieces(binding, 40, longest, cloth).pieces == 1
    assert strip_pieces(binding, 40, longest + 0.1, cloth).pieces == 2


def test_a_piece_of_one_side_is_asked_for_with_its_printed_side_up():
    fly = msgspec.structs.replace(cut(1), side="left")
    made = pattern([piece_spec("pocket", fly), piece_spec("back", fly)], shell=SHELL)
    faces = {item.name: item.face for item in lay_requests(made, "40", (POCKET, BACK))[0].items}
    assert faces == {"pocket": "up", "back": None}, "what lies on the fold has no side that is up"
    both = piece_spec("pocket", fly, msgspec.structs.replace(cut(1, 1), side="right"))
    (item,) = lay_requests(pattern([both]), "40", (POCKET,))[0].items
    assert (item.count, item.mirrored, item.face) == (2, 1, None), "a left and a right one are a pair"


@pytest.mark.parametrize(("stretch", "free"), [((None, None), True), ((0.5, 0.2), False), ((0.3, 0.3), True)])
def test_no_piece_is_turned_off_the_direction_in_which_a_knit_gives_most(stretch, free):
    """With a grain, a lay turns nothing by 90 degrees anyway: what is said to have none is held as if it had."""
    knit = msgspec.structs.replace(SHELL, turn="free", stretch_width=stretch[0], stretch_length=stretch[1])
    asked = lay_requests(pattern([piece_spec("pocket", cut(2, 1))], shell=knit), "40", (POCKET,))[0]
    angles = allowed_angles(asked.items[0].grain, asked.one_way, asked.free_turn)
    assert angles == (None if free else (0.0, 180.0))

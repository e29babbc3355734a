"""What the proof refuses, each seeded in a lay that is otherwise sound."""

import msgspec
import pytest
import shapely

from pipeline.geometry.points import Point
from pipeline.lays.lay import Lay, Placed
from pipeline.lays.proof import faults, overlap_mm
from pipeline.lays.zones import unfolded
from tests.lays.samples import rectangle, request, triangle


def lay(placed, length_mm, folded=False):
    return Lay(folded=folded, length_mm=length_mm, placed=tuple(placed), seed=1, seconds=1)


def at(item, x, y, angle=0.0, **more):
    return Placed(item=item, x_mm=x, y_mm=y, angle_deg=angle, **more)


TWO = request([rectangle("a", 500, 300, 2)], 600)


def test_two_rectangles_side_by_side_are_proven():
    assert faults(TWO, lay([at("a", 0, 150), at("a", 0, 450)], 500)) == ()


@pytest.mark.parametrize(
    ("placed", "length_mm", "told"),
    [
        ([at("a", 0, 150)], 500, "has 1"),
        ([at("a", 0, 150)] * 3, 500, "has 3"),
        ([at("a", 0, 150), at("a", 0, 449.9)], 500, "overlap"),
        ([at("a", 0, 150), at("a", 0, 450.1)], 500, "width"),
        ([at("a", 0, 150), at("a", 0, 450)], 499.9, "length"),
        ([at("a", 0, 150), at("a", 600, 250, 90)], 1000, "90 degrees"),
        ([at("a", 0, 150), at("a", 0, 450, 3)], 800, "3 degrees"),
        ([at("a", 0, 150), at("a", 0, 450), at("b", 700, 450)], 800, "not to be cut"),
        ([at("a", 0, 150), at("a", 0, 450, layers="pair")], 500, "has 3"),
        ([at("a", 0, 150), at("a", float("nan"), 450)], 500, "nowhere"),
    ],
)
def test_a_fault_is_found(placed, length_mm, told):
    assert any(told in fault for fault in faults(TWO, lay(placed, length_mm)))


def test_five_hundredths_of_overlap_pass_and_six_do_not():
    assert not faults(TWO, lay([at("a", 0, 150), at("a", 0, 449.95)], 500))
    assert faults(TWO, lay([at("a", 0, 150), at("a", 0, 449.94)], 500))


def test_a_tip_that_pricks_another_piece_is_an_overlap():
    needle = shapely.Polygon([(0, 0), (100, 1), (100, -1)])
    wall = shapely.box(-50, -50, 0.5, 50)
    assert overlap_mm(needle, wall) == pytest.approx(0.5, abs=0.01)


def test_a_plain_crossing_of_two_bars_is_an_overlap():
    assert overlap_mm(shapely.box(0, 0, 100, 1), shapely.box(50, -50, 51, 50)) == pytest.approx(1.0, abs=0.05)


def test_the_gap_is_proven_too():
    wide = msgspec.structs.replace(TWO, gap_mm=2.0, usable_mm=700.0)
    assert not faults(wide, lay([at("a", 0, 150), at("a", 0, 452)], 500))
    assert any("1.000 mm apart" in fault for fault in faults(wide, lay([at("a", 0, 150), at("a", 0, 451)], 500)))


def test_as_many_mirrored_as_asked():
    pair = request([triangle("t", 400, 300, 2, 1)], 700)
    assert not faults(pair, lay([at("t", 0, 0), at("t", 0, 700, mirrored=True)], 400))
    assert any("0 of them mirrored" in fault for fault in faults(pair, lay([at("t", 0, 0), at("t", 0, 310)], 400)))


def test_one_way_cloth_takes_one_angle():
    one_way = msgspec.structs.replace(TWO, one_way=True)
    assert not faults(one_way, lay([at("a", 0, 150), at("a", 0, 450)], 500))
    assert faults(one_way, lay([at("a", 0, 150), at("a", 500, 450, 180)], 500))


def test_a_mirrored_bias_piece_has_the_same_angle_to_the_nap():
    bias = request([msgspec.structs.replace(triangle("t", 100, 90, 2, 1), grain="bias")], 900, one_way=True)
    assert not faults(bias, lay([at("t", 100, 0, 45), at("t", 100, 300, 315, mirrored=True)], 200))
    assert faults(bias, lay([at("t", 100, 0, 45), at("t", 100, 300, 45, mirrored=True)], 200))


FOLDED = request(
    [rectangle("back", 600, 400, 1, on_fold=True), triangle("front", 600, 280, 2, 1), triangle("tab", 50, 40, 1, 0)],
    1000,
    way="fold",
)
SOUND = (
    at("back", 0, 0, layers="fold"),
    at("front", 0, 205, layers="pair"),
    at("tab", 700, 100, layers="lower"),
)


def test_a_folded_lay_is_proven():
    assert not faults(FOLDED, lay(SOUND, 800, folded=True))


@pytest.mark.parametrize(
    ("instead", "told"),
    [
        ({0: at("back", 0, 0.1, layers="fold")}, "fold"),
        ({0: at("back", 0, 0, 90, layers="fold")}, "askew"),
        ({0: at("back", 0, 200, layers="lower")}, "overlap"),
        ({0: at("back", 0, 0, layers="fold", mirrored=True)}, "askew"),
        ({1: at("front", 0, 205, layers="fold")}, "no piece to lie on the fold"),
        ({1: at("front", 0, 205, layers="one")}, "layers that are not there"),
        ({1: at("front", 0, 205, layers="lower")}, "front is to be cut 2 times"),
        ({2: at("tab", 700, 100, layers="upper")}, "tab is to be cut 1 times, 0 of them mirrored"),
        ({2: at("tab", 700, 100, layers="lower", mirrored=True)}, "tab is to be cut"),
    ],
)
def test_a_fault_of_a_folded_lay_is_found(instead, told):
    placed = [instead.get(number, place) for number, place in enumerate(SOUND)]
    assert any(told in fault for fault in faults(FOLDED, lay(placed, 800, folded=True)))


def test_an_odd_piece_from_the_upper_layer_lies_mirrored():
    placed = [*SOUND[:2], at("tab", 700, 100, layers="upper", mirrored=True)]
    assert not faults(FOLDED, lay(placed, 800, folded=True))


def test_a_folded_lay_opened_out_is_an_open_lay():
    opened = unfolded(lay(SOUND, 800, folded=True), FOLDED)
    assert not faults(msgspec.structs.replace(FOLDED, way="open"), opened)
    assert len(opened.placed) == 4


def test_an_open_lay_is_not_taken_for_a_folded_one():
    assert faults(FOLDED, lay(SOUND, 800)) == ("the lay is laid open, and fold was asked for",)


@pytest.mark.parametrize(("degrees", "told"), [(0.0009, False), (0.0011, True), (-0.0011, True), (180.0009, False)])
def test_an_angle_is_held_to_a_thousandth_of_a_degree(degrees, told):
    found = faults(request([rectangle("a", 500, 300, 1)], 600), lay([at("a", 1, 300, degrees % 360)], 600))
    assert any("degrees" in fault for fault in found) == told


@pytest.mark.parametrize(("over_mm", "told"), [(0.049, False), (0.051, True)])
@pytest.mark.parametrize("side", ["top", "bottom", "left", "right"])
def test_every_side_of_the_cloth_is_held_to_five_hundredths(side, over_mm, told):
    x, y = {"top": (1, 150 - over_mm), "bottom": (1, 450 + over_mm), "left": (-over_mm, 300), "right": (1, 300)}[side]
    length = 501 - over_mm if side == "right" else 600
    found = faults(request([rectangle("a", 500, 300, 1)], 600), lay([at("a", x, y)], length))
    assert [fault for fault in found if "leaves the" in fault] == list(found)
    assert bool(found) == told


def test_outlines_that_cross_themselves_are_told_and_held_against_nothing_else():
    """Whoever cuts along them cannot: and how deep two of them lie in each other has no answer."""
    bow = msgspec.structs.replace(
        triangle("a", 100, 100, 2, 0), outline=(Point(0, 0), Point(100, 100), Point(100, 0), Point(0, 100))
    )
    found = faults(request([bow], 600), lay([at("a", 0, 100), at("a", 20, 120)], 600))
    assert found == ("the outline of a crosses itself",) * 2


def test_a_piece_that_is_not_its_own_mirror_image_does_not_lie_on_the_fold():
    """It is said to be symmetric, but twice its half is not the whole: the other half would be cut wrong."""
    outline = (Point(0, -100), Point(600, -100), Point(600, 200), Point(0, 200))
    askew = msgspec.structs.replace(rectangle("back", 600, 400, 1, on_fold=True), outline=outline)
    found = faults(request([askew], 1000, way="fold"), lay([at("back", 0, 0, layers="fold")], 800, folded=True))
    assert any("middle on the fold" in fault for fault in found)

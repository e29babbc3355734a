"""Corners against closed formulas."""

import math

import numpy as np
import pytest

from pipeline.cutting.corners import REACH, Side, growth_mm, mitred
from pipeline.model.piece_specs import EdgeSpec
from tests.cutting.shapes import array, clean, codes, cut, has_point, polygon, straight


def sides(turn_deg: float, d0: float, d1: float) -> tuple[Side, Side]:
    turn = math.radians(turn_deg)
    one = Side(np.array([0.0, -1.0]), np.array([1.0, 0.0]), d0)
    along = np.array([math.cos(turn), math.sin(turn)])
    return one, Side(np.array([along[1], -along[0]]), -along, d1)


@pytest.mark.parametrize(("interior_deg", "reach_mm"), [(90, 14.14), (60, 20.00), (45, 26.13), (30, 38.64)])
def test_offset_lines_of_10_mm_meet_at_d_over_sin_of_half_the_interior_angle(interior_deg, reach_mm):
    turn = math.radians(180 - interior_deg)
    assert math.hypot(10, growth_mm(10, 10, turn)) == pytest.approx(10 / math.sin(math.radians(interior_deg) / 2))
    assert math.hypot(10, growth_mm(10, 10, turn)) == pytest.approx(reach_mm, abs=0.005)


@pytest.mark.parametrize("interior_deg", [170, 135, 90, 75, 60])
def test_up_to_a_reach_of_twice_the_allowance_the_cut_corner_is_where_the_lines_meet(interior_deg):
    piece = clean(_triangle(interior_deg))
    reach = 10 / math.sin(math.radians(interior_deg) / 2)
    assert _reach_on_the_bisector(piece.cut_outline, interior_deg) == pytest.approx(reach, abs=0.005)


@pytest.mark.parametrize("interior_deg", [59, 45, 30, 15])
def test_a_sharper_corner_is_cut_off_at_twice_the_allowance_at_right_angles(interior_deg):
    piece = clean(_triangle(interior_deg))
    half = math.radians(interior_deg) / 2
    side = (10 / math.sin(half) - 20) * math.tan(half)
    for sign in (1, -1):
        assert has_point(piece.cut_outline, 20, sign * side, 1e-3)


def _triangle(interior_deg: float) -> dict:
    """A corner at the origin that opens to the left, with edges of 300 mm."""
    half = math.radians(interior_deg) / 2
    x, y = -300 * math.cos(half), 300 * math.sin(half)
    return polygon([(0, 0), (x, y), (x, -y)])


def _reach_on_the_bisector(outline, interior_deg) -> float:
    return float(array(outline)[:, 0].max())


@pytest.mark.parametrize("turn_deg", [20, 45, 60, 90, 110])
@pytest.mark.parametrize(("d0", "d1"), [(10, 10), (10, 15), (12, 9), (20, 15)])
def test_corner_area_for_two_widths(turn_deg, d0, d1):
    one, two = sides(turn_deg, d0, d1)
    corner = mitred(np.zeros(2), one, two)
    turn = math.radians(turn_deg)
    assert math.hypot(d0, growth_mm(d0, d1, turn)) <= REACH * max(d0, d1)
    area = sum(_area(fill) for fill in corner.fills if fill is not None)
    own = [growth_mm(d0, d1, turn) * d0 / 2, growth_mm(d1, d0, turn) * d1 / 2]
    trimmed = sum(part for part in own if part < 0)
    expected = (2 * d0 * d1 - (d0**2 + d1**2) * math.cos(turn)) / (2 * math.sin(turn))
    assert area + trimmed == pytest.approx(expected, abs=1e-9)
    if d0 == d1:
        assert area == pytest.approx(d0**2 * math.tan(turn / 2))


def _area(ring: np.ndarray) -> float:
    x, y = ring.T
    return abs(float(x @ np.roll(y, -1) - y @ np.roll(x, -1))) / 2


def test_a_regular_polygon_has_area_a_plus_p_d_plus_d_squared_times_the_sum_of_tan_half_turns():
    for count in (4, 5, 6, 9, 12):
        places = [
            (200 * math.cos(2 * math.pi * i / count), 200 * math.sin(2 * math.pi * i / count)) for i in range(count)
        ]
        piece = clean(polygon(places))
        area, perimeter = piece.seam_area_mm2, sum(edge.length_mm for edge in piece.edges)
        expected = area + perimeter * 10 + 100 * count * math.tan(math.pi / count)
        assert piece.cut_area_mm2 == pytest.approx(expected, abs=0.1)


def test_a_wide_allowance_is_trimmed_along_the_line_from_the_corner_to_the_meeting_point():
    # At a turn of 45° the line of a bound edge (0 mm) cuts through its neighbour's 20 mm.
    edges = polygon([(0, 0), (200, 0), (300, 100), (300, 300), (0, 300)])
    piece = clean(edges, {"e0": EdgeSpec(allowance_mm=20), "e1": EdgeSpec(allowance_mm=0)})
    assert has_point(piece.cut_outline, 180, -20)
    assert not has_point(piece.cut_outline, 200, -20)
    assert piece.edge("e0").cut_length_mm == pytest.approx(10 + 200 - 20)


def test_widths_on_a_straight_run_step_square_and_are_told():
    edges = {
        "upper": straight((200, 0), (200, 100)),
        "lower": straight((200, 100), (200, 300)),
        "bottom": straight((200, 300), (0, 300)),
        "left": straight((0, 300), (0, 0)),
        "top": straight((0, 0), (200, 0)),
    }
    piece, findings = cut(edges, {"upper": EdgeSpec(allowance_mm=20)})
    assert codes(findings) == {"width-step"}
    assert findings[0].where == "upper"
    assert findings[0].severity == "warn"
    assert piece is not None
    assert has_point(piece.cut_outline, 220, 100)
    assert has_point(piece.cut_outline, 210, 100)
    assert piece.cut_area_mm2 == pytest.approx(
        60000 + 20 * 100 + 10 * (200 + 200 + 300 + 200) + 100 + 100 + 200 + 100, abs=0.1
    )


def test_a_square_end_stands_at_right_angles_on_the_edges_last_point():
    # The side runs into the hem at an interior angle of 120°: a turn of 60°.
    turn = math.radians(60)
    corner = (200 + 150 * math.cos(turn), 150 * math.sin(turn))
    edges = polygon([(0, 0), (200, 0), corner, (0, corner[1])])
    piece = clean(edges, {"e0": EdgeSpec(allowance_mm=40, corner_beside={"e1": "square"})})
    assert has_point(piece.cut_outline, 200, -40)
    assert has_point(piece.cut_outline, 200, -10 / math.cos(turn))
    end = [part for part in piece.edge("e0").cut_line if has_point(part, 200, -40)]
    assert has_point(end[0], 200, -10 / math.cos(turn))


def test_a_square_end_at_a_sharp_corner_stands_where_the_seam_line_meets_the_other_cut_line():
    edges = _triangle(45)
    piece = clean(edges, {"e2": EdgeSpec(corner="square", corner_beside={"e1": "mitre"})})
    half = math.radians(22.5)
    along, out = np.array([math.cos(half), math.sin(half)]), np.array([math.sin(half), -math.cos(half)])
    foot = along * 10 / math.sin(math.radians(45))
    head = foot + out * 10
    assert has_point(piece.cut_outline, *foot, 1e-3)
    assert has_point(piece.cut_outline, *head, 1e-3)


def test_a_square_end_at_a_right_angle_is_the_mitre():
    edges = polygon([(0, 0), (200, 0), (200, 100), (0, 100)])
    assert clean(edges, {"e0": EdgeSpec(corner="square")}).cut_outline == clean(edges).cut_outline


def test_a_rule_beside_one_neighbour_counts_there_alone():
    places = [(0, 0), (200, 0), (235, 200), (-35, 200)]
    rule = EdgeSpec(allowance_mm=40, corner="turned", corner_beside={"e3": "mitre"}, hem=True)
    outline = array(clean(polygon(places), {"e2": rule}).cut_outline)
    raw = outline[np.abs(outline[:, 1] - 240) < 1e-6]
    slope = 35 / 200
    side = math.hypot(10, 10 * slope)
    assert raw[:, 0].max() == pytest.approx(235 + side - 40 * slope, abs=1e-4)
    assert raw[:, 0].min() == pytest.approx(-35 - side - 40 * slope, abs=1e-4)


def test_turned_wins_over_square_and_two_of_one_kind_are_a_fault():
    places = [(0, 0), (200, 0), (180, 200), (20, 200)]
    turned = EdgeSpec(allowance_mm=40, corner="turned")
    beside = EdgeSpec(corner="square", corner_beside={"e0": "mitre"})
    alone = clean(polygon(places), {"e2": turned})
    assert clean(polygon(places), {"e2": turned, "e1": beside, "e3": beside}).cut_outline == alone.cut_outline
    for both in ("turned", "square"):
        rule = EdgeSpec(corner=both)
        _, findings = cut(polygon(places), {"e2": rule, "e1": EdgeSpec(corner_beside={"e2": both})})
        assert codes(findings) >= {"corner-conflict"}


def test_a_corner_rule_for_an_edge_that_is_no_neighbour_is_a_fault():
    places = [(0, 0), (200, 0), (200, 200), (0, 200)]
    _, findings = cut(polygon(places), {"e0": EdgeSpec(corner_beside={"e2": "square"})})
    assert codes(findings) == {"not-a-neighbour"}


@pytest.mark.parametrize(("d0", "d1"), [(20, 10), (10, 20)])
def test_where_widths_step_a_wedge_of_the_smaller_closes_the_gap_between_the_strips(d0, d1):
    """The outline turns by 3 degrees: the wedge is a kite of the smaller width, area d² tan(turn / 2)."""
    one, two = sides(3, d0, d1)
    corner = mitred(np.zeros(2), one, two)
    assert corner.stepped
    (wedge,) = (fill for fill in corner.fills if fill is not None)
    assert _area(wedge) == pytest.approx(100 * math.tan(math.radians(1.5)))
    assert wedge[1] == pytest.approx(one.normal * 10)
    assert wedge[2] @ one.normal == pytest.approx(10)
    assert wedge[2] @ two.normal == pytest.approx(10)
    assert wedge[3] == pytest.approx(two.normal * 10)
    wider, other = (0, two) if d0 > d1 else (1, one)
    assert corner.tails[wider] == pytest.approx(np.array([other.normal * 10]))
    assert corner.tails[1 - wider] is None

"""Turned hems: the strip is the mirror image of what it will lie on."""

import math

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from pipeline.model.piece_specs import EdgeSpec
from tests.cutting.shapes import arc, array, clean, codes, curve, cut, has_point, polygon, straight, turns_back

HEM = EdgeSpec(allowance_mm=40, corner="turned", hem=True)


def _tapered(degrees: float, width: float = 300, height: float = 400) -> dict:
    lean = height * math.tan(math.radians(degrees))
    return polygon([(0, 0), (width, 0), (width - lean, height), (lean, height)])


def test_a_taper_of_10_degrees_makes_a_hem_of_40_mm_7_05_mm_wider_a_side_at_the_raw_edge():
    lean = math.tan(math.radians(10))
    outline = array(clean(_tapered(10), {"e2": HEM}).cut_outline)
    at_hem = outline[np.abs(outline[:, 1] - 400) < 1e-6][:, 0].max()
    at_raw = outline[np.abs(outline[:, 1] - 440) < 1e-6][:, 0].max()
    assert at_raw - at_hem == pytest.approx(7.05, abs=0.005)
    assert at_raw - at_hem == pytest.approx(40 * lean, abs=1e-4)
    plain_on = array(clean(_tapered(10), {"e2": EdgeSpec(allowance_mm=40)}).cut_outline)
    continued = plain_on[np.abs(plain_on[:, 1] - 440) < 1e-6][:, 0].max()
    assert at_raw - continued == pytest.approx(14.11, abs=0.005)


@settings(deadline=None, max_examples=40)
@given(st.floats(-35, 35), st.floats(5, 80), st.floats(0, 20))
def test_a_straight_hem_turned_up_lies_on_the_piece_edge_on_edge(degrees, depth, side):
    edges = _tapered(degrees, width=800)
    specs = {"e2": EdgeSpec(allowance_mm=depth, corner="turned"), "e1": EdgeSpec(allowance_mm=side)}
    piece = clean(edges, specs, allowance_mm=10)
    assert not turns_back(piece.cut_outline)
    region = shapely.Polygon(piece.cut_outline)
    far = 5000
    strip = shapely.intersection(region, shapely.box(-far, 400, far, far))
    beside = shapely.intersection(region, shapely.box(-far, 400 - depth, far, 400))
    mirrored = shapely.transform(strip, lambda points: points * (1, -1) + (0, 800))
    assert shapely.area(shapely.symmetric_difference(mirrored, beside)) < 0.01


def test_a_curved_hem_mirrors_the_side_about_its_nearest_points():
    # Straight sides that meet an arc about the origin off its radius; both ends of the hem are turned.
    def on(radius: float, degrees: float) -> tuple[float, float]:
        return radius * math.cos(math.radians(degrees)), radius * math.sin(math.radians(degrees))

    edges = {
        "waist": tuple(segment.reversed() for segment in arc((0, 0), 600, 60, 60)),
        "right": straight(on(600, 60), on(800, 20)),
        "hem": arc((0, 0), 800, 20, 140),
        "left": straight(on(800, 160), on(600, 120)),
    }
    # The waist is walked from 120° to 60°, so that the outline is clockwise on the page.
    piece = clean(edges, {"hem": HEM, "waist": EdgeSpec(allowance_mm=10)})
    ends = array(piece.edge("hem").cut_line[0])
    radii = np.hypot(*ends.T)
    sides = shapely.MultiLineString([piece.edge("right").cut_line[0], piece.edge("left").cut_line[0]])
    across = ends * ((1600 - radii) / radii)[:, None]
    on_end = (radii > 815) & (radii < 839.9)
    assert on_end.sum() > 10
    assert shapely.distance(sides, shapely.points(across[on_end])).max() < 0.01
    # Past its end the hem runs on straight; 13 mm on that lies 13² / (2 x 800) mm off the circle, twice over.
    on_straight = (radii > 800.5) & (radii <= 815)
    assert shapely.distance(sides, shapely.points(across[on_straight])).max() < 0.22
    assert radii.max() == pytest.approx(840, abs=0.01)


@settings(deadline=None, max_examples=40)
@given(st.floats(300, 1500), st.floats(0, 360), st.floats(-200, 200), st.floats(6, 20))
def test_no_hairline_is_left_where_a_turned_curved_hem_meets_straight_sides(radius, start_deg, x, side):
    # A quarter ring, as of a circle skirt: the sides stand square to the hem.
    def on(r: float, degrees: float) -> tuple[float, float]:
        return x + r * math.cos(math.radians(degrees)), r * math.sin(math.radians(degrees))

    inner = radius / 3
    edges = {
        "waist": tuple(segment.reversed() for segment in arc((x, 0), inner, start_deg, 90)),
        "cb": straight(on(inner, start_deg), on(radius, start_deg)),
        "hem": arc((x, 0), radius, start_deg, 90),
        "cf": straight(on(radius, start_deg + 90), on(inner, start_deg + 90)),
    }
    piece = clean(edges, {"hem": EdgeSpec(allowance_mm=12.7, corner="turned", hem=True)}, allowance_mm=side)
    assert not turns_back(piece.cut_outline)
    assert [len(edge.cut_line) for edge in piece.edges] == [1, 1, 1, 1]
    area = math.pi / 4 * ((radius + 12.7) ** 2 - (inner - side) ** 2) + 2 * side * (radius - inner + 12.7 + side)
    assert piece.cut_area_mm2 == pytest.approx(area, abs=0.5)


def test_beside_a_fold_the_fold_runs_on():
    edges = {
        "top": straight((0, 0), (200, 0)),
        "side": straight((200, 0), (240, 400)),
        "hem": straight((240, 400), (0, 400)),
        "cf": straight((0, 400), (0, 0)),
    }
    piece = clean(edges, {"hem": HEM, "cf": EdgeSpec(fold=True)})
    assert has_point(piece.cut_drawn, 0, 440)
    assert has_point(piece.cut_drawn, 240 + 10 * math.hypot(1, 0.1) - 4, 440)
    assert array(piece.cut_drawn)[:, 0].min() == 0


def test_a_hem_deeper_than_the_piece_beside_it_is_told():
    edges = polygon([(0, 0), (100, 0), (100, 30), (0, 30)])
    _, findings = cut(edges, {"e2": HEM}, allowance_mm=5)
    assert codes(findings) == {"turned-too-deep"}
    assert {finding.where for finding in findings} == {"e2"}
    assert all(finding.severity == "block" for finding in findings)


def test_a_hem_drawn_as_a_shallow_s_keeps_its_depth():
    edges = {
        "top": straight((0, 0), (300, 0)),
        "right": straight((300, 0), (320, 400)),
        "hem": curve((320, 400), (220, 440), (100, 380), (0, 410)),
        "left": straight((0, 410), (0, 0)),
    }
    piece = clean(edges, {"hem": HEM})
    hem = shapely.LineString(piece.edge("hem").cut_line[0])
    seam = shapely.LineString(_sampled(piece))
    middle = [hem.interpolate(share, normalized=True) for share in np.linspace(0.25, 0.75, 30)]
    assert [seam.distance(place) for place in middle] == pytest.approx([40] * 30, abs=0.01)


def _sampled(piece):
    return [piece.drawn.edge("hem").path[0].at(i / 500) for i in range(501)]


@pytest.mark.parametrize("other_end", ["turned", "mitre"])
def test_a_hem_is_turned_about_the_cut_line_of_a_hem_that_it_meets_whatever_that_one_does_at_its_other_end(other_end):
    low = EdgeSpec(allowance_mm=30, corner_beside={"e1": "mitre", "e3": other_end}, hem=True)
    front = EdgeSpec(allowance_mm=40, corner="turned", hem=True)
    piece = clean(polygon([(0, 0), (300, 0), (300, 400), (0, 400)]), {"e2": low, "e1": front})
    corners = {tuple(map(round, place)) for place in piece.cut_outline}
    assert {(340, -10), (340, 430), (-10, 430), (-10, -10)} <= corners
    assert shapely.area(shapely.Polygon(piece.cut_outline)) == pytest.approx(350 * 440, abs=0.1)

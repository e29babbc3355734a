"""Allowances that taper along an edge: at right angles to the seam line, evenly from its first point to its last."""

import math

import numpy as np
import pytest
import shapely

from pipeline.geometry.curves import flattened
from pipeline.model.piece_specs import EdgeSpec
from tests.cutting.shapes import (
    arc,
    array,
    clean,
    codes,
    curve,
    cut,
    has_point,
    notch,
    polygon,
    straight,
    turns_back,
)
from tests.cutting.tapering import BOX, CURVES, off_mm, taper


def test_a_straight_edge_tapers_from_its_first_point_to_its_last():
    """The right side's cut line is x = 200 + 25 - 15 y / 300, run on to the lines 10 mm above and below."""
    piece = clean(BOX, {"e1": taper(25, 10)})
    top, bottom = (225 + 15 / 300 * 10, -10), (210 - 15 / 300 * 10, 310)
    assert has_point(piece.cut_outline, *top)
    assert has_point(piece.cut_outline, *bottom)
    assert len(piece.cut_outline) == 4
    (line,) = piece.edge("e1").cut_line
    assert np.allclose(array(line), [top, bottom], atol=1e-5)
    lower, upper = 210 - 15 / 300 * 10 + 10, 225 + 15 / 300 * 10 + 10
    assert piece.cut_area_mm2 == pytest.approx((lower + upper) / 2 * 320, abs=0.01)
    assert (piece.edge("e1").allowance_mm, piece.edge("e1").allowance_end_mm) == (25, 10)
    assert piece.edge("e0").allowance_end_mm is None


def test_it_runs_as_the_outline_does_clockwise():
    """The left side is walked upwards: 25 mm are at the bottom."""
    piece = clean(BOX, {"e3": taper(25, 10)})
    assert has_point(piece.cut_outline, -25 - 0.5, 310)
    assert has_point(piece.cut_outline, -10 + 0.5, -10)


def test_a_taper_may_begin_at_nothing():
    """Beside 10 mm above, the line from the corner itself runs on upwards and cuts a sliver off."""
    piece = clean(BOX, {"e1": taper(0, 30)})
    assert has_point(piece.cut_outline, 200 - 1, -10)
    assert has_point(piece.cut_outline, 231, 310)


def test_a_curve_may_taper_to_nothing():
    """Its last width is nothing to the last bit: 23.3 mm less all of 23.3 mm over many chords."""
    path = curve((200, 0), (170, 100), (175, 200), (200, 300))
    piece = clean({**BOX, "e1": path, "e2": straight((200, 300), (0, 300))}, {"e1": taper(23.3, 0, clips=False)})
    assert off_mm(piece, "e1", path, 23.3, 0, ends_mm=0.5).max() < 0.05


def test_two_tapers_meet_where_their_lines_cross():
    """x = 220 - y / 30 on the right; above, y = -(10 + x / 20): the solution of both by hand."""
    piece = clean(BOX, {"e0": taper(10, 20), "e1": taper(20, 10)})
    y = -(10 + 220 / 20) / (1 - 1 / 600)
    assert has_point(piece.cut_outline, 220 - y / 30, y)


def test_where_the_outline_runs_straight_on_the_widths_meet_without_a_jog():
    edges = polygon([(0, 0), (200, 0), (200, 150), (200, 300), (0, 300)])
    piece = clean(edges, {"e1": taper(25, 10)})
    assert has_point(piece.cut_outline, 210, 150)
    assert has_point(piece.cut_outline, 210, 310)
    assert len(piece.cut_outline) == 5


def test_a_square_end_stands_at_right_angles_to_the_seam_line():
    """At a sharp corner, the owner's line runs on until the seam line, run on, meets the other's tapered cut line."""
    edges = polygon([(0, 0), (200, 0), (100, 150), (0, 150)])
    specs = {"e0": EdgeSpec(corner_beside={"e1": "square"}), "e1": taper(20, 10)}
    piece = clean(edges, specs)
    side = np.array([-100, 150]) / math.hypot(100, 150)
    outward = np.array([side[1], -side[0]])
    # The tapered line: start + 20 outward + s (side - 10 / length outward); it meets y = 0 at s.
    heading = side - outward * 10 / math.hypot(100, 150)
    start = np.array([200, 0]) + 20 * outward
    x = (start - heading * start[1] / heading[1])[0]
    assert has_point(piece.cut_outline, x, -10, within_mm=0.001)


def test_beside_a_fold_it_runs_on_to_the_fold():
    """The lower edge slopes, so that its line reaches the fold past its own end, rising as it did."""
    edges = {
        "top": straight((0, 0), (200, 0)),
        "side": straight((200, 0), (200, 300)),
        "hem": straight((200, 300), (0, 340)),
        "cf": straight((0, 340), (0, 0)),
    }
    piece = clean(edges, {"hem": taper(20, 40), "cf": EdgeSpec(fold=True)})
    along = np.array([-200, 40]) / math.hypot(200, 40)
    outward = np.array([along[1], -along[0]])
    start, end = np.array([200, 300]) + 20 * outward, np.array([0, 340]) + 40 * outward
    y = end[1] + (end[1] - start[1]) / (end[0] - start[0]) * (0 - end[0])
    assert has_point(piece.cut_drawn, 0, y, within_mm=0.001)


def test_an_edge_with_a_corner_in_it_shares_its_taper_by_length():
    """100 mm across, then 300 mm down: at the corner a quarter of the way is gone, and 25 mm have become 21."""
    edges = {
        "waist": straight((0, 0), (100, 0)),
        "back": straight((100, 0), (200, 0), (200, 300)),
        "hem": straight((200, 300), (0, 300)),
        "front": straight((0, 300), (0, 0)),
    }
    piece = clean(edges, {"waist": EdgeSpec(allowance_mm=25), "back": taper(25, 9)})
    (line,) = piece.edge("back").cut_line
    seam = shapely.LineString([(100, 0), (200, 0), (200, 300)])
    for x in (110, 150, 190):
        assert _height_at(line, x) == pytest.approx(25 - 16 * (x - 100) / 400, abs=1e-4)
    across = shapely.LineString(line).intersection(shapely.LineString([(150, 150), (300, 150)]))
    assert across.x - 200 == pytest.approx(25 - 16 * 250 / 400, abs=1e-4)
    assert seam.distance(shapely.LineString(line)) > 8.9


def _height_at(line, x: float) -> float:
    return -shapely.LineString(line).intersection(shapely.LineString([(x, -100), (x, 0)])).y


def test_a_circle_tapers_to_a_spiral_and_steps_where_it_closes():
    piece, findings = cut({"outline": arc((0, 0), 100, 0, 360)}, {"outline": taper(10, 20)})
    assert codes(findings) == {"width-step"}
    assert {(finding.found, finding.severity) for finding in findings} == {("20 mm and 10 mm", "warn")}
    # The area of r(φ) = 110 + 10 φ / 2π, by the integral of r² / 2.
    assert piece.cut_area_mm2 == pytest.approx(math.pi * (110**2 + 110 * 10 + 10**2 / 3), rel=1e-4)


@pytest.mark.parametrize("name", CURVES)
@pytest.mark.parametrize("widths", [(25, 10), (10, 25), (8, 8.5)])
def test_on_a_curve_every_point_of_the_cut_line_has_its_width(name, widths):
    end = CURVES[name][-1].end
    edges = {
        "top": straight((0, 0), (200, 0)),
        "side": CURVES[name],
        "hem": straight((end.x, end.y), (0, 300)),
        "cf": straight((0, 300), (0, 0)),
    }
    piece = clean(edges, {"side": taper(*widths, clips=False)})
    assert off_mm(piece, "side", CURVES[name], *widths, ends_mm=0.5).max() < 0.05
    assert not turns_back(piece.cut_outline)
    assert _sharpest_deg(piece.edge("side").cut_line[0], CURVES[name]) < 1.5


def _sharpest_deg(line, path) -> float:
    """The largest turn between chords of a cut line beside its edge, short ones, which rounding turns, left out."""
    seam = shapely.LineString(flattened(path, 0.0001))
    feet = shapely.line_locate_point(seam, shapely.points(array(line)))
    points = array(line)[(feet > 1e-3) & (feet < seam.length - 1e-3)]
    steps = np.diff(points, axis=0)
    steps = steps[np.hypot(*steps.T) > 0.05]
    turns = np.arctan2(
        steps[:-1, 0] * steps[1:, 1] - steps[:-1, 1] * steps[1:, 0], np.einsum("ij,ij->i", steps[:-1], steps[1:])
    )
    return float(np.degrees(np.abs(turns)).max())


@pytest.mark.parametrize(("start_mm", "end_mm"), [(25, 10), (10, 25)])
def test_past_the_end_of_an_arc_it_runs_on_along_its_own_tangent(start_mm, end_mm):
    """A quarter of a circle of radius 200: past its end the cut line rises by w' / (1 + w / 200) a millimetre."""
    edges = {"arc": arc((0, 0), 200, -90, 90), "low": straight((200, 0), (0, 0)), "cf": straight((0, 0), (0, -200))}
    piece = clean(edges, {"arc": taper(start_mm, end_mm)})
    change = (end_mm - start_mm) / (math.pi / 2 * 200)
    at_end, at_start = (change * 10 / (1 + width / 200) for width in (end_mm, start_mm))
    assert has_point(piece.cut_outline, 200 + end_mm + at_end, 10, within_mm=0.01)
    assert has_point(piece.cut_outline, -10, -200 - start_mm + at_start, within_mm=0.01)


def test_a_notch_is_cut_from_where_the_cut_line_is():
    specs = {"e1": taper(25, 3)}
    piece = clean(BOX, specs, notches=(notch(BOX, "e1", 30), notch(BOX, "e1", 150, name="m"), notch(BOX, "e1", 290)))
    wide, middle, narrow = piece.slits
    assert (wide.outer.x, wide.outer.y) == pytest.approx((200 + 25 - 2.2, 30), abs=1e-4)
    assert (middle.outer.x, middle.outer.y) == pytest.approx((214, 150), abs=1e-4)
    assert wide.cut
    assert not narrow.cut  # less than 6 mm there


def test_clips_reach_from_the_cut_line():
    path = curve((200, 0), (130, 100), (130, 200), (200, 300))
    edges = {**BOX, "e1": path}
    piece = clean(edges, {"e1": taper(40, 20)})
    ring = shapely.LinearRing(piece.cut_outline)
    assert len(piece.clips) > 2
    assert max(ring.distance(shapely.Point(outer)) for outer, _ in piece.clips) < 0.02


def test_a_curve_tighter_than_its_wide_end_is_told():
    path = (*straight((200, 0), (200, 140)), *arc((212, 140), 12, 180, -90), *straight((212, 152), (260, 152)))
    edges = {
        "top": straight((0, 0), (200, 0)),
        "side": path,
        "low": straight((260, 152), (260, 300)),
        "hem": straight((260, 300), (0, 300)),
        "cf": straight((0, 300), (0, 0)),
    }
    assert codes(cut(edges, {"side": taper(9, 6)})[1]) == set()
    assert codes(cut(edges, {"side": taper(9, 30)})[1]) == {"concave-radius"}

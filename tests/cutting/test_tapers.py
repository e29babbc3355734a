"""Allowances that taper along an edge: at right angles to the seam line, evenly from its first point to its last."""

import math

import msgspec
import numpy as np
import pytest
import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from pipeline.cutting.cut import cut_piece
from pipeline.geometry.curves import Path, flattened, path_length_mm
from pipeline.model.findings import blocks
from pipeline.model.piece_specs import EdgeSpec, PieceSpec
from pipeline.model.pieces import CutPiece, Notch
from tests.cutting.shapes import (
    arc,
    array,
    clean,
    codes,
    curve,
    cut,
    drawn_of,
    has_point,
    notch,
    pattern_of,
    polygon,
    spec_of,
    straight,
    turns_back,
)

BOX = polygon([(0, 0), (200, 0), (200, 300), (0, 300)])
"""e0 runs along the top, e1 down the right side, e2 back along the bottom, e3 up the left side."""


def taper(start_mm: float, end_mm: float, **rest) -> EdgeSpec:
    return EdgeSpec(allowance_mm=start_mm, allowance_end_mm=end_mm, **rest)


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


CURVES = {
    "outward": curve((200, 0), (260, 100), (250, 200), (200, 300)),
    "inward": curve((200, 0), (150, 100), (160, 200), (200, 300)),
    "s": curve((200, 0), (280, 90), (130, 210), (200, 300)),
    "seat": (*straight((200, 0), (190, 180)), *curve((190, 180), (187, 240), (200, 290), (260, 300))),
}


def off_mm(piece, name: str, path, start_mm: float, end_mm: float, ends_mm: float) -> np.ndarray:
    """How far each point of a cut line, but those beside the ends, lies from the width where its foot is."""
    fine = array(flattened(path, 0.0001))
    seam = shapely.LineString(fine)
    (line,) = piece.edge(name).cut_line
    places = shapely.points(shapely.get_coordinates(shapely.segmentize(shapely.LineString(line), 1.0)))
    feet = shapely.line_locate_point(seam, places)
    inner = (feet > ends_mm) & (feet < seam.length - ends_mm)
    widths = start_mm + (end_mm - start_mm) * feet / seam.length
    return np.abs(shapely.distance(seam, places) - widths)[inner]


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


def derived(**how) -> CutPiece:
    """A piece made of the box whose right side tapers from 25 to 10 mm."""
    return derived_of(spec_of(edges={"e1": taper(25, 10)}), BOX, **how)


def derived_of(source: PieceSpec, edges: dict[str, Path], notches: tuple[Notch, ...] = (), **how) -> CutPiece:
    """A piece made of another one, of which there is nothing to tell."""
    fusing = msgspec.structs.replace(spec_of("fusing", None), source="piece", **how)
    made, findings = cut_piece(pattern_of(source, fusing), drawn_of(edges, notches, name="fusing"))
    assert made is not None
    assert findings == ()
    return made


def test_a_trimmed_piece_tapers_as_its_source_does():
    edge = derived(trim_mm=3.0).edge("e1")
    assert (edge.allowance_mm, edge.allowance_end_mm) == (22, 7)
    (line,) = edge.cut_line
    slant = math.hypot(1, 15 / 300)
    assert _right_of(line, 150) == pytest.approx(217.5 - 3 * slant, abs=1e-4)


def _right_of(line, y: float) -> float:
    return shapely.LineString(line).intersection(shapely.LineString([(100, y), (400, y)])).x


def test_a_piece_that_ends_past_the_seam_line_has_one_width():
    edge = derived(past_seam_mm=2.0).edge("e1")
    assert (edge.allowance_mm, edge.allowance_end_mm) == (2, None)
    assert _right_of(edge.cut_line[0], 150) == pytest.approx(202)


def test_lengths_of_the_seam_line_stay():
    plain, tapered = clean(BOX), clean(BOX, {"e1": taper(25, 10)})
    assert tapered.edge("e1").length_mm == plain.edge("e1").length_mm == path_length_mm(BOX["e1"])
    assert tapered.seam_outline == plain.seam_outline


@st.composite
def tapered_shapes(draw):
    """A star of straight edges and mild curves, each with an allowance at either end."""
    count = draw(st.integers(4, 7))
    radii = draw(st.lists(st.floats(200, 320), min_size=count, max_size=count))
    places = [
        (radius * math.cos(2 * math.pi * i / count), radius * math.sin(2 * math.pi * i / count))
        for i, radius in enumerate(radii)
    ]
    edges, specs = {}, {}
    for i, (x0, y0) in enumerate(places):
        x1, y1 = places[(i + 1) % count]
        bulge = draw(st.one_of(st.just(0.0), st.floats(-0.08, 0.08)))
        if bulge:
            across = (bulge * (y1 - y0), -bulge * (x1 - x0))
            inner = [(x0 + (x1 - x0) * t + across[0], y0 + (y1 - y0) * t + across[1]) for t in (1 / 3, 2 / 3)]
            edges[f"e{i}"] = curve((x0, y0), *inner, (x1, y1))
        else:
            edges[f"e{i}"] = straight((x0, y0), (x1, y1))
        widths = draw(st.tuples(st.one_of(st.just(0.0), st.floats(3, 30)), st.floats(3, 30)).map(st.permutations))
        specs[f"e{i}"] = taper(*draw(widths), corner=draw(st.sampled_from(["mitre", "square"])))
    for i in range(count):
        if specs[f"e{i}"].corner == "square" == specs[f"e{(i + 1) % count}"].corner:
            specs[f"e{i}"] = taper(specs[f"e{i}"].allowance_mm, specs[f"e{i}"].allowance_end_mm)
    return edges, specs


@settings(deadline=None, max_examples=80)
@given(tapered_shapes())
def test_any_tapers_give_one_simple_cut_line_at_its_widths(shape):
    edges, specs = shape
    piece, findings = cut(edges, specs)
    assert "not-computed" not in codes(findings)
    assume(piece is not None and not any(blocks(finding) for finding in findings))
    ring = shapely.Polygon(piece.cut_outline)
    seam = shapely.Polygon(piece.seam_outline)
    assert ring.is_valid
    assert not turns_back(piece.cut_outline)
    assert ring.buffer(1e-3).contains(seam)
    reach = math.sqrt(5) * max(max(spec.allowance_mm, spec.allowance_end_mm) for spec in specs.values())
    assert seam.buffer(reach + 0.1).contains(ring)
    for name, path in edges.items():
        spec = specs[name]
        off = off_mm(piece, name, path, spec.allowance_mm, spec.allowance_end_mm, ends_mm=60)
        assert off.size == 0 or off.max() < 0.05, name


@settings(deadline=None, max_examples=40)
@given(tapered_shapes())
def test_a_taper_between_two_allowances_lies_between_their_cut_lines(shape):
    edges, specs = shape
    least = {name: EdgeSpec(allowance_mm=min(s.allowance_mm, s.allowance_end_mm)) for name, s in specs.items()}
    most = {name: EdgeSpec(allowance_mm=max(s.allowance_mm, s.allowance_end_mm)) for name, s in specs.items()}
    tapered = {name: taper(s.allowance_mm, s.allowance_end_mm) for name, s in specs.items()}
    made = [cut(edges, one) for one in (least, tapered, most)]
    assume(all(piece is not None and findings == () for piece, findings in made))
    small, middle, large = (shapely.Polygon(piece.cut_outline) for piece, _ in made)
    near = shapely.unary_union([shapely.Point(path[0].start).buffer(70) for path in edges.values()])
    assert small.difference(near).difference(middle.buffer(1e-3)).area < 0.01
    assert middle.difference(near).difference(large.buffer(1e-3)).area < 0.01

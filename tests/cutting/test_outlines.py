"""Whole outlines: areas and lengths on curves, a second engine, and what holds for any piece."""

import math
from itertools import pairwise

import numpy as np
import pyclipper
import pytest
import shapely
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from pipeline.cutting.cut import cut_piece
from pipeline.geometry.curves import flattened
from pipeline.model.findings import blocks
from pipeline.model.piece_specs import EdgeSpec
from tests.cutting.shapes import (
    arc,
    array,
    clean,
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

SCALE = 2**20


def test_a_disc_grows_by_steiners_formula():
    piece = clean({"outline": arc((500, -300), 120, 0, 360)}, allowance_mm=15)
    assert piece.seam_area_mm2 == pytest.approx(math.pi * 120**2, abs=0.1)
    expected = math.pi * 120**2 + 2 * math.pi * 120 * 15 + math.pi * 15**2
    assert piece.cut_area_mm2 == pytest.approx(expected, abs=0.2)
    assert piece.edges[0].length_mm == pytest.approx(2 * math.pi * 120, abs=0.005)
    assert piece.edges[0].cut_length_mm == pytest.approx(2 * math.pi * 135, abs=0.02)


def test_a_sleeve_cap_that_bends_inward_keeps_every_bend_of_its_cut_line():
    """Its strip is made of quads there, with points in close pairs: each alone seems straight, and both went."""
    cap = (
        *curve((-166, 129), (-121.0489, 125.6978), (-50.0803, 0), (0, 0)),
        *curve((0, 0), (93.5033, 0), (82.0732, 122.8346), (166, 129)),
    )
    edges = {"cap": cap, "front": straight((166, 129), (158, 250)), "hem": straight((158, 250), (-158, 250))}
    piece = clean({**edges, "back": straight((-158, 250), (-166, 129))}, allowance_mm=7)
    seam = shapely.LineString(array(flattened(cap)))
    (line,) = piece.edge("cap").cut_line
    middles = [((a.x + b.x) / 2, (a.y + b.y) / 2) for a, b in pairwise(line)]
    off = [abs(seam.distance(shapely.Point(place)) - 7) for place in middles if -150 < place[0] < 150]
    assert max(off) < 0.005


def test_a_quarter_of_a_circle_skirt_has_its_closed_areas_and_lengths():
    edges = {
        "waist": tuple(segment.reversed() for segment in arc((0, 0), 112, 0, 90)),
        "cf": straight((112, 0), (800, 0)),
        "hem": arc((0, 0), 800, 0, 90),
        "side": straight((0, 800), (0, 112)),
    }
    piece = clean(
        edges, {"waist": EdgeSpec(allowance_mm=12), "hem": EdgeSpec(allowance_mm=20), "cf": EdgeSpec(fold=True)}
    )
    half = math.pi / 4 * (800**2 - 112**2)
    assert piece.seam_area_mm2 == pytest.approx(2 * half, abs=0.1)
    # The side's 10 mm run on straight: between the two offset arcs, whose lines it meets at right angles at the seam.
    sector = math.pi / 4 * (820**2 - 100**2)
    strip = sum(_area_beside(radius) * sign for radius, sign in ((820, 1), (100, -1)))
    assert piece.cut_area_mm2 == pytest.approx(2 * (sector + strip), abs=0.5)
    assert piece.edge("hem").length_mm == pytest.approx(math.pi / 2 * 800, abs=0.005)


def _area_beside(radius: float) -> float:
    """Beside the side's 10 mm the corners are mitres to the arc's tangent: a rectangle as high as the radius."""
    return 10 * radius


def test_the_parts_of_the_cut_line_make_up_the_whole_of_it():
    edges = {
        "cap": (*curve((0, 150), (40, 140), (60, 80), (165, 0)), *curve((165, 0), (250, 60), (290, 140), (330, 150))),
        "front": straight((330, 150), (280, 560)),
        "hem": straight((280, 560), (50, 560)),
        "back": straight((50, 560), (0, 150)),
    }
    piece = clean(edges, {"hem": EdgeSpec(allowance_mm=40, corner="turned")})
    ring = shapely.LinearRing(piece.cut_outline)
    assert sum(edge.cut_length_mm for edge in piece.edges) == pytest.approx(ring.length, abs=1e-4)
    for edge in piece.edges:
        assert len(edge.cut_line) == 1
    assert piece.edge("cap").cut_line[0][0] == piece.cut_drawn[0]


@st.composite
def star_shapes(draw, most=9, least_radius=120, least_width=2.0) -> tuple[list[tuple[float, float]], list[float]]:
    widths = st.one_of(st.just(0.0), st.floats(least_width, 20))
    count = draw(st.integers(4, most))
    radii = draw(st.lists(st.floats(least_radius, 320), min_size=count, max_size=count))
    shift = draw(st.floats(0, 6))
    places = [
        (radius * math.cos(2 * math.pi * i / count + shift), radius * math.sin(2 * math.pi * i / count + shift))
        for i, radius in enumerate(radii)
    ]
    return places, draw(st.lists(widths, min_size=count, max_size=count))


def _meeting(place, n0, n1, d0, d1) -> np.ndarray:
    return place + np.linalg.solve(np.array([n0, n1]), np.array([d0, d1]))


@settings(deadline=None, max_examples=60, suppress_health_check=[HealthCheck.filter_too_much])
@given(star_shapes(most=6, least_radius=220, least_width=10.0))
def test_pyclipper_finds_the_same_area_from_the_same_quads(shape):
    places, allowances = shape
    specs = {f"e{i}": EdgeSpec(allowance_mm=width) for i, width in enumerate(allowances)}
    piece, findings = cut(polygon(places), specs)
    assume(findings == () and piece is not None)
    ring = np.array(places)
    steps = np.roll(ring, -1, axis=0) - ring
    along = steps / np.hypot(*steps.T)[:, None]
    normals = np.column_stack((along[:, 1], -along[:, 0]))
    solids, cutters = [], []
    for i, width in enumerate(allowances):
        start, end = ring[i], ring[(i + 1) % len(ring)]
        corner = end
        j = (i + 1) % len(ring)
        turn = math.atan2(along[i][0] * along[j][1] - along[i][1] * along[j][0], along[i] @ along[j])
        tip = _meeting(corner, normals[i], normals[j], width, allowances[j])
        reach = np.hypot(*(tip - corner))
        widest = max(width, allowances[j])
        if turn > 0 or reach > np.hypot(*normals[i]) * width:
            assume(reach < 2 * widest - 1e-6 or (turn < 0 and _both_shorter(tip, corner, along[i], along[j])))
        solids.append([start, end, end + normals[i] * width, start + normals[i] * width])
        if turn < 0 and _both_shorter(tip, corner, along[i], along[j]):
            continue
        for edge, grows in ((i, (tip - corner) @ along[i] > 0), (j, (tip - corner) @ -along[j] > 0)):
            triangle = [corner, corner + normals[edge] * allowances[edge], tip]
            if grows:
                solids.append(triangle)
            elif turn > 0:
                cutters.append((edge, triangle))
    assert piece.cut_area_mm2 == pytest.approx(_clipped_area(ring, solids, cutters, len(allowances)), abs=0.1)


def _both_shorter(tip, corner, along, after) -> bool:
    return bool((tip - corner) @ along <= 0 and (tip - corner) @ -after <= 0)


def _scaled(ring) -> list[tuple[int, int]]:
    points = [(round(float(x) * SCALE), round(float(y) * SCALE)) for x, y in ring]
    return points if pyclipper.Orientation(points) else points[::-1]


def _clipped_area(ring, solids, cutters, count) -> float:
    quads = [polygon for polygon in solids if len(polygon) == 4]
    rest = [polygon for polygon in solids if len(polygon) == 3]
    kept = []
    for index in range(count):
        quad = _scaled(quads[index])
        mine = [_scaled(triangle) for edge, triangle in cutters if edge == index]
        if abs(pyclipper.Area(quad)) == 0:
            continue
        if not mine:
            kept.append(quad)
            continue
        clip = pyclipper.Pyclipper()
        clip.AddPath(quad, pyclipper.PT_SUBJECT, True)
        for triangle in mine:
            if pyclipper.Area(triangle):
                clip.AddPath(triangle, pyclipper.PT_CLIP, True)
        kept += clip.Execute(pyclipper.CT_DIFFERENCE, pyclipper.PFT_NONZERO, pyclipper.PFT_NONZERO)
    clip = pyclipper.Pyclipper()
    for path in (_scaled(ring), *kept, *(_scaled(triangle) for triangle in rest)):
        if pyclipper.Area(path):
            clip.AddPath(path, pyclipper.PT_SUBJECT, True)
    parts = clip.Execute(pyclipper.CT_UNION, pyclipper.PFT_NONZERO, pyclipper.PFT_NONZERO)
    return sum(pyclipper.Area(part) for part in parts) / SCALE**2


@settings(deadline=None, max_examples=150)
@given(star_shapes())
def test_every_straight_stretch_of_the_cut_line_keeps_its_allowance(shape):
    places, allowances = shape
    specs = {f"e{i}": EdgeSpec(allowance_mm=width) for i, width in enumerate(allowances)}
    piece, findings = cut(polygon(places), specs)
    assume(piece is not None and findings == ())
    seam, outline = shapely.Polygon(piece.seam_outline), shapely.Polygon(piece.cut_outline)
    assert outline.is_valid
    assert outline.exterior.is_ccw  # y down: clockwise on the page
    assert shapely.area(shapely.difference(seam, outline, grid_size=1e-6)) < 1e-3
    assert not turns_back(piece.cut_outline)
    for index, edge in enumerate(piece.edges):
        start, end = np.array(places[index]), np.array(places[(index + 1) % len(places)])
        along = (end - start) / np.hypot(*(end - start))
        longest = 0.0
        for part in edge.cut_line:
            for a, b in zip(array(part)[:-1], array(part)[1:], strict=True):
                step = b - a
                if np.hypot(*step) > 1 and abs(along @ step) > np.hypot(*step) * (1 - 1e-9):
                    distance = (a - start) @ np.array([along[1], -along[0]])
                    assert distance == pytest.approx(edge.allowance_mm, abs=0.005)
                    longest = max(longest, float(np.hypot(*step)))
        assert longest > 0


odd_numbers = st.one_of(st.floats(-300, 300), st.sampled_from([0.0, 1.0, 100.0, math.nan, math.inf, 1e9]))
odd_places = st.tuples(odd_numbers, odd_numbers)


@settings(deadline=None, max_examples=200)
@given(
    st.lists(odd_places, min_size=1, max_size=7),
    st.lists(st.sampled_from(["line", "cubic", "bow"]), min_size=7, max_size=7),
    st.lists(st.floats(0, 60), min_size=7, max_size=7),
    st.lists(st.sampled_from(["mitre", "turned", "square"]), min_size=7, max_size=7),
    st.integers(-1, 6),
    st.sampled_from([0.0, 5.0, 30.0]),
)
def test_odd_pieces_are_cut_or_told_but_never_raise(places, kinds, allowances, corners, fold, trim):
    edges, specs = {}, {}
    for i, place in enumerate(places):
        after = places[(i + 1) % len(places)]
        if kinds[i] == "line":
            edges[f"e{i}"] = straight(place, after)
        elif kinds[i] == "cubic":
            edges[f"e{i}"] = curve(place, places[i - 1], place, after)
        else:
            edges[f"e{i}"] = curve(place, (place[0] + 200, place[1]), (after[0], after[1] - 150), after)
        specs[f"e{i}"] = EdgeSpec(allowance_mm=allowances[i], corner=corners[i], fold=i == fold)
    notches = ()
    if all(math.isfinite(number) and abs(number) < 1e4 for place in places for number in place):
        notches = (notch(edges, "e0", 5, "triple"),)
    pattern = pattern_of(spec_of(edges=specs), spec_of("derived", allowance_mm=None, source="piece", trim_mm=trim))
    for name in ("piece", "derived"):
        piece, findings = cut_piece(pattern, drawn_of(edges, notches, name))
        if piece is None:
            assert any(blocks(finding) for finding in findings)
        else:
            assert shapely.Polygon(piece.cut_outline).is_valid
            assert has_point(piece.cut_drawn, *piece.cut_drawn[0])

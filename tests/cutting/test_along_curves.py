"""Allowances of parts of curved edges, and of many pieces drawn at random."""

import math
from itertools import pairwise

import numpy as np
import pytest
import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from pipeline.geometry.curves import flattened, path_length_mm, point_along
from pipeline.model.findings import blocks
from pipeline.model.piece_specs import EdgeSpec
from pipeline.model.pieces import Notch
from tests.cutting.parted import part, run_down, spec
from tests.cutting.shapes import (
    arc,
    array,
    clean,
    codes,
    curve,
    cut,
    straight,
    turns_back,
)
from tests.cutting.tapering import CURVES


def off_mm(piece, name: str, path, ends_mm: float) -> np.ndarray:
    """How far each point of a cut line, but those beside the ends, lies from the width where its foot is."""
    seam = shapely.LineString(array(flattened(path, 0.0001)))
    edge = piece.edge(name)
    lines = [shapely.get_coordinates(shapely.segmentize(shapely.LineString(line), 1.0)) for line in edge.cut_line]
    places = shapely.points(np.vstack(lines))
    feet = shapely.line_locate_point(seam, places)
    inner = (feet > ends_mm) & (feet < seam.length - ends_mm)
    widths = np.array([edge.allowance_at(share) for share in feet / seam.length])
    return np.abs(shapely.distance(seam, places) - widths)[inner]


@pytest.mark.parametrize("name", CURVES)
@pytest.mark.parametrize("parts", ["wide", "narrow", "range"])
def test_on_a_curve_every_point_of_the_cut_line_has_its_width(name, parts):
    path = CURVES[name]
    length_mm, end = path_length_mm(path), path[-1].end
    edges = {
        "top": straight((0, 0), (200, 0)),
        "side": path,
        "hem": straight((end.x, end.y), (0, 300)),
        "cf": straight((0, 300), (0, 0)),
    }
    at = {"a": 0.31 * length_mm, "b": 0.72 * length_mm}
    notches = tuple(Notch(name, "side", place, point_along(path, place)[0]) for name, place in at.items())
    widths = {
        "wide": spec(part("top", "a", 25), clips=False),
        "narrow": spec(part("a", "b", 6), clips=False),
        "range": spec(part("top", "a", 25), part("a", "b", 25, 10), clips=False),
    }
    piece = clean(edges, {"side": widths[parts]}, notches=notches)
    assert off_mm(piece, "side", path, ends_mm=0.5).max() < 0.05
    assert not turns_back(piece.cut_outline)
    assert sharpest_deg(piece.edge("side").cut_line[0], path) < 1.5


def sharpest_deg(line, path, ends_mm: float = 1e-3) -> float:
    """The largest turn between chords of a cut line, but for its ends; short ones, which rounding turns, left out."""
    seam = shapely.LineString(flattened(path, 0.0001))
    feet = shapely.line_locate_point(seam, shapely.points(array(line)))
    points = array(line)[(feet > ends_mm) & (feet < seam.length - ends_mm)]
    steps = np.diff(points, axis=0)
    steps = steps[np.hypot(*steps.T) > 0.05]
    cross = steps[:-1, 0] * steps[1:, 1] - steps[:-1, 1] * steps[1:, 0]
    return float(np.degrees(np.abs(np.arctan2(cross, np.einsum("ij,ij->i", steps[:-1], steps[1:])))).max(initial=0))


def test_on_an_arc_a_part_of_one_width_is_an_arc():
    """A quarter of a circle of radius 200, 20 mm over its first third: radius 220 there, and 210 past the taper."""
    path = arc((0, 0), 200, -90, 90)
    length_mm = math.pi / 2 * 200
    edges = {"arc": path, "low": straight((200, 0), (0, 0)), "cf": straight((0, 0), (0, -200))}
    at = length_mm / 3
    notches = (Notch("a", "arc", at, point_along(path, at)[0]),)
    piece = clean(edges, {"arc": spec(part("cf", "a", 20))}, notches=notches)
    points = array(piece.edge("arc").cut_line[0])
    radii, places = np.hypot(*points.T), (np.arctan2(points[:, 1], points[:, 0]) + math.pi / 2) * 200
    on = (places > 0.1) & (places < length_mm - 0.1)
    expected = 200 + run_down(20, 10, np.clip((places - at) / 80, 0, 1))
    assert np.abs(radii - expected)[on].max() < 0.01


@st.composite
def shapes_with_parts(draw):
    """A star of straight edges and mild curves, each with up to three parts between notches."""
    count = draw(st.integers(4, 6))
    radii = draw(st.lists(st.floats(220, 320), min_size=count, max_size=count))
    turn = draw(st.floats(0, 1))
    angles = [2 * math.pi * (i + turn) / count for i in range(count)]
    places = [(r * math.cos(a), r * math.sin(a)) for r, a in zip(radii, angles, strict=True)]
    edges, specs, notches = {}, {}, []
    for i, (x0, y0) in enumerate(places):
        x1, y1 = places[(i + 1) % count]
        bulge, name = draw(st.one_of(st.just(0.0), st.floats(-0.08, 0.08))), f"e{i}"
        across = (bulge * (y1 - y0), -bulge * (x1 - x0))
        inner = [(x0 + (x1 - x0) * t + across[0], y0 + (y1 - y0) * t + across[1]) for t in (1 / 3, 2 / 3)]
        edges[name] = curve((x0, y0), *inner, (x1, y1)) if bulge else straight((x0, y0), (x1, y1))
        length_mm = path_length_mm(edges[name])
        cuts = sorted(draw(st.lists(st.floats(0.12, 0.88), min_size=1, max_size=3)))
        names = [f"e{i - 1 if i else count - 1}", *(f"n{k}" for k in range(len(cuts))), f"e{(i + 1) % count}"]
        notches += [
            Notch(f"n{k}", name, share * length_mm, point_along(edges[name], share * length_mm)[0])
            for k, share in enumerate(cuts)
        ]
        parts = []
        for one, two in pairwise(names):
            if draw(st.booleans()):
                ends = draw(st.tuples(st.floats(3, 30), st.one_of(st.none(), st.floats(3, 30))))
                parts.append(part(*draw(st.permutations([one, two])), *ends))
        specs[name] = EdgeSpec(allowance_mm=draw(st.floats(3, 15)), along=tuple(parts), clips=False)
    return edges, specs, tuple(notches)


@settings(deadline=None, max_examples=300)
@given(shapes_with_parts())
def test_any_parts_give_one_simple_cut_line_at_its_widths_without_a_jog(shape):
    edges, specs, notches = shape
    piece, findings = cut(edges, specs, notches=notches)
    assert codes(findings) <= {"taper-short", "part-of-nothing", "width-step", "concave-radius"}
    assume(piece is not None and not any(blocks(finding) for finding in findings))
    ring, seam = shapely.Polygon(piece.cut_outline), shapely.Polygon(piece.seam_outline)
    assert ring.is_valid
    assert not turns_back(piece.cut_outline)
    assert ring.buffer(1e-3).contains(seam)
    for name, path in edges.items():
        off = off_mm(piece, name, path, ends_mm=60)
        assert off.size == 0 or off.max() < 0.05, name
        # The shortest tapers, of a millimetre or two, turn by some degrees from chord to chord; a jog turns by 90.
        assert all(sharpest_deg(line, path, 60) < 30 for line in piece.edge(name).cut_line), name

"""Hems that are folded more than once: every band lies on what is beneath it."""

import math
from itertools import pairwise

import numpy as np
import pytest
import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from pipeline.cutting.cut import cut_piece
from pipeline.model.piece_specs import EdgeSpec
from pipeline.model.pieces import InsideLine
from pipeline.model.turns import turns_of
from tests.cutting.shapes import (
    arc,
    array,
    clean,
    codes,
    curve,
    cut,
    drawn_of,
    has_point,
    pattern_of,
    polygon,
    spec_of,
    straight,
    turns_back,
)

HEM_Y = 400.0
FAR = 5000.0


def hem(*folds_mm: float, depth_mm: float, **more) -> EdgeSpec:
    return EdgeSpec(allowance_mm=depth_mm, corner="turned", hem=True, folds_mm=folds_mm, **more)


def tapered(degrees: float, width: float = 300) -> dict:
    lean = HEM_Y * math.tan(math.radians(degrees))
    return polygon([(0, 0), (width, 0), (width - lean, HEM_Y), (lean, HEM_Y)])


def folded(region: shapely.Geometry, folds_mm: tuple[float, ...], depth_mm: float) -> list[shapely.Geometry]:
    """Each band of an allowance below a straight hem, where it lies once it was folded from the raw edge on: a piece of
    paper, of which all beyond a line is turned over about it."""
    bounds = [0.0, *folds_mm, depth_mm]
    bands = [shapely.intersection(region, shapely.box(-FAR, HEM_Y + a, FAR, HEM_Y + b)) for a, b in pairwise(bounds)]
    for k in range(len(bands) - 1, -1, -1):
        line = HEM_Y + bounds[k]
        bands[k:] = [shapely.transform(one, lambda p, line=line: p * (1, -1) + (0, 2 * line)) for one in bands[k:]]
    return bands


def off_mm(bands: list[shapely.Geometry], region: shapely.Geometry) -> float:
    """How far any band stands out of the piece that it lies on, or falls short of it at its height."""
    worst = 0.0
    for band in bands:
        _, top, _, bottom = band.bounds
        beneath = shapely.intersection(region, shapely.box(-FAR, top, FAR, min(bottom, HEM_Y)))
        worst = max(worst, shapely.hausdorff_distance(band.exterior, beneath.exterior, densify=0.05))
    return worst


@pytest.mark.parametrize(
    ("folds_mm", "depth_mm", "heights"),
    [
        ((), 40, [0, 40]),
        ((30,), 40, [0, 30, 20]),
        ((40, 80), 100, [0, 40, 0, 20]),
        ((30, 40), 100, [0, 30, 20, 80]),
    ],
)
def test_each_band_turns_where_the_one_before_it_went(folds_mm, depth_mm, heights):
    turns = turns_of(folds_mm, depth_mm)
    assert [height for _, height in turns] == heights
    assert [out for out, _ in turns] == [0, *folds_mm, depth_mm]


@pytest.mark.parametrize("degrees", [10, -10, 25])
def test_the_sides_of_a_turn_up_go_out_and_in_by_the_tangent_of_the_taper(degrees):
    """A turn-up of 40 mm with a hem of 20 mm inside: 40 tan a wider at its upper edge, none at the fold on the hem
    line, 20 tan a at the raw edge."""
    lean = math.tan(math.radians(degrees))
    piece = clean(tapered(degrees, 700), {"e2": hem(40, 80, depth_mm=100, turn_up=True)})
    outline = array(piece.cut_outline)
    right = {y: outline[np.abs(outline[:, 1] - HEM_Y - y) < 1e-6][:, 0].max() for y in (0, 40, 80, 100)}
    assert right[40] - right[0] == pytest.approx(40 * lean, abs=0.01)
    assert right[80] - right[0] == pytest.approx(0, abs=0.01)
    assert right[100] - right[0] == pytest.approx(20 * lean, abs=0.01)


def test_fold_lines_run_from_cut_line_to_cut_line_and_are_counted_from_the_seam_line():
    piece = clean(tapered(10), {"e2": hem(40, 80, depth_mm=100)})
    assert [(line.name, line.kind, line.closed) for line in piece.turns] == [
        ("e2-fold-1", "fold", False),
        ("e2-fold-2", "fold", False),
    ]
    for line, y in zip(piece.turns, (440, 480), strict=True):
        (only,) = line.path
        assert (only.start.y, only.end.y) == (y, y)
        assert has_point(piece.cut_outline, *only.start, within_mm=0.001)
        assert has_point(piece.cut_outline, *only.end, within_mm=0.001)
    assert piece.inside == piece.turns


bands = st.lists(st.floats(5, 60), min_size=2, max_size=4)


@settings(deadline=None, max_examples=40)
@given(st.floats(-35, 35), bands, st.floats(0, 20))
def test_folded_by_hand_every_band_lies_on_the_piece_edge_on_edge(degrees, widths, side):
    bounds = np.cumsum(widths).tolist()
    folds_mm, depth_mm = tuple(bounds[:-1]), bounds[-1]
    heights = [height for _, height in turns_of(folds_mm, depth_mm)]
    assume(min(heights) >= 0)
    specs = {"e2": hem(*folds_mm, depth_mm=depth_mm), "e1": EdgeSpec(allowance_mm=side)}
    piece = clean(tapered(degrees, 1000), specs)
    assert not turns_back(piece.cut_outline)
    region = shapely.Polygon(piece.cut_outline)
    assert off_mm(folded(region, folds_mm, depth_mm), region) <= 0.05


def test_beside_curved_sides_every_band_lies_on_the_piece():
    edges = {
        "top": straight((0, 0), (300, 0)),
        "right": curve((300, 0), (330, 150), (240, 300), (250, HEM_Y)),
        "hem": straight((250, HEM_Y), (40, HEM_Y)),
        "left": curve((40, HEM_Y), (60, 330), (-20, 200), (0, 0)),
    }
    piece = clean(edges, {"hem": hem(40, 80, depth_mm=110)})
    region = shapely.Polygon(piece.cut_outline)
    assert off_mm(folded(region, (40, 80), 110), region) <= 0.05


def test_a_curved_hem_is_folded_along_lines_that_lie_as_far_out_all_along():
    def on(radius: float, degrees: float) -> tuple[float, float]:
        return radius * math.cos(math.radians(degrees)), radius * math.sin(math.radians(degrees))

    edges = {
        "waist": tuple(segment.reversed() for segment in arc((0, 0), 600, 60, 60)),
        "right": straight(on(600, 60), on(800, 40)),
        "hem": arc((0, 0), 800, 40, 100),
        "left": straight(on(800, 140), on(600, 120)),
    }
    piece = clean(edges, {"hem": hem(30, depth_mm=40), "waist": EdgeSpec(allowance_mm=10)})
    (line,) = piece.turns
    radii = np.hypot(*np.array([place for one in line.path for place in (one.start, one.end)]).T)
    inner = radii[len(radii) // 4 : -len(radii) // 4]
    assert inner == pytest.approx(np.full(len(inner), 830), abs=0.01)
    sides = shapely.MultiLineString([piece.edge("right").cut_line[0], piece.edge("left").cut_line[0]])
    ends = array(piece.edge("hem").cut_line[0])
    out = np.hypot(*ends.T) - 800
    # the last band lies between 20 and 30 mm above the hem line, the first as high as it is out
    turned = ends[(out > 31) & (out < 39.9)]
    above = turned * ((800 - 60 + np.hypot(*turned.T) - 800) / np.hypot(*turned.T))[:, None]
    assert len(turned) > 10
    assert shapely.distance(sides, shapely.points(above)).max() < 0.05


def test_beside_a_fold_of_the_cloth_the_fold_lines_end_on_it():
    edges = {
        "top": straight((0, 0), (200, 0)),
        "side": straight((200, 0), (240, HEM_Y)),
        "hem": straight((240, HEM_Y), (0, HEM_Y)),
        "cf": straight((0, HEM_Y), (0, 0)),
    }
    piece = clean(edges, {"hem": hem(30, depth_mm=40), "cf": EdgeSpec(fold=True)})
    (line,) = piece.turns
    ends = {(round(place.x, 3), round(place.y, 3)) for place in (line.path[0].start, line.path[-1].end)}
    wide = round(240 + 10 * math.hypot(1, 0.1) - 3, 3)
    assert ends == {(0, HEM_Y + 30), (wide, HEM_Y + 30)}


def test_a_band_that_would_lie_above_the_piece_is_told_with_its_height():
    edges = polygon([(0, 0), (100, 0), (100, 50), (0, 50)])
    assert clean(edges, {"e2": hem(40, 80, depth_mm=100)}, allowance_mm=5).turns
    _, findings = cut(edges, {"e2": hem(60, 110, depth_mm=115)}, allowance_mm=5)
    assert codes(findings) == {"turned-too-deep"}
    assert "by 60 mm and folded back" in findings[0].message


def test_a_piece_that_tapers_to_nothing_below_a_bands_height_is_told():
    edges = polygon([(150, 200), (300, HEM_Y), (0, HEM_Y)])
    _, findings = cut(edges, {"e1": hem(230, depth_mm=240)}, allowance_mm=5)
    assert codes(findings) == {"turned-too-deep"}


def test_a_line_that_the_designer_drew_and_called_so_is_told():
    drawn = drawn_of(tapered(0))
    own = InsideLine("e2-fold-1", straight((10, 100), (200, 100)), False)
    spec = spec_of(edges={"e2": hem(30, depth_mm=40)})
    drawn = type(drawn)(**{**{f: getattr(drawn, f) for f in drawn.__struct_fields__}, "inside": (own,)})
    _, findings = cut_piece(pattern_of(spec), drawn)
    assert codes(findings) == {"turn-line-drawn"}


def test_of_a_trimmed_piece_the_lines_end_on_its_own_cut_line():
    specs = {"e2": hem(30, depth_mm=40)}
    pattern = pattern_of(spec_of("source", edges=specs), spec_of("derived", source="source", trim_mm=3.0))
    piece, findings = cut_piece(pattern, drawn_of(tapered(0), name="derived"))
    assert findings == ()
    assert piece is not None
    (line,) = piece.turns
    assert (line.path[0].start.x, line.path[-1].end.x) == pytest.approx((307, -7))
    assert line.path[0].start.y == pytest.approx(430)

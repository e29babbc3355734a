"""Derived pieces: the source's cut line moved inward, or so far past the seam line."""

import pytest
import shapely

from pipeline.cutting.cut import cut_piece
from pipeline.model.piece_specs import EdgeSpec
from tests.cutting.shapes import array, codes, curve, drawn_of, notch, pattern_of, polygon, spec_of, straight

HALF = {
    "neck": curve((0, 30), (40, 30), (70, 20), (80, 0)),
    "shoulder": straight((80, 0), (200, 35)),
    "side": straight((200, 35), (230, 400)),
    "hem": straight((230, 400), (0, 400)),
    "cb": straight((0, 400), (0, 30)),
}
SPECS = {
    "cb": EdgeSpec(fold=True),
    "neck": EdgeSpec(allowance_mm=0),
    "hem": EdgeSpec(allowance_mm=40, corner="turned", hem=True),
}


def _pair(edges, specs, **derived):
    pattern = pattern_of(
        spec_of("source", edges=specs), spec_of("derived", allowance_mm=None, source="source", **derived)
    )
    source, _ = cut_piece(pattern, drawn_of(edges, name="source"))
    piece, findings = cut_piece(pattern, drawn_of(edges, name="derived"))
    return source, piece, findings


def test_a_trim_moves_the_cut_line_inward_everywhere_but_at_the_fold():
    source, piece, findings = _pair(HALF, SPECS, trim_mm=3.0)
    assert findings == ()
    assert source is not None
    assert piece is not None
    outer, inner = shapely.Polygon(source.cut_outline), shapely.Polygon(piece.cut_outline)
    assert shapely.area(shapely.difference(inner, outer)) == 0
    assert shapely.distance(inner.exterior, outer.exterior) == pytest.approx(3, abs=1e-4)
    assert shapely.hausdorff_distance(inner.exterior, shapely.buffer(outer, -3, join_style="mitre").exterior) < 0.01
    assert array(piece.cut_drawn)[:, 0].min() == 0
    assert {edge.name: edge.allowance_mm for edge in piece.edges} == {
        "neck": -3,
        "shoulder": 7,
        "side": 7,
        "hem": 37,
        "cb": 0,
    }


def test_below_no_allowance_the_cut_line_lies_inside_the_seam_line():
    _, piece, _ = _pair(HALF, SPECS, trim_mm=3.0)
    assert piece is not None
    neck = shapely.LineString(piece.edge("neck").cut_line[0])
    seam = shapely.LineString(piece.seam_drawn)
    assert seam.distance(neck.interpolate(0.5, normalized=True)) == pytest.approx(3, abs=0.005)
    assert shapely.Polygon(piece.seam_drawn).contains(neck.interpolate(0.5, normalized=True))


def test_a_trim_of_a_square_is_a_smaller_square():
    _, piece, findings = _pair(polygon([(0, 0), (100, 0), (100, 100), (0, 100)]), {}, trim_mm=12.5)
    assert findings == ()
    assert piece is not None
    assert piece.cut_area_mm2 == pytest.approx(95**2)
    assert all(edge.cut_length_mm == pytest.approx(95) for edge in piece.edges)


def test_past_seam_is_one_width_all_round_but_on_the_fold():
    _, piece, findings = _pair(HALF, SPECS, past_seam_mm=2.0)
    assert findings == ()
    assert piece is not None
    assert [edge.allowance_mm for edge in piece.edges] == [2, 2, 2, 2, 0]
    hem = piece.edge("hem").cut_line[0]
    assert {point.y for point in hem} == {402}


def test_a_trim_that_leaves_nothing_or_several_parts_is_told():
    _, piece, findings = _pair(polygon([(0, 0), (100, 0), (100, 100), (0, 100)]), {}, trim_mm=70.0)
    assert piece is None
    assert codes(findings) == {"nothing-left"}
    waist = polygon([(0, 0), (100, 0), (60, 100), (100, 200), (0, 200), (40, 100)])
    _, piece, findings = _pair(waist, {}, trim_mm=23.0)
    assert piece is None
    assert codes(findings) == {"several-parts"}


def test_a_source_that_is_no_piece_is_told():
    pattern = pattern_of(spec_of("derived", source="nothing", trim_mm=1.0))
    piece, findings = cut_piece(pattern, drawn_of(HALF, name="derived"))
    assert piece is None
    assert codes(findings) == {"source"}


def test_notches_of_a_trimmed_piece_start_on_its_own_cut_line():
    pattern = pattern_of(spec_of("source", edges=SPECS), spec_of("derived", source="source", trim_mm=3.0))
    notches = (notch(HALF, "side", 200), notch(HALF, "neck", 40))
    piece, _ = cut_piece(pattern, drawn_of(HALF, notches, "derived"))
    assert piece is not None
    ring = shapely.LinearRing(piece.cut_drawn)
    slit, mark = piece.slits
    assert slit.cut
    assert ring.distance(shapely.Point(slit.outer)) < 1e-3
    assert slit.outer.distance(slit.inner) < 3.5
    assert not mark.cut
    assert ring.distance(shapely.Point(mark.outer)) < 0.01
    assert shapely.Polygon(piece.cut_drawn).contains(shapely.Point(mark.inner))

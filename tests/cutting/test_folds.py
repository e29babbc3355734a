"""Pieces drawn half: nothing on the fold, and the whole is the half and its mirror image."""

import math

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from pipeline.model.piece_specs import EdgeSpec
from tests.cutting.shapes import array, clean, codes, curve, cut, has_point, straight, turns_back

FOLD = EdgeSpec(fold=True)


def _half(neck_deg: float = 90) -> dict:
    """A half that is 200 mm wide, its fold at x = 0 from y = 900 up to 0; the angle is that of neck and fold."""
    neck = 200 / math.tan(math.radians(neck_deg))
    return {
        "neck": straight((0, 0), (200, neck)),
        "side": straight((200, neck), (200, 900)),
        "hem": straight((200, 900), (0, 900)),
        "cb": straight((0, 900), (0, 0)),
    }


@pytest.mark.parametrize("neck_deg", [90, 70, 45, 100, 120, 150])
def test_at_the_fold_the_cut_line_is_the_mitre_of_the_whole_piece(neck_deg):
    half = clean(_half(neck_deg), {"cb": FOLD})
    (left, right) = half.fold
    assert (left.x, left.y, right.x, right.y) == (0, 900, 0, 0)
    assert has_point(half.cut_drawn, 0, -10 / math.sin(math.radians(neck_deg)))
    assert half.edge("cb").cut_line == ()
    assert min(place.x for place in half.seam_drawn) == 0
    assert min(place.x for place in half.seam_outline) == -200
    assert (half.edge("cb").allowance_mm, half.edge("cb").cut_length_mm) == (0, 0)
    whole = clean(_opened(_half(neck_deg)))
    difference = shapely.symmetric_difference(shapely.Polygon(half.cut_outline), shapely.Polygon(whole.cut_outline))
    assert shapely.area(difference) < 0.01
    assert half.cut_area_mm2 == pytest.approx(whole.cut_area_mm2, abs=0.1)
    assert half.seam_area_mm2 == pytest.approx(whole.seam_area_mm2, abs=1e-6)


def _opened(half: dict) -> dict:
    places = [path[0].start for name, path in half.items() if name != "cb"]
    around = [*places, half["cb"][0].start]
    mirrored = [(-place.x, place.y) for place in around[1:-1]]
    ring = [*(tuple(place) for place in around), *reversed(mirrored)]
    return {f"e{i}": straight(place, ring[(i + 1) % len(ring)]) for i, place in enumerate(ring)}


def test_a_sharp_point_on_the_fold_is_cut_off_square_to_it_at_twice_the_allowance():
    piece = clean(_half(20), {"cb": FOLD})
    assert array(piece.cut_drawn)[:, 1].min() == pytest.approx(-20)
    assert has_point(piece.cut_drawn, 0, -20)


@settings(deadline=None, max_examples=40)
@given(st.floats(0, 360), st.floats(-500, 500), st.floats(-500, 500), st.floats(20, 150), st.floats(0, 25))
def test_the_whole_is_symmetric_about_its_fold(turn_deg, x, y, dip, allowance):
    turn = math.radians(turn_deg)

    def at(a: float, b: float) -> tuple[float, float]:
        return x + a * math.cos(turn) - b * math.sin(turn), y + a * math.sin(turn) + b * math.cos(turn)

    edges = {
        "neck": curve(at(0, dip), at(40, dip), at(80, dip / 2), at(90, 0)),
        "side": straight(at(90, 0), at(120, 400)),
        "hem": straight(at(120, 400), at(0, 400)),
        "cf": straight(at(0, 400), at(0, dip)),
    }
    piece = clean(edges, {"cf": FOLD, "hem": EdgeSpec(allowance_mm=30, corner="turned")}, allowance_mm=allowance)
    along = np.array([-math.sin(turn), math.cos(turn)])
    foot = np.array(at(0, 0))
    for outline in (piece.seam_outline, piece.cut_outline):
        points = array(outline)
        offset = points - foot
        mirrored = foot + 2 * (offset @ along)[:, None] * along - offset
        assert shapely.hausdorff_distance(shapely.MultiPoint(points), shapely.MultiPoint(mirrored)) < 3e-6
        assert shapely.Polygon(outline).is_valid
        assert not turns_back(outline)
        assert shapely.Polygon(outline).exterior.is_ccw  # y down: clockwise on the page
    assert shapely.area(shapely.Polygon(piece.cut_outline)) == pytest.approx(
        2 * shapely.area(shapely.Polygon(piece.cut_drawn)), abs=0.01
    )


def test_a_straight_outline_across_the_fold_has_no_point_there():
    piece = clean(_half(), {"cb": FOLD})
    assert len(piece.seam_outline) == 4
    assert len(piece.cut_outline) == 4


def test_a_bent_fold_is_told():
    edges = _half()
    edges["cb"] = straight((0, 900), (0.3, 200), (0, 0))
    _, findings = cut(edges, {"cb": FOLD})
    assert codes(findings) == {"fold-bent"}
    assert findings[0].found == "bent by 0.3 mm"


def test_two_folds_are_told():
    _, findings = cut(_half(), {"cb": FOLD, "side": FOLD})
    assert codes(findings) == {"two-folds"}


def test_a_half_that_crosses_its_fold_is_told():
    edges = {
        "top": straight((0, 0), (200, 0)),
        "side": straight((200, 0), (-30, 400)),
        "foot": straight((-30, 400), (0, 300)),
        "cb": straight((0, 300), (0, 0)),
    }
    piece, findings = cut(edges, {"cb": FOLD})
    assert piece is None
    assert codes(findings) == {"crosses-fold"}

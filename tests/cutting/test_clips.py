"""Where an inward curve is clipped after sewing: only where its allowance would strain, and never beside a notch."""

import math

import msgspec
import pytest

from pipeline.cutting.clips import CLEAR_OF_NOTCH_MM, GIVE
from pipeline.cutting.cut import cut_piece
from pipeline.model.piece_specs import EdgeSpec
from pipeline.model.pieces import CutPiece
from tests.cutting.shapes import arc, clean, drawn_of, notch, pattern_of, polygon, spec_of, straight

SQUARE = polygon([(0, 0), (400, 0), (400, 400), (0, 400)])


def hollow(radius_mm: float) -> dict:
    """A block with a quarter of a circle taken out of its upper right corner."""
    r = radius_mm
    return {
        "top": straight((0, 0), (400 - r, 0)),
        "hollow": arc((400, 0), r, 180, -90),
        "right": straight((400, r), (400, 500)),
        "foot": straight((400, 500), (0, 500)),
        "left": straight((0, 500), (0, 0)),
    }


def clipped(drawn_edges: dict, pattern_says: bool = True, **piece) -> CutPiece:
    pattern = msgspec.structs.replace(pattern_of(spec_of(**piece)), clips=pattern_says)
    made, findings = cut_piece(pattern, drawn_of(drawn_edges))
    assert made is not None, findings
    return made


@pytest.mark.parametrize(("radius_mm", "count"), [(20, 3), (60, 3), (99, 3), (101, 0), (300, 0)])
def test_a_curve_is_clipped_where_its_radius_is_less_than_ten_allowances(radius_mm: float, count: int) -> None:
    """10 mm x a quarter turn = 15.7 mm that the cut line is shorter than the seam line: three clips of 4 mm."""
    assert 10 / radius_mm > GIVE or not count
    clips = clean(hollow(radius_mm)).clips
    assert len(clips) == count
    for outer, inner in clips:
        assert math.dist(outer, inner) == pytest.approx(7, abs=0.01), "from the cut line to 3 mm before the seam line"


def test_an_outward_curve_a_straight_edge_a_hem_and_a_narrow_allowance_are_not_clipped() -> None:
    assert clean(SQUARE).clips == ()
    bulge = {**hollow(60), "hollow": arc((340, 60), 60, 270, 90)}
    assert clean(bulge).clips == ()
    assert clean(hollow(60), {"hollow": EdgeSpec(hem=True)}).clips == ()
    assert clean(hollow(20), {"hollow": EdgeSpec(allowance_mm=4)}).clips == ()


def test_a_clip_runs_into_a_concave_corner() -> None:
    edges = polygon([(0, 0), (100, 0), (100, 100), (200, 100), (200, 300), (0, 300)])
    ((outer, inner),) = clean(edges).clips
    assert tuple(outer) == pytest.approx((110, 90))
    assert math.dist(inner, (100, 100)) == pytest.approx(3)


@pytest.mark.parametrize("at_mm", [10, 16, 30, 47, 60])
def test_no_clip_stands_so_near_to_a_notch_that_both_read_as_a_double_notch(at_mm: float) -> None:
    edges = hollow(60)
    made = clean(edges, notches=(notch(edges, "hollow", at_mm),))
    assert made.clips
    for outer, _ in made.clips:
        assert all(outer.distance(slit.outer) >= CLEAR_OF_NOTCH_MM for slit in made.slits)


def test_the_edge_says_it_before_the_piece_and_the_piece_before_the_pattern() -> None:
    edges = hollow(60)
    assert clipped(edges).clips
    assert clipped(edges, edges={"hollow": EdgeSpec(clips=False)}).clips == ()
    assert clipped(edges, clips=False).clips == ()
    assert clipped(edges, pattern_says=False).clips == ()
    assert clipped(edges, pattern_says=False, clips=True).clips
    assert clipped(edges, clips=False, edges={"hollow": EdgeSpec(clips=True)}).clips

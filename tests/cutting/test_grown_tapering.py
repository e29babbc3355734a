"""What is grown on and widens along its edge: its raw edge is a straight line between both widths, run on to where the
neighbours' mirror images end it."""

import math

import msgspec
import pytest
import shapely

from pipeline.cutting.grown_on import grown_between
from pipeline.model.piece_specs import EdgeSpec
from pipeline.model.pieces import GrownPart
from tests.cutting.grown import NOTCHES, fly, grown
from tests.cutting.shapes import clean, codes, cut, has_point, notch, polygon
from tests.cutting.tapering import BOX, derived_of, spec_of


def facing(start: str, end: str, width_mm: float, end_width_mm: float, **more) -> EdgeSpec:
    return EdgeSpec(grown_on=(grown(start, end, width_mm, end_width_mm=end_width_mm, **more),))


def test_along_a_whole_edge_its_raw_edge_runs_on_through_both_allowances():
    """From 60 to 90 mm over 300 mm: a tenth of a mm for each, and 10 mm of allowance at both ends."""
    piece = clean(BOX, {"e1": facing("e0", "e2", 60.0, 90.0)})
    for place in ((200, -10), (200 + 59, -10), (200 + 91, 310), (200, 310)):
        assert has_point(piece.cut_outline, *place, within_mm=0.001)
    assert piece.cut_area_mm2 == pytest.approx(210 * 320 + 320 * (59 + 91) / 2, abs=0.5)


def test_the_first_width_is_where_it_says_from():
    one, other = facing("e0", "e2", 60.0, 90.0), facing("e2", "e0", 90.0, 60.0)
    assert clean(BOX, {"e1": one}).cut_outline == clean(BOX, {"e1": other}).cut_outline
    assert clean(BOX, {"e1": one}).cut_outline != clean(BOX, {"e1": facing("e2", "e0", 60.0, 90.0)}).cut_outline


def test_within_the_edge_it_steps_down_from_the_width_that_it_has_there():
    piece = clean(BOX, {"e1": facing("e0", "zip", 58.0, 40.0)}, notches=NOTCHES)
    for place in ((200 + 59, -10), (240, 180), (210, 180), (210, 310)):
        assert has_point(piece.cut_outline, *place, within_mm=0.001)


@pytest.mark.parametrize("rise", [-60, -25, 25, 60, 110])
@pytest.mark.parametrize(("first", "last"), [(30.0, 60.0), (60.0, 30.0)])
def test_beside_a_slanted_waist_it_ends_where_the_mirror_image_crosses_its_raw_edge(rise, first, last):
    """The mirror image of the waist's cut line falls by m for each mm out from y0, the raw edge goes out by k for each
    mm down: both are t = (a + k (y0 - rise)) / (1 + k m) out."""
    edges = polygon([(0, 0), (200, rise), (200, 300), (0, 300)])
    notches = (notch(edges, "e1", 150, name="zip"),)
    piece = clean(edges, {"e1": facing("e0", "zip", first, last)}, notches=notches)
    m, k = rise / 200, (last - first) / 150
    y0 = rise - 10 * math.hypot(1, m)
    out = (first + k * (y0 - rise)) / (1 + k * m)
    assert has_point(piece.cut_outline, 200 + out, y0 - m * out, within_mm=0.01)
    assert has_point(piece.cut_outline, 200 + last, rise + 150, within_mm=0.01)


@pytest.mark.parametrize(("first", "last"), [(50.0, 40.0), (36.0, 45.0)])
def test_a_round_end_touches_its_slanting_raw_edge(first, last):
    """A circle of 30 mm that touches y = 180 has its middle at y = 150, r √(1 + k²) within the raw edge there."""
    piece = clean(BOX, {"e1": facing("e0", "zip", first, last, radius_mm=30.0)}, notches=NOTCHES)
    k = (last - first) / 180
    middle = 200 + first + k * 150 - 30 * math.hypot(1, k)
    touch = middle + 30 / math.hypot(1, k), 150 - 30 * k / math.hypot(1, k)
    assert has_point(piece.cut_outline, *touch, within_mm=0.005)
    ring = shapely.LineString([*piece.cut_outline, piece.cut_outline[0]])
    for turn in (0.2, 0.6, 1.0):
        on_arc = shapely.Point(middle + 30 * math.cos(turn), 150 + 30 * math.sin(turn))
        assert ring.distance(on_arc) < 0.005


def test_a_notch_on_it_and_a_piece_made_of_it_keep_to_its_width():
    box = spec_of(edges={"e1": facing("e0", "e2", 60.0, 90.0)})
    trimmed = derived_of(box, BOX, (), trim_mm=3.0)
    assert has_point(trimmed.cut_outline, 200 + 60 - 3 - 0.7, -7, within_mm=0.05)
    (part,) = trimmed.edge("e1").grown_on
    assert (part.cut_mm, part.cut_at(1.0), part.widths_mm) == (57, 87, (60, 90))


def test_between_two_places_it_has_the_widths_that_it_has_there():
    part = GrownPart(0.0, 0.5, 40.0, 40.0, None, 20.0)
    (kept,) = grown_between((part,), 0.25, 1.0)
    assert (kept.start, kept.end, kept.widths_mm) == (0.0, pytest.approx(1 / 3), (50.0, 60.0))


def test_one_that_gets_no_wider_than_the_allowance_beside_it_is_told():
    _, findings = cut(BOX, {"e1": facing("e0", "zip", 40.0, 10.0)}, notches=NOTCHES)
    assert codes(findings) == {"grown-narrow"}


def test_one_width_all_along_is_cut_as_ever():
    said = fly(radius_mm=30.0)
    same = msgspec.structs.replace(said, grown_on=(msgspec.structs.replace(said.grown_on[0], end_width_mm=40.0),))
    assert clean(BOX, {"e1": said}, notches=NOTCHES) == clean(BOX, {"e1": same}, notches=NOTCHES)

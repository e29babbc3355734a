"""Allowances of parts of an edge: what was asked for between the places named, run together without a jog."""

import numpy as np
import pytest
import shapely

from pipeline.model.piece_specs import EdgeSpec
from tests.cutting.parted import part, run_down, spec
from tests.cutting.shapes import (
    clean,
    codes,
    cut,
    has_point,
    notch,
    spec_of,
    straight,
)
from tests.cutting.tapering import BOX, derived_of

NOTCHES = (notch(BOX, "e1", 60, name="hip"), notch(BOX, "e1", 180, name="knee"))
"""On the right side, which is walked down from e0 to e2: 300 mm, with two notches."""


def side_of(specs: EdgeSpec, **more):
    return clean(BOX, {"e1": specs}, notches=NOTCHES, **more)


def assert_beside(piece, widths: dict[float, float]) -> None:
    """How far right of the right side its cut line lies, at so many mm down."""
    (line,) = piece.edge("e1").cut_line
    for y, width_mm in widths.items():
        cut_at = shapely.LineString(line).intersection(shapely.LineString([(150, y), (300, y)]))
        assert cut_at.x - 200 == pytest.approx(width_mm, abs=0.01), y


def test_a_wide_part_keeps_its_width_and_the_rest_runs_down_to_its_own():
    """25 mm from the top to the hip, then down to 10 mm over eight times the 15 mm between."""
    piece = side_of(spec(part("e0", "hip", 25)))
    assert_beside(piece, {-9: 25, 30: 25, 60: 25, 90: run_down(25, 10, 0.25), 120: 17.5, 150: run_down(25, 10, 0.75)})
    assert_beside(piece, {180: 10, 250: 10, 309: 10})
    edge = piece.edge("e1")
    assert np.allclose(edge.allowances, [(0, 25), (0.2, 25), (0.6, 10), (1, 10)])
    assert (edge.allowance_at(0.4), edge.widest_mm, edge.narrowest_mm) == pytest.approx((17.5, 25, 10))


def test_which_end_a_part_is_said_from_does_not_matter():
    assert side_of(spec(part("e0", "hip", 25))).cut_outline == side_of(spec(part("hip", "e0", 25))).cut_outline


def test_a_part_may_taper_from_its_first_place_to_its_second():
    one = side_of(spec(part("e0", "hip", 25), part("hip", "knee", 25, 10)))
    other = side_of(spec(part("knee", "hip", 10, 25), part("hip", "e0", 25)))
    assert one.cut_outline == other.cut_outline
    assert_beside(one, {30: 25, 60: 25, 90: run_down(25, 10, 0.25), 120: 17.5, 180: 10, 250: 10})


def test_a_taper_from_end_to_end_is_the_one_that_needs_no_names():
    named = clean(BOX, {"e1": spec(part("e0", "e2", 25, 10))})
    plain = clean(BOX, {"e1": EdgeSpec(allowance_mm=25, allowance_end_mm=10)})
    assert named.cut_outline == plain.cut_outline


def test_a_part_says_within_which_length_it_runs_out():
    piece = side_of(spec(part("e0", "hip", 25, taper_mm=40)))
    assert_beside(piece, {30: 25, 60: 25, 70: run_down(25, 10, 0.25), 80: 17.5, 100: 10, 250: 10})


def test_a_narrow_part_gives_way_to_what_lies_beside_it():
    """10 mm between hip and knee, in 15 mm: 40 mm at either end of the part run up, and 15 mm begin at the notches."""
    piece = side_of(spec(part("hip", "knee", 10), allowance_mm=15.0))
    assert_beside(piece, {30: 15, 60: 15, 80: 12.5, 100: 10, 140: 10, 150: run_down(10, 15, 0.25), 180: 15, 250: 15})


def test_where_two_tapers_find_too_little_room_they_share_it():
    """120 mm lie between 25 and 30 mm: the tapers to 10 mm would be 120 and 160 mm long, and meet where 10 mm are."""
    piece = side_of(spec(part("e0", "hip", 25), part("knee", "e2", 30)))
    meet = 60 + 120 * 15 / 35
    assert_beside(piece, {30: 25, 60: 25, (60 + meet) / 2: 17.5, meet: 10, (180 + meet) / 2: 20, 180: 30, 250: 30})


def test_a_taper_that_no_room_is_left_for_ends_where_the_edge_does():
    notches = (notch(BOX, "e1", 260, name="low"),)
    piece = clean(BOX, {"e1": spec(part("e0", "low", 25))}, notches=notches)
    slope = 15 / 40
    assert has_point(piece.cut_outline, 210 - 10 * slope, 310, within_mm=0.01)


def test_parts_that_cover_all_of_an_edge_need_no_other_allowance():
    parts = spec(part("e0", "hip", 25), part("hip", "e2", 10))
    specs = {"e0": EdgeSpec(allowance_mm=10), "e2": EdgeSpec(allowance_mm=10), "e3": EdgeSpec(allowance_mm=10)}
    piece = clean(BOX, {**specs, "e1": parts}, allowance_mm=None, notches=NOTCHES)
    assert has_point(piece.cut_outline, 225, 60)


def test_the_area_is_that_of_the_trapezia():
    piece = side_of(spec(part("e0", "hip", 25)))
    assert piece.cut_area_mm2 == pytest.approx(220 * 320 + 15 * 70 + 15 * 120 / 2, abs=0.01)


def test_the_seam_line_stays():
    piece, plain = side_of(spec(part("e0", "hip", 25))), side_of(EdgeSpec())
    assert piece.seam_outline == plain.seam_outline
    assert piece.edge("e1").length_mm == plain.edge("e1").length_mm


@pytest.mark.parametrize(
    ("specs", "code"),
    [
        (spec(part("hip", "knee", 25), part("e0", "knee", 20)), "parts-overlap"),
        (spec(part("hip", "again", 25)), "part-of-nothing"),
        (spec(part("e0", "twice", 25)), "place-unclear"),
        (spec(part("e0", "hip", 25, taper_mm=20)), "taper-short"),
        (spec(part("e0", "last", 25)), "taper-short"),
        (spec(part("hip", "again-later", 25, 10)), "taper-short"),
    ],
)
def test_what_cannot_be_is_told(specs, code):
    more = {"again": 60.05, "again-later": 75, "last": 280}
    twice = (notch(BOX, "e1", 100, name="twice"), notch(BOX, "e1", 120, name="twice"))
    notches = (*NOTCHES, *twice, *(notch(BOX, "e1", at, name=name) for name, at in more.items()))
    piece, findings = cut(BOX, {"e1": specs}, notches=notches)
    assert {(finding.code, finding.where, finding.severity) for finding in findings} == {(code, "e1", "block")}
    assert piece is not None
    assert has_point(piece.cut_outline, 210, 310)  # drawn as the rest of the edge, so that all else can be looked at


def test_a_notch_that_is_called_like_the_neighbour_at_another_place_is_unclear():
    notches = (notch(BOX, "e1", 100, name="e0"),)
    assert codes(cut(BOX, {"e1": spec(part("e0", "e2", 20))}, notches=notches)[1]) == {"place-unclear"}
    at_corner = (notch(BOX, "e1", 0.05, name="e0"),)
    assert codes(cut(BOX, {"e1": spec(part("e0", "e2", 20))}, notches=at_corner)[1]) == set()


def test_what_no_part_names_needs_an_allowance():
    others = {name: EdgeSpec(allowance_mm=10) for name in ("e0", "e2", "e3")}
    _, findings = cut(BOX, {**others, "e1": spec(part("e0", "hip", 25))}, allowance_mm=None, notches=NOTCHES)
    assert {finding.found for finding in findings if finding.code == "no-allowance"} == {"none"}


def test_a_piece_made_of_it_is_trimmed_alike_and_one_past_the_seam_has_one_width():
    box = spec_of(edges={"e1": spec(part("e0", "hip", 25))})
    edge = derived_of(box, BOX, NOTCHES, trim_mm=3.0).edge("e1")
    assert [width for _, width in edge.allowances] == [22, 22, 7, 7]
    assert derived_of(box, BOX, NOTCHES, past_seam_mm=2.0).edge("e1").allowances == ((0, 2), (1, 2))


def test_slits_reach_in_from_where_the_cut_line_is():
    piece = clean(
        BOX, {"e1": spec(part("e0", "hip", 25))}, notches=(*NOTCHES, notch(BOX, "e1", 120, "double", name="m"))
    )
    outer = {round(slit.outer.y): slit.outer.x for slit in piece.slits}
    between = {116: 200 + run_down(25, 10, 56 / 120), 124: 200 + run_down(25, 10, 64 / 120)}
    assert outer == pytest.approx({60: 225, 180: 210, **between}, abs=1e-4)


def test_a_turned_hem_beside_it_mirrors_the_line_as_it_is():
    """40 mm above it the side's cut line is 10 + 12.5 (1 - 2 t² + t³) mm out, t = 0.6, and so is the hem's end."""
    notches = (notch(BOX, "e1", 200, name="low"),)
    side = spec(part("low", "e2", 22.5, 10), allowance_mm=22.5)
    piece = clean(BOX, {"e1": side, "e2": EdgeSpec(allowance_mm=40.0, corner="turned")}, notches=notches)
    assert has_point(piece.cut_outline, 210, 300)
    assert has_point(piece.cut_outline, 210 + 12.5 * (1 - 2 * 0.36 + 0.216), 340, within_mm=0.01)


def test_an_edge_with_a_corner_in_it_counts_its_whole_length():
    """100 mm across, then 300 mm down; 20 mm up to a notch 40 mm before the corner, 10 mm from 40 mm behind it on."""
    edges = {
        "waist": straight((0, 0), (100, 0)),
        "back": straight((100, 0), (200, 0), (200, 300)),
        "hem": straight((200, 300), (0, 300)),
        "front": straight((0, 300), (0, 0)),
    }
    notches = (notch(edges, "back", 60, name="n"),)
    piece = clean(edges, {"waist": EdgeSpec(allowance_mm=20), "back": spec(part("waist", "n", 20))}, notches=notches)
    (line,) = piece.edge("back").cut_line
    across = shapely.LineString(line).intersection(shapely.LineString([(150, 20), (300, 20)]))
    assert across.x - 200 == pytest.approx(run_down(20, 10, 0.75), abs=0.01)
    assert has_point(piece.cut_outline, 210, 40)

"""What is cut in one with a piece and folded back along its edge: it lies on the piece, and ends as it is said."""

import math

import numpy as np
import pytest
import shapely

from pipeline.model.piece_specs import AllowancePart, EdgePart, EdgeSpec, Take
from pipeline.model.pieces import CutPiece
from tests.cutting.grown import NOTCHES, fly, grown
from tests.cutting.shapes import (
    array,
    clean,
    codes,
    curve,
    cut,
    has_point,
    notch,
    polygon,
    spec_of,
    straight,
    turns_back,
)
from tests.cutting.tapering import BOX, derived_of


def side_of(said: EdgeSpec, **more) -> CutPiece:
    return clean(BOX, {"e1": said}, notches=NOTCHES, **more)


def corners_of(piece: CutPiece) -> list[tuple[float, float]]:
    return [(round(x, 4) + 0.0, round(y, 4) + 0.0) for x, y in piece.cut_outline]


def test_it_lies_beyond_the_edge_from_the_corner_to_the_notch_and_steps_there():
    piece = side_of(fly())
    assert corners_of(piece) == [
        (-10, -10),
        (200, -10),
        (240, -10),
        (240, 180),
        (210, 180),
        (210, 310),
        (-10, 310),
    ]
    assert piece.cut_area_mm2 == pytest.approx(220 * 320 + 30 * 190, abs=0.01)


def test_which_end_it_is_said_from_does_not_matter():
    one, other = fly(), EdgeSpec(grown_on=(grown("zip", "e0", 40),))
    assert side_of(one).cut_outline == side_of(other).cut_outline


def test_a_round_end_is_an_arc_of_its_radius_that_ends_at_the_notch():
    """From 30 mm above the notch, 40 mm out, to the notch, 10 mm out, where the allowance goes on."""
    piece = side_of(fly(radius_mm=30.0))
    assert has_point(piece.cut_outline, 240, 150)
    assert has_point(piece.cut_outline, 210, 180)
    ring = array(piece.cut_outline)
    on_arc = ring[(ring[:, 1] > 150 - 1e-6) & (ring[:, 1] < 180 + 1e-6) & (ring[:, 0] > 205)]
    assert np.abs(np.hypot(*(on_arc - (210, 150)).T) - 30).max() < 1e-5
    assert len(on_arc) > 30
    corner_mm2 = 30 * 30 * (1 - math.pi / 4)
    assert piece.cut_area_mm2 == pytest.approx(220 * 320 + 30 * 190 - corner_mm2, abs=0.1)


def test_a_small_radius_leaves_a_straight_line_down_to_the_allowance():
    piece = side_of(fly(radius_mm=12.0))
    for place in ((240, 168), (228, 180), (210, 180)):
        assert has_point(piece.cut_outline, *place)


def test_an_arc_that_comes_nearer_than_the_allowance_meets_it_before_the_notch():
    """A radius of 40 mm about (200, 140) is 10 mm out at 140 + √(40² - 10²)."""
    piece = side_of(fly(radius_mm=40.0))
    assert has_point(piece.cut_outline, 210, 140 + math.sqrt(1500), within_mm=0.05)
    assert piece.edge("e1").cut_line[0][-1].x == pytest.approx(210, abs=1e-4)


def test_without_allowance_beside_it_a_round_end_runs_into_the_seam_line():
    piece = clean(BOX, {"e1": fly(radius_mm=40.0)}, allowance_mm=0.0, notches=NOTCHES)
    assert has_point(piece.cut_outline, 200, 180)
    assert has_point(piece.cut_outline, 240, 140)


def test_what_is_turned_in_lies_beyond_the_width_and_has_a_fold_line_of_its_own():
    """A placket that is folded twice turns in as much as it is wide."""
    piece = side_of(EdgeSpec(grown_on=(grown("e0", "e2", 30, turn_in_mm=30.0),)))
    assert corners_of(piece) == [(-10, -10), (200, -10), (260, -10), (260, 310), (200, 310), (-10, 310)]
    lines = [(line.name, *(tuple(end) for end in (line.path[0].start, line.path[0].end))) for line in piece.turns]
    assert lines == [("e1-fold-1", (200, -10), (200, 310)), ("e1-fold-2", (230, -10), (230, 310))]


def test_fold_lines_end_at_the_notch_and_are_counted_along_the_edge():
    said = EdgeSpec(grown_on=(grown("low", "e2", 20, turn_in_mm=5.0), grown("e0", "zip", 40)))
    piece = side_of(said)
    lines = [(line.name, line.kind, line.path[0].start.y, line.path[-1].end.y) for line in piece.turns]
    assert lines == [
        ("e1-fold-1", "fold", -10, 180),
        ("e1-fold-2", "fold", 260, 310),
        ("e1-fold-3", "fold", 260, 310),
    ]
    assert [(part.start, part.end) for part in piece.edge("e1").grown_on] == [(0, 0.6), (260 / 300, 1)]


@pytest.mark.parametrize("rise", [-60, -25, 25, 60, 110])
def test_beside_a_slanted_waist_its_end_is_the_mirror_image_of_the_waist(rise):
    """The waist's cut line runs through (200, rise - 10 / cos a) with the slope of the waist; 40 mm to the right its
    mirror image is where it is 40 mm to the left."""
    edges = polygon([(0, 0), (200, rise), (200, 300), (0, 300)])
    notches = (notch(edges, "e1", 150, name="zip"),)
    piece = clean(edges, {"e1": fly()}, notches=notches)
    slope = rise / 200
    top = rise - 10 * math.hypot(1, slope)
    assert has_point(piece.cut_outline, 200, top, within_mm=0.01)
    assert has_point(piece.cut_outline, 240, top - 40 * slope, within_mm=0.01)
    assert has_point(piece.cut_outline, 240, rise + 150, within_mm=0.01)
    assert not turns_back(piece.cut_outline)


def test_what_is_turned_in_goes_back_along_the_waist():
    """30 mm up the slope of the waist's mirror image, and 20 mm down again."""
    edges = polygon([(0, 0), (200, 50), (200, 300), (0, 300)])
    piece = clean(edges, {"e1": EdgeSpec(grown_on=(grown("e0", "e2", 30, turn_in_mm=20.0),))})
    top = 50 - 10 * math.hypot(1, 0.25)
    for out, rise in ((0, 0), (30, 30), (50, 10)):
        assert has_point(piece.cut_outline, 200 + out, top - 0.25 * rise, within_mm=0.01)


def test_at_a_hem_whose_corners_are_turned_the_hem_runs_on_to_the_fold_as_on_the_fold_of_the_cloth():
    hem = EdgeSpec(allowance_mm=40, corner="turned", hem=True)
    piece = side_of(EdgeSpec(grown_on=(grown("zip", "e2", 30),)))
    hemmed = clean(BOX, {"e1": EdgeSpec(grown_on=(grown("zip", "e2", 30),)), "e2": hem}, notches=NOTCHES)
    assert has_point(piece.cut_outline, 230, 310)
    for place in ((230, 340), (-10, 340), (-10, 300)):
        assert has_point(hemmed.cut_outline, *place)


def test_allowance_seam_line_and_lengths_stay_as_they_are():
    piece, plain = side_of(fly()), side_of(EdgeSpec())
    seams = [shapely.Polygon(one.seam_outline) for one in (piece, plain)]
    assert shapely.equals(*seams)
    assert (piece.edge("e1").length_mm, piece.edge("e1").allowances) == (300, plain.edge("e1").allowances)
    assert piece.edge("e0").cut_line[0][-1] == (200, -10)
    assert (plain.edge("e1").grown_on, plain.turns) == ((), ())


def test_another_part_may_have_an_allowance_of_its_own():
    low = AllowancePart(of=EdgePart("low", "e2"), start_mm=20, end_mm=20)
    piece = side_of(EdgeSpec(grown_on=(grown("e0", "zip", 40),), along=(low,)))
    for place in ((240, 180), (210, 180), (220, 260), (220, 310)):
        assert has_point(piece.cut_outline, *place, within_mm=0.05)


def test_two_that_meet_step_into_each_other():
    said = EdgeSpec(grown_on=(grown("e0", "zip", 40, radius_mm=10.0), grown("zip", "e2", 25)))
    piece = side_of(said)
    for place in ((240, 170), (230, 180), (225, 180), (225, 310)):
        assert has_point(piece.cut_outline, *place)


def test_a_piece_on_the_fold_has_it_on_both_sides():
    piece = clean(BOX, {"e1": fly(), "e3": EdgeSpec(fold=True)}, notches=NOTCHES)
    assert has_point(piece.cut_outline, 240, 180)
    assert has_point(piece.cut_outline, -240, 180)
    across = clean(BOX, {"e0": EdgeSpec(grown_on=(grown("e3", "e1", 35),)), "e3": EdgeSpec(fold=True)})
    assert corners_of(across) == [(-210, -35), (210, -35), (210, 310), (-210, 310)] or has_point(
        across.cut_outline, 210, -35
    )
    assert shapely.Polygon(across.cut_outline).area == pytest.approx(420 * 345)


def test_a_piece_made_of_it_is_trimmed_alike_and_one_past_the_seam_has_none():
    box = spec_of(edges={"e1": fly()})
    trimmed = derived_of(box, BOX, NOTCHES, trim_mm=3.0)
    for place in ((237, -7), (237, 177), (207, 177), (207, 307)):
        assert has_point(trimmed.cut_outline, *place)
    assert [part.cut_mm for part in trimmed.edge("e1").grown_on] == [37]
    past = derived_of(box, BOX, NOTCHES, past_seam_mm=2.0)
    assert past.edge("e1").grown_on == ()
    assert has_point(past.cut_outline, 202, 302)


def test_a_notch_on_the_fold_is_marked_across_it_and_one_at_its_end_is_cut_in_the_allowance():
    piece = clean(BOX, {"e1": fly()}, notches=(*NOTCHES, notch(BOX, "e1", 90, name="on-fold")))
    slits = {slit.notch: slit for slit in piece.slits}
    on_fold = slits["on-fold"]
    assert (on_fold.outer, on_fold.inner, on_fold.cut) == ((203, 90), (197, 90), False)
    assert (slits["zip"].outer, slits["zip"].cut) == ((210, 180), True)
    assert (slits["low"].outer, slits["low"].cut) == ((210, 260), True)


def test_a_notch_at_the_corner_is_marked_on_the_fold_and_cut_in_the_waist():
    corner = (notch(BOX, "e0", 200, name="cf"), notch(BOX, "e1", 0, name="cf"))
    piece = clean(BOX, {"e1": fly()}, notches=(*NOTCHES, *corner))
    assert {(slit.edge, slit.cut) for slit in piece.slits if slit.notch == "cf"} == {("e0", True), ("e1", False)}


@pytest.mark.parametrize(
    ("said", "code"),
    [
        (EdgeSpec(grown_on=(grown("e0", "zip", 40), grown("low", "e0", 30))), "grown-overlap"),
        (
            EdgeSpec(
                grown_on=(grown("e0", "low", 40),),
                along=(AllowancePart(of=EdgePart("zip", "e2"), start_mm=15, end_mm=15),),
            ),
            "grown-overlap",
        ),
        (EdgeSpec(grown_on=(grown("e0", "low", 40),), takes=(Take("zip", "low", "dart"),)), "grown-overlap"),
        (EdgeSpec(grown_on=(grown("zip", "again", 40),)), "part-of-nothing"),
        (EdgeSpec(grown_on=(grown("zip", "twice", 40),)), "place-unclear"),
        (EdgeSpec(grown_on=(grown("e0", "zip", 10),)), "grown-narrow"),
        (EdgeSpec(grown_on=(grown("zip", "near", 40, radius_mm=30.0),)), "radius-no-room"),
        (EdgeSpec(grown_on=(grown("e0", "e2", 215),)), "turned-too-deep"),
        (EdgeSpec(grown_on=(grown("zip", "low", 215),)), "grown-beyond"),
    ],
)
def test_what_cannot_be_is_told_and_blocks(said, code):
    more = {"again": 180.05, "near": 200}
    twice = (notch(BOX, "e1", 100, name="twice"), notch(BOX, "e1", 120, name="twice"))
    notches = (*NOTCHES, *twice, *(notch(BOX, "e1", at, name=name) for name, at in more.items()))
    _, findings = cut(BOX, {"e1": said}, notches=notches)
    assert (code, "e1", "block") in {(finding.code, finding.where, finding.severity) for finding in findings}
    assert {"grown-beyond", code} >= codes(findings)


def test_where_the_piece_is_cut_away_beneath_it_that_is_told():
    """A slot 25 mm beside the fold."""
    edges = polygon([(0, 0), (200, 0), (200, 300), (175, 300), (175, 60), (165, 60), (165, 300), (0, 300)])
    said = {"e1": EdgeSpec(grown_on=(grown("e0", "e2", 40),))}
    _, findings = cut(edges, said, allowance_mm=2.0)
    assert "grown-beyond" in codes(findings)
    told = next(finding for finding in findings if finding.code == "grown-beyond")
    assert told.severity == "block"
    assert "3 mm" in told.found  # the slot is 6 mm wide between its cut lines


def test_a_radius_without_an_end_within_the_edge_says_nothing_and_a_bent_fold_is_told():
    _, findings = cut(BOX, {"e1": EdgeSpec(grown_on=(grown("e0", "e2", 40, radius_mm=20.0),))})
    assert [(finding.code, finding.severity) for finding in findings] == [("radius-unused", "warn")]
    edges = {
        "waist": straight((0, 0), (200, 0)),
        "cf": curve((200, 0), (200, 100), (210, 200), (230, 300)),
        "hem": straight((230, 300), (0, 300)),
        "side": straight((0, 300), (0, 0)),
    }
    _, findings = cut(edges, {"cf": EdgeSpec(grown_on=(grown("waist", "hem", 40),))})
    assert [(finding.code, finding.severity) for finding in findings] == [("grown-bent", "warn")]


def test_at_a_corner_that_turns_inward_nothing_tells_how_it_ends():
    edges = polygon([(0, 0), (150, 0), (150, -100), (300, -100), (300, 300), (0, 300)])
    _, findings = cut(edges, {"e1": EdgeSpec(grown_on=(grown("e0", "e2", 20),))})
    assert "grown-corner" in codes(findings)


def test_where_its_edge_runs_on_into_another_it_ends_as_within_one_edge():
    """The centre front of trousers ends at the zip, and the crotch goes on."""
    edges = {**{name: BOX[name] for name in ("e0",)}, "cf": straight((200, 0), (200, 180))}
    edges |= {"crotch": straight((200, 180), (200, 300)), "e2": BOX["e2"], "e3": BOX["e3"]}
    piece = clean(edges, {"cf": EdgeSpec(grown_on=(grown("e0", "crotch", 40, radius_mm=30.0),))})
    one = side_of(fly(radius_mm=30.0))
    assert shapely.equals(shapely.Polygon(piece.cut_outline), shapely.Polygon(one.cut_outline))
    assert piece.turns[0].path == one.turns[0].path
    assert piece.edge("cf").folded
    assert piece.edge("crotch").cut_line[0][0] == (210, 180)


def test_two_at_one_corner_are_refused():
    said = {"e0": EdgeSpec(grown_on=(grown("e3", "e1", 30),)), "e1": fly()}
    _, findings = cut(BOX, said, notches=NOTCHES)
    assert "grown-meet" in codes(findings)

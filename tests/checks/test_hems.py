"""Hems turned up on tapered pieces, against their closed formula."""

import math

import pytest

from pipeline.checks.hems import hem_even, hem_said, short_mm
from pipeline.model.piece_specs import AllowancePart, EdgePart, EdgeSpec
from pipeline.model.pieces import Edge
from tests.checks.skirt import (
    HEM,
    PATTERN,
    codes,
    cut,
    garment,
    geometry,
    lines,
    master,
    pattern_with,
    replace,
    seam,
    spec,
)
from tests.checks.skirt_faults import with_edges


def tapered(size, degrees):
    """Half a panel whose side is straight and leans outward to the hem by `degrees` (inward where below 0)."""
    width, low = 160.0, 160 + 500 * math.tan(math.radians(degrees))
    edges = {
        "waist": lines((0, 0), (width, 0)),
        "side": lines((width, 0), (low, 500)),
        "hem": lines((low, 500), (0, 500)),
    }
    return with_edges(replace(master("front", size), notches=()), edges)


def panel(degrees, hem):
    pattern = pattern_with({("front", "hem"): hem}, seams={})
    return pattern, cut(pattern, tapered("S", degrees))


@pytest.mark.parametrize("degrees", [10, 5, -5, -10])
def test_a_hem_cut_straight_on_is_off_by_twice_its_depth_times_the_tangent(degrees):
    """Seen at right angles to the side: a side that tapers by 10 degrees and a hem of 40 mm make 13.9 mm."""
    _, piece = panel(degrees, EdgeSpec(allowance_mm=40.0, hem=True))
    taper = math.radians(degrees)
    short = short_mm(piece, piece.edge("hem"), piece.edge("side"), False)
    assert short == pytest.approx(-2 * 40 * math.tan(taper) * math.cos(taper), abs=1e-3)


@pytest.mark.parametrize("degrees", [10, -10])
def test_a_hem_whose_ends_are_turned_lies_on_the_piece(degrees):
    _, piece = panel(degrees, HEM)
    assert short_mm(piece, piece.edge("hem"), piece.edge("side"), False) == pytest.approx(0, abs=0.01)


@pytest.mark.parametrize("degrees", [10, -10])
def test_a_hem_that_is_folded_again_is_held_against_the_piece_where_its_raw_end_comes_to_lie(degrees):
    """Cut straight on at one end: 50 mm out, its raw end lies 30 mm above the hem, folded back at 40 mm."""
    _, piece = panel(degrees, EdgeSpec(allowance_mm=50.0, hem=True, folds_mm=(40.0,)))
    taper = math.radians(degrees)
    short = short_mm(piece, piece.edge("hem"), piece.edge("side"), False, (40.0,))
    assert short == pytest.approx(-(50 + 30) * math.tan(taper) * math.cos(taper), abs=1e-3)


@pytest.mark.parametrize(("degrees", "code"), [(10, "full"), (-10, "short"), (1, None)])
@pytest.mark.parametrize("hem", [True, False])
def test_past_2_mm_it_blocks_for_an_edge_called_hem_or_one_in_no_seam_with_20_mm(degrees, code, hem):
    pattern, piece = panel(degrees, EdgeSpec(allowance_mm=40.0, hem=hem))
    subject = garment(pattern=pattern)
    subject.cuts["front"] = {"S": piece}
    found = [f for f in geometry(subject) if f.check == "hem-turned"]
    assert [(f.code, f.severity, f.piece, f.size, f.where) for f in found] == (
        [(code, "block", "front", "S", "hem")] if code else []
    )


@pytest.mark.parametrize(("seams", "told"), [({}, True), ({"hem": seam("hem", ["front.hem"], ["front.hem"])}, False)])
def test_a_wide_allowance_is_a_hem_only_where_it_is_in_no_seam(seams, told):
    pattern, piece = panel(10, EdgeSpec(allowance_mm=40.0))
    subject = garment(pattern=replace(pattern, seams=seams))
    subject.cuts["front"] = {"S": piece}
    assert (("hem-turned", "full") in codes(geometry(subject))) == told


def test_a_hem_deeper_than_the_side_is_long_is_not_held_against_it():
    low = lines((160, 0), (165, 30))
    piece = with_edges(
        replace(master("front", "S"), notches=()),
        {"side": low, "hem": lines((165, 30), (0, 30)), "cf": lines((0, 30), (0, 0))},
    )
    pieces = {"front": spec("front", 1, 1, edges={"hem": EdgeSpec(allowance_mm=60.0)})}
    made = cut(replace(PATTERN, pieces=pieces), piece)
    assert short_mm(made, made.edge("hem"), made.edge("side"), False) is None


@pytest.mark.parametrize(
    ("allowance_mm", "hem", "asked"),
    [(19.9, False, False), (20.0, False, True), (40.0, False, True), (40.0, True, False)],
)
def test_a_deep_allowance_in_no_seam_is_asked_whether_it_is_a_hem(allowance_mm, hem, asked):
    pattern, piece = panel(0, EdgeSpec(allowance_mm=allowance_mm, hem=hem))
    assert said(pattern, piece) == ([("S", "hem")] if asked else [])


def test_a_deep_allowance_of_a_seam_is_not_asked_for():
    pattern, piece = panel(0, EdgeSpec(allowance_mm=40.0))
    assert said(replace(pattern, seams={"hem": seam("hem", ["front.hem"], ["front.hem"])}), piece) == []


def said(pattern, piece):
    """What is told of the front's hem, the only edge whose allowance is not the piece's own."""
    subject = garment(pattern=pattern)
    subject.cuts["front"] = {"S": piece}
    return [(outcome.size, outcome.where) for outcome in hem_said(subject) if outcome.piece == "front"]


@pytest.mark.parametrize(
    ("depth_mm", "turn_mm", "told"),
    [(40.0, 0.0, False), (30.0, 0.0, True), (30.0, 20.0, True), (30.0, 60.0, False)],
)
def test_a_hem_of_two_edges_is_as_deep_in_both_where_its_line_runs_on(depth_mm, turn_mm, told):
    """The second half of the hem drops by `turn_mm` over 95: 12 degrees run on, 32 are a vent's corner."""
    pattern = pattern_with(
        {
            ("front", "hem"): EdgeSpec(allowance_mm=40.0, hem=True),
            ("front", "hem-cf"): EdgeSpec(allowance_mm=depth_mm, hem=True),
        },
        seams={},
    )
    whole = tapered("S", 0)
    low = lines((65, 500), (0, 500 + turn_mm))
    halves = {"hem": lines((160, 500), (65, 500)), "hem-cf": low, "cf": lines((0, 500 + turn_mm), (0, 0))}
    edges = [edge for edge in whole.edges if edge.name not in halves]
    made = replace(whole, edges=(*edges, *(Edge(name, path) for name, path in halves.items())))
    subject = garment(pattern=pattern)
    subject.cuts["front"] = {"S": cut(pattern, made)}
    found = [(o.code, o.piece, o.where) for o in hem_even(subject)]
    assert found == ([("step", "front", "hem")] if told else [])


def test_a_hem_that_tapers_is_told():
    said = EdgeSpec(allowance_mm=40.0, allowance_end_mm=30.0, hem=True)
    found = [(o.code, o.where, o.found) for o in hem_even(garment(pattern=pattern_with({("front", "hem"): said})))]
    assert found == [("tapers", "hem", "40 .. 30 mm")]


def test_a_hem_with_parts_of_its_own_depth_is_told():
    part = AllowancePart(of=EdgePart("side", "cf"), start_mm=40.0, end_mm=30.0)
    said = EdgeSpec(allowance_mm=40.0, along=(part,), hem=True)
    found = [(o.code, o.where, o.found) for o in hem_even(garment(pattern=pattern_with({("front", "hem"): said})))]
    assert found == [("tapers", "hem", "40 .. 30 mm")]

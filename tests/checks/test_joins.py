"""Lines that run on across seams, and through the joints of a side."""

import math

import pytest

from pipeline.checks.corners import bend_deg, corner_deg
from pipeline.geometry.curves import Arc, Cubic, reversed_path
from pipeline.geometry.points import Point, Vector
from tests.checks.skirt import PATTERN, SIZES, garment, lines, one, replace, seam, told
from tests.checks.skirt_faults import with_edges


def arc(radius, sweep_deg):
    return (Arc(Point(0, 0), Vector(radius, 0), Vector(0, radius), 0.0, math.radians(sweep_deg)),)


@pytest.mark.parametrize("radius", [20, 60, 200])
@pytest.mark.parametrize("sign", [1, -1])
def test_the_bend_of_an_arc_within_10_mm_is_10_over_its_radius(radius, sign):
    path = arc(radius, sign * 60)
    for at_end in (False, True):
        assert math.radians(bend_deg(path, at_end)) == pytest.approx(sign * 10 / radius, rel=2e-3)
    assert bend_deg(reversed_path(path), True) == pytest.approx(-bend_deg(path, False))
    assert bend_deg(lines((0, 0), (5, 0), (50, 0)), True) == 0


def test_corners_of_a_rectangle_are_right_angles():
    piece = garment().cuts["band"]["M"]
    assert [corner_deg(piece, edge.name, at_end) for edge in piece.edges for at_end in (False, True)] == [90.0] * 8


def hooked(piece):
    """The hem leaves the side square and hooks up by 2.5 mm within 8 mm."""
    hem = piece.edge("hem").path[0]
    x = hem.start.x
    hook = Cubic(hem.start, Point(x - 6, 500), Point(x - 8, 500), Point(x - 9, 497))
    rest = Cubic(Point(x - 9, 497), Point(x - 11, 491), Point(60, 500), hem.end)
    return with_edges(piece, {"hem": (hook, rest)})


def test_a_hook_beside_a_seam_warns():
    finding = one("joined-lines", {("front", "M"): hooked})
    assert (finding.code, finding.severity, finding.piece, finding.where) == ("bend", "warn", "front", "hem")
    assert "front.hem" in finding.message
    assert "back.hem" in finding.message


def test_angles_false_exempts_a_seam():
    pattern = replace(PATTERN, seams={**PATTERN.seams, "side": replace(PATTERN.seams["side"], angles=False)})
    assert not [f for f in told({("front", "M"): hooked}, pattern) if f.check == "joined-lines"]


def test_a_corner_within_a_side_needs_one_on_the_other_side():
    faced = seam("bag", ["pocket.right", "pocket.foot"], ["pocket-lining.right", "pocket-lining.foot"], angles=False)
    assert told(pattern=replace(PATTERN, seams={"bag": faced})) == []
    alone = seam("bag", ["pocket.right", "pocket.foot"], ["front.hem"], angles=False, notches=False)
    found = [f for f in told(pattern=replace(PATTERN, seams={"bag": alone})) if f.check == "side-corners"]
    assert {(f.code, f.severity, f.piece, f.where) for f in found} == {("corner", "warn", "pocket", "foot")}
    assert found[0].found == "93.4 degrees"
    assert {f.size for f in found} <= set(SIZES)
    assert found[0].message == "in seam bag right meets foot at 93.4 degrees"

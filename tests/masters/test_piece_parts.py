"""Parts of a piece: cut off along an inside line, with what lies on their side."""

import math

import msgspec
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from pipeline.cutting.cut import cut_piece
from pipeline.geometry.curves import flattened
from pipeline.geometry.points import Point
from pipeline.masters.piece_parts import cut_part
from pipeline.model.piece_specs import EdgeSpec, PiecePart
from pipeline.model.pieces import GrainLine, InsideLine, MarkPoint
from tests.cutting.shapes import curve, drawn_of, notch, pattern_of, polygon, spec_of, straight

BOX = dict(
    zip(("top", "right", "low", "left"), polygon([(0, 0), (200, 0), (200, 300), (0, 300)]).values(), strict=True)
)
HIP = InsideLine("hip", straight((0, 120), (200, 120)), False, "level")
LOW = InsideLine("knee", straight((200, 200), (0, 200)), False, "level")
PLUMB = InsideLine("plumb", straight((50, 10), (50, 290)), False)
UPPER = PiecePart(("hip",), "top")
LOWER = PiecePart(("hip",), "low")


def source(edges=None, inside=(HIP, LOW, PLUMB), points=(), notches=(), grain=None):
    drawn = drawn_of(edges or BOX, notches, name="part")
    grain = grain or GrainLine(Point(100, 280), Point(100, 150))
    return msgspec.structs.replace(drawn, inside=inside, points=points, grain=grain)


def made(part, drawn=None, specs=None, own=None, allowance_mm=10.0, **more):
    """The part as drawn, as cut, and all that is told."""
    drawn = drawn or source()
    derived = spec_of("part", allowance_mm=None, source="source", part=part, edges=own or {}, **more)
    pattern = pattern_of(spec_of("source", edges=specs or {}, allowance_mm=allowance_mm), derived)
    piece, findings = cut_part(pattern, derived, part, drawn)
    if piece is None:
        return None, None, findings
    whole = msgspec.structs.replace(drawn, piece="source")
    cut, told = cut_piece(pattern, piece, whole)
    return piece, cut, (*findings, *told)


def box(cut):
    return tuple(round(value, 3) for value in shapely.Polygon(cut.cut_outline).bounds)


def test_a_part_of_a_rectangle_ends_at_the_line_and_keeps_its_allowances_elsewhere():
    piece, cut, told = made(UPPER)
    assert told == ()
    assert [edge.name for edge in piece.edges] == ["top", "right", "hip", "left"]
    assert box(cut) == (-10, -10, 210, 120)
    assert cut.seam_area_mm2 == pytest.approx(200 * 120)
    assert cut.cut_area_mm2 == pytest.approx(220 * 130)
    assert cut.edge("hip").allowance_mm == 0
    assert cut.edge("right").length_mm == pytest.approx(120)


def test_its_new_edge_may_have_an_allowance_of_its_own():
    _, cut, told = made(UPPER, own={"hip": EdgeSpec(allowance_mm=15)})
    assert told == ()
    assert box(cut) == (-10, -10, 210, 135)


def test_a_trim_moves_the_new_edge_too_and_past_seam_does_not():
    _, trimmed, told = made(UPPER, trim_mm=3.0)
    assert told == ()
    assert box(trimmed) == (-7, -7, 207, 117)
    _, past, told = made(UPPER, past_seam_mm=2.0)
    assert told == ()
    assert box(past) == (-2, -2, 202, 120)


def test_between_two_lines_lies_the_part_that_has_both():
    for lines in (("hip", "knee"), ("knee", "hip")):
        piece, cut, told = made(PiecePart(lines))
        assert told == ()
        assert {edge.name for edge in piece.edges} == {"right", "knee", "left", "hip"}
        assert box(cut) == (-10, 120, 210, 200)


def test_notches_points_and_lines_on_its_side_come_along():
    marks = tuple(MarkPoint(name, Point(x, y)) for name, x, y in (("eye", 20, 60), ("hook", 20, 200)))
    notches = (notch(BOX, "right", 60, name="up"), notch(BOX, "right", 250, name="down"), notch(BOX, "left", 250))
    upper, cut, _ = made(UPPER, source(points=marks, notches=notches))
    assert [(n.name, n.edge, n.at_mm) for n in upper.notches] == [("up", "right", 60), ("n", "left", pytest.approx(70))]
    assert [mark.name for mark in upper.points] == ["eye"]
    assert [(line.name, line.path[0].start, line.path[-1].end) for line in upper.inside] == [
        ("plumb", (50, 10), (50, 120))
    ]
    assert len(cut.slits) == 2
    lower, _, _ = made(LOWER, source(points=marks, notches=notches))
    assert [(n.name, n.edge, n.at_mm) for n in lower.notches] == [("down", "right", pytest.approx(130))]
    assert [mark.name for mark in lower.points] == ["hook"]
    assert {line.name for line in lower.inside} == {"knee", "plumb"}


def test_the_grain_is_moved_into_a_part_that_it_does_not_lie_in():
    kept, _, _ = made(LOWER)
    assert kept.grain == source().grain
    moved, _, _ = made(UPPER)
    region = shapely.Polygon([place for edge in moved.edges for place in flattened(edge.path)])
    assert region.contains(shapely.LineString((moved.grain.bottom, moved.grain.top)))
    assert moved.grain.bottom.to(moved.grain.top).unit() == pytest.approx((0, -1))
    assert moved.grain.bottom.distance(moved.grain.top) > 100


def test_a_half_piece_keeps_its_part_of_the_fold():
    piece, cut, told = made(UPPER, specs={"left": EdgeSpec(fold=True)})
    assert told == ()
    assert box(cut) == (-210, -10, 210, 120)
    assert piece.anchor == (0, 60)
    vertical = InsideLine("side-line", straight((120, 0), (120, 300)), False)
    _, _, told = made(PiecePart(("side-line",), "right"), source(inside=(vertical,)), {"left": EdgeSpec(fold=True)})
    assert [finding.code for finding in told] == ["part-off-fold"]


def test_a_hem_on_its_side_is_turned_and_a_line_that_meets_it_bounds_it():
    hem = {"low": EdgeSpec(allowance_mm=40, corner="turned", hem=True)}
    _, cut, told = made(LOWER, specs=hem)
    assert told == ()
    assert box(cut) == (-10, 120, 210, 340)
    plumb = InsideLine("side-line", straight((120, 0), (120, 300)), False)
    _, cut, told = made(PiecePart(("side-line",), "left"), source(inside=(plumb,)), hem)
    assert told == ()
    assert box(cut) == (-10, -10, 120, 340)


def test_an_allowance_that_tapers_goes_on_where_it_was_in_the_whole_piece():
    specs = {"right": EdgeSpec(allowance_mm=10, allowance_end_mm=25)}
    _, upper, told = made(UPPER, specs=specs)
    assert told == ()
    right = upper.edge("right")
    assert (right.allowance_at(0), right.allowance_at(1)) == pytest.approx((10, 16))
    _, lower, _ = made(LOWER, specs=specs)
    right = lower.edge("right")
    assert (right.allowance_at(0), right.allowance_at(1)) == pytest.approx((16, 25))


SIDES = {
    "top": straight((0, 0), (220, 10)),
    "right": curve((220, 10), (280, 120), (190, 230), (210, 320)),
    "low": curve((210, 320), (140, 345), (60, 300), (0, 310)),
    "left": curve((0, 310), (-30, 200), (25, 100), (0, 0)),
}


@settings(deadline=None, max_examples=30)
@given(st.floats(0.15, 0.85), st.floats(0.15, 0.85), st.floats(-40, 40))
def test_both_sides_of_one_line_together_are_the_source(left, right, bow):
    at_left, at_right = SIDES["left"][0].at(left), SIDES["right"][0].at(right)
    middle = Point((at_left.x + at_right.x) / 2, (at_left.y + at_right.y) / 2 + bow)
    line = InsideLine("hip", curve(at_left, middle, middle, at_right), False)
    drawn = source(SIDES, inside=(line,))
    region = shapely.Polygon([place for path in SIDES.values() for place in flattened(path)])
    if not region.buffer(0.05).covers(shapely.LineString(flattened(line.path))):
        return
    whole, _ = cut_piece(pattern_of(spec_of("source")), msgspec.structs.replace(drawn, piece="source"))
    both = [made(part, drawn) for part in (UPPER, LOWER)]
    assert [told for _, _, told in both] == [(), ()]
    assert sum(cut.seam_area_mm2 for _, cut, _ in both) == pytest.approx(whole.seam_area_mm2, rel=1e-6)
    cuts = [made(part, drawn, allowance_mm=0.0)[1].cut_area_mm2 for part in (UPPER, LOWER)]
    assert sum(cuts) == pytest.approx(whole.seam_area_mm2, rel=1e-6)


@pytest.mark.parametrize(
    ("line", "part", "code"),
    [
        (HIP, PiecePart(("hips",), "top"), "unknown-line"),
        (HIP, PiecePart(("hip",), "right"), "keep-on-both-sides"),
        (HIP, PiecePart(("hip",), "bottom"), "unknown-edge"),
        (InsideLine("hip", straight((0, 120), (198, 120)), False), UPPER, "line-short"),
        (InsideLine("hip", straight((0, 120), (100, -20), (200, 120)), False), UPPER, "line-outside"),
        (InsideLine("top", straight((0, 120), (200, 120)), False), PiecePart(("top",), "low"), "line-called-as-edge"),
        (InsideLine("hip", straight((200, 50), (150, 80), (200, 120)), False), UPPER, "edge-in-two"),
        (InsideLine("hip", straight((50, 50), (150, 50), (50, 50)), True), UPPER, "no-one-line"),
        (InsideLine("knee", straight((0, 100), (200, 140)), False), PiecePart(("hip", "knee")), "lines-cross"),
    ],
)
def test_what_does_not_say_one_part_is_told(line, part, code):
    inside = (line,) if line.name != "knee" else (HIP, line)
    piece, _, told = made(part, source(inside=inside))
    assert piece is None
    assert [(finding.code, finding.severity, finding.piece) for finding in told] == [(code, "block", "part")]
    assert told[0].remedy


def test_a_line_that_ends_within_a_millimetre_of_the_seam_line_is_drawn_onto_it():
    near = InsideLine("hip", straight((0.8, 120), (200.9, 120)), False)
    piece, cut, told = made(UPPER, source(inside=(near,)))
    assert told == ()
    assert {edge.name: edge.path[0].start for edge in piece.edges}["hip"] == pytest.approx((200, 120))
    assert math.isclose(cut.seam_area_mm2, 24000)

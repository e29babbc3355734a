"""Allowances: at their distance, equal on both sides, ending alike."""

import math

import pytest

from pipeline.checks.garment import Garment
from pipeline.geometry.points import Affine, Point
from pipeline.model.pattern import Reference, Strip, Sum, Term
from pipeline.model.piece_specs import AllowancePart, EdgePart, EdgeSpec
from tests.checks.outlines import ring, sewn
from tests.checks.skirt import (
    FOLD,
    PATTERN,
    cut,
    garment,
    geometry,
    lines,
    master,
    notch,
    one,
    pattern_with,
    replace,
    seam,
    spec,
    told,
)
from tests.checks.skirt_faults import with_edges
from tests.checks.test_unsewn import of_fusing


def test_a_cut_line_that_lies_elsewhere_blocks():
    subject = garment()
    piece = subject.cuts["band"]["M"]
    away = Affine(1, 0, 0, 1, 0, -0.2)
    edges = tuple(
        replace(e, cut_line=tuple(tuple(away.point(p) for p in line) for line in e.cut_line))
        if e.name == "upper"
        else e
        for e in piece.edges
    )
    subject.cuts["band"]["M"] = replace(piece, edges=edges)
    found = [f for f in geometry(subject) if f.check == "allowance-distance"]
    assert [(f.piece, f.size, f.where, f.found) for f in found] == [
        ("band", "M", "upper", "0.20 mm away from where it belongs")
    ]


@pytest.mark.parametrize("allowance_mm", [20.0, 0.0, 10.2])
def test_an_allowance_doubled_or_absent_on_one_side_of_a_seam_blocks(allowance_mm):
    pattern = pattern_with({("front", "side"): EdgeSpec(allowance_mm=allowance_mm)})
    finding = one("allowance-pairs", pattern=pattern)
    assert (finding.code, finding.severity, finding.piece, finding.where) == ("unequal", "block", "front", "side")
    assert finding.object == "pieces.front.edges.side"
    assert finding.found == f"{allowance_mm:g} and 10 mm"


def taper(start_mm: float, end_mm: float) -> EdgeSpec:
    return EdgeSpec(allowance_mm=start_mm, allowance_end_mm=end_mm)


def _facing_tapers(one: EdgeSpec, two: EdgeSpec, *extra: str) -> list[tuple[str, str]]:
    """Two legs that meet at their centre backs, which run up on the left piece and down on its mirror image."""
    left = ring(waist=(0, 0), side=(200, 0), hem=(200, 300), cb=(0, 300))
    right = ring(waist=(0, 0), cb=(200, 0), hem=(200, 300), side=(0, 300))
    joined = seam("cb", ["left.cb"], ["right.cb"])
    made = sewn({"left": left, "right": right}, joined, edges={"left.cb": one, "right.cb": two}, grain=(40, 90, 10))
    return [(f.code, f.found) for f in geometry(made) if f.check in ("allowance-pairs", "allowance-distance")]


def test_tapers_are_matched_as_the_seam_runs():
    assert _facing_tapers(taper(25, 10), taper(10, 25)) == []
    assert _facing_tapers(taper(25, 10), taper(25, 10)) == [("unequal", "25 .. 10 and 10 .. 25 mm")]
    assert _facing_tapers(taper(25, 10), EdgeSpec(allowance_mm=25.0)) == [("unequal", "25 .. 10 and 25 mm")]
    assert _facing_tapers(taper(25, 10), taper(10, 24)) == [("unequal", "25 .. 10 and 24 .. 10 mm")]


def _part(start: str, end: str, width_mm: float) -> AllowancePart:
    return AllowancePart(of=EdgePart(start, end), start_mm=width_mm, end_mm=width_mm)


def _facing_parts(left_mm: float, right_mm: float, *parts: EdgeSpec) -> list[tuple[str, str]]:
    """Two legs of 300 mm that meet at their centre backs; a notch on each, so far below the waist."""
    left = ring(waist=(0, 0), side=(200, 0), hem=(200, 300), cb=(0, 300))
    right = ring(waist=(0, 0), cb=(200, 0), hem=(200, 300), side=(0, 300))
    hips = {
        "left": (notch(left, "cb", "hip", 300 - left_mm),),
        "right": (notch(right, "cb", "hip", right_mm),),
    }
    edges = dict(zip(("left.cb", "right.cb"), parts, strict=True))
    joined = seam("cb", ["left.cb"], ["right.cb"])
    made = sewn({"left": left, "right": right}, joined, edges=edges, grain=(40, 90, 10), notches=hips)
    found = ("allowance-pairs", "allowance-distance")
    return [(f.where, f.found) for f in geometry(made) if f.check in found]


def test_parts_are_matched_by_where_they_lie():
    wide, plain = EdgeSpec(along=(_part("waist", "hip", 25),)), EdgeSpec(allowance_mm=25.0)
    assert _facing_parts(60, 60, wide, wide) == []
    assert _facing_parts(60, 60, wide, EdgeSpec(along=(_part("hip", "hem", 25),))) == [
        ("cb", "10 .. 25 and 25 .. 10 mm")  # told as the seam runs, up the left leg
    ]
    assert _facing_parts(60, 60, wide, plain) == [("cb", "10 .. 25 and 25 mm")]
    assert _facing_parts(60, 90, wide, wide) != []


def test_parts_that_agree_at_both_ends_of_an_edge_and_not_between_are_told():
    left, right = (EdgeSpec(along=(_part("waist", "hip", 25), _part("hip", "hem", low))) for low in (25, 25.0))
    assert _facing_parts(60, 60, left, right) == []
    dip = EdgeSpec(along=(AllowancePart(of=EdgePart("waist", "hip"), start_mm=25, end_mm=20), _part("hip", "hem", 25)))
    assert _facing_parts(60, 60, left, dip) == [("cb", "25 and 25 .. 23.3333 .. 25 mm")]


def _in_two(upper: EdgeSpec, lower: EdgeSpec) -> list[tuple[str, str]]:
    """A centre back of 300 mm in one piece, against one in two edges that meet a third of the way down."""
    left = ring(waist=(0, 0), side=(200, 0), hem=(200, 300), cb=(0, 300))
    right = ring(waist=(0, 0), upper=(200, 0), lower=(200, 100), hem=(200, 300), side=(0, 300))
    joined = seam("cb", ["left.cb"], ["!right.lower", "!right.upper"])
    edges = {"left.cb": taper(25, 10), "right.upper": upper, "right.lower": lower}
    made = sewn({"left": left, "right": right}, joined, edges=edges, grain=(40, 90, 10))
    return [(f.where, f.found) for f in geometry(made) if f.check == "allowance-pairs"]


def test_a_taper_against_several_edges_is_matched_by_place():
    assert _in_two(taper(10, 15), taper(15, 25)) == []
    assert _in_two(EdgeSpec(allowance_mm=15.0), taper(15, 25)) == [("cb", "15 .. 10 and 15 mm")]
    assert _in_two(taper(10, 15), taper(25, 15)) == [("cb", "25 .. 15 and 15 .. 25 mm")]


def test_a_cut_line_that_ignores_its_taper_blocks():
    left = ring(waist=(0, 0), side=(200, 0), hem=(200, 300), cb=(0, 300))
    made = sewn({"left": left}, edges={"left.cb": taper(25, 10)})
    assert not [f for f in geometry(made) if f.check == "allowance-distance"]
    piece = made.cuts["left"]["M"]
    edges = tuple(replace(e, allowance_end_mm=24.0) if e.name == "cb" else e for e in piece.edges)
    made.cuts["left"]["M"] = replace(piece, edges=edges)
    (finding,) = [f for f in geometry(made) if f.check == "allowance-distance"]
    assert (finding.where, finding.allowed) == ("cb", "24.5 ± 0.05 mm from the seam line")


def _waists(left_mm: tuple[float, float], right_mm: tuple[float, float]) -> list[tuple[str, str]]:
    """Waists that run on across a centre back: each ends there at one of its widths, and tapers away from it."""
    left = ring(waist=(0, 0), side=(200, 0), hem=(200, 300), cb=(0, 300))
    right = ring(waist=(0, 0), cb=(200, 0), hem=(200, 300), side=(0, 300))
    edges = {"left.waist": taper(*left_mm), "right.waist": taper(*right_mm)}
    made = sewn({"left": left, "right": right}, seam("cb", ["left.cb"], ["right.cb"]), edges=edges)
    return [(f.code, f.found) for f in geometry(made) if f.check == "allowance-ends"]


def test_a_line_that_tapers_across_a_seam_is_as_wide_on_both_sides_of_it():
    assert _waists((14, 10), (10, 14)) == []
    assert _waists((14, 10), (14, 10)) == [("step", "14 and 10 mm")]


def test_a_seam_without_any_allowance_blocks():
    bare = EdgeSpec(allowance_mm=0.0)
    finding = one("allowance-pairs", pattern=pattern_with({("front", "side"): bare, ("back", "side"): bare}))
    assert (finding.code, finding.severity) == ("none", "block")


def test_only_edges_that_lie_on_each_other_are_compared():
    """A bag whose left side is taken wider on both pieces."""
    wide = EdgeSpec(allowance_mm=15.0)
    assert told(pattern=pattern_with({("pocket", "left"): wide, ("pocket-lining", "left"): wide})) == []


def test_a_line_that_runs_on_across_a_seam_keeps_its_allowance():
    pattern = pattern_with({("back", "hem"): EdgeSpec(allowance_mm=30.0, corner="turned", hem=True)})
    finding = one("allowance-ends", pattern=pattern)
    assert (finding.code, finding.severity, finding.found) == ("step", "warn", "40 and 30 mm")


def slanted(name, size, inward):
    """A panel 200 mm high whose right side meets the hem at 60 (or 120) degrees; the two join to a straight line."""
    lean = (-60 if inward else 60) / math.sqrt(3)
    low, high = Point(160, 200), Point(160 + lean, 140)
    piece = master("front", size)
    edges = {"waist": lines((0, 0), (160 + lean, 0), high), "side": lines(high, low), "hem": lines(low, (0, 200))}
    drawn = with_edges(replace(piece, notches=()), {**edges, "cf": lines((0, 200), (0, 0))})
    return replace(drawn, piece=name, file=f"sizes/{size}/{name}.svg")


@pytest.mark.parametrize(("corner", "ends"), [("mitre", {"dog-ear"}), ("square", set())])
def test_a_sharp_corner_sticks_out_unless_it_is_square(corner, ends):
    """At 60 degrees a mitred allowance of 10 mm runs 10 cot 60° = 5.77 mm past the neighbour's cut line."""
    edges = {"cf": FOLD, "side": EdgeSpec(corner_beside={"hem": corner})}
    pieces = {name: spec(name, 1, 1, edges=edges) for name in ("sharp", "blunt")}
    joined = seam("joined", ["sharp.side"], ["!blunt.side"], notches=False)
    pattern = replace(PATTERN, sizes=("S",), base="S", pieces=pieces, seams={"joined": joined})
    made = {name: {"S": cut(pattern, slanted(name, "S", name == "sharp"))} for name in pieces}
    found = [f for f in geometry(Garment(pattern, made)) if f.check == "allowance-ends"]
    assert {f.code for f in found} == ends
    assert {(f.piece, f.object, f.found) for f in found} <= {("sharp", "side at hem", "5.8 mm")}


def _bare(pattern) -> list[tuple[str, str, str | None, str | None]]:
    return [(f.code, f.severity, f.piece, f.where) for f in told(pattern=pattern) if f.check == "allowance-bare"]


def test_an_edge_without_allowance_that_nothing_binds_warns():
    pattern = pattern_with({("band", "upper"): EdgeSpec(allowance_mm=0.0)})
    assert _bare(pattern) == [("bare", "warn", "band", "upper")]


def test_an_edge_that_tapers_to_nothing_is_not_without_allowance():
    assert _bare(pattern_with({("band", "upper"): taper(10, 0)})) == []


def test_a_hem_without_allowance_warns():
    pattern = pattern_with({("front", "hem"): EdgeSpec(allowance_mm=0.0, hem=True)})
    assert _bare(pattern) == [("bare", "warn", "front", "hem")]


def test_an_interfacing_is_fused_and_needs_none():
    bare = {edge: EdgeSpec(allowance_mm=0.0) for edge in ("top", "right")}
    fused = of_fusing(trim_mm=4.0)
    lining = replace(fused.pieces["pocket-lining"], edges=bare)
    cuts = garment(pattern=pattern_with({("pocket-lining", edge): said for edge, said in bare.items()})).cuts
    subject = Garment(replace(fused, pieces=fused.pieces | {"pocket-lining": lining}), cuts)
    assert [f.piece for f in geometry(subject) if f.check == "allowance-bare"] == []
    cloth = of_fusing(trim_mm=None)
    subject = Garment(replace(cloth, pieces=cloth.pieces | {"pocket-lining": lining}), cuts)
    assert [f.where for f in geometry(subject) if f.check == "allowance-bare"] == ["top", "right"]


def test_an_edge_without_allowance_that_a_strip_goes_round_is_bound():
    pattern = pattern_with({("band", "upper"): EdgeSpec(allowance_mm=0.0)})
    total = Sum("2 x band.upper", (Term(2.0, Reference("band", "upper")),))
    title = {"en": "Binding"}
    strip = Strip(name="binding", title=title, cut=(), width_mm=8.0, make="quarters", length=total)
    assert _bare(replace(pattern, strips={"binding": strip})) == []


def crossing(cb_mm: float, collar_mm: float, **sides) -> list[str]:
    """A collar in two halves at a back in two halves: both centre seams are pressed open before the collar is set."""
    collar = ring(outer=(0, 0), end=(100, 0), neck=(100, 150), cb=(0, 150))
    back = ring(neck=(0, 0), shoulder=(100, 0), hem=(100, 200), cb=(0, 200))
    seams = [seam("collar", ["collar.neck"], ["back.neck"]), *sides.values()]
    edges = {"collar.cb": EdgeSpec(allowance_mm=collar_mm), "back.cb": EdgeSpec(allowance_mm=cb_mm)}
    made = sewn({"collar": collar, "back": back}, *seams, edges=edges, grain=(40, 50, 10))
    return [f.code for f in geometry(made) if f.check == "allowance-ends" and f.code == "step"]


def test_seams_that_are_pressed_open_before_they_are_crossed_may_differ_in_width():
    own = {name: seam(name, [f"{name}.cb"], [f"{name}.cb"]) for name in ("collar", "back")}
    own = {f"{name}-cb": replace(one, name=f"{name}-cb") for name, one in own.items()}
    assert crossing(15, 10, **own) == []
    assert crossing(15, 10) == ["step"]
    line = seam("cb", ["collar.cb", "back.cb"], ["collar.cb", "back.cb"])
    assert crossing(15, 10, cb=line) == ["step"]


def seats(back: EdgeSpec, *more) -> list[tuple[str, str | None, str, str]]:
    """Trousers whose seat is taken wider towards the waist, as the ends of the band are; the fork is as the front's."""
    left = ring(waist=(0, 0), side=(200, 0), hem=(200, 300), inseam=(0, 300), cb=(0, 150))
    right = ring(waist=(0, 0), cf=(200, 0), inseam=(200, 150), hem=(200, 300), side=(0, 300))
    band = ring(top=(0, 0), end=(200, 0), bottom=(200, 40), cb=(0, 40))
    seams = (
        seam("inseam", ["back.inseam"], ["front.inseam"], notches=False),
        seam("seat", ["back.cb"], ["back.cb"]),
        seam("crotch", ["front.cf"], ["front.cf"]),
        seam("waist", ["back.waist"], ["band.bottom"], notches=False),
        *more,
    )
    edges = {"back.cb": back, "band.cb": EdgeSpec(allowance_mm=25.0)}
    made = sewn({"back": left, "front": right, "band": band}, *seams, edges=edges, grain=(40, 30, 10))
    told = [f for f in geometry(made) if f.check == "allowance-ends" and f.where == "cb"]
    return [(f.code, f.piece, f.found, f.allowed) for f in told]


def test_a_taper_that_is_the_wrong_way_round_is_told_though_its_mirror_image_agrees():
    """The seams that cross the waist are pressed open first, so nothing else is asked of their widths."""
    band_back = seam("band-back", ["band.cb"], ["band.cb"])
    assert seats(taper(10, 25), band_back) == []
    assert seats(taper(25, 10), band_back) == [("reversed", "back", "2.5 cm .. 1 cm", "1 cm .. 2.5 cm")]
    assert seats(taper(12, 20), band_back) == []  # fits neither way: widths that were meant
    assert seats(taper(25, 10)) == [("reversed", "back", "2.5 cm .. 1 cm", "1 cm .. 2.5 cm")]


def laid(other: str, depth: float) -> list[tuple[str | None, str | None]]:
    """A pocket's facing with a bare inner edge, beside a bag whose corner has the same edges."""
    facing = ring(waist=(0, 0), inner=(80, 4), side=(10, 160))
    bag = ring(waist=(0, 0), round=(130, 6.5), side=(16.25, depth))
    shapes = {"facing": facing, other: bag if other == "bag" else {f"{name}-1": path for name, path in bag.items()}}
    made = sewn(shapes, edges={"facing.inner": EdgeSpec(allowance_mm=0.0)}, grain=(20, 50, 10))
    return [(f.piece, f.where) for f in geometry(made) if f.check == "allowance-bare"]


def test_the_inner_edge_of_a_facing_may_lie_raw_on_its_pocket_bag():
    assert laid("bag", 260) == []
    assert laid("bag", 100) == [("facing", "inner")]  # a bag that the facing hangs out of
    assert laid("apron", 260) == [("facing", "inner")]  # a piece that shares no corner with it

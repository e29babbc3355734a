"""A side of a seam may be a part of an edge, between two notches or from one of its ends."""

import pytest

from pipeline.checks.all import check_garment
from pipeline.checks.seam_parts import path_of
from pipeline.checks.seam_way import decided_direction, walks
from pipeline.geometry.curves import path_length_mm
from pipeline.masters.toml.sums import parse_side
from pipeline.model.pattern import Range, Seam, SideEdge
from pipeline.model.piece_specs import AllowancePart, EdgePart, EdgeSpec, Take
from tests.checks.outlines import ring, sewn
from tests.checks.skirt import notch

LEFT = ring(waist=(0, 0), side=(200, 0), hem=(200, 600), cb=(0, 600))
"""A leg whose centre back is walked up: 600 mm, from the hem to the waist."""
RIGHT = ring(waist=(0, 0), cb=(200, 0), hem=(200, 600), side=(0, 600))
"""Its partner, whose centre back is walked down."""


def joined(name: str, a: list[str], b: list[str], **rest) -> Seam:
    return Seam(name=name, a=tuple(map(parse_side, a)), b=tuple(map(parse_side, b)), **rest)


def legs(*seams: Seam, left=(), right=(), edges=None, shapes=None):
    """Both legs; notches of the centre backs by name, so many mm below the waist."""
    shapes = shapes or {"left": LEFT, "right": RIGHT}
    marks = {
        "left": tuple(notch(LEFT, "cb", name, 600 - at) for name, at in left),
        "right": tuple(notch(RIGHT, "cb", name, at) for name, at in right),
    }
    return sewn(shapes, *seams, edges=edges or {}, grain=(40, 90, 10), notches=marks)


VENT = [("zip", 150), ("mid", 300), ("vent", 450)]
MIDDLE = joined("cb", ["left.cb[zip..vent]"], ["right.cb[zip..vent]"])


def found(made, *checks: str) -> list[tuple[str, str, str | None]]:
    outcomes = check_garment(made)
    assert [f.check for f in outcomes if f.code == "check-failed"] == []
    return [(f.check, f.code, f.found) for f in outcomes if f.check in checks or not checks]


def test_only_the_part_is_walked_with_its_notches():
    made = legs(MIDDLE, left=VENT, right=VENT)
    ((_, _, a, b),) = walks(made)
    assert a.length_mm == pytest.approx(300)
    for side in (a, b):
        assert [notch.name for notch in side.notches] == ["zip", "mid", "vent"]
        assert [notch.at_mm for notch in side.notches] == pytest.approx([0, 150, 300])


def test_a_part_runs_from_its_first_place_to_its_second():
    """The left centre back is drawn from the hem up, so the way from the zip to the vent runs against it."""
    made = legs(MIDDLE, left=VENT, right=VENT)
    way = decided_direction(made, MIDDLE)
    assert (way.a, way.b) == ((True,), (False,))
    assert path_length_mm(path_of(made.cuts["left"]["M"], MIDDLE.a[0])) == pytest.approx(300)


def test_a_part_may_begin_at_an_end_of_its_edge():
    low = joined("low", ["left.cb[vent..hem]"], ["right.cb[vent..hem]"])
    made = legs(low, left=VENT, right=VENT)
    ((_, _, a, b),) = walks(made)
    assert (a.length_mm, b.length_mm) == pytest.approx((150, 150))
    checks = ("seam-lengths", "seam-notches", "seam-angles", "allowance-pairs", "allowance-ends")
    assert found(made, *checks) == []


def test_a_part_is_as_long_as_its_partner():
    moved = [("zip", 150), ("mid", 300), ("vent", 455)]
    assert ("seam-lengths", "too-short", "a minus b = -5.00 mm (300.00 − 305.00)") in found(
        legs(MIDDLE, left=VENT, right=moved), "seam-lengths"
    )


def test_a_part_that_is_too_long_may_end_at_a_notch_that_has_moved():
    moved = [("zip", 150), ("mid", 300), ("vent", 455)]
    low = joined("low", ["left.cb[vent..hem]"], ["right.cb[vent..hem]"])
    (finding,) = (f for f in check_garment(legs(low, left=VENT, right=moved)) if f.check == "seam-lengths")
    assert finding.remedy.startswith(
        "put notch vent of left.cb or vent of right.cb back if it has moved, by 5.0 mm; else shorten left.cb[vent..hem]"
    )
    outside = [("zip", 150), ("mid", 300), ("vent", 450), ("low", 500)]
    assert found(legs(MIDDLE, left=VENT, right=outside), "seam-lengths", "seam-notches") == []
    inside = [("zip", 150), ("mid", 310), ("vent", 450)]
    assert {check for check, _, _ in found(legs(MIDDLE, left=VENT, right=inside))} >= {"seam-notches"}


def test_a_part_may_be_sewn_to_a_whole_edge():
    fly = ring(top=(0, 0), inner=(40, 0), low=(40, 150), edge=(0, 150))
    zipped = joined("fly", ["right.cb[waist..zip]"], ["fly.edge"])
    made = legs(zipped, right=VENT, shapes={"right": RIGHT, "fly": fly})
    ((_, _, a, b),) = walks(made)
    assert (a.length_mm, b.length_mm) == pytest.approx((150, 150))
    assert found(made, "seam-lengths", "seam-angles", "seam-direction", "seam-notches") == []
    longer = ring(top=(0, 0), inner=(40, 0), low=(40, 160), edge=(0, 160))
    made = legs(zipped, right=VENT, shapes={"right": RIGHT, "fly": longer})
    assert [code for _, code, _ in found(made, "seam-lengths")] == ["too-short"]


def test_darts_within_a_part_are_closed():
    seam = joined("cb", ["left.cb[zip..vent]"], ["right.cb[zip..vent]"], notches=False)
    dart = EdgeSpec(takes=(Take("d-1", "d-2", "dart"),))
    left = [*VENT, ("d-1", 200), ("d-2", 220)]
    made = legs(seam, left=left, right=VENT, edges={"left.cb": dart})
    ((_, _, a, _),) = walks(made)
    assert a.length_mm == pytest.approx(280)


def test_allowances_are_compared_along_the_part_alone():
    """25 mm above the zip on one piece alone, which is sewn from the zip on, where it has run out at 170 mm."""
    wide = AllowancePart(of=EdgePart("waist", "zip"), start_mm=25, end_mm=25)
    low = joined("low", ["left.cb[mid..hem]"], ["right.cb[mid..hem]"])
    above = {"left.cb": EdgeSpec(along=(wide,))}
    assert found(legs(low, left=VENT, right=VENT, edges=above), "allowance-pairs") == []
    assert found(legs(MIDDLE, left=VENT, right=VENT, edges=above), "allowance-pairs") == [
        ("allowance-pairs", "unequal", "25 .. 10 and 10 mm")
    ]


def test_what_no_seam_takes_of_an_edge_is_told():
    made = legs(MIDDLE, left=VENT, right=VENT)
    ((_, _, told),) = found(made, "seams-named")
    assert "left.cb[hem..vent], left.cb[zip..waist]" in told
    assert "right.cb[waist..zip], right.cb[vent..hem]" in told


def test_an_edge_may_be_in_two_seams_by_parts_that_do_not_overlap():
    upper = joined("upper", ["left.cb[waist..zip]"], ["right.cb[waist..zip]"])
    made = legs(upper, MIDDLE, left=VENT, right=VENT)
    assert found(made, "seam-parts", "cut-counts", "seam-lengths") == []
    longer = joined("upper", ["left.cb[waist..mid]"], ["right.cb[waist..mid]"])
    assert (
        found(legs(longer, MIDDLE, left=VENT, right=VENT), "seam-parts")
        == [("seam-parts", "overlap", "150.0 mm in both")] * 2
    )
    whole = joined("whole", ["left.cb"], ["right.cb"])
    assert [code for _, code, _ in found(legs(whole, MIDDLE, left=VENT, right=VENT), "seam-parts")] == ["overlap"] * 2


def test_one_stretch_in_two_seams_is_sewn_as_layers():
    again = joined("again", ["left.cb[vent..zip]"], ["right.cb[vent..zip]"])
    assert found(legs(MIDDLE, again, left=VENT, right=VENT), "seam-parts") == []


def test_a_part_that_is_turned_round_on_one_side_is_found():
    wrong = joined("cb", ["left.cb[zip..vent]"], ["right.cb[vent..zip]"])
    moved = [("zip", 150), ("mid", 250), ("vent", 450)]
    assert {check for check, _, _ in found(legs(wrong, left=moved, right=moved))} >= {"seam-notches"}


def test_ease_is_a_share_of_the_part():
    gathered = joined(
        "cb", ["left.cb[waist..vent]"], ["right.cb[waist..zip]"], ease=Range(1.5, 2.5, True), notches=False
    )
    assert found(legs(gathered, left=VENT, right=VENT), "seam-lengths") == []


def test_a_side_says_itself_as_it_was_written():
    assert parse_side("front.side [hem .. knee]") == SideEdge("front", "side", part=EdgePart("hem", "knee"))

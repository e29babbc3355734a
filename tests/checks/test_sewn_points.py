"""Gussets, godets, yokes with a corner, corners that are set in: points at which no line runs on across a seam."""

import math

import pytest

from pipeline.checks.garment import Garment
from pipeline.checks.seam_way import directions
from pipeline.checks.side_ends import seam_end
from pipeline.geometry.curves import Path
from pipeline.model.pattern import Range
from tests.checks.outlines import ring, sewn
from tests.checks.skirt import FOLD, geometry, lines, seam

ANGLES = ("seam-angles", "seam-direction", "fold-square")
LOOSE = {"ease": Range(-90, 90, percent=False), "notches": False}


def found(garment: Garment, *checks: str) -> list[tuple[str, str | None, str]]:
    return [(f.check, f.piece or f.where, f.found) for f in geometry(garment) if f.check in (checks or ANGLES)]


def leg(out: float = -40) -> dict[str, Path]:
    """A trouser leg whose crotch ends above a corner that a gusset fills."""
    return ring(waist=(0, 0), side=(100, 0), hem=(100, 300), inseam=(20, 300), gusset=(out, 150), crotch=(-10, 70))


def half_gusset() -> dict[str, Path]:
    """A diamond, half of it drawn on the fold."""
    return ring(centre=(0, 80), front=(0, -80), back=(30, 0))


def gusseted(front: dict[str, Path], back: dict[str, Path]) -> Garment:
    seams = [
        seam("side", ["leg-front.side"], ["leg-back.side"], **LOOSE),
        seam("inseam", ["leg-front.inseam"], ["leg-back.inseam"], **LOOSE),
        seam("centre-front", ["leg-front.crotch"], ["leg-front.crotch"]),
        seam("centre-back", ["leg-back.crotch"], ["leg-back.crotch"]),
        seam("gusset-front", ["gusset.front"], ["leg-front.gusset"]),
        seam("gusset-back", ["gusset.back"], ["leg-back.gusset"]),
    ]
    shapes = {"leg-front": front, "leg-back": back, "gusset": half_gusset()}
    return sewn(shapes, *seams, edges={"gusset.centre": FOLD}, grain=(10, 60, -60))


def at_corners(garment: Garment) -> set[str | None]:
    """The seams of which a corner is told."""
    return {where for _, where, _ in found(garment, "seam-angles")}


def test_a_gusset_fills_the_corner_at_the_end_of_crotch_and_inseam():
    told = found(gusseted(leg(), leg()))
    # the legs are drawn with a sloping crotch and inseam: what is told lies at waist and hem, where lines run on
    assert {where for _, where, _ in told} == {"seams.inseam", "seams.centre-front", "seams.centre-back"}
    assert len(told) == 3


def test_lines_that_run_on_beside_a_gusset_are_still_told():
    """The hem at the inseam and the waist at the centre: the other ends of the seams that end at the gusset."""
    straight = leg() | ring(waist=(-10, 0), side=(100, 0), hem=(100, 300), inseam=(-40, 300), gusset=(-40, 150))
    straight["crotch"] = ring(a=(-10, 70), b=(-10, 0))["a"]
    straight["gusset"] = ring(a=(-40, 150), b=(-10, 70))["a"]
    assert found(gusseted(straight, straight)) == []
    peaked = straight | {"waist": ring(a=(-10, 0), b=(100, 12))["a"], "side": ring(a=(100, 12), b=(100, 300))["a"]}
    assert at_corners(gusseted(peaked, straight)) == {"seams.centre-front", "seams.side"}


def test_neighbours_tell_which_end_of_a_gusset_lies_at_the_crotch():
    garment = gusseted(leg(), leg())
    for name in ("gusset-front", "gusset-back"):
        joined = garment.pattern.seams[name]
        (way,) = directions(garment, joined)
        beside = [{end.beside.name for end in seam_end(garment, joined, way, "M", at_end)} for at_end in (False, True)]
        assert {"centre", "crotch"} in beside


@pytest.mark.parametrize("out", [-40, -60])
def test_the_tip_of_a_gusset_is_a_point_that_is_meant(out):
    """Whether or not it is as wide as the slit that it is let into."""
    assert found(gusseted(leg(out), leg(out)), "fold-square") == []


def yoke_on(yoke_low: float, back_low: float) -> Garment:
    """A yoke on the fold above a back with a centre seam: how much lower each of them is in the middle."""
    yoke = ring(neck=(0, 0), side=(100, 0), lower=(100, 60), cb=(0, 60 + yoke_low))
    back = ring(upper=(0, back_low), side=(100, 0), hem=(100, 200), cb=(0, 200))
    seams = seam("yoke", ["yoke.lower"], ["back.upper"], **LOOSE), seam("cb", ["back.cb"], ["back.cb"])
    return sewn({"yoke": yoke, "back": back}, *seams, edges={"yoke.cb": FOLD}, grain=(40, 50, 10))


def test_a_pointed_yoke_is_meant_where_the_back_below_has_the_same_point():
    assert found(yoke_on(40, 40), "fold-square") == []
    assert found(yoke_on(40, 20), "fold-square") == [("fold-square", "yoke", "68.2 degrees")]


@pytest.mark.parametrize("low_mm", [3, 8, 13])
def test_an_edge_that_is_hardly_off_square_is_told_though_its_partner_is_off_alike(low_mm):
    assert [check for check, *_ in found(yoke_on(low_mm, low_mm), "fold-square")] == ["fold-square"]


def test_a_centre_seam_that_peaks_below_a_yoke_on_the_fold_is_told():
    assert ("seam-angles", "seams.yoke", "185.7 degrees") in found(yoke_on(0, -10), "seam-angles")


def yoke_with_corner(corner_y: float) -> Garment:
    """A yoke whose corner is set into a front, each of its two edges in a seam of its own."""
    yoke = ring(top=(0, 0), side=(120, 0), level=(120, 60), upright=(60, corner_y), foot=(60, 140), cf=(0, 140))
    front = ring(level=(60, 60), side=(120, 60), hem=(120, 200), cf=(0, 200), low=(0, 140), upright=(60, 140))
    pairs = {"level": "level", "upright": "upright", "foot": "low"}
    seams = [seam(one, [f"yoke.{one}"], [f"front.{two}"], **LOOSE) for one, two in pairs.items()]
    return sewn({"yoke": yoke, "front": front}, *seams, grain=(40, 130, 10))


def test_a_corner_that_is_set_in_makes_a_whole_turn_with_the_corner_round_it():
    assert at_corners(yoke_with_corner(60)) == set()
    told = {(where, deg) for _, where, deg in found(yoke_with_corner(66), "seam-angles")}
    assert {("seams.level", "354.3 degrees"), ("seams.upright", "354.3 degrees")} <= told


@pytest.mark.parametrize("half_mm", [12, 30])
def test_an_underarm_gusset_spreads_the_slit_it_is_let_into(half_mm):
    """A slit of 20 mm at its mouth, 100 mm deep: the gusset's tip may be wider than it."""
    body = ring(top=(0, 0), side=(200, 0), hem=(200, 300), mouth=(0, 300), low=(0, 160), high=(100, 150), end=(0, 140))
    gusset = ring(low=(0, half_mm), across=(0, -half_mm), high=(100, 0))
    gusset = {"low": ring(a=(100, 0), b=(0, half_mm))["a"], "across": ring(a=(0, half_mm), b=(0, -half_mm))["a"]}
    gusset["high"] = ring(a=(0, -half_mm), b=(100, 0))["a"]
    seams = seam("low", ["body.low"], ["gusset.low"], **LOOSE), seam("high", ["body.high"], ["gusset.high"], **LOOSE)
    garment = sewn({"body": body, "gusset": gusset}, *seams, grain=(50, 8, -8))
    tips = [text for _, _, text in found(garment, "seam-angles") if float(text.split()[0]) > 300]
    assert tips == []


def test_a_godet_lies_between_two_seams_that_go_on_past_it():
    panel = ring(top=(0, 0), side=(100, 0), low=(100, 120), hem=(100, 220), middle=(0, 220))
    godet = {
        "left": ring(a=(0, 0), b=(30, 95.4))["a"],
        "hem": ring(a=(30, 95.4), b=(-30, 95.4))["a"],
        "right": ring(a=(-30, 95.4), b=(0, 0))["a"],
    }
    seams = [
        seam("side", ["front.side"], ["back.side"]),
        seam("godet-front", ["front.low"], ["godet.left"], **LOOSE),
        seam("godet-back", ["back.low"], ["godet.right"], **LOOSE),
    ]
    garment = sewn({"front": panel, "back": panel, "godet": godet}, *seams, grain=(0, 80, 40))
    assert "seams.side" not in at_corners(garment)
    assert found(garment, "seam-direction") == []


def banded(lean: float) -> Garment:
    """A waistband whose lower edge is drawn as two edges in one line, each sewn to a panel in a seam of its own."""
    band = ring(upper=(0, 0), end=(200, 0), lower_back=(200, 40), lower_front=(100, 40), start=(0, 40))
    panel = ring(waist=(0, 0), side=(100, lean), hem=(100, 200), middle=(0, 200))
    seams = [
        seam("side", ["front.side"], ["back.side"]),
        seam("waist-front", ["front.waist"], ["band.lower_front"], **LOOSE),
        seam("waist-back", ["back.waist"], ["band.lower_back"], **LOOSE),
    ]
    return sewn({"front": panel, "back": panel, "band": band}, *seams, grain=(40, 35, 5))


def test_a_third_piece_that_runs_straight_past_a_seam_fills_no_corner():
    assert "seams.side" not in at_corners(banded(0))
    assert "seams.side" in at_corners(banded(12))


def bag(low: float) -> dict[str, Path]:
    return ring(mouth=(0, 0), side=(100, 0), foot=(100, 100), left=(0, low))


def test_two_layers_that_are_sewn_round_a_corner_have_it_alike():
    """As a pocket's facing and its bag do, each edge in a seam of its own."""
    seams = [seam(name, [f"facing.{name}"], [f"bag.{name}"], **LOOSE) for name in ("side", "foot", "left")]
    assert at_corners(sewn({"facing": bag(150), "bag": bag(150)}, *seams)) == set()
    assert "seams.foot" in at_corners(sewn({"facing": bag(150), "bag": bag(130)}, *seams))


def test_sleeves_cut_on_with_seams_above_and_below_have_equal_corners_but_hems_that_run_on():
    def half(flare: float) -> dict[str, Path]:
        return ring(
            neck=(0, 0), shoulder=(60, 0), over=(150, 20), wrist=(330, 120),
            under=(300, 174), side=(160, 96.2), hem=(160 + flare, 400), middle=(0, 400),
        )  # fmt: skip

    seams = [seam(name, [f"front.{name}"], [f"back.{name}"]) for name in ("shoulder", "over", "under", "side")]
    told = found(sewn({"front": half(0), "back": half(0)}, *seams), "seam-angles")
    assert [where for _, where, deg in told if where in ("seams.side", "seams.under")] == []
    assert "seams.side" in at_corners(sewn({"front": half(60), "back": half(60)}, *seams))


def fork(front_deg: float, back_deg: float) -> set[str | None]:
    """Trousers of two fronts and two backs that meet at one point, each with its corner there; inseams run down."""
    shapes = {}
    for name, deg in (("front", front_deg), ("back", back_deg)):
        corner = (0, 100 - 30 / math.tan(math.radians(deg)))
        shapes[name] = ring(waist=(60, 0), side=(160, 0), hem=(160, 300), inseam=(0, 300), rise=corner)
        shapes[name]["rise"] = lines(corner, (30, 100), (60, 100), (60, 0))
    seams = [
        seam("inseam", ["front.inseam"], ["back.inseam"], **LOOSE),
        seam("rise-front", ["front.rise"], ["front.rise"]),
        seam("rise-back", ["back.rise"], ["back.rise"]),
    ]
    told = at_corners(sewn(shapes, *seams, grain=(80, 260, 60)))
    return {where for where in told if where in ("seams.rise-front", "seams.rise-back")}


def test_the_four_corners_of_a_crotch_fork_close_together():
    """172 degrees of the two fronts and 188 of the two backs lie flat round the point."""
    assert fork(90, 90) == fork(86, 94) == set()
    assert fork(86, 88) == {"seams.rise-front", "seams.rise-back"}

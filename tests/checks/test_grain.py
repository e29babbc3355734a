"""The grain in the piece, along the fold, and alike in all sizes."""

import pytest

from pipeline.checks.all import check_garment
from pipeline.geometry.points import Point
from pipeline.model.pieces import GrainLine
from tests.checks.skirt import PATTERN, SIZES, codes, garment, one, replace, told
from tests.checks.skirt_faults import grain_turned, in_all


def grain(*ends):
    return lambda piece: replace(piece, grain=GrainLine(Point(*ends[0]), Point(*ends[1])))


@pytest.mark.parametrize("degrees", [3, -3, 90, 180])
@pytest.mark.parametrize("size", SIZES)
def test_a_grain_that_is_turned_in_one_size_blocks(degrees, size):
    finding = one("grain-sizes", {("band", size): grain_turned(degrees)})
    assert (finding.code, finding.piece, finding.size, finding.severity) == ("turned", "band", size, "block")


def test_of_two_sizes_the_one_that_is_not_upright_is_told():
    pattern = replace(PATTERN, sizes=("S", "M"))
    assert one("grain-sizes", {("band", "S"): grain_turned(3)}, pattern).size == "S"


@pytest.mark.parametrize(
    ("degrees", "found"), [(0.4, set()), (3, {"not-parallel"}), (-3, {"not-parallel"}), (90, {"not-parallel"})]
)
def test_a_grain_in_all_sizes_off_the_fold_blocks(degrees, found):
    findings = told(in_all("front", grain_turned(degrees)))
    assert {f.code for f in findings if f.check == "grain-fold"} == found
    assert {f.severity for f in findings if f.check == "grain-fold"} <= {"block"}


def test_a_bias_cut_on_the_fold_can_be_meant():
    findings = [f for f in told(in_all("front", grain_turned(45))) if f.check == "grain-fold"]
    assert {(f.code, f.severity) for f in findings} == {("bias-to-fold", "warn")}
    assert {f.message for f in findings} == {"the grain lies at 45.0 degrees to the fold"}


@pytest.mark.parametrize(("degrees", "found"), [(0.1, 0), (3, 1), (48, 1), (87, 1), (20, 0), (45, 0), (90, 0)])
def test_a_grain_that_is_nearly_even_in_all_sizes_warns(degrees, found):
    findings = [f for f in told(in_all("pocket", grain_turned(degrees))) if f.check == "grain-upright"]
    assert [f.severity for f in findings] == ["warn"] * found


def test_a_grain_outside_its_piece_blocks():
    finding = one("grain-inside", {("front", "M"): grain((50, 400), (50, -5))})
    assert (finding.code, finding.severity) == ("outside", "block")
    assert finding.found.startswith("5.0 mm outside")


def test_a_piece_on_the_fold_may_have_its_grain_in_either_half():
    assert not codes(told(in_all("front", grain((-50, 400), (-50, 200)))))


def test_a_very_short_grain_warns():
    finding = one("grain-inside", {("front", "M"): grain((50, 210), (50, 200))})
    assert (finding.code, finding.severity, finding.found) == ("short", "warn", "10.0 mm")


def test_a_grain_that_is_not_drawn_is_told_by_the_reading_alone():
    def page_s(piece):
        return replace(piece, grain=GrainLine(Point(-400, 9), Point(-400, 0), drawn=False))

    assert told({("front", "M"): page_s}) == []


@pytest.mark.parametrize(("nap", "found"), [("none", set()), ("one-way", {"no-top"}), ("either", set())])
def test_a_level_grain_matters_where_the_cloth_has_a_direction(nap, found):
    materials = {name: replace(cloth, nap=nap) for name, cloth in PATTERN.materials.items()}

    def told_of_pocket(faults):
        findings = check_garment(garment(faults, replace(PATTERN, materials=materials)))
        return {f.code for f in findings if (f.check, f.piece) == ("grain-nap", "pocket")}

    assert told_of_pocket(in_all("pocket", grain_turned(90))) == found
    assert told_of_pocket({}) == set()

"""Limits, tried just inside and just outside their value."""

import math

import pytest

from pipeline.checks.notch_match import part_band, whole_band
from pipeline.model.pattern import Range
from pipeline.model.piece_specs import EdgeSpec
from tests.checks.skirt import PATTERN, garment, geometry, replace, seam, told
from tests.checks.skirt_faults import grain_turned, in_all
from tests.checks.test_hems import panel


@pytest.mark.parametrize(("off_mm", "found"), [(1.98, 0), (2.02, 1), (-1.98, 0), (-2.02, 1)])
def test_a_turned_hem_may_end_2_mm_off(off_mm, found):
    """A hem of 40 mm on sides that taper by t ends 40 sin 2t off: twice its depth times tan t, at right angles."""
    pattern, piece = panel(math.degrees(math.asin(off_mm / 40) / 2), EdgeSpec(allowance_mm=40.0, hem=True))
    subject = garment(pattern=pattern)
    subject.cuts["front"] = {"S": piece}
    assert len([f for f in geometry(subject) if f.check == "hem-turned"]) == found


@pytest.mark.parametrize("sign", [1, -1])
@pytest.mark.parametrize(("degrees", "codes"), [(0.49, set()), (0.51, {"not-parallel"})])
def test_a_grain_may_lie_half_a_degree_off_the_fold(degrees, codes, sign):
    found = [f for f in told(in_all("front", grain_turned(sign * degrees))) if f.check == "grain-fold"]
    assert {f.code for f in found} == codes


@pytest.mark.parametrize(
    ("degrees", "code"),
    [(44.51, "bias-to-fold"), (45.49, "bias-to-fold"), (44.49, "not-parallel"), (45.51, "not-parallel")],
)
def test_a_bias_on_the_fold_may_be_half_a_degree_off(degrees, code):
    found = [f for f in told(in_all("front", grain_turned(degrees))) if f.check == "grain-fold"]
    assert {f.code for f in found} == {code}


@pytest.mark.parametrize(("degrees", "found"), [(0.99, 0), (1.01, 1)])
def test_a_grain_of_one_size_may_be_turned_by_a_degree(degrees, found):
    pattern = replace(PATTERN, sizes=("S", "M"))
    told_of = [f for f in told({("band", "M"): grain_turned(degrees)}, pattern) if f.check == "grain-sizes"]
    assert len(told_of) == found


@pytest.mark.parametrize(("degrees", "found"), [(0.19, 0), (0.21, 1), (7.99, 1), (8.01, 0)])
def test_a_grain_is_nearly_even_from_a_fifth_of_a_degree_to_eight(degrees, found):
    told_of = [f for f in told(in_all("pocket", grain_turned(degrees))) if f.check == "grain-upright"]
    assert len(told_of) == found


EASED = replace(seam("side", ["front.side"], ["back.side"]), ease=Range(2.0, 5.0), tolerance_mm=0.5)


@pytest.mark.parametrize(
    ("difference_mm", "whole", "part"),
    [
        (1.51, 0, 0),
        (1.49, -0.01, 0),
        (5.49, 0, 0),
        (5.51, 0.01, 0.01),
        (-0.49, -1.99, 0),
        (-0.51, -2.01, -0.01),
    ],
)
def test_a_band_is_the_ease_and_one_tolerance(difference_mm, whole, part):
    assert whole_band(EASED, 500).misses_mm(difference_mm) == pytest.approx(whole)
    assert part_band(EASED, 500).misses_mm(difference_mm) == pytest.approx(part)

"""Body, finished measure and ease add up as they are told, and ease is true to one step."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pipeline.model.lengths import MM_PER_INCH
from pipeline.model.pattern import BodyMeasure, Units
from pipeline.tables.sizes import Ease, SizeRow, ease_of, size_rows
from tests.booklet.sample import finished, model

HALF_CM_MM, EIGHTH_MM = 5.0, MM_PER_INCH / 8


def told(body_mm: float, ease_mm: float, units: Units = "metric") -> tuple[SizeRow, SizeRow, Ease]:
    """A body measure and what the garment has there, as the tables tell both, and the ease."""
    arm = BodyMeasure(name="arm", title={"en": "Arm"}, sizes_mm={"S": body_mm})
    made = model(body={"arm": arm}, finished={"arm": finished("arm", f"body.arm + {ease_mm} mm")}, units=units)
    body, worn = (row for row in size_rows(made.pattern, {}) if row.size == "S")
    return body, worn, ease_of(body, worn, units)


def inches(text: str) -> Fraction:
    sign = -1 if text.startswith("-") else 1
    return sign * sum(Fraction(part) for part in text.strip("-").removesuffix(" in").split())


WHOLE_MM = st.integers(300, 1500).map(float)
HALF_CMS = st.integers(60, 300).map(lambda halves: halves * HALF_CM_MM)
INCHES = st.integers(12 * 8, 60 * 8).map(lambda eighths: eighths * EIGHTH_MM)
EASE_MM = st.integers(0, 400).map(float)
UNITS = st.sampled_from(["metric", "imperial"])


@given(body_mm=st.one_of(HALF_CMS, INCHES), ease_mm=EASE_MM)
def test_what_a_metric_pattern_tells_in_centimetres_adds_up(body_mm, ease_mm):
    body, worn, ease = told(body_mm, ease_mm)
    shown_cm = float(ease.metric.removesuffix(" cm"))
    if (body.told_cm * 2).is_integer():
        assert body.told_cm + shown_cm == pytest.approx(worn.told_cm, abs=1e-9)
    assert abs(10 * shown_cm - ease_mm) <= HALF_CM_MM + 0.1


@given(body_mm=st.one_of(WHOLE_MM, HALF_CMS, INCHES), ease_mm=EASE_MM)
def test_what_an_imperial_pattern_tells_in_inches_adds_up(body_mm, ease_mm):
    body, worn, ease = told(body_mm, ease_mm, "imperial")
    if (body.told_inches * 8).denominator == 1:
        assert body.told_inches + inches(ease.imperial) == worn.told_inches
    assert abs(float(inches(ease.imperial)) * MM_PER_INCH - ease_mm) <= EIGHTH_MM + 0.1


@given(body_mm=st.one_of(WHOLE_MM, HALF_CMS, INCHES), ease_mm=EASE_MM, units=UNITS)
def test_the_other_system_tells_the_same_ease(body_mm, ease_mm, units):
    """To the nearest step of that system, so that sizes with one ease are one row of the table."""
    _, _, ease = told(body_mm, ease_mm, units)
    metric_mm = 10 * float(ease.metric.removesuffix(" cm"))
    imperial_mm = float(inches(ease.imperial)) * MM_PER_INCH
    assert abs(metric_mm - imperial_mm) <= (EIGHTH_MM if units == "metric" else HALF_CM_MM) / 2 + 1e-6


@given(body_mm=st.one_of(WHOLE_MM, HALF_CMS, INCHES), ease_mm=EASE_MM, units=UNITS)
def test_a_garment_that_is_as_large_as_the_body_or_larger_is_never_told_with_a_minus(body_mm, ease_mm, units):
    assert not told(body_mm, ease_mm, units)[2].less


def test_one_ease_is_told_alike_in_all_sizes():
    """88 and 98 cm are 34 5/8 and 38 5/8 in, 92 and 102 cm 36 1/4 and 40 1/8 in: 10 cm are 3 7/8 in in every size."""
    assert {told(body_mm, 100.0)[2] for body_mm in (880.0, 920.0, 960.0, 1000.0)} == {Ease("10 cm", "3 7/8 in")}

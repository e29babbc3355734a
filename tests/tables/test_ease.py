"""Body, finished measure and ease add up as they are told, and ease is true to one step."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pipeline.model.lengths import MM_PER_INCH
from pipeline.model.pattern import BodyMeasure
from pipeline.tables.sizes import Ease, SizeRow, ease_of, size_rows
from tests.booklet.sample import finished, model

HALF_CM_MM, EIGHTH_MM = 5.0, MM_PER_INCH / 8


def told(body_mm: float, ease_mm: float) -> tuple[SizeRow, SizeRow, Ease]:
    """A body measure and what the garment has there, as the tables tell both, and the ease."""
    arm = BodyMeasure(name="arm", title={"en": "Arm"}, sizes_mm={"S": body_mm})
    made = model(body={"arm": arm}, finished={"arm": finished("arm", f"body.arm + {ease_mm} mm")})
    body, worn = (row for row in size_rows(made.pattern, {}) if row.size == "S")
    return body, worn, ease_of(body, worn)


def inches(text: str) -> Fraction:
    sign = -1 if text.startswith("-") else 1
    return sign * sum(Fraction(part) for part in text.strip("-").removesuffix(" in").split())


WHOLE_MM = st.integers(300, 1500).map(float)
HALF_CMS = st.integers(60, 300).map(lambda halves: halves * HALF_CM_MM)
INCHES = st.integers(12 * 8, 60 * 8).map(lambda eighths: eighths * EIGHTH_MM)
EASE_MM = st.integers(0, 400).map(float)


@given(body_mm=st.one_of(HALF_CMS, INCHES), ease_mm=EASE_MM)
def test_what_is_told_in_centimetres_adds_up(body_mm, ease_mm):
    body, worn, ease = told(body_mm, ease_mm)
    shown_cm = float(ease.metric.removesuffix(" cm"))
    if (body.told_cm * 2).is_integer():
        assert body.told_cm + shown_cm == pytest.approx(worn.told_cm, abs=1e-9)
    assert abs(10 * shown_cm - ease_mm) <= HALF_CM_MM + 0.1


@given(body_mm=st.one_of(WHOLE_MM, HALF_CMS, INCHES), ease_mm=EASE_MM)
def test_what_is_told_in_inches_adds_up(body_mm, ease_mm):
    body, worn, ease = told(body_mm, ease_mm)
    if (body.told_inches * 8).denominator == 1:
        assert body.told_inches + inches(ease.imperial) == worn.told_inches
    assert abs(float(inches(ease.imperial)) * MM_PER_INCH - ease_mm) <= EIGHTH_MM + 0.1


@given(body_mm=st.one_of(WHOLE_MM, HALF_CMS, INCHES), ease_mm=EASE_MM)
def test_a_garment_that_is_as_large_as_the_body_or_larger_is_never_told_with_a_minus(body_mm, ease_mm):
    assert not told(body_mm, ease_mm)[2].less


def test_ease_in_inches_is_that_of_the_numbers_beside_it():
    """88 cm are 34 5/8 in, and 98 cm are 38 5/8 in: 4 in, though 10 cm alone are nearer 3 7/8 in."""
    body, worn, ease = told(880.0, 100.0)
    assert (body.imperial, worn.imperial, ease.imperial) == ("34 5/8 in", "38 5/8 in", "4 in")
    assert (body.metric, worn.metric, ease.metric) == ("88 cm", "98 cm", "10 cm")

"""Lengths: written with a unit, kept in millimetres, printed in both systems.

One inch is 25.4 mm and one yard 0.9144 m, exactly (Federal Register, 1 July 1959, "Refinement of Values for the Yard
and the Pound"). Labels are to the nearest 1/16 in, common practice.
"""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pipeline.model.lengths import (
    LENGTH_PATTERN,
    MM_PER_INCH,
    both_units,
    imperial_text,
    least_cm_text,
    least_inches_text,
    metric_text,
    mixed_fraction,
    parse_length,
)

WRITTEN = {
    "1 cm": 10,
    "6 mm": 6,
    "1.5 m": 1500,
    "0.5cm": 5,
    " 2 in ": 50.8,
    "1 yd": 914.4,
    "5/8 in": 15.875,  # 5/8 in = 15.875 mm, 3/8 = 9.525, 1/4 = 6.35 (calc)
    "3/8 in": 9.525,
    "1/4 in": 6.35,
    "1 1/2 in": 38.1,
    "-20 mm": -20,
    "-1/8 in": -3.175,
}


@pytest.mark.parametrize("text", WRITTEN)
def test_a_length_is_a_number_and_a_unit(text):
    assert parse_length(text) == pytest.approx(WRITTEN[text], abs=1e-12)
    assert re.match(LENGTH_PATTERN, text)


@pytest.mark.parametrize(
    "text",
    [
        *("", "1", "cm", "1,5 cm", "1 km", "1 cm 2", "1/0 in", "1 /2 in", "1.5 1/2 in", "one cm", "1e3 mm", "+1 cm"),
        *("\u0661\u0660 mm", "\uff11\uff10 mm", "\u0967 cm"),  # digits of other scripts
        *("nan mm", "inf mm", ".5 cm", "1. cm", "1 CM", '1 "', "½ in", "--1 cm", "1 cm + 2 cm"),
    ],
)
def test_anything_else_is_refused_and_the_right_form_is_shown(text):
    with pytest.raises(ValueError, match=r"is not a length with its unit|divides by zero"):
        parse_length(text)
    assert not re.match(LENGTH_PATTERN, text)


@given(st.integers(0, 9999), st.sampled_from([2, 4, 8, 16]), st.integers(1, 15))
def test_every_sixteenth_of_an_inch_is_printed_as_it_was_written(whole, denominator, part):
    """The label is derived from the millimetres, and reads back to them."""
    length_mm = (whole + part % denominator / denominator) * MM_PER_INCH
    assert parse_length(imperial_text(length_mm)) == pytest.approx(length_mm, abs=1e-9)


@given(st.floats(0, 50_000))
def test_an_imperial_label_is_no_more_than_a_32nd_of_an_inch_off(length_mm):
    assert abs(parse_length(imperial_text(length_mm)) - length_mm) <= MM_PER_INCH / 32 + 1e-9


@given(st.floats(0, 50_000))
def test_a_metric_label_is_no_more_than_half_its_last_digit_off(length_mm):
    shown = metric_text(length_mm)
    half = {"mm": 0.05, "cm": 0.5, "m": 5.0}[shown.split()[1]]
    assert abs(parse_length(shown) - length_mm) <= half + 1e-9


@pytest.mark.parametrize(
    ("length_mm", "metric", "imperial"),
    [
        (6, "6 mm", "1/4 in"),
        (10, "1 cm", "3/8 in"),
        (15, "1.5 cm", "9/16 in"),
        (15.875, "1.6 cm", "5/8 in"),
        (40, "4 cm", "1 9/16 in"),
        (1750, "1.75 m", "68 7/8 in"),
        (0, "0 mm", "0 in"),
        (-20, "-2 cm", "-13/16 in"),
    ],
)
def test_both_labels_come_from_the_same_millimetres(length_mm, metric, imperial):
    assert both_units(length_mm, "metric") == f"{metric} ({imperial})"
    assert both_units(length_mm, "imperial") == f"{imperial} ({metric})"


@pytest.mark.parametrize(
    ("number", "denominator", "text"),
    [(1.875, 8, "1 7/8"), (0.5, 8, "1/2"), (2, 8, "2"), (0.999, 8, "1"), (-0.01, 8, "0"), (-1.25, 4, "-1 1/4")],
)
def test_a_mixed_fraction_is_reduced(number, denominator, text):
    assert mixed_fraction(number, denominator) == text


@given(st.floats(min_value=100, max_value=4000))
def test_a_width_that_is_needed_is_never_told_narrower_than_it_is(width_mm: float) -> None:
    for told, step_mm in ((least_inches_text(width_mm), MM_PER_INCH / 4), (least_cm_text(width_mm), 10.0)):
        assert -0.1 - 1e-6 <= parse_length(told) - width_mm < step_mm


def test_the_widths_of_cloths_that_shops_sell() -> None:
    assert [least_inches_text(width) for width in (900, 1100, 1400, 1500)] == [
        "35 1/2 in",
        "43 1/2 in",
        "55 1/4 in",
        "59 1/4 in",
    ]
    assert [least_cm_text(inches * MM_PER_INCH) for inches in (36, 45, 60)] == ["92 cm", "115 cm", "153 cm"]

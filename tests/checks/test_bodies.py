"""Body measures over the sizes."""

import pytest

from pipeline.model.pattern import BodyMeasure
from tests.checks.skirt import PATTERN, SIZES, replace, told


def found(*values_mm: float, bands: tuple[str, ...] = ()) -> list[tuple[str, str, str | None, str | None]]:
    measure = BodyMeasure(name="hip", title={"en": "Hip"}, sizes_mm=dict(zip(SIZES, values_mm, strict=True)))
    pattern = replace(PATTERN, body={"hip": measure}, bands=bands)
    return [(f.code, f.severity, f.size, f.where) for f in told(pattern=pattern) if f.check == "body-steps"]


def test_even_steps_pass():
    assert found(860, 900, 940, 980, 1020) == []


@pytest.mark.parametrize("index", range(len(SIZES)))
@pytest.mark.parametrize("by_mm", [10, -100])
def test_a_wrong_digit_in_one_size_warns_and_names_it(index: int, by_mm: float):
    values = [860.0, 900.0, 940.0, 980.0, 1020.0]
    values[index] += by_mm
    assert found(*values) == [("off", "warn", SIZES[index], "body.hip")]


def test_a_larger_step_is_told_unless_a_band_ends_there():
    assert [code for code, *_ in found(860, 900, 940, 1000, 1060)] == ["step"]
    assert found(860, 900, 940, 1000, 1060, bands=("L",)) == []


def test_an_eighth_of_an_inch_is_let_be():
    assert found(860, 900, 940, 983, 1026) == []


def test_values_typed_in_half_centimetres_may_step_by_one_and_those_typed_in_whole_ones_may_not():
    assert found(860, 900, 940, 985, 1030) == []
    assert [code for code, *_ in found(860, 900, 940, 990, 1040)] == ["step"]

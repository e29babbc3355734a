"""Second differences over the sizes, calibrated on a published table."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pipeline.checks.smooth import STEP_ALLOWED, STEP_LIMIT_MM, bands, breaks, off_line, triples

SIZES = ("00", "0", "2", "4", "6", "8", "10", "12", "14", "16", "18", "20")
# ASTM D5585-11e1, misses, inches, sizes 00 0 2 … 20 (twelve values, read on the standard's public page). Bust.
BUST_IN = (31.125, 31.75, 33, 34.125, 35.25, 36.25, 37.25, 38.75, 40.375, 42.125, 44, 46)


def flagged(row, ends=()):
    return {SIZES[k - 1 : k + 2] for k in triples(SIZES, ends) if breaks([(x,) for x in row[k - 1 : k + 2]], (1,))}


def test_the_bust_row_of_astm_d5585_is_flagged_where_its_bands_meet_and_nowhere_else():
    """Smoothness of a measure over the sizes: second difference at most 1/8 in inside one grade band (cp)."""
    row = [inch * 25.4 for inch in BUST_IN]
    assert flagged(row) == {("00", "0", "2"), ("8", "10", "12")}
    assert flagged(row, ("0", "10")) == set()
    assert {item.index for item in breaks([(x,) for x in row], triples(SIZES, ()))} <= {0, 1, 6}


def test_an_eighth_of_an_inch_is_let_be_and_a_quarter_is_not():
    assert not breaks([(0.0,), (0.0,), (25.4 / 8,)], (1,))
    assert breaks([(0.0,), (0.0,), (25.4 / 4,)], (1,))


@given(
    st.integers(4, 12), st.floats(-5, 30), st.floats(-0.3, 0.3), st.data(), st.floats(3.5, 40), st.sampled_from([-1, 1])
)
def test_one_size_that_is_off_is_found_by_its_place_and_amount(count, step, bend, data, off, sign):
    index = data.draw(st.integers(0, count - 1))
    row = [(100 + step * i + bend * i * i / 2,) for i in range(count)]
    assert breaks(row, range(1, count - 1)) == []
    row[index] = (row[index][0] + sign * off,)
    found = breaks(row, range(1, count - 1))
    if count == 4 and off < 8:
        return  # two second differences do not tell the four sizes apart once a bend is mixed in
    assert [item.index for item in found] == [index]
    assert found[0].alone
    assert found[0].off_mm == pytest.approx(off, abs=2 * abs(bend) + 1e-6)


def test_a_band_may_begin_with_another_step():
    row = [(x,) for x in (0.0, 10, 20, 30, 45, 60, 75)]
    assert breaks(row, triples(SIZES[:7], ("4",))) == []
    assert [(item.index, item.alone) for item in breaks(row, triples(SIZES[:7], ()))] == [(3, False)]


def test_bands_share_the_size_where_they_meet():
    assert bands(SIZES[:6], ("2",)) == [(0, 2), (2, 5)]
    assert bands(SIZES[:6], ()) == [(0, 5)]


def test_a_last_size_is_held_against_the_line_of_the_two_beside_it():
    assert off_line([0, 10, 25], 2) == pytest.approx(5)
    assert off_line([0, 12, 20], 1) == pytest.approx(2)
    assert off_line([0, 12], 1) == 0
    assert pytest.approx(3.175) == STEP_LIMIT_MM


def test_what_is_found_is_what_is_compared_and_rounded_once():
    assert breaks([(0.0,), (0.0,), (3.175,)], (1,)) == []
    (step,) = breaks([(0.0,), (0.0,), (3.18,)], (1,))
    assert (step.found, STEP_ALLOWED) == ("a second difference of 3.18 mm", "a second difference of up to 3.17 mm")
    (off,) = breaks([(x,) for x in (0.0, 10, 20, 32.4, 40, 50)], range(1, 5))
    assert off.found == "a second difference of 4.80 mm, which 2.40 mm at this size explain"

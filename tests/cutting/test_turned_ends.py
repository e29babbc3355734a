"""The mirror image of a piece about its hem: where there is one, and where there is none."""

import math

import numpy as np
import pytest

from pipeline.cutting.turned import mirrored_end, smoothed
from pipeline.model.turns import turns_of

HEM = np.array([(200.0, 300.0), (0.0, 300.0)])
"""A hem 200 mm long, walked leftward: the piece lies above it, and 40 mm of hem below."""
DEPTH = 40.0
TURNS = turns_of((), DEPTH)


def tapered(degrees: float) -> np.ndarray:
    """The piece without its hem, walked clockwise: its side at the end leans inward (above 0) or outward upward."""
    lean = 300 * math.tan(math.radians(degrees))
    return np.array([(lean, 0.0), (200.0, 0.0), (200.0, 300.0), (0.0, 300.0)])


@pytest.mark.parametrize("degrees", [10, 0, -10])
def test_the_end_of_a_hem_mirrors_the_side_beside_it(degrees):
    found = mirrored_end(HEM, tapered(degrees), np.array((0.0, 300.0)), True, TURNS)
    assert found is not None
    end, inner = found
    assert end[0] == pytest.approx((0, 300))
    assert end[-1] == pytest.approx((DEPTH * math.tan(math.radians(degrees)), 300 + DEPTH))
    assert np.hypot(*(inner - end[0])) == pytest.approx(1)
    assert inner[1] < 300


def test_there_is_none_where_the_piece_does_not_meet_the_hems_line_there():
    assert mirrored_end(HEM, tapered(0), np.array((0.0, 300.06)), True, TURNS) is None
    assert mirrored_end(HEM, tapered(0), np.array((0.0, 300.04)), True, TURNS) is not None


@pytest.mark.parametrize(("below_mm", "found"), [(0.04, True), (0.06, False)])
def test_there_is_none_where_the_piece_first_runs_out_below_the_hems_line(below_mm, found):
    side = np.array([(-40.0, 0.0), (200.0, 0.0), (200.0, 300.0), (0.0, 300.0), (-20.0, 300.0 + below_mm)])
    assert (mirrored_end(HEM, side, np.array((0.0, 300.0)), True, TURNS) is not None) == found


@pytest.mark.parametrize(("high_mm", "found"), [(41, True), (39, False)])
def test_there_is_none_where_the_piece_is_less_deep_than_its_hem(high_mm, found):
    low = np.array([(0.0, 300.0 - high_mm), (200.0, 300.0 - high_mm), (200.0, 300.0), (0.0, 300.0)])
    assert (mirrored_end(HEM, low, np.array((0.0, 300.0)), True, TURNS) is not None) == found


@pytest.mark.parametrize("count", [2, 3])
def test_a_run_of_one_or_two_chords_has_no_curve_to_refine(count):
    points = np.array([(0.0, 0.0), (10.0, 1.0), (20.0, 5.0)])[:count]
    assert np.array_equal(smoothed(points), points)

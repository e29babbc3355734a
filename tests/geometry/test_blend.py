"""A guide between two lines: by closed formulas on straight ones, by what holds of any on curves."""

import math

import numpy as np
import pytest
import shapely
from hypothesis import assume, given
from hypothesis import strategies as st

from pipeline.geometry.blend import blended
from pipeline.geometry.chains import arc_lengths, coordinates, turn_rad, turns_rad
from pipeline.geometry.curves import Cubic, flattened
from pipeline.geometry.points import Point

GRADED = st.floats(-4, 4)
CONTROLS = st.tuples(st.floats(-60, 60), st.floats(50, 150), st.floats(-60, 60), st.floats(250, 350))


def upright(x: float, length: float = 400.0) -> np.ndarray:
    return np.array([(x, 0.0), (x, length)])


def curve(x: float, controls: tuple[float, float, float, float]) -> np.ndarray:
    """A line down the page, 400 mm high, whose bends are the controls'."""
    ax, ay, bx, by = controls
    return coordinates(flattened((Cubic(Point(x, 0), Point(x + ax, ay), Point(x + bx, by), Point(x, 400)),)))


@pytest.mark.parametrize("gap", [1.0, 10.0, 40.0])
def test_between_two_parallel_lines_it_is_the_cubic_that_is_level_at_both_ends(gap: float) -> None:
    guide = blended(upright(0), upright(gap))
    share = guide[:, 1] / 400
    assert guide[:, 0] == pytest.approx(gap * (3 * share**2 - 2 * share**3), abs=1e-9)
    assert guide[0].tolist() == [0, 0]
    assert guide[-1].tolist() == [gap, 400]
    middle = shapely.LineString(guide).intersection(shapely.LineString([(-1, 200), (gap + 1, 200)]))
    assert middle.x == pytest.approx(gap / 2, abs=1e-6)


def test_its_length_between_parallel_lines_is_that_of_the_cubic() -> None:
    """∫ √(L² + (6 g s (1 - s))²) ds, by Simpson's rule."""
    gap, length, steps = 40.0, 400.0, 2000
    shares = np.linspace(0, 1, steps + 1)
    speed = np.hypot(length, 6 * gap * shares * (1 - shares))
    weights = np.where(np.arange(steps + 1) % 2, 4, 2).astype(float)
    weights[[0, -1]] = 1
    assert arc_lengths(blended(upright(0), upright(gap)))[-1] == pytest.approx(
        float(weights @ speed) / steps / 3, abs=1e-3
    )


def test_between_a_line_and_one_that_leans_away_it_begins_and_ends_on_each() -> None:
    guide = blended(upright(0), np.array([(10.0, 0.0), (50.0, 300.0)]))
    assert guide[0].tolist() == [0, 0]
    assert guide[-1].tolist() == [50, 300]
    assert math.degrees(turn_rad(guide[-1] - guide[-2], np.array((40.0, 300.0)))) == pytest.approx(0, abs=0.5)


@given(CONTROLS, st.tuples(GRADED, GRADED, GRADED, GRADED), st.floats(5, 40))
def test_between_curves_it_stays_between_both_and_meets_them_within_a_degree(controls, graded, gap) -> None:
    """The second curve is the first one graded: beside it, its bends moved by some millimetres."""
    first = curve(0, controls)
    second = curve(gap, tuple(a + b for a, b in zip(controls, graded, strict=True)))
    between = shapely.Polygon([*first.tolist(), *second[::-1].tolist()])
    assume(between.is_valid)  # sizes whose lines cross have nothing between them
    guide = blended(first, second)
    assert between.buffer(0.05).covers(shapely.LineString(guide))
    assert np.hypot(*(guide[0] - first[0])) < 0.05
    assert np.hypot(*(guide[-1] - second[-1])) < 0.05
    assert abs(math.degrees(turn_rad(guide[1] - guide[0], first[1] - first[0]))) < 1
    assert abs(math.degrees(turn_rad(guide[-1] - guide[-2], second[-1] - second[-2]))) < 1
    turns = np.degrees(turns_rad(np.diff(guide, axis=0)[:-1], np.diff(guide, axis=0)[1:]))
    assert np.abs(turns).max() < 5, "it has no corner"


@given(CONTROLS, st.floats(1, 60))
def test_the_two_ways_take_of_each_line_what_the_other_leaves(controls, gap) -> None:
    """Between a curve and its copy beside it they lie as far on either side of the line in the middle."""
    first = curve(0, controls)
    beside, between = first + np.array((gap, 0.0)), first + np.array((gap / 2, 0.0))
    middle = (blended(first, beside) + blended(beside, first)) / 2
    assert np.allclose(middle, blended(between, between), atol=1e-9)


def test_a_line_blended_into_itself_is_itself() -> None:
    line = curve(0, (20, 100, -30, 300))
    assert shapely.LineString(blended(line, line)).hausdorff_distance(shapely.LineString(line)) < 1e-6

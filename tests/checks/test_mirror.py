"""Outlines that are their own mirror image, however they lie."""

import math

import pytest
import shapely
from hypothesis import assume, given
from hypothesis import strategies as st
from shapely import affinity

from pipeline.checks.mirror import is_symmetric

ANGLES = st.floats(0, 360)
HALVES = st.lists(st.tuples(st.floats(20, 200), st.floats(0.2, 1.0)), min_size=2, max_size=6)


def whole(halves: list[tuple[float, float]], turned_deg: float, moved_mm: float) -> shapely.Polygon:
    """Points at growing angles on one side of an upright axis, and their images; then turned and moved."""
    step = math.pi / (len(halves) + 1)
    right = [(r * q * math.sin(step * (k + 1)), -r * math.cos(step * (k + 1))) for k, (r, q) in enumerate(halves)]
    shape = shapely.Polygon([*right, *((-x, y) for x, y in reversed(right))])
    return affinity.translate(affinity.rotate(shape, turned_deg, origin=(0, 0)), moved_mm, -2 * moved_mm)


@given(HALVES, ANGLES, st.floats(-500, 500))
def test_it_is_seen_at_every_angle_and_place(halves, turned_deg, moved_mm):
    shape = whole(halves, turned_deg, moved_mm)
    assume(shape.is_valid and shape.area > 500)
    assert is_symmetric(tuple(shape.exterior.coords[:-1]))


@pytest.mark.parametrize("turned_deg", [0, 17, 45, 90, 133, 271])
def test_a_slanted_figure_is_none(turned_deg):
    slanted = affinity.rotate(shapely.Polygon([(0, 0), (100, 0), (130, 60), (30, 60)]), turned_deg, origin=(7, 3))
    assert not is_symmetric(tuple(slanted.exterior.coords[:-1]))

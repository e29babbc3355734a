import math

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from pipeline.geometry.points import Point, Vector
from pipeline.lays.outlines import COARSE_MM, coarse_outline, extent_across_mm, in_grain_frame, turned


def circle(radius_mm: float, count: int) -> list[Point]:
    angles = (2 * math.pi * i / count for i in range(count))
    return [Point(radius_mm * math.cos(a), radius_mm * math.sin(a)) for a in angles]


def bitten(radius_mm: float) -> list[Point]:
    """A square with a half circle taken out of its top: a run of corners that turn inward."""
    arc = [Point(200 - radius_mm * math.cos(a), radius_mm * math.sin(a)) for a in np.linspace(0, math.pi, 200)]
    return [Point(0, 0), *arc, Point(400, 0), Point(400, 400), Point(0, 400)]


@pytest.mark.parametrize("outline", [circle(300, 600), bitten(120), list(reversed(bitten(120)))])
def test_a_coarse_outline_contains_the_true_one_and_stays_within_its_error(outline):
    coarse = coarse_outline(outline)
    true, rough = shapely.Polygon(outline), shapely.Polygon(coarse)
    assert rough.is_valid
    assert len(coarse) < len(outline) / 4
    assert true.difference(rough).area < 1e-6
    assert max(true.exterior.distance(shapely.Point(p)) for p in coarse) <= COARSE_MM + 1e-9


def test_a_rectangle_stays_as_it_is_and_loses_only_corners_that_are_none():
    corners = [Point(0, 0), Point(100, 0), Point(100, 50), Point(0, 50)]
    with_middle = [Point(0, 0), Point(40, 0), *corners[1:]]
    assert set(coarse_outline(corners)) == set(corners)
    assert set(coarse_outline(with_middle)) == set(corners)


@given(
    st.lists(st.tuples(st.floats(0.3, 1.0), st.floats(0.5, 1.0)), min_size=3, max_size=60),
    st.floats(5, 500),
    st.booleans(),
)
def test_no_part_of_any_piece_is_lost(radii, size_mm, backwards):
    outline = [
        Point(
            size_mm * r * math.cos(2 * math.pi * i / len(radii)),
            size_mm * r * q * math.sin(2 * math.pi * i / len(radii)),
        )
        for i, (r, q) in enumerate(radii)
    ]
    true = shapely.Polygon(outline)
    if not true.is_valid or true.area < 1:
        return
    coarse = coarse_outline(outline[::-1] if backwards else outline)
    rough = shapely.Polygon(coarse)
    if rough.is_valid:  # a slot narrower than the error may close: then the true outline is laid
        assert true.difference(rough).area < 1e-6 * size_mm
        assert max(true.exterior.distance(shapely.Point(p)) for p in coarse) <= COARSE_MM + 1e-6


def test_the_grain_lies_along_the_cloth():
    upright = [Point(5, 0), Point(15, 0), Point(15, 100), Point(5, 100)]
    frame = in_grain_frame(upright, Vector(0, -1), Point(10, 100))
    assert {(round(x, 9), round(y, 9)) for x, y in frame} == {(0, -5), (100, -5), (100, 5), (0, 5)}
    # The top of the garment (page y = 0) is at the larger x, and the page's right at the larger y: it was turned only.
    top_right = frame[1]
    assert (round(top_right.x, 9), round(top_right.y, 9)) == (100, 5)


def test_turning_and_mirroring():
    points = np.array([(10.0, 1.0)])
    assert turned(points, 90, False)[0] == pytest.approx((-1.0, 10.0))
    assert turned(points, 0, True)[0] == pytest.approx((10.0, -1.0))
    assert turned(points, 45, True)[0] == pytest.approx((11 / math.sqrt(2), 9 / math.sqrt(2)))


def test_a_strip_on_the_bias_takes_length_plus_width_over_the_root_of_two():
    strip = np.array([(0.0, -50.0), (900.0, -50.0), (900.0, 50.0), (0.0, 50.0)])
    assert extent_across_mm(strip, 45) == pytest.approx(1000 / math.sqrt(2))

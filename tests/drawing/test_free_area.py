"""The place of a text block: inside, off the obstacles, in the roomiest part."""

import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from pipeline.drawing.free_area import FreeArea


def as_box(place):
    return shapely.box(place.left, place.top, place.left + place.width, place.top + place.height)


def test_a_rectangle_lies_in_the_middle_of_an_empty_one():
    found = FreeArea(shapely.box(0, 0, 100, 60)).place(40, 20)
    assert abs(found.left - 30) <= 1
    assert abs(found.top - 20) <= 1


def test_what_is_too_large_has_no_place():
    assert FreeArea(shapely.box(0, 0, 100, 60)).place(101, 10) is None
    assert FreeArea(shapely.Polygon()).place(1, 1) is None


def test_the_wider_leg_of_an_angle_is_taken():
    angle = shapely.union(shapely.box(0, 0, 200, 20), shapely.box(0, 0, 60, 200))
    assert FreeArea(angle).place(40, 40).left < 20


@given(
    st.lists(st.tuples(st.floats(0, 180), st.floats(0, 130), st.floats(5, 60), st.floats(5, 60)), max_size=6),
    st.floats(5, 60),
    st.floats(5, 60),
)
@settings(max_examples=100, deadline=None)
def test_a_place_that_is_found_is_inside_the_free_area(blocks, width, height):
    free = shapely.box(0, 0, 200, 150).difference(
        shapely.union_all([shapely.box(x, y, x + w, y + h) for x, y, w, h in blocks])
    )
    found = FreeArea(free).place(width, height)
    if found is not None:
        assert free.buffer(1e-9).contains(as_box(found))


def test_an_even_grid_finds_room_in_a_narrow_strip_that_a_coarse_one_misses():
    strip = shapely.box(0, 0, 1100, 40)
    assert FreeArea(strip).place(200, 34) is None
    found = FreeArea(strip, even=True).place(200, 34)
    assert found is not None
    assert strip.contains(as_box(found))

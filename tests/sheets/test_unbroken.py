"""Which places cut nothing that a page holds."""

import math

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from pipeline.sheets.raster import CELL_MM, Grid
from pipeline.sheets.unbroken import Unbroken

PAGE = Unbroken(821.0, 1039.0)


def on(start: float, length: float, page: float) -> set[int]:
    """Pages along one axis, by looking at every millimetre."""
    inner = np.arange(start + 0.25, start + length - 0.2, 0.5)
    return set(np.floor(inner / page).astype(int).tolist())


starts, sides = st.integers(0, 4000), st.integers(1, 2500)


@given(starts, starts, sides, sides)
def test_the_pages_that_a_shape_lies_on(left, top, width, height):
    across, down = on(left, width, 821), on(top, height, 1039)
    assert PAGE.touched(left, top, left + width, top + height) == len(across) * len(down)
    assert PAGE.pages(width, height) == math.ceil(width / 821) * math.ceil(height / 1039)


@given(starts, sides)
def test_a_place_is_good_where_the_shape_lies_on_no_page_too_many(start, length):
    (across,), (down,) = PAGE.least(length, length, np.array([float(start)]), np.array([float(start)]))
    assert across == (len(on(start, length, 821)) == math.ceil(length / 821))
    assert down == (len(on(start, length, 1039)) == math.ceil(length / 1039))


@given(sides, sides)
def test_the_cells_of_a_grid_are_those_places(width, height):
    grid = Grid(200, 500)
    across, down = PAGE.least(width, height, np.arange(200) * CELL_MM, np.arange(500) * CELL_MM)
    bits = PAGE.cells(width, height, grid)
    for row, column in ((0, 0), (3, 150), (207, 10), (208, 0), (400, 163), (499, 199)):
        assert bits >> (row * grid.stride + column) & 1 == (across[column] and down[row])


@given(st.floats(0, 5000), st.floats(1, 1039))
def test_below_everything_there_is_always_a_place(top, height):
    begins = PAGE.next_top(top, height)
    assert begins >= top
    assert PAGE.touched(0, begins, 10, begins + height) == 1

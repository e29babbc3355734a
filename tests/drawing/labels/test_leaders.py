"""Leaders from places to the sizes that have them."""

import numpy as np
import shapely

from pipeline.drawing.drawing import Drawing
from pipeline.drawing.ink import Ink, drawings_of
from pipeline.drawing.labels.point_labels import Row, row_inks
from pipeline.drawing.nest.all_sizes import nest_of
from pipeline.drawing.nest.marks import Spot
from pipeline.drawing.styles import BLACK, NESTED, SIZE_COLOURS
from pipeline.geometry.points import Point
from tests.drawing.seen import lines
from tests.drawing.stack_factory import back, pattern_of


def test_leaders_are_black_so_that_a_printer_without_colour_leaves_them_whole() -> None:
    nest = nest_of(pattern_of("back", sizes=("34",)), {"34": back("34", 0)}, 0, NESTED, whole=False)
    box = shapely.box(10, -2, 20, 2)
    spot = Spot(Ink(("34",), (), (0, 0, 1, 1)), "a", Point(0, 0), SIZE_COLOURS[0])
    row = Row([spot], ["34"], 3.0, np.array([[15.0, 0.0]]), np.array([box]), np.array([[[1.0, 0.0], [9.0, 0.0]]]))
    drawn: tuple[Drawing, ...] = drawings_of("back", ("34",), row_inks(nest, row))
    assert [line.stroke for line in lines(drawn)] == [BLACK]

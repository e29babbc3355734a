"""Texts on the pictures of lays: a ground keeps hatching away from them."""

import pytest
import shapely
from shapely import affinity

from pipeline.drawing.cloth.lay_marks import on_ground
from pipeline.drawing.fonts import CAP_HEIGHT, text_width_mm
from pipeline.drawing.scene import Path, Text
from pipeline.drawing.styles import WHITE
from pipeline.geometry.points import Point


@pytest.mark.parametrize("turned_deg", [0.0, 30.0, -90.0])
def test_a_text_stands_on_a_ground_that_reaches_a_little_beyond_it(turned_deg: float) -> None:
    ground, text = on_ground(Point(10.0, 20.0), "12", 3.0, turned_deg, WHITE)
    assert isinstance(ground, Path)
    assert isinstance(text, Text)
    area = shapely.Polygon(ground.runs[0].points)
    wide, high = text_width_mm("12", 3.0), CAP_HEIGHT * 3.0
    level = shapely.box(text.place.x - wide / 2, text.place.y - high, text.place.x + wide / 2, text.place.y)
    letters = affinity.rotate(level, turned_deg, origin=(text.place.x, text.place.y))
    assert area.contains(letters)
    assert area.area == pytest.approx((wide + 0.6) * 3.3, abs=0.01)

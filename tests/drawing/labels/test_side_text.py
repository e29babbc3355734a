"""Text beside a short mark, for which there is room beyond its ends alone."""

import pytest
import shapely

from pipeline.drawing.labels.courses import Obstacles
from pipeline.drawing.labels.side_text import ANYWHERE, Room, text_beside
from pipeline.drawing.nest.stretches import Stretch
from pipeline.geometry.points import Point

OFF_MM, TIP_MM = 1.3, 20.0
MARK = Point(0.0, 0.0), Point(TIP_MM, 0.0)


@pytest.mark.parametrize("heads_mm", [0.0, 2.0, 6.0, 30.0])
def test_a_text_across_the_end_of_a_mark_keeps_off_the_tip_of_its_head(heads_mm: float) -> None:
    far = Stretch(("38",), (Point(-900, -900), Point(-900, 900)), closed=False)
    ground = shapely.box(TIP_MM, -80, 200, 80)
    room = Room(ground, Obstacles([far], [(MARK[0], Point(TIP_MM + heads_mm, 0))]), [], shapely.LineString())
    (label,) = text_beside(MARK, [("Grain",)], (3.0,), (1, -1), OFF_MM, room, True, ANYWHERE, heads_mm)
    left = shapely.Polygon(label.box).bounds[0]
    assert TIP_MM + heads_mm + 0.9 < left < TIP_MM + heads_mm + OFF_MM

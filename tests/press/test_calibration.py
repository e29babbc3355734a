"""What a projector is set up by: a label on another's line has the picture set to a wrong size."""

from collections.abc import Iterator
from itertools import pairwise

import pytest
import shapely

from pipeline.drawing.pages.calibration import INCH_SQUARE_MM, SQUARE_MM, calibration_page
from pipeline.drawing.scene import Path, Shape, Text
from pipeline.drawing.styles import WHITE
from tests.press import synthetic

SHAPES = calibration_page(synthetic.pattern()).shapes


def labels(shapes: tuple[Shape, ...]) -> Iterator[tuple[str, shapely.Polygon]]:
    """What stands on a ground of its own, with that ground."""
    for ground, text in pairwise(shapes):
        if isinstance(ground, Path) and ground.fill == WHITE and isinstance(text, Text):
            yield text.content, shapely.Polygon(ground.runs[0].points)


def squares(dashed: bool) -> list[shapely.LinearRing]:
    return [
        shapely.LinearRing(shape.runs[0].points)
        for shape in SHAPES
        if isinstance(shape, Path) and shape.stroke and shape.runs[0].closed and bool(shape.stroke.dash_mm) is dashed
    ]


@pytest.mark.parametrize(
    ("dashed", "label", "side_mm"), [(False, "500 mm", SQUARE_MM), (True, "18 in", INCH_SQUARE_MM)]
)
def test_a_squares_label_lies_on_its_own_line_and_on_no_other(dashed: bool, label: str, side_mm: float) -> None:
    own, others = squares(dashed), squares(not dashed)
    grounds = [ground for content, ground in labels(SHAPES) if content == label]
    assert len(grounds) == 2 * len(own) == 8
    for ground in grounds:
        named = [square for square in own if square.intersects(ground)]
        assert named
        assert all(square.length / 4 == pytest.approx(side_mm) for square in named)
        assert not any(square.intersects(ground) for square in others)

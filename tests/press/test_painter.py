"""The painter against a general renderer of the SVG of the same scene."""

import io

import cairocffi
import cairosvg
import numpy as np
import pytest
from PIL import Image

from pipeline.drawing import scene, svg
from pipeline.drawing.fonts import CAP_HEIGHT, text_width_mm
from pipeline.drawing.scene import Anchor, Run, Scene
from pipeline.drawing.styles import LineStyle
from pipeline.geometry.points import Affine, Point
from pipeline.press.painter import paint

PIXELS_PER_MM = 8
CORNERS = (Point(5, 5), Point(35, 8), Point(20, 30))
SHAPES = {
    "polyline": scene.polyline(CORNERS, "#d55e00", 0.8),
    "closed": scene.polyline(CORNERS, "#0072b2", 0.8, closed=True),
    "dashed": scene.polyline(CORNERS, "#000000", 0.6, (3.0, 1.0, 0.5, 1.0)),
    "several in one": scene.path(
        [Run(CORNERS[:2]), Run((Point(5, 10), Point(20, 10))), Run((Point(25, 5), Point(30, 5), Point(30, 10)), True)],
        LineStyle("#000000", 0.5),
    ),
    "filled and stroked": scene.path([Run(CORNERS, True)], LineStyle("#000000", 0.5), "#bdd7ee"),
    "polygon": scene.polygon(CORNERS, "#009e73"),
    "rectangle": scene.rectangle(4, 6, 20, 10, "#8c8c8c"),
    "circle": scene.circle(Point(20, 15), 8, "#000000", 0.7),
    "moved": scene.group([scene.rectangle(0, 0, 8, 4, "#000000")], Affine(0, 1, -1, 0, 30, 10)),
}


def painted(picture: Scene) -> np.ndarray:
    surface = cairocffi.ImageSurface(
        cairocffi.FORMAT_RGB24, round(picture.width_mm * PIXELS_PER_MM), round(picture.height_mm * PIXELS_PER_MM)
    )
    context = cairocffi.Context(surface)
    context.set_source_rgb(1, 1, 1)
    context.paint()
    paint(context, picture, PIXELS_PER_MM)
    target = io.BytesIO()
    surface.write_to_png(target)
    return pixels(target.getvalue())


def pixels(png: bytes) -> np.ndarray:
    return np.asarray(Image.open(io.BytesIO(png)).convert("RGB")).astype(int)


@pytest.mark.parametrize("name", SHAPES)
def test_it_paints_what_a_general_renderer_paints(name: str) -> None:
    drawn = scene.of(-2, -1, 40, 35, [SHAPES[name]])
    expected = pixels(
        cairosvg.svg2png(svg.document(drawn).encode(), output_width=40 * PIXELS_PER_MM, background_color="white")
    )
    found = painted(drawn)
    assert found.shape == expected.shape
    assert found.min() < 250, "nothing was painted"
    assert np.abs(found - expected).max() <= 3


@pytest.mark.parametrize(("anchor", "share"), [("start", 0.0), ("middle", 0.5), ("end", 1.0)])
@pytest.mark.parametrize("turned", [0.0, -90.0])
def test_a_text_stands_where_it_was_measured(anchor: Anchor, share: float, turned: float) -> None:
    width = text_width_mm("HIH", 5.0)
    drawn = scene.of(0, 0, 60, 60, [scene.text(Point(30, 30), "HIH", 5.0, anchor, turned)])
    rows, columns = (np.nonzero(painted(drawn).max(axis=2) < 128)[axis] + 0.5 for axis in (0, 1))
    along, across = (columns - 240, rows) if not turned else (240 - rows, columns)
    low, high = -share * width, (1 - share) * width
    side_bearing, pixel = 0.098 * 5.0, 1 / PIXELS_PER_MM
    assert along.min() / PIXELS_PER_MM == pytest.approx(low + side_bearing, abs=pixel)
    assert along.max() / PIXELS_PER_MM == pytest.approx(high - side_bearing, abs=pixel)
    assert np.ptp(across) / PIXELS_PER_MM == pytest.approx(CAP_HEIGHT * 5.0, abs=2 * pixel)

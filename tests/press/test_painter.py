"""The painter against a general renderer of SVG, and what it refuses."""

import io

import cairocffi
import cairosvg
import numpy as np
import pytest
from PIL import Image

from pipeline.drawing import svg
from pipeline.drawing.fonts import CAP_HEIGHT, text_width_mm
from pipeline.model.points import Affine, Point
from pipeline.press.painter import paint, read_picture

PIXELS_PER_MM = 8
CORNERS = (Point(5, 5), Point(35, 8), Point(20, 30))
BODIES = {
    "polyline": svg.polyline(CORNERS, "#d55e00", 0.8),
    "closed": svg.polyline(CORNERS, "#0072b2", 0.8, closed=True),
    "dashed": svg.polyline(CORNERS, "#000000", 0.6, (3.0, 1.0, 0.5, 1.0)),
    "several in one": svg.path("M5,5 20,5 M5,10 20,10M25,5 30,5 30,10Z", "#000000", 0.5),
    "round ends": svg.path(svg.path_d(CORNERS), "#000000", 3.0, cap="round"),
    "filled and stroked": svg.path(svg.path_d(CORNERS, closed=True), "#000000", 0.5, fill="#bdd7ee"),
    "polygon": svg.polygon(CORNERS, "#009e73"),
    "rectangle": svg.rectangle(4, 6, 20, 10, "#8c8c8c"),
    "circle": svg.circle(Point(20, 15), 8, "#000000", 0.7, fill="#ececec"),
    "moved": svg.group([svg.rectangle(0, 0, 8, 4, "#000000")], Affine(0, 1, -1, 0, 30, 10)),
}


def painted(drawn: str) -> np.ndarray:
    picture = read_picture(drawn)
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


@pytest.mark.parametrize("name", BODIES)
def test_it_paints_what_a_general_renderer_paints(name: str) -> None:
    drawn = svg.document(-2, -1, 40, 35, [BODIES[name]])
    expected = pixels(cairosvg.svg2png(drawn.encode(), output_width=40 * PIXELS_PER_MM, background_color="white"))
    found = painted(drawn)
    assert found.shape == expected.shape
    assert found.min() < 250, "nothing was painted"
    assert np.abs(found - expected).max() <= 3


@pytest.mark.parametrize(("anchor", "share"), [("start", 0.0), ("middle", 0.5), ("end", 1.0)])
@pytest.mark.parametrize("turned", [0.0, -90.0])
def test_a_text_stands_where_it_was_measured(anchor: svg.Anchor, share: float, turned: float) -> None:
    width = text_width_mm("HIH", 5.0)
    drawn = svg.document(0, 0, 60, 60, [svg.text(Point(30, 30), "HIH", 5.0, anchor, turned)])
    rows, columns = (np.nonzero(painted(drawn).max(axis=2) < 128)[axis] + 0.5 for axis in (0, 1))
    along, across = (columns - 240, rows) if not turned else (240 - rows, columns)
    low, high = -share * width, (1 - share) * width
    side_bearing, pixel = 0.098 * 5.0, 1 / PIXELS_PER_MM
    assert along.min() / PIXELS_PER_MM == pytest.approx(low + side_bearing, abs=pixel)
    assert along.max() / PIXELS_PER_MM == pytest.approx(high - side_bearing, abs=pixel)
    assert np.ptp(across) / PIXELS_PER_MM == pytest.approx(CAP_HEIGHT * 5.0, abs=2 * pixel)


def test_what_is_never_drawn_is_refused() -> None:
    picture = read_picture(svg.document(0, 0, 10, 10, ['<ellipse rx="1" ry="2"/>']))
    with pytest.raises(ValueError, match="ellipse"):
        paint(cairocffi.Context(cairocffi.ImageSurface(cairocffi.FORMAT_RGB24, 10, 10)), picture, 1.0)
    with pytest.raises(ValueError, match="not an SVG"):
        read_picture("<html/>")

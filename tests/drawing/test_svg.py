"""Scenes as SVG, each rendered by a general renderer: what is written is what is drawn."""

import io

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pipeline.drawing import scene, svg
from pipeline.drawing.fonts import text_width_mm
from pipeline.drawing.scene import Shape
from pipeline.drawing.styles import LineStyle
from pipeline.geometry.points import Affine, Point

cairosvg = pytest.importorskip("cairosvg")
Image = pytest.importorskip("PIL.Image")

PIXELS_PER_MM = 20


@pytest.fixture(scope="module", autouse=True)
def own_fonts(tmp_path_factory):
    from pipeline.drawing.fonts import use_own_fonts

    use_own_fonts(tmp_path_factory.mktemp("fonts"))


def dark(*shapes: Shape, width: float = 30, height: float = 20) -> np.ndarray:
    """Which pixels are dark, 20 to the mm."""
    drawn = svg.document(scene.of(0, 0, width, height, shapes))
    png = cairosvg.svg2png(drawn.encode(), output_width=int(width * PIXELS_PER_MM), background_color="white")
    return np.asarray(Image.open(io.BytesIO(png)).convert("L")) < 128


def extent_mm(pixels: np.ndarray) -> tuple[float, float, float, float]:
    rows, columns = np.flatnonzero(pixels.any(axis=1)), np.flatnonzero(pixels.any(axis=0))
    return (
        columns[0] / PIXELS_PER_MM,
        rows[0] / PIXELS_PER_MM,
        (columns[-1] + 1) / PIXELS_PER_MM,
        (rows[-1] + 1) / PIXELS_PER_MM,
    )


@pytest.mark.parametrize(
    ("value", "text"), [(12.5, "12.5"), (-0.0001, "0"), (3.0, "3"), (-3.14159, "-3.142"), (1e6, "1000000")]
)
def test_numbers_have_three_decimals_and_no_negative_zero(value, text):
    assert svg.number(value) == text


@given(st.floats(-1e5, 1e5))
def test_a_number_reads_back_within_half_a_micrometre(value):
    assert abs(float(svg.number(value)) - value) <= 0.0005 + 1e-9


def test_a_path_is_written_run_by_run():
    runs = [scene.Run((Point(0, 0), Point(1, 2.5), Point(-0.0, 1)), closed=True), scene.Run((Point(3, 3), Point(4, 3)))]
    drawn = svg.document(scene.of(0, 0, 9, 9, [scene.path(runs, LineStyle("#000000", 0.5))]))
    assert 'd="M0,0 1,2.5 0,1ZM3,3 4,3"' in drawn


def test_a_line_has_its_width_in_mm():
    assert extent_mm(dark(scene.line(Point(5, 10), Point(25, 10), "#000000", 2))) == pytest.approx(
        (5, 9, 25, 11), abs=0.06
    )


def test_dashes_are_where_they_are_said_to_be():
    row = dark(scene.line(Point(0, 10), Point(30, 10), "#000000", 1, (4, 1, 2, 3)))[200]
    at = [int(row[round(mm * PIXELS_PER_MM)]) for mm in (2, 4.5, 6, 8.5, 12, 14.5, 16, 18.5)]
    assert at == [1, 0, 1, 0, 1, 0, 1, 0]


def test_a_closed_polyline_returns_to_its_start():
    corners = (Point(5, 5), Point(25, 5), Point(25, 15), Point(5, 15))
    assert dark(scene.polyline(corners, "#000000", 1, closed=True))[200, 100]
    assert not dark(scene.polyline(corners, "#000000", 1))[200, 100]


@pytest.mark.parametrize(("anchor", "share"), [("start", 0.0), ("middle", 0.5), ("end", 1.0)])
def test_text_is_anchored_where_it_says(anchor, share):
    left, top, right, bottom = extent_mm(dark(scene.text(Point(15, 10), "HHH", 4, anchor)))
    width = text_width_mm("HHH", 4)
    bearings = 0.85  # of H on both sides: what is anchored is the ink
    assert left == pytest.approx(15 - share * width, abs=bearings)
    assert right == pytest.approx(15 + (1 - share) * width, abs=bearings)
    assert bottom == pytest.approx(10, abs=0.08)
    assert bottom - top == pytest.approx(0.714 * 4, abs=0.1)  # cap height


def test_text_turns_clockwise_about_its_own_point():
    left, top, right, bottom = extent_mm(dark(scene.text(Point(15, 5), "HH", 4, turned_deg=90)))
    assert left == pytest.approx(15, abs=0.1)
    assert right == pytest.approx(15 + 0.714 * 4, abs=0.1)
    assert top == pytest.approx(5, abs=0.5)
    assert bottom == pytest.approx(5 + text_width_mm("HH", 4), abs=0.5)


def test_bold_text_is_darker():
    assert (
        dark(scene.text(Point(5, 10), "mm", 4, bold=True)).sum() > 1.2 * dark(scene.text(Point(5, 10), "mm", 4)).sum()
    )


def test_text_is_escaped():
    assert "A &amp; B &lt; C" in svg.document(scene.of(0, 0, 9, 9, [scene.text(Point(0, 0), "A & B < C", 4)]))


def test_a_group_moves_what_it_holds():
    square = scene.rectangle(0, 0, 2, 2, "#000000")
    moved = dark(scene.group([square], Affine(0, 1, -1, 0, 12, 5)))
    assert extent_mm(moved) == pytest.approx((10, 5, 12, 7), abs=0.06)


def test_a_document_starts_at_its_corner():
    shifted = svg.document(scene.of(100, 50, 30, 20, [scene.rectangle(105, 55, 10, 5, "#000000")]))
    png = cairosvg.svg2png(shifted.encode(), output_width=600, background_color="white")
    pixels = np.asarray(Image.open(io.BytesIO(png)).convert("L")) < 128
    assert extent_mm(pixels) == pytest.approx((5, 5, 15, 10), abs=0.06)

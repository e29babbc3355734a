"""Coloured lines on a printer that knows black alone: rasters of 300 dpi leave their dashes whole."""

import subprocess
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from pipeline.drawing import scene
from pipeline.drawing.fonts import use_own_fonts
from pipeline.drawing.styles import GAP_MM, NESTED, SIZE_COLOURS
from pipeline.geometry.points import Point
from pipeline.model.lengths import MM_PER_INCH

DPI = 300
WIDTHS_MM = {"cut": NESTED.cut_mm, "inside": NESTED.inside_mm, "mark": NESTED.mark_mm, "clip": NESTED.clip_mm}
RISES = (0.0, 0.37, 3.1, 17.0, 40.0)
"""How far a line of 80 mm rises, in mm."""
STEP_MM = 45.0


def longest_gap_mm(page: np.ndarray, top_mm: float, rise_mm: float, width_mm: float) -> float:
    """The longest run of columns that have no black within a line's width."""
    scale, half = DPI / MM_PER_INCH, max(2, round(width_mm / 2 * DPI / MM_PER_INCH) + 1)
    gap = longest = 0
    for column in range(round(6 * scale), round(84 * scale)):
        middle = round((top_mm + rise_mm * (column / scale - 5) / 80) * scale)
        gap = 0 if page[middle - half : middle + half + 1, column].any() else gap + 1
        longest = max(longest, gap)
    return longest / scale


@pytest.mark.parametrize("width_mm", WIDTHS_MM.values(), ids=WIDTHS_MM)
def test_a_line_of_any_size_has_no_gap_that_could_be_one_of_its_code(width_mm: float, tmp_path: Path) -> None:
    use_own_fonts(tmp_path)
    from pipeline.press.forms import render_pages

    shapes, places = [], []
    for colour in SIZE_COLOURS:
        for rise_mm in RISES:
            top_mm = 5.0 + len(places) * STEP_MM
            places.append((colour, top_mm, rise_mm))
            shapes.append(scene.line(Point(5, top_mm), Point(85, top_mm + rise_mm), colour, width_mm))
    file = tmp_path / "lines.pdf"
    file.write_bytes(render_pages([scene.of(0, 0, 90, len(places) * STEP_MM + 10, shapes)]))
    subprocess.run(["pdftoppm", "-mono", "-r", str(DPI), file, tmp_path / "lines"], check=True)
    page = ~np.array(Image.open(next(tmp_path.glob("lines*.pbm"))).convert("1"))
    for colour, top_mm, rise_mm in places:
        assert longest_gap_mm(page, top_mm, rise_mm, width_mm) <= GAP_MM / 3, (colour, rise_mm)

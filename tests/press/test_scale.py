"""Squares are as large as they say, in two independent renderers; tiles add up to the sheet."""

from collections.abc import Callable
from pathlib import Path

import msgspec
import numpy as np
import pytest

from pipeline.drawing.pages.calibration import calibration_pages, calibration_plan
from pipeline.drawing.pages.large import square_corners as large_corners
from pipeline.drawing.pages.start import square_corners as start_corners
from pipeline.drawing.panels.squares import wrong_scales
from pipeline.press.compose import PrintFile, compose
from pipeline.sheets.layout import Layout
from tests.press import proof, synthetic

DPI = 300.0
TOLERANCE_MM = 0.05
LAYOUT = synthetic.sheet()[0]
PLANS = {
    "a4": synthetic.tiles(LAYOUT),
    "letter": synthetic.tiles(LAYOUT, 215.9, 279.4, "letter"),
    "large": synthetic.large_sheet(LAYOUT),
}


@pytest.mark.parametrize("renderer", proof.RENDERERS)
@pytest.mark.parametrize("name", PLANS)
def test_both_squares_measure_what_they_say(name: str, renderer: str, request: pytest.FixtureRequest) -> None:
    file: Path = request.getfixturevalue(name)
    corners = (large_corners if name == "large" else start_corners)(PLANS[name])
    grey = proof.RENDERERS[renderer](file, 0, DPI)
    for (left, top), side in zip(corners, (100.0, 101.6), strict=True):
        # 1.5 mm inside the lower and right sides nothing is printed but the square's own two lines
        across = proof.measured_mm(grey, DPI, top + side - 1.5, left - 0.8, left + side + 0.8, upright=False)
        down = proof.measured_mm(grey, DPI, left + side - 0.7, top - 0.8, top + side + 0.8, upright=True)
        assert across == pytest.approx(side, abs=TOLERANCE_MM)
        assert down == pytest.approx(side, abs=TOLERANCE_MM)


def test_a_square_that_is_printed_too_small_is_noticed(a4: Path) -> None:
    left, top = start_corners(PLANS["a4"])[0]
    grey = proof.pdfium(a4, 0, DPI * 0.96)
    measured = proof.measured_mm(
        grey, DPI, (top + 98.5) * 0.96, (left - 0.8) * 0.96, (left + 100.8) * 0.96, upright=False
    )
    assert measured == pytest.approx(96.0, abs=TOLERANCE_MM)


def test_papers_are_written_to_four_decimals_of_a_point_rounded_down(a4: Path, letter: Path) -> None:
    from pypdf import PdfReader

    assert [float(x) for x in PdfReader(a4).pages[0].mediabox] == [0, 0, 595.2755, 841.8897]
    assert [float(x) for x in PdfReader(letter).pages[0].mediabox] == [0, 0, 612, 792]


@pytest.mark.parametrize("renderer", proof.RENDERERS)
@pytest.mark.parametrize("name", ["a4", "letter"])
def test_tiles_cut_out_and_joined_are_the_large_sheet(
    name: str, renderer: str, large: Path, request: pytest.FixtureRequest
) -> None:
    """127 dpi: a tile of 190 mm is 950 pixels. A page that is 0.1 mm off differs in more than 100 pixels, see below.

    A Letter tile of 195.9 mm is no whole number of pixels: it is held to pixels of 0.1 mm instead.
    """
    file: Path = request.getfixturevalue(name)
    dpi = proof.STITCH_DPI if name == "a4" else 254.0
    render = proof.RENDERERS[renderer]
    sheet = proof.stitched(large, PLANS["large"], LAYOUT.width_mm, LAYOUT.height_mm, render, dpi)
    joined = proof.stitched(file, PLANS[name], LAYOUT.width_mm, LAYOUT.height_mm, render, dpi)
    blank = PLANS[name].pages[-1]
    assert (sheet < 128).sum() > 10_000
    assert blank.window is not None
    scale = dpi / 25.4
    # the place that the invented plan leaves out holds a part of a piece: the only difference there may be
    left, top = round((blank.window.left_mm - blank.window.width_mm) * scale), round(blank.window.top_mm * scale)
    right = round(blank.window.left_mm * scale)
    sheet[top:, left:right] = 255
    assert proof.differing(sheet, joined) <= 100


@pytest.mark.parametrize("first_on_top", [False, True])
def test_where_tiles_overlap_both_pages_show_the_same(first_on_top: bool, large: Path, written: Callable) -> None:
    plan = synthetic.tiles(LAYOUT, overlap_mm=12.0)
    size, render, dpi = (LAYOUT.width_mm, LAYOUT.height_mm), proof.pdfium, proof.STITCH_DPI
    sheet = proof.stitched(large, PLANS["large"], *size, render, dpi)
    joined = proof.stitched(written(plan, "overlap.pdf"), plan, *size, render, dpi, first_on_top)
    known = np.zeros_like(sheet, dtype=bool)  # not so the place that the invented plan leaves out
    for page in plan.pages:
        if page.window is not None:
            left, top, wide, high = (round(value * dpi / 25.4) for value in msgspec.structs.astuple(page.window))
            known[top : top + high, left : left + wide] = True
    assert (sheet[known] < 128).sum() > 10_000
    assert proof.differing(np.where(known, sheet, 255), np.where(known, joined, 255)) <= 100


def test_the_comparison_of_tiles_notices_a_tenth_of_a_millimetre(large: Path) -> None:
    sheet = proof.stitched(large, PLANS["large"], LAYOUT.width_mm, LAYOUT.height_mm, proof.pdfium, 254.0)
    moved = sheet.copy()
    moved[:2000, 1:1900] = sheet[:2000, :1899]
    assert proof.differing(sheet, moved) > 100


def test_wrong_measures_are_those_of_the_handbook() -> None:
    """Fitted inside margins of 4.2 mm an A4 page comes out at 96.0 %, on Letter at 94.1; Letter on A4 at 97.3."""
    a4 = {scale.word: round(scale.measure_mm, 1) for scale in wrong_scales(210, 297)}
    letter = {scale.word: round(scale.measure_mm, 1) for scale in wrong_scales(215.9, 279.4)}
    assert a4["wrong.margins"] == 96.0
    assert a4["wrong.letter"] == 94.1
    assert letter["wrong.a4"] == 97.3
    assert [round(s.measure_mm, 1) for s in wrong_scales(210, 297) if s.word == "wrong.dots"] == [75.0, 133.3]


@pytest.mark.parametrize("renderer", proof.RENDERERS)
def test_squares_of_the_calibration_page_measure_500_mm(renderer: str, tmp_path: Path) -> None:
    file = tmp_path / "calibration.pdf"
    plan, overlays = calibration_plan(), calibration_pages(synthetic.pattern())
    print_file = PrintFile(
        imprint=synthetic.IMPRINT, plan=plan, layout=Layout(0, 0, ()), sizes=(), overlays=overlays, layered=False
    )
    file.write_bytes(compose(print_file, [], b""))
    assert proof.qpdf_complaints(file) == ""
    dpi = 127.0
    grey = proof.RENDERERS[renderer](file, 0, dpi)
    for at in (40 + 470.0, 40 + 970.0):
        both = proof.measured_mm(grey, dpi, at, 36, 1044, upright=False)
        assert both == pytest.approx(1000, abs=TOLERANCE_MM)
        assert proof.measured_mm(grey, dpi, at, 36, 544, upright=True) == pytest.approx(500, abs=TOLERANCE_MM)

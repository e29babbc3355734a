"""The demo jacket's print files as a buyer gets them: true scale, tiles that add up, layers, pages, fonts.

The jacket is built by the real command in four of its sizes (see demo_jacket.py). Every file is held to its measures
in two independent renderers. Where pages are only sampled, the test says so.
"""

from pathlib import Path

import numpy as np
import pytest
from pypdf import PdfReader

from pipeline.drawing.pages.large import square_corners as large_corners
from pipeline.drawing.pages.start import square_corners as start_corners
from pipeline.sheets.layout import PagePlan
from tests.press import proof
from tests.release.demo_jacket import (
    ALONE,
    LARGE,
    PARTS,
    PRINTED,
    SIZES,
    TILED,
    Jacket,
    differing,
    pdfs,
    stitched,
    whole_pixels,
)

DPI = 300.0
TOLERANCE_MM = 0.05
KEPT = "44"
OTHERS = tuple(size for size in SIZES if size != KEPT)


def test_the_bundle_has_these_print_files(jacket: Jacket, plans: dict[str, PagePlan]) -> None:
    found = {path.relative_to(jacket.bundle / "print").with_suffix("").as_posix() for path in pdfs(jacket, "print")}
    assert found == set(PRINTED) == set(plans)


# Scale


@pytest.mark.parametrize("renderer", PARTS)
@pytest.mark.parametrize("name", PRINTED)
def test_both_squares_measure_what_they_say_on_every_page_that_has_them(
    name: str, renderer: str, jacket: Jacket, plans: dict[str, PagePlan]
) -> None:
    """Tiles have them on the first page, large sheets on every sheet."""
    plan = plans[name]
    pages = range(len(plan.pages)) if plan.header_mm else (0,)
    corners = (large_corners if plan.header_mm else start_corners)(plan)
    for page in pages:
        for (left, top), side in zip(corners, (100.0, 101.6), strict=True):
            box = left - 3, top - 3, side + 6, side + 6
            grey = PARTS[renderer](jacket.print_file(name), page, DPI, box)
            # the part begins on a whole pixel, so up to half a pixel off; both ends of a measure are off alike
            across = proof.measured_mm(grey, DPI, 3 + side - 1.5, 2.2, side + 3.8, upright=False)
            down = proof.measured_mm(grey, DPI, 3 + side - 0.7, 2.2, side + 3.8, upright=True)
            assert across == pytest.approx(side, abs=TOLERANCE_MM), f"page {page + 1}"
            assert down == pytest.approx(side, abs=TOLERANCE_MM), f"page {page + 1}"


@pytest.mark.parametrize("renderer", PARTS)
@pytest.mark.parametrize("name", LARGE)
def test_the_ruler_of_every_large_sheet_measures_500_mm(
    name: str, renderer: str, jacket: Jacket, plans: dict[str, PagePlan]
) -> None:
    plan = plans[name]
    left, top = large_corners(plan)[0]
    middle = top + 101.6 + 4 + 6  # the ruler's line: 4 mm below the squares, in the middle of its 12 mm
    for page in range(len(plan.pages)):
        grey = PARTS[renderer](jacket.print_file(name), page, DPI, (left - 3, middle - 3, 506, 6))
        ticks = proof.measured_mm(grey, DPI, 2.2, 2.5, 503.5, upright=False)
        assert ticks == pytest.approx(500, abs=TOLERANCE_MM)


@pytest.mark.parametrize("renderer", PARTS)
def test_squares_of_the_calibration_page_measure_500_mm(renderer: str, jacket: Jacket) -> None:
    file = jacket.bundle / "project/calibration.pdf"
    width, height = (float(side) * 25.4 / 72 for side in PdfReader(file).pages[0].mediabox[2:])
    border = (width - 1000) / 2
    assert height == pytest.approx(width, abs=0.01)
    grey = PARTS[renderer](file, 0, 127.0, (0, 0, width, height))
    for at in (border + 470.0, border + 970.0):
        for upright in (False, True):
            one = proof.measured_mm(grey, 127.0, at, border - 4, border + 504, upright=upright)
            both = proof.measured_mm(grey, 127.0, at, border - 4, border + 1004, upright=upright)
            assert (one, both) == (pytest.approx(500, abs=TOLERANCE_MM), pytest.approx(1000, abs=TOLERANCE_MM))


def test_papers_have_their_sizes(jacket: Jacket) -> None:
    """ISO 216 and ASME Y14.1 in points (1/72 in); the roll is 36 in wide and at most 14,400 pt long."""
    points = {"a4": (595.2755, 841.8897), "letter": (612, 792), "a0": (2383.937, 3370.3937)}
    for name in PRINTED:
        for page in PdfReader(jacket.print_file(name)).pages:
            width, height = (float(side) for side in page.mediabox[2:])
            own = name.partition("-")[2].partition("-")[2] if name in ALONE else name
            if own == "roll-36in":
                assert width == pytest.approx(36 * 72, abs=0.001)
                assert height <= 14_400
            else:
                assert sorted((width, height)) == pytest.approx(sorted(points[own]), abs=0.001)
            assert "/UserUnit" not in page
            assert "/Rotate" not in page


# Tiles add up to the sheet


@pytest.mark.parametrize("renderer", PARTS)
def test_pages_cut_out_and_joined_are_the_sheet(renderer: str, jacket: Jacket, plans: dict[str, PagePlan]) -> None:
    """Every page, at 127 dpi: 190 mm are 950 pixels.

    A letter that lies within single precision of the grid that a renderer snaps letters to may fall on either side of
    it on pages of different heights. To be a fault, what shows at 127 dpi must show at 152.4 dpi (6 pixels a mm) too.
    """
    told = {}
    for dpi in (proof.STITCH_DPI, 152.4):
        if whole_pixels(plans["a4"], dpi):
            files = (jacket.sheet, (jacket.print_file("a4"), plans["a4"]))
            sheet, joined = (stitched(jacket, *file, renderer, dpi) for file in files)
            assert (sheet < 128).sum() > 100_000
            told[dpi] = differing(sheet, joined)
            if told[dpi] <= 100:
                return
    pytest.fail(f"pixels that differ, by dpi: {told}")


@pytest.mark.parametrize("renderer", PARTS)
def test_letter_tiles_are_the_same_places_of_the_sheet(
    renderer: str, jacket: Jacket, plans: dict[str, PagePlan]
) -> None:
    """254 dpi, since 195.9 mm are whole pixels there; every seventh page, where all of it lies on the sheet."""
    letter, (file, whole) = plans["letter"], jacket.sheet
    part, compared = PARTS[renderer], 0
    for index in range(1, len(letter.pages), 7):
        window = letter.pages[index].window
        assert window is not None
        for page in whole.pages:
            left, top = window.left_mm - page.window.left_mm, window.top_mm - page.window.top_mm
            room_x, room_y = page.window.width_mm - window.width_mm, page.window.height_mm - window.height_mm
            if not (0 <= left <= room_x and 0 <= top <= room_y):
                continue
            size = window.width_mm, window.height_mm
            corner = left + whole.margin_mm, top + whole.margin_mm + whole.header_mm
            tile = part(jacket.print_file("letter"), index, 254.0, (letter.margin_mm, letter.margin_mm, *size))
            place = part(file, 0, 254.0, (*corner, *size))
            assert proof.differing(tile, place) <= 100, f"page {index + 1}"
            compared += 1
    assert compared >= 3


# Layers


@pytest.mark.parametrize("name", [*TILED, *LARGE])
def test_every_size_is_a_layer_called_by_its_name(name: str, jacket: Jacket) -> None:
    properties = PdfReader(jacket.print_file(name)).trailer["/Root"]["/OCProperties"]
    assert [layer.get_object()["/Name"] for layer in properties["/OCGs"]] == [f"Size {size}" for size in SIZES]


def test_the_file_put_together_again_with_all_layers_is_the_built_one(jacket: Jacket, tmp_path: Path) -> None:
    """So that what the next test compares with differs from the built file in the left out content alone."""
    again = jacket.composed("a4", (), tmp_path / "a4.pdf")
    assert again.read_bytes() == jacket.print_file("a4").read_bytes()


@pytest.mark.parametrize(("renderer", "step"), [("pdfium", 1), ("poppler", 4)])
def test_other_sizes_switched_off_are_as_if_left_out(
    renderer: str, step: int, jacket: Jacket, plans: dict[str, PagePlan], tmp_path: Path
) -> None:
    """Pixel for pixel at 75 dpi: every page of the A4 file in pdfium, every fourth in poppler."""
    off = proof.switched_off(jacket.print_file("a4"), {f"Size {size}" for size in OTHERS}, tmp_path / "off.pdf")
    left_out = jacket.composed("a4", OTHERS, tmp_path / "left-out.pdf")
    render = proof.RENDERERS[renderer]
    pages, changed = range(0, len(plans["a4"].pages), step), 0
    for page in pages:
        one = render(off, page, 75)
        assert np.array_equal(one, render(left_out, page, 75)), f"page {page + 1} differs"
        changed += not np.array_equal(one, render(jacket.print_file("a4"), page, 75))
    assert changed >= len(pages) // 2, "switching layers off changed too few pages for the comparison to mean anything"


@pytest.mark.parametrize("renderer", proof.RENDERERS)
def test_other_sizes_switched_off_are_as_if_left_out_on_the_roll(renderer: str, jacket: Jacket, tmp_path: Path) -> None:
    """Its first sheet, at 36 dpi."""
    roll = jacket.print_file("roll-36in")
    off = proof.switched_off(roll, {f"Size {size}" for size in OTHERS}, tmp_path / "off.pdf")
    left_out = jacket.composed("roll-36in", OTHERS, tmp_path / "left-out.pdf")
    render = proof.RENDERERS[renderer]
    one = render(off, 0, 36)
    assert np.array_equal(one, render(left_out, 0, 36))
    assert not np.array_equal(one, render(roll, 0, 36))

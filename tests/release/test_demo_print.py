"""The demo jacket's print files as a buyer gets them: true scale, tiles that add up, layers, pages, fonts.

The jacket is built by the real command in four of its sizes (see demo_jacket.py). Every file is held to its measures
in two independent renderers. Where pages are only sampled, the test says so.
"""

import csv
import json
import re
from collections import Counter
from pathlib import Path

import numpy as np
import pytest
from pypdf import PdfReader

from pipeline.drawing.pages.large import square_corners as large_corners
from pipeline.drawing.pages.start import square_corners as start_corners
from pipeline.sheets.layout import PagePlan
from pipeline.sheets.windows import row_letters
from tests.press import proof
from tests.release.demo_jacket import (
    PARTS,
    SIZES,
    Jacket,
    build,
    differing,
    layers_on,
    pdfs,
    stitched,
    stroke_widths_mm,
    whole_pixels,
)

TILED = ("a4", "letter")
LARGE = ("a0", "roll-36in")
ALONE = tuple(f"by-size/{size}-{paper}" for size in SIZES for paper in (*TILED, *LARGE))
PRINTED = (*TILED, *LARGE, *ALONE)
DPI = 300.0
TOLERANCE_MM = 0.05
KEPT = "44"
OTHERS = tuple(size for size in SIZES if size != KEPT)


@pytest.fixture(scope="session")
def jacket(tmp_path_factory: pytest.TempPathFactory) -> Jacket:
    return build(tmp_path_factory.mktemp("jacket"))


@pytest.fixture(scope="session")
def plans(jacket: Jacket) -> dict[str, PagePlan]:
    return jacket.plans()


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


# What the files say of themselves


@pytest.mark.parametrize("name", PRINTED)
def test_it_says_what_it_is_and_asks_for_full_size(name: str, jacket: Jacket, plans: dict[str, PagePlan]) -> None:
    reader, plan = PdfReader(jacket.print_file(name)), plans[name]
    root = reader.trailer["/Root"]
    paper = {"a4": "A4", "letter": "Letter", "a0": "A0", "roll-36in": "36 in"}
    size, _, own = name.removeprefix("by-size/").partition("-") if name in ALONE else ("", "", name)
    assert reader.metadata is not None
    assert reader.metadata["/Title"] == f"Work Jacket 1.1.0 · {paper[own]}" + (f" · {size}" if size else "")
    assert (root["/Lang"], root["/ViewerPreferences"]["/PrintScaling"]) == ("en", "/None")
    assert reader.page_labels == [page.label for page in plan.pages]
    rows = list(dict.fromkeys(page.row for page in plan.pages))
    assert len([entry for entry in reader.outline if not isinstance(entry, list)]) == len(rows)


def test_every_tile_bears_its_label_and_number(jacket: Jacket, plans: dict[str, PagePlan]) -> None:
    pages = PdfReader(jacket.print_file("a4")).pages
    for page, planned in list(zip(pages, plans["a4"].pages, strict=True))[1:]:
        text = page.extract_text()
        assert f"Page {planned.number} of {len(pages)} / Seite {planned.number} von {len(pages)}" in text
        assert f"· {planned.label} ·" in text


def test_the_table_of_pages_is_the_pages_of_the_files(jacket: Jacket) -> None:
    """`tables.json` by its fields; `pages.csv` has as many rows, with headings in words."""
    rows = json.loads((jacket.bundle / "tables/tables.json").read_text())["pages"]
    with (jacket.bundle / "tables/pages.csv").open(encoding="utf-8-sig", newline="") as file:
        told = list(csv.DictReader(file))
    assert [f"print/{row['format']}.pdf" for row in rows] == [row["File"] for row in told]
    assert [(str(row["page"]), row["label"]) for row in rows] == [
        (row["Page"], row["Name on the page"]) for row in told
    ]
    assert list(dict.fromkeys(row["format"] for row in rows)) == [*TILED, *LARGE, *ALONE]
    for name in PRINTED:
        reader, mine = PdfReader(jacket.print_file(name)), [row for row in rows if row["format"] == name]
        assert [row["page"] for row in mine] == list(range(1, len(reader.pages) + 1))
        assert [row["label"] for row in mine] == reader.page_labels
        for row, page in zip(mine, reader.pages, strict=True):
            if row["row"] == 0 or name in ALONE:
                continue
            assert row["label"] == str(row["page"]) + ("" if name in LARGE else row_letters(row["row"]))
            layers = layers_on(page)
            assert {f"Size {size}" for size in row["sizes"]} <= layers


def test_qpdf_has_nothing_against_any_pdf(jacket: Jacket) -> None:
    assert {path.name: told for path in pdfs(jacket) if (told := proof.qpdf_complaints(path))} == {}


def test_every_font_of_every_pdf_is_embedded_and_ours(jacket: Jacket) -> None:
    used = {path.name: proof.font_names(path) for path in pdfs(jacket)}
    assert all(used.values())
    assert set().union(*used.values()) == {"NotoSans-Regular", "NotoSans-Bold"}


def test_an_a4_file_is_small(jacket: Jacket) -> None:
    """2 MB for the whole jacket of eleven sizes: here the share of four."""
    assert jacket.print_file("a4").stat().st_size <= 2_000_000 * len(SIZES) / 11


# One size alone


@pytest.mark.parametrize("name", ALONE)
def test_one_size_alone_holds_each_of_its_pieces_once(name: str, jacket: Jacket, plans: dict[str, PagePlan]) -> None:
    """A piece is one form; wherever tiles show it, it lies on one and the same place of the sheet."""
    size, plan, reader = name[8:10], plans[name], PdfReader(jacket.print_file(name))
    pieces = json.loads((jacket.bundle / "data/pieces.json").read_text())["sizes"][size]["pieces"]
    told, places = {}, {}
    for page, planned in zip(reader.pages, plan.pages, strict=True):
        forms = page["/Resources"]["/XObject"]
        for x, y, form in re.findall(rb"q 1 0 0 1 (\S+) (\S+) cm /(D\d+) Do Q", page.get_contents().get_data()):
            form_name = f"/{form.decode()}"
            height = float(forms[form_name]["/BBox"][3])
            top = (float(page.mediabox[3]) - float(y) - height) * 25.4 / 72
            left = float(x) * 25.4 / 72
            place = planned.window.left_mm + left - plan.margin_mm, planned.window.top_mm + top - plan.margin_mm
            places.setdefault(form_name, []).append(place)
            told[form_name] = page.extract_xform_text(forms[form_name], (0, 90, 180, 270), 200.0)
    numbers = [re.findall(r"Piece (\d+) of (\d+)", text) for text in told.values()]
    assert Counter(number for found in numbers for number, _ in dict.fromkeys(found)) == Counter(
        str(number) for number in range(1, len(pieces) + 1)
    )
    assert {count for found in numbers for _, count in found} == {str(len(pieces))}
    assert all(f"Size {size}" in text for text in told.values())
    for found in places.values():
        assert np.ptp(np.array(found), axis=0).max() < 0.01


# For projectors


def test_projector_pages_are_no_larger_than_readers_show_and_their_lines_are_thick(jacket: Jacket) -> None:
    """5,080 mm are 14,400 units (ISO 32000-1, annex C.2); 1.25 to 2.5 mm are 2 to 3 pixels of 0.625 mm."""
    files = pdfs(jacket, "project")
    grounds = ("black-on-white", "white-on-black")
    thrown = [f"{material}-{ground}" for material in ("shell", "lining", "fusing") for ground in grounds]
    assert {file.relative_to(jacket.bundle / "project").with_suffix("").as_posix() for file in files} == {
        "calibration",
        *thrown,
        *(f"by-size/{size}-{name}" for size in SIZES for name in thrown),
    }
    for file in files:
        pages = PdfReader(file).pages
        assert len(pages) == (len(grounds) if file.stem == "calibration" else 1)
        for page in pages:
            assert max(float(side) for side in page.mediabox[2:]) <= 14_400
            forms = [one.get_object() for one in page["/Resources"]["/XObject"].values()]
            widths = [width for form in forms for width in stroke_widths_mm(form, page.pdf)]
            assert len(widths) > 5
            assert min(widths) >= 1.5 - 0.001, file.name


def test_the_grounds_of_a_projector_file_are_what_its_name_says(jacket: Jacket) -> None:
    for file in pdfs(jacket, "project"):
        if file.stem != "calibration":
            ground = float(np.median(proof.pdfium(file, 0, 20)))
            assert ground == (0 if file.stem.endswith("on-black") else 255), file.name


def test_a_projector_file_of_one_size_shows_that_size_alone_and_speaks_of_no_layers(jacket: Jacket) -> None:
    """A tablet may show no layers: everything is in the page itself."""
    for size in SIZES:
        reader = PdfReader(jacket.bundle / f"project/by-size/{size}-shell-black-on-white.pdf")
        text = reader.pages[0].extract_text()
        assert "/OCProperties" not in reader.trailer["/Root"]
        assert f"Size {size}" in text
        assert "layers" not in text
        assert not {f"Size {other}" for other in SIZES if other != size} & set(text.splitlines())
    together = PdfReader(jacket.bundle / "project/shell-black-on-white.pdf")
    assert "layers" in together.pages[0].extract_text()

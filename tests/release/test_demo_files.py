"""What the demo jacket's files say of themselves: titles, pages, tables, fonts, sizes alone, files for projectors.

The jacket is built by the real command in four of its sizes (see demo_jacket.py).
"""

import csv
import json
import re
from collections import Counter

import numpy as np
import pytest
from pypdf import PdfReader

from pipeline.sheets.layout import PagePlan
from pipeline.sheets.windows import row_letters
from tests.press import proof
from tests.release.demo_jacket import (
    ALONE,
    LARGE,
    PRINTED,
    SIZES,
    TILED,
    Jacket,
    layers_on,
    pdfs,
    stroke_widths_mm,
)


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

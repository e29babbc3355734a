"""What a print file says of itself, and that it says the same each time."""

import os
import subprocess
import sys
from pathlib import Path

import msgspec
import pytest
from pypdf import PdfReader

from pipeline.press.compose import PrintFile, compose
from pipeline.press.forms import PageTooLargeError, load_forms, render_drawings
from tests.press import proof, synthetic

FILES = ("a4", "letter", "large")
_ROOT = Path(__file__).parents[2]
_BUILD = """
import hashlib, sys
from pathlib import Path
from pipeline.drawing.fonts import use_own_fonts
use_own_fonts(Path(sys.argv[1]))
from pipeline.drawing.pages.overlays import page_overlays
from pipeline.press.compose import PrintFile, compose
from pipeline.press.forms import render_drawings
from pipeline.press.preview import preview_sheet
from tests.press import synthetic
layout, drawings = synthetic.sheet()
plan = synthetic.tiles(layout)
overlays = page_overlays(synthetic.pattern(), plan, synthetic.SIZES, synthetic.map_pieces(), synthetic.SIGNS, "a4.pdf")
file = PrintFile(imprint=synthetic.IMPRINT, plan=plan, layout=layout, sizes=synthetic.SIZES, overlays=overlays)
forms = render_drawings(drawings)
for made in (forms, compose(file, drawings, forms), preview_sheet(drawings, layout)):
    print(hashlib.sha256(made).hexdigest())
"""


@pytest.mark.parametrize("name", FILES)
def test_qpdf_has_nothing_against_it(name: str, request: pytest.FixtureRequest) -> None:
    assert proof.qpdf_complaints(request.getfixturevalue(name)) == ""


@pytest.mark.parametrize("name", FILES)
def test_fonts_are_ours_and_embedded(name: str, request: pytest.FixtureRequest) -> None:
    assert proof.font_names(request.getfixturevalue(name)) == {"NotoSans-Regular", "NotoSans-Bold"}


def test_pages_are_labelled_as_on_paper(a4: Path) -> None:
    reader = PdfReader(a4)
    assert reader.page_labels == ["1", "2A", "3A", "4A", "5B", "6B", "7B", "8C", "9C"]
    for label, page in list(zip(reader.page_labels, reader.pages, strict=True))[1:]:
        assert label in page.extract_text()


def test_the_outline_leads_to_the_start_page_and_each_row(a4: Path) -> None:
    reader = PdfReader(a4)
    outline = reader.outline
    assert [entry["/Title"] for entry in outline if not isinstance(entry, list)] == ["Start", "Row A", "Row B", "Row C"]
    assert [entry["/Title"] for entry in outline[2]] == ["2A", "3A", "4A"]
    assert reader.get_destination_page_number(outline[2][1]) == 2


@pytest.mark.parametrize("name", FILES)
def test_it_asks_to_be_printed_at_full_size(name: str, request: pytest.FixtureRequest) -> None:
    root = PdfReader(request.getfixturevalue(name)).trailer["/Root"]
    assert root["/ViewerPreferences"] == {
        "/PrintScaling": "/None",
        "/Enforce": ["/PrintScaling"],
        "/PickTrayByPDFSize": True,
        "/DisplayDocTitle": True,
    }
    assert root["/Lang"] == "en"
    assert not any("/UserUnit" in page for page in PdfReader(request.getfixturevalue(name)).pages)


def test_title_and_author_stand_in_info_and_xmp_without_dates(a4: Path) -> None:
    reader = PdfReader(a4)
    assert reader.metadata is not None
    assert dict(reader.metadata) == {
        "/Title": synthetic.IMPRINT.title,
        "/Author": synthetic.IMPRINT.author,
        "/Producer": "pattern-release",
    }
    xmp = reader.xmp_metadata
    assert xmp is not None
    assert xmp.dc_title == {"x-default": synthetic.IMPRINT.title}
    assert xmp.dc_creator == [synthetic.IMPRINT.author]
    assert xmp.xmp_create_date is None
    assert b"D:20" not in a4.read_bytes()


def test_equal_input_gives_equal_bytes_in_other_processes_and_folders(tmp_path: Path) -> None:
    told = set()
    for seed in ("1", "4711"):
        work = tmp_path / f"wörk {seed}"
        environment = {**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": str(_ROOT)}
        command = [sys.executable, "-c", _BUILD, str(work)]
        told.add(subprocess.run(command, check=True, capture_output=True, text=True, env=environment).stdout)
    assert len(told) == 1
    assert len(told.pop().split()) == 3


def test_another_version_has_another_identifier(a4: Path, letter: Path) -> None:
    first, second = (PdfReader(file).trailer["/ID"][0] for file in (a4, letter))
    assert len(first.original_bytes) == 16
    assert first != second


def test_forms_share_their_fonts(a4: Path) -> None:
    """12 drawings with text, and one font file for them; the overlays bring a regular and a bold one."""
    told = subprocess.run([proof.tool("pdffonts"), str(a4)], check=True, capture_output=True, text=True).stdout
    assert len(told.splitlines()) - 2 == 3
    assert a4.stat().st_size < 200_000


def test_a_form_is_as_large_as_its_drawing_and_brings_no_transparency_group() -> None:
    drawings = synthetic.blob("front", 150, 420)
    forms = load_forms(render_drawings(drawings))
    for drawing, form in zip(drawings, forms, strict=True):
        assert form.width_pt * 25.4 / 72 == pytest.approx(drawing.width_mm, abs=1e-3)
        assert form.height_pt * 25.4 / 72 == pytest.approx(drawing.height_mm, abs=1e-3)
        assert "/Group" not in form.stream


def test_a_page_beyond_what_readers_show_is_refused() -> None:
    layout, drawings = synthetic.sheet()
    plan = msgspec.structs.replace(synthetic.large_sheet(layout), page_height_mm=5081.0)
    file = PrintFile(
        imprint=synthetic.IMPRINT, plan=plan, layout=layout, sizes=synthetic.SIZES, overlays=synthetic.bare(plan)
    )
    with pytest.raises(PageTooLargeError, match=r"560\.0|580\.0 x 5081\.0 mm.*5080 mm"):
        compose(file, drawings, render_drawings(drawings))


def test_drawings_and_overlays_must_be_as_many_as_said() -> None:
    layout, drawings = synthetic.sheet()
    plan = synthetic.tiles(layout)
    file = PrintFile(
        imprint=synthetic.IMPRINT, plan=plan, layout=layout, sizes=synthetic.SIZES, overlays=synthetic.bare(plan)[1:]
    )
    with pytest.raises(ValueError, match="8 overlays for 9 pages"):
        compose(file, drawings, render_drawings(drawings))


def test_a_page_holds_only_what_touches_its_window(a4: Path) -> None:
    _, drawings = synthetic.sheet()
    pieces = {f"/D{index}": drawing.piece for index, drawing in enumerate(drawings)}
    pages = PdfReader(a4).pages
    shown = [{pieces[name] for name in page["/Resources"]["/XObject"] if name != "/Overlay"} for page in pages]
    assert shown == [
        set(),
        {"front"},
        {"back"},
        {"back"},
        {"front"},
        {"back", "sleeve"},
        {"back", "sleeve"},
        {"pocket"},
        {"sleeve"},
    ]

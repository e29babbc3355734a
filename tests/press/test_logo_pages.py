"""The designer's logo on pages: true in place, size and colour, and told where it cannot stand."""

import io

import msgspec
import numpy as np
import pytest

from pipeline.drawing.fonts import text_width_mm
from pipeline.drawing.pages.large import large_pages
from pipeline.drawing.pages.logo_doubts import logo_findings
from pipeline.drawing.pages.start import logo_place, start_page
from pipeline.drawing.scene import Path, Scene
from pipeline.drawing.styles import BLACK, contrast
from pipeline.masters.logo import read_logo
from pipeline.model.logo import Logo
from pipeline.model.pattern import Pattern
from pipeline.press.forms import render_pages
from pipeline.sheets.layout import PagePlan
from tests.drawing.seen import paths, written
from tests.press import synthetic

pdfium = pytest.importorskip("pypdfium2")

HEAD = '<svg xmlns="http://www.w3.org/2000/svg" width="80mm" height="40mm" viewBox="0 0 80 40">'
TEAL, PALE = "#1f5a57", "#f0e442"
SPOOL = (
    f'<rect width="80" height="40" rx="6" fill="{TEAL}"/>'
    f'<circle cx="20" cy="20" r="12" fill="{PALE}"/><path d="M40,20 h34" stroke="white" stroke-width="3"/>'
)
LAYOUT = synthetic.sheet()[0]
PAPERS = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}


def logo_of(inside: str = SPOOL) -> Logo:
    logo, findings = read_logo(f"{HEAD}{inside}</svg>".encode(), "apron")
    assert findings == ()
    return logo


def plan_of(paper: str = "a4") -> PagePlan:
    return synthetic.tiles(LAYOUT, *PAPERS[paper], paper)


def page_of(pattern: Pattern, logo: Logo | None, paper: str = "a4") -> Scene:
    given = pattern, plan_of(paper), synthetic.SIZES, synthetic.map_pieces(), synthetic.SIGNS
    return start_page(*given, logo=logo)


def marks(drawn: Scene, without: Scene) -> list[Path]:
    """What the logo adds."""
    known = list(paths(without))
    return [path for path in paths(drawn) if path not in known]


@pytest.mark.parametrize("paper", PAPERS)
def test_it_stands_right_of_the_head_beside_every_line_and_above_the_squares(paper):
    pattern = synthetic.pattern()
    bare, drawn = page_of(pattern, None, paper), page_of(pattern, logo_of(), paper)
    added = marks(drawn, bare)
    assert [path.fill for path in added] == [TEAL, PALE, "#ffffff"]
    spots = [place for path in added for run in path.runs for place in run.points]
    left, right = min(x for x, _ in spots), max(x for x, _ in spots)
    top, bottom = min(y for _, y in spots), max(y for _, y in spots)
    assert (right - left, bottom - top) == pytest.approx((30, 15), abs=0.01)
    assert right <= PAPERS[paper][0] - 6.35
    head = [text for text in written(drawn) if text.place.y < bottom + 3]
    assert len(head) == 3
    assert all(text.place.x + text_width_mm(text.content, text.size_mm, text.bold) <= left - 4.9 for text in head)
    assert bottom < 27.5, "the squares begin below it"


def test_pages_without_a_logo_are_as_they_were():
    pattern = synthetic.pattern()
    assert page_of(pattern, None) == start_page(
        pattern, plan_of(), synthetic.SIZES, synthetic.map_pieces(), synthetic.SIGNS
    )


def test_it_is_printed_in_its_own_colours_as_the_file_has_them():
    """Pixels of the printed page against those of the drawing, each at 12 to the mm of the printed logo."""
    pattern = synthetic.pattern()
    place = logo_place(pattern, plan_of(), synthetic.SIZES, logo_of())
    page = pdfium.PdfDocument(io.BytesIO(render_pages([page_of(pattern, logo_of())])))[0]
    per_mm = 12
    pixels = np.asarray(page.render(scale=per_mm * 25.4 / 72).to_pil().convert("RGB"))
    x, y = round(place.left * per_mm), round(place.top * per_mm)
    printed = pixels[y : y + 15 * per_mm, x : x + 30 * per_mm]
    cairosvg = pytest.importorskip("cairosvg")
    image = pytest.importorskip("PIL.Image")
    png = cairosvg.svg2png(f"{HEAD}{SPOOL}</svg>".encode(), output_width=30 * per_mm, background_color="white")
    drawn = np.asarray(image.open(io.BytesIO(png)).convert("RGB"))
    apart = np.abs(printed.astype(int) - drawn.astype(int)).max(axis=2) > 60
    assert apart.mean() < 0.02, "edges alone differ, by parts of a pixel"


def test_without_colour_it_is_black_and_white_and_keeps_what_is_light_on_dark():
    pattern = synthetic.pattern()
    black = msgspec.structs.replace(pattern, print=msgspec.structs.replace(pattern.print, black=True))
    added = marks(page_of(black, logo_of()), page_of(black, None))
    assert [path.fill for path in added] == [BLACK, "#ffffff", "#ffffff"]


def test_beside_a_long_title_it_is_smaller_and_then_left_out_and_told():
    pattern, shown = synthetic.pattern(), set()
    for letters in range(40, 110):
        long = msgspec.structs.replace(pattern, title=dict.fromkeys(pattern.languages, "n" * letters))
        place = logo_place(long, plan_of(), synthetic.SIZES, logo_of())
        told = [finding.code for finding in logo_findings(long, logo_of())]
        assert ("no-room" in told) == (place is None) or "no-room" in told, "by-size files may tell more"
        shown.add(place and round(place.width))
        if place is None:
            assert marks(page_of(long, logo_of()), page_of(long, None)) == []
    assert shown >= {30, 24, 18, None}


def test_on_a_large_sheet_it_stands_in_a_corner_that_no_text_reaches():
    plan = synthetic.large_sheet(LAYOUT)
    given = synthetic.pattern(), plan, synthetic.SIZES, synthetic.map_pieces(), synthetic.SIGNS, "a0.pdf"
    drawn, bare = large_pages(*given, logo=logo_of())[1], large_pages(*given)[1]
    added = marks(drawn, bare)
    assert [path.fill for path in added] == [TEAL, PALE, "#ffffff"]
    spots = [place for path in added for run in path.runs for place in run.points]
    left, right = min(x for x, _ in spots), max(x for x, _ in spots)
    top, bottom = min(y for _, y in spots), max(y for _, y in spots)
    for text in written(drawn):
        width = text_width_mm(text.content, text.size_mm, text.bold)
        if text.anchor == "start" and not text.turned_deg:
            apart = (
                text.place.x + width < left
                or text.place.x > right
                or text.place.y < top
                or text.place.y - text.size_mm > bottom
            )
            assert apart, text.content


GROUND = '<rect width="80" height="40" fill="{}"/>'
DOT = '<circle cx="9" cy="9" r="5" fill="{}"/>'


@pytest.mark.parametrize(
    ("inside", "black", "codes"),
    [
        (SPOOL, False, []),
        (SPOOL, True, []),
        (GROUND.format(PALE), False, ["too-pale"]),
        (GROUND.format("#d55e00") + DOT.format("#0072b2"), False, ["too-pale"]),
        (GROUND.format("#7a0019") + DOT.format("#ff8a8a"), False, []),
        (GROUND.format("#000000") + DOT.format("#d55e00"), False, []),
        (GROUND.format("#000000") + DOT.format("#d55e00"), True, ["too-pale"]),
        ('<path d="M5,5 h60" stroke="black" stroke-width=".3"/>', False, ["too-fine"]),
    ],
)  # fmt: skip
def test_what_would_not_be_seen_on_paper_is_told(inside, black, codes):
    pattern = synthetic.pattern()
    printed = msgspec.structs.replace(pattern, print=msgspec.structs.replace(pattern.print, black=black))
    found = list(logo_findings(printed, logo_of(inside)))
    assert [(finding.code, finding.severity) for finding in found] == [(code, "warn") for code in codes]


def test_contrasts_of_the_cases_above_are_what_they_are_said_to_be():
    assert contrast(PALE) < 3 <= contrast(PALE, TEAL)
    assert contrast("#d55e00", "#0072b2") < 3 <= contrast("#d55e00", "#000000")

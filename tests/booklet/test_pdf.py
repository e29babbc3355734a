"""Booklets of the small pattern, built by the steps: what they say, how they are tagged, and that they are the same."""

import ctypes
import re
import subprocess
from itertools import pairwise
from pathlib import Path

import pypdfium2
import pypdfium2.raw as raw
import pytest

from pipeline.booklet.check_looks import LEAST_CONTRAST, NOTE_GROUND
from pipeline.booklet.nodes import EDITIONS
from pipeline.booklet.setting.typeset import _TEMPLATE
from pipeline.bundle.built_documents import OUR_FONTS
from pipeline.drawing.styles import contrast
from pipeline.model.outputs import BookletSpec
from pipeline.words import catalogue
from tests.booklet.apron_booklets import DE, EN, ODD, Built
from tests.booklet.sample import SVG, one_line


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Built:
    written = {
        "booklet/en.md": EN.encode(),
        "booklet/de.md": DE.encode(),
        "booklet/figures/needle.svg": SVG,
        "CHANGES.md": b"# 1.0.0\n\nThe first {{ one }}, ![x](y), with <b>.\n\n# 0.9.0\n\nNobody had it.\n",
    }
    return Built(tmp_path_factory.mktemp("booklet"), written)


@pytest.fixture(scope="module")
def without(tmp_path_factory: pytest.TempPathFactory) -> Built:
    return Built(tmp_path_factory.mktemp("without"), {})


FIGURE_EM = 0.714
"""How high figures of the font are, as a share of its size; round ones reach a little over."""
NAMES = [f"{language}-{edition}" for language in ("en", "de") for edition in EDITIONS]


@pytest.mark.parametrize(
    ("language", "heading"), [("en", "Lay: main cloth, size S"), ("de", "Lage: Oberstoff, Größe S")]
)
def test_the_lay_of_the_cloth_has_a_page_of_its_own(built: Built, language: str, heading: str) -> None:
    document = pypdfium2.PdfDocument(built.place / f"{language}-a4.pdf")
    told = [one_line(page.get_textpage().get_text_range()) for page in document]
    own = [text for text in told if heading in text and "S1" in text]
    assert len(own) == 1
    assert "Odd signs" not in own[0]


def test_every_language_has_every_edition(built: Built) -> None:
    assert sorted(path.stem for path in built.place.iterdir()) == sorted(NAMES)


@pytest.mark.parametrize("name", NAMES)
def test_the_same_input_gives_the_same_bytes(built: Built, name: str, tmp_path: Path) -> None:
    if not (tmp_path / f"{name}.pdf").exists():
        built.set_in(tmp_path)
    assert (tmp_path / f"{name}.pdf").read_bytes() == (built.place / f"{name}.pdf").read_bytes()


@pytest.mark.parametrize("name", NAMES)
def test_qpdf_finds_nothing_wrong(built: Built, name: str) -> None:
    checked = subprocess.run(["qpdf", "--check", built.place / f"{name}.pdf"], capture_output=True, text=True)
    assert checked.returncode == 0, checked.stdout + checked.stderr


@pytest.mark.parametrize("name", NAMES)
def test_both_readers_find_the_text_in_reading_order(built: Built, name: str) -> None:
    poppler = subprocess.run(
        ["pdftotext", "-raw", built.place / f"{name}.pdf", "-"], capture_output=True, text=True, check=True
    ).stdout
    order = {
        "en": ("Choose your size", "What you need", "Cut out", "Sew the apron", "Press up", "Ties", "Fold", "Licence"),
        "de": ("Die Größe wählen", "Was gebraucht wird", "Zuschneiden", "Den Saum von", "Lizenz"),
    }[name[:2]]
    for text in (built.text(name), one_line(poppler)):
        places = [text.rindex(told) for told in order]
        assert places == sorted(places)


def localised(text: str, language: str) -> str:
    return text.replace(".", catalogue(language)["number.decimal"])


@pytest.mark.parametrize("name", NAMES)
def test_a_row_of_a_table_is_that_of_its_size(built: Built, name: str) -> None:
    language, text = name[:2], re.sub("[()]", "", built.text(name))
    for row in built.rows.sizes:
        if row.of == "body":
            assert localised(f"{row.size} {row.metric} {row.imperial}", language) in text


def test_body_measures_are_told_in_cm_and_never_in_m(built: Built) -> None:
    assert "the body measures Size S: 104 cm (41 in) · Size M: 108.5 cm (42 3/4 in)." in built.text("en-a4")
    assert "1.04 m" not in built.text("en-a4")


def test_what_a_designer_writes_is_text_and_never_code(built: Built) -> None:
    assert f"Odd signs: {ODD}" in built.text("en-a4")


def test_steps_are_numbered_through(built: Built) -> None:
    text = built.text("en-a4")
    assert re.search(r"1 Press up .* 2 Fold .* 3 Sew on", text)


def test_what_is_new_in_this_version_is_told_and_no_older_one(built: Built) -> None:
    assert "The first { { one }}" in built.text("en-a4")
    assert "Nobody had it" not in built.text("en-a4")


@pytest.mark.parametrize("name", NAMES)
def test_tags_nest_and_figures_and_tables_say_what_they_are(built: Built, name: str) -> None:
    pdf = built.pdf(name)
    assert pdf.is_tagged
    assert pdf.shows_title
    assert pdf.language == name[:2]
    assert pdf.said("/Title").startswith({"en": "Tea apron 1.0.0", "de": "Servierschürze 1.0.0"}[name[:2]])
    levels = [tag.level for tag in pdf.tags if tag.level]
    assert levels[0] == 1
    assert all(after <= before + 1 for before, after in pairwise(levels))
    assert all(tag.alt for tag in pdf.tags if tag.kind == "Figure")
    assert all("TH" in tag.below for tag in pdf.tags if tag.kind == "Table")
    if name.startswith("en"):
        assert "A needle and a thread" in [tag.alt for tag in pdf.tags]
        steps, of_lays = 3, built.text(name).count("•")
        assert of_lays > 2
        assert sum(tag.kind == "LI" for tag in pdf.tags) == steps + of_lays


@pytest.mark.parametrize("name", NAMES)
def test_only_our_fonts_and_all_of_them_in_the_file(built: Built, name: str) -> None:
    fonts = built.pdf(name).fonts
    assert set(fonts) == set(OUR_FONTS)
    assert all(fonts.values())


@pytest.mark.parametrize(("edition", "size"), [("a4", (595, 842)), ("letter", (612, 792)), ("large-print", (595, 842))])
def test_every_edition_has_its_paper(built: Built, edition: str, size: tuple[int, int]) -> None:
    pages = built.pdf(f"en-{edition}").pages
    assert {(round(page.width_pt), round(page.height_pt)) for page in pages} == {size}


def test_large_print_is_set_in_18_points_and_nothing_under_14_nor_a_figure_s_letters_under_18(built: Built) -> None:
    """But for the numbers of pieces on a lay: 12, since no larger ones find room in small pieces."""
    text: dict[float, int] = {}
    figures: list[float] = []
    lays: list[float] = []
    for page in pypdfium2.PdfDocument(built.place / "en-large-print.pdf"):
        written = page.get_textpage()
        whole = one_line(written.get_text_range())
        in_figures = lays if "Lay: main cloth, size S" in whole and "S1" in whole else figures
        for at in range(written.count_chars()):
            letter, size = chr(raw.FPDFText_GetUnicode(written.raw, at)), raw.FPDFText_GetFontSize(written.raw, at)
            if size < 7:  # pictures are in mm
                left, bottom, right, top = written.get_charbox(at)
                tall = max(top - bottom, right - left)  # some are read from the right, and all are taller than wide
                in_figures += [tall / FIGURE_EM] if letter in "12345679" else []
            elif not letter.isspace():
                text[round(size, 1)] = text.get(round(size, 1), 0) + 1
    assert max(text, key=text.__getitem__) >= 17
    assert min(text) >= 14
    assert min(figures) >= 18
    assert min(lays) >= 12


def test_a_pattern_without_a_booklet_has_all_that_needs_no_writing(without: Built) -> None:
    text = without.text("en-a4")
    for told in (
        "Choose your size",
        "What you need",
        "Cut out",
        "Seam allowances",
        "Strips to cut",
        "Licence",
        "help@example.org",
    ):
        assert told in text
    assert "Sew the apron" not in text


@pytest.mark.parametrize("name", NAMES)
def test_all_text_has_a_contrast_of_4_5_to_what_it_stands_on(built: Built, name: str) -> None:
    """On the band of the cover white, else on white, or on the ground of notes."""
    colours: set[tuple[str, bool]] = set()
    channels = [ctypes.c_uint() for _ in range(4)]
    for number, page in enumerate(pypdfium2.PdfDocument(built.place / f"{name}.pdf")):
        written = page.get_textpage()
        for at in range(written.count_chars()):
            if not chr(raw.FPDFText_GetUnicode(written.raw, at)).isspace():
                raw.FPDFText_GetFillColor(written.raw, at, *channels)
                colours.add(("#{:02x}{:02x}{:02x}".format(*(each.value for each in channels[:3])), number == 0))
    assert len(colours) > 2
    for colour, on_cover in colours:
        grounds = (BookletSpec().accent,) if on_cover and colour == "#ffffff" else ("#ffffff", NOTE_GROUND)
        assert min(contrast(colour, ground) for ground in grounds) >= LEAST_CONTRAST, colour


def test_the_ground_of_notes_is_what_the_accent_is_held_against() -> None:
    assert f'fill: if node.tone == "note" {{ rgb("{NOTE_GROUND}") }}' in _TEMPLATE.read_text(encoding="utf-8")


def test_colours_of_text_can_be_read_on_white() -> None:
    template = _TEMPLATE.read_text(encoding="utf-8")
    (grey,) = re.findall(r'#let grey = rgb\("(#[0-9a-f]{6})"\)', template)
    assert contrast(grey) >= 4.5

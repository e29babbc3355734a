"""The shipped font: its metrics table, its coverage, and that cairo uses it and no other."""

import io
import os
import subprocess
import sys
from pathlib import Path

import pytest

from pipeline.drawing.font_table import encoded, read_advances
from pipeline.drawing.fonts import ADVANCES_FILE, FONT_FOLDER, check_glyphs, missing_glyphs, text_width_mm
from pipeline.words import catalogue, languages

ROOT = Path(__file__).resolve().parents[2]


def test_the_advance_table_is_what_the_font_files_say():
    assert ADVANCES_FILE.read_bytes() == encoded(read_advances())


def test_the_licence_lies_beside_the_font():
    licence = (FONT_FOLDER / "OFL.txt").read_text(encoding="utf-8")
    assert "SIL OPEN FONT LICENSE" in licence
    assert "Copyright" in licence


def test_a_width_is_the_sum_of_advances():
    assert text_width_mm("AA", 10) == pytest.approx(2 * text_width_mm("A", 10))
    assert text_width_mm("0", 1000) == pytest.approx(572)  # the font's own table of widths, hmtx "zero"
    assert text_width_mm("Wide", 10, bold=True) > text_width_mm("Wide", 10)


def test_umlauts_fractions_and_accents_are_there():
    assert missing_glyphs("ÄÖÜäöüß ½¼¾⅜⅝⅞⅛ éèêñçåø × – — … „“ · °") == set()


def test_every_text_of_the_catalogues_can_be_printed():
    for language in languages():
        for key, text in catalogue(language).items():
            assert missing_glyphs(text) == set(), key


@pytest.mark.parametrize(
    ("text", "missing"),
    [("裁つ", {"裁", "つ"}), ("قص", {"ق", "ص"}), ("a\u00adb", {"\u00ad"}), ("a\nb", {"\n"}), ("q\u0301", {"\u0301"})],
    ids=["another script", "needs shaping", "soft hyphen", "line break", "accent without a composed letter"],
)
def test_what_would_print_wrongly_is_missing(text, missing):
    assert missing_glyphs(text) == missing


def test_a_decomposed_accent_is_composed_before_it_is_printed():
    assert check_glyphs("Gro\u0308ße") == "Größe"


def test_a_missing_letter_is_told_with_its_name_and_the_text():
    with pytest.raises(ValueError, match=r"U\+88C1 CJK UNIFIED IDEOGRAPH-88C1.*'Schnitt 裁'"):
        check_glyphs("Schnitt 裁")


def test_cairo_finds_the_shipped_font_alone_and_sets_it_at_the_table_widths(tmp_path):
    pypdf = pytest.importorskip("pypdf")
    script = """
import sys
from pathlib import Path
from pipeline.drawing.fonts import use_own_fonts, text_width_mm
use_own_fonts(Path(sys.argv[1]))
import cairocffi, cairosvg
from pipeline.drawing import scene, svg
from pipeline.geometry.points import Point
text = "Größe 5/8 in · Vorderteil"
surface = cairocffi.PDFSurface(None, 100, 100)
context = cairocffi.Context(surface)
for bold in (False, True):
    weight = cairocffi.FONT_WEIGHT_BOLD if bold else cairocffi.FONT_WEIGHT_NORMAL
    context.select_font_face("Noto Sans", cairocffi.FONT_SLANT_NORMAL, weight)
    context.set_font_size(100)
    cairo = sum(context.text_extents(letter)[4] for letter in text)
    assert abs(cairo - text_width_mm(text, 100, bold)) < 0.5, (cairo, text_width_mm(text, 100, bold))
shapes = [scene.text(Point(5, 10), text, 4), scene.text(Point(5, 20), text, 4, bold=True)]
sys.stdout.buffer.write(cairosvg.svg2pdf(svg.document(scene.of(0, 0, 100, 30, shapes)).encode()))
"""
    environment = {**os.environ, "PYTHONPATH": str(ROOT)}
    run = subprocess.run(
        [sys.executable, "-c", script, str(tmp_path)], capture_output=True, check=True, env=environment, cwd=tmp_path
    )
    page = pypdf.PdfReader(io.BytesIO(run.stdout)).pages[0]
    fonts = {font.get_object()["/BaseFont"].split("+")[1] for font in page["/Resources"]["/Font"].values()}
    assert fonts == {"NotoSans-Regular", "NotoSans-Bold"}
    assert "Größe 5/8 in · Vorderteil" in page.extract_text()

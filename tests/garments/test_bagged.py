"""The winter coat again, with its sleeve linings sewn to the raw edges of the hems, and turned through a side seam."""

import shutil
from pathlib import Path

import pytest

from pipeline.booklet.figures.draw import draw_figure
from pipeline.booklet.figures.figure import USUAL
from pipeline.booklet.model import Model
from pipeline.booklet.references import parse_reference
from pipeline.booklet.unbroken import NO_BREAK
from pipeline.booklet.values import value_text
from pipeline.checks.garment import Garment
from pipeline.cutting.cut import cut_pieces
from pipeline.masters.read_size import read_size
from pipeline.masters.toml.load import load_pattern
from tests.garments.test_first_checks import GARMENTS, KNOWN
from tests.garments.test_topstitched import told
from tests.release.test_bad_input import findings_of_pattern

HUNG = '[seams.hang-sleeve-hem]\nkind = "lining"\n'
GAP = 'b = ["lining-back.side"]\n'
SHALLOW = 'edges.front = { corner = { cap = "square" } }\nedges.back = { corner = { cap = "square" } }\n'


def bagged(folder: Path, *changes: tuple[str, str]) -> Path:
    shutil.copytree(GARMENTS / "winter-coat", folder / "winter-coat")
    file = folder / "winter-coat/pattern.toml"
    text = file.read_text(encoding="utf-8")
    for old, new in ((HUNG, HUNG.replace("lining", "bagged")), (GAP, f'{GAP}turn_through = "12 cm"\n'), *changes):
        assert old in text
        text = text.replace(old, new)
    file.write_text(text, encoding="utf-8")
    return folder


def test_nothing_more_is_found(tmp_path):
    found = findings_of_pattern(bagged(tmp_path), "winter-coat", tmp_path / "work")
    assert told(found) == KNOWN["winter-coat"]
    named = next(one for one in found if one["check"] == "seams-named")
    assert "lining-sleeve-upper.hem" not in named["found"]


@pytest.mark.parametrize(
    ("old", "new", "code"),
    [
        ('turn_through = "12 cm"', 'turn_through = "60 cm"', ("turned-through", "gap-too-long", "seams.lining-side")),
        # the linings' hems are allowed for as deep as the shell's
        (f"{SHALLOW}lines.lengthen", f'{SHALLOW}edges.hem = {{ allowance = "38 mm" }}\nlines.lengthen',
         ("bagged-hems", "hem-too-shallow", "seams.hang-sleeve-hem")),
    ],
)  # fmt: skip
def test_what_cannot_be_sewn_is_found(old, new, code, tmp_path):
    found = told(findings_of_pattern(bagged(tmp_path, (old, new)), "winter-coat", tmp_path / "work"))
    assert (*code, "block") in found


@pytest.fixture(scope="module")
def coat(tmp_path_factory):
    folder = bagged(tmp_path_factory.mktemp("bagged")) / "winter-coat"
    pattern, findings = load_pattern(folder)
    assert findings == ()
    assert pattern is not None
    drawn, _ = read_size(pattern, folder, "110")
    return pattern, {cut.piece: {"110": cut} for cut in cut_pieces(pattern, "110", drawn)[0]}


def test_a_booklet_says_how_long_the_gap_is(coat):
    said = {
        language: value_text(Model(*coat, language), parse_reference("turn_through lining-side"))
        for language in ("en", "de")
    }
    assert {text.replace(NO_BREAK, " ") for text in said.values()} == {"12 cm (4 3/4 in)"}


def test_figures_say_what_is_done(coat):
    garment = Garment(*coat)
    hem = draw_figure(("seam", "hang-sleeve-hem"), garment, "en", USUAL).alt
    assert "to be sewn to its raw edge" in hem
    assert "Sew it to the raw edge of the hem, right sides together, 1 cm (3/8 in) from both raw edges." in hem
    assert "Leave 12 cm (4 3/4 in) open" in draw_figure(("seam", "lining-side"), garment, "en", USUAL).alt
    assert "zum Wenden offen lassen" in draw_figure(("seam", "lining-side"), garment, "de", USUAL).alt

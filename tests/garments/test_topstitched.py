"""The winter coat again, with its yokes, flaps and hem topstitched."""

import shutil
from pathlib import Path

import pytest
from msgspec.structs import replace

from pipeline.booklet.figures.draw import draw_figure
from pipeline.booklet.figures.figure import USUAL
from pipeline.booklet.model import Model
from pipeline.booklet.references import parse_reference
from pipeline.booklet.unbroken import NO_BREAK
from pipeline.booklet.values import value_text
from pipeline.checks.garment import Garment
from pipeline.cutting.cut import cut_pieces
from pipeline.drawing.piece.pieces import draw_nest
from pipeline.exchange.document import exchange_dxf
from pipeline.ledger.measure import shape_of
from pipeline.masters.read_size import read_size
from pipeline.masters.toml.load import load_pattern
from pipeline.model.pieces import Cuts
from pipeline.rules.depends import exchange_part, shape_part, text_part
from tests.drawing.seen import texts
from tests.garments.test_first_checks import GARMENTS, KNOWN
from tests.release.test_bad_input import findings_of_pattern

SAID = {
    'b = ["yoke-back.bottom"]\n': 'topstitch = ["3 mm", "8 mm"]\npressed = "yoke-back"\n',
    'b = ["yoke-front.bottom"]\n': 'topstitch = ["3 mm", "8 mm"]\npressed = "yoke-front"\n',
    'b = ["flap.round"]\n': 'topstitch = "5 mm"\npressed = "flap"\n',
    'b = ["collar-under.cb"]\n': 'topstitch = "2 mm"\npressed = "open"\n',
}
HEM = 'edges.hem = { allowance = "4 cm", corner = "turned", hem = true }'
HEMMED = ("front", "back", "facing-front", "sleeve-upper", "sleeve-under")
SIZES = ("92", "110", "134")


def topstitched(folder: Path, *changes: tuple[str, str]) -> Path:
    shutil.copytree(GARMENTS / "winter-coat", folder / "winter-coat")
    file = folder / "winter-coat/pattern.toml"
    text = file.read_text(encoding="utf-8").replace(HEM, HEM.replace(" }", ', topstitch = "3 cm" }'))
    for old, more in SAID.items():
        assert text.count(old) == 1
        text = text.replace(old, old + more)
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    file.write_text(text, encoding="utf-8")
    return folder


@pytest.fixture(scope="module")
def coat(tmp_path_factory):
    folder = topstitched(tmp_path_factory.mktemp("topstitched")) / "winter-coat"
    pattern, findings = load_pattern(folder)
    assert findings == ()
    assert pattern is not None
    cuts: dict[str, dict] = {}
    for size in SIZES:
        drawn, _ = read_size(pattern, folder, size)
        found, told = cut_pieces(pattern, size, drawn)
        assert told == ()
        for cut in found:
            cuts.setdefault(cut.piece, {})[size] = cut
    return pattern, cuts


def told(found: list[dict]) -> set[tuple[str, str, str, str]]:
    """What is found, as the garments' known findings have it."""
    there = [finding for finding in found if finding["severity"] != "skip"]
    places = [".".join(part for part in (one["piece"], one["where"]) if part) or "pattern" for one in there]
    return {(one["check"], one["code"], place, one["severity"]) for one, place in zip(there, places, strict=True)}


def test_nothing_more_is_found(tmp_path):
    found = findings_of_pattern(topstitched(tmp_path), "winter-coat", tmp_path / "work")
    assert told(found) == KNOWN["winter-coat"]


@pytest.mark.parametrize(
    ("old", "new", "more"),
    [
        ('"3 mm", "8 mm"', '"3 mm", "12 mm"', {("topstitch-caught", "beyond-allowance", "seams.pleat-yoke", "warn"),
                                                ("topstitch-caught", "beyond-allowance", "seams.front-yoke", "warn")}),
        ('topstitch = "3 cm"', 'topstitch = "45 mm"', {("topstitch-hem", "above-hem", f"{piece}.hem", "block")
                                                        for piece in HEMMED}),
        ('topstitch = "5 mm"', 'topstitch = "6 cm"', {("cutting", "row-outside", "flap.round", "block")}),
    ],
)  # fmt: skip
def test_what_cannot_be_sewn_is_found(old, new, more, tmp_path):
    found = told(findings_of_pattern(topstitched(tmp_path, (old, new)), "winter-coat", tmp_path / "work"))
    assert found - KNOWN["winter-coat"] - {("topstitch-caught", "beyond-allowance", "seams.flap-round", "warn")} == more


def rows(cuts: Cuts, piece: str) -> list[str]:
    return [line.name for line in cuts[piece]["110"].rows]


def test_rows_lie_on_the_pieces_to_which_the_allowances_are_pressed(coat):
    _, cuts = coat
    assert rows(cuts, "yoke-back") == ["bottom-topstitch-1", "bottom-topstitch-2"]
    assert rows(cuts, "back") == ["hem-topstitch-1"]
    assert rows(cuts, "flap") == ["round-topstitch-1"]
    assert rows(cuts, "fuse-flap") == []


def test_they_are_drawn_and_named_in_every_size(coat):
    pattern, cuts = coat
    assert any("topstitching" in text.content for text in texts(draw_nest(pattern, cuts["yoke-back"], 0)))


def test_machines_and_the_ledger_have_them_as_inside_lines(coat):
    pattern, cuts = coat
    assert exchange_dxf(pattern, cuts).count(b"LINE: bottom-topstitch-2") == 2 * len(SIZES)
    assert {"bottom-topstitch-1", "bottom-topstitch-2"} <= set(shape_of(cuts["yoke-back"]["92"]).marks)


@pytest.mark.parametrize(
    ("written", "language", "said"),
    [
        ("topstitch pleat-yoke", "en", "3 mm (1/8 in) and 8 mm (5/16 in) from the seam, on Back yoke (4)"),
        ("topstitch pleat-yoke", "fr", "à 3 mm (1/8 in) et 8 mm (5/16 in) de la couture, sur Empiècement dos (4)"),
        ("topstitch collar-under-cb", "de", "2 mm (1/16 in) neben der Naht, auf beiden Seiten"),
        ("topstitch flap-round", "en", "5 mm (3/16 in) from the seam, on Pocket flap (15)"),
        ("topstitch front.hem", "nl", "3 cm (1 3/16 in) van de rand"),
    ],
)
def test_a_booklet_says_where_they_lie(written, language, said, coat):
    told = value_text(Model(*coat, language), parse_reference(written)).replace(NO_BREAK, " ")
    assert told.replace("\u00a0", " ") == said


def test_figures_say_it_too(coat):
    garment = Garment(*coat)
    assert "Topstitch: 3 mm" in draw_figure(("seam", "pleat-yoke"), garment, "en", USUAL).alt
    assert "Absteppen: 3 cm (1 3/16 in) neben der Kante." in draw_figure(("hem", "front.hem"), garment, "de", USUAL).alt
    assert "Topstitching" in draw_figure(("key",), garment, "en", USUAL).alt


def test_where_one_side_of_the_wearer_has_them_pieces_say_it(tmp_path):
    folder = topstitched(tmp_path, ('pressed = "open"', 'pressed = "left"')) / "winter-coat"
    pattern, _ = load_pattern(folder)
    assert pattern is not None
    drawn, _ = read_size(pattern, folder, "110")
    (under,), _ = cut_pieces(pattern, "110", tuple(piece for piece in drawn if piece.piece == "collar-under"))
    said = {text.content for text in texts(draw_nest(pattern, {"110": under}, 0))}
    assert any("topstitching, wearer’s left only" in text for text in said)
    assert b"LINE cb-topstitch-1, WEARER'S LEFT ONLY" in exchange_dxf(pattern, {"collar-under": {"110": under}})


def test_pages_are_printed_anew_where_the_side_changes(coat):
    pattern, _ = coat
    seam = pattern.seams["collar-under-cb"]
    other = replace(pattern, seams={**pattern.seams, seam.name: replace(seam, pressed="left")})
    assert shape_part(other) != shape_part(pattern)
    assert text_part(other) != text_part(pattern)
    assert exchange_part(other) != exchange_part(pattern)

"""The trousers again, their back lined to the knee and stayed between hip and knee, both made of the back itself."""

import json
import shutil
from pathlib import Path

import pytest
import shapely

from pipeline.cutting.cut import cut_pieces
from pipeline.drawing.piece.pieces import draw_nest, draw_projector_nest
from pipeline.exchange.document import exchange_dxf
from pipeline.ledger.measure import shape_of
from pipeline.masters.read_size import read_size
from pipeline.masters.toml.load import load_pattern
from tests.drawing.seen import texts
from tests.garments.test_first_checks import GARMENTS, KNOWN
from tests.release.test_bad_input import findings_of_pattern

PARTS = """
[pieces.back-lining]
title = { en = "Back lining to the knee", de = "Knielanges Rückenfutter" }
number = 90
views = ["trousers"]
outline_of = "back"
upto = { line = "knee", keep = "waist" }
edges.knee = { allowance = "1 cm" }
cut = [{ material = "lining", count = 2 }]

[pieces.back-stay]
title = { en = "Back stay", de = "Einlage Hinterhose" }
number = 91
views = ["trousers"]
outline_of = "back"
between = ["hip", "knee"]
trim = "3 mm"
cut = [{ material = "fusing", count = 2 }]
"""
LINING = """
[seams.back-lining-out]
a = ["back-lining.outseam"]
b = ["back.outseam[waist..knee-side]"]
kind = "lining"
"""
SIZES = ("44", "60")


def with_parts(folder: Path, more: str = PARTS + LINING) -> Path:
    shutil.copytree(GARMENTS / "suit-trousers", folder / "suit-trousers")
    file = folder / "suit-trousers/pattern.toml"
    file.write_text(file.read_text(encoding="utf-8") + more, encoding="utf-8")
    return folder


@pytest.fixture(scope="module")
def trousers(tmp_path_factory):
    folder = with_parts(tmp_path_factory.mktemp("parts")) / "suit-trousers"
    pattern, findings = load_pattern(folder)
    assert findings == ()
    assert pattern is not None
    cuts: dict = {}
    for size in SIZES:
        drawn, told = read_size(pattern, folder, size)
        assert [finding for finding in told if finding.severity == "block"] == []
        found, told = cut_pieces(pattern, size, tuple(piece for piece in drawn if piece.piece.startswith("back")))
        assert told == ()
        for cut in found:
            cuts.setdefault(cut.piece, {})[size] = cut
    return pattern, cuts


def test_nothing_more_is_found(tmp_path):
    found = findings_of_pattern(with_parts(tmp_path), "suit-trousers", tmp_path / "work")
    told = {(f["check"], f["code"], f["piece"] or "pattern", f["severity"]) for f in found if f["severity"] != "skip"}
    assert told == {
        (check, code, place.split(".")[0], severity) for check, code, place, severity in KNOWN["suit-trousers"]
    }, json.dumps([f for f in found if f["severity"] == "block"], indent=1)


@pytest.mark.parametrize("size", SIZES)
def test_the_lining_has_the_backs_cut_line_down_to_the_knee(size, trousers):
    _, cuts = trousers
    back, lining = (shapely.Polygon(cuts[name][size].cut_outline) for name in ("back", "back-lining"))
    knee = cuts["back-lining"][size].drawn.edge("knee").path[0]
    above = shapely.intersection(back, shapely.box(-1000, -1000, 3000, knee.start.y + 10))
    assert shapely.symmetric_difference(lining, above).area < 1.0
    edges = {edge.name: edge for edge in cuts["back-lining"][size].edges}
    assert edges["waist"].length_mm == cuts["back"][size].edge("waist").length_mm  # its dart is taken
    assert list(edges) == ["waist", "seat", "fork", "inseam", "knee", "outseam"]


@pytest.mark.parametrize("size", SIZES)
def test_the_stay_lies_between_its_lines_3_mm_inside_the_cut_line(size, trousers):
    _, cuts = trousers
    back, stay = cuts["back"][size], cuts["back-stay"][size]
    outline = shapely.Polygon(stay.cut_outline)
    assert shapely.Polygon(back.cut_outline).buffer(-2.99).covers(outline)
    assert {"hip", "knee"} <= {edge.name for edge in stay.edges}
    top, low = (stay.drawn.edge(name).path[0].start.y for name in ("hip", "knee"))
    assert (outline.bounds[1], outline.bounds[3]) == pytest.approx((top + 3, low - 3), abs=0.01)
    assert {slit.notch for slit in stay.slits} == {"thigh"}  # those at the knee lie on the line, beyond the trim
    grain = shapely.LineString((stay.drawn.grain.bottom, stay.drawn.grain.top))
    assert shapely.Polygon(stay.seam_outline).contains(grain)


def test_pieces_say_of_which_they_are_a_part(trousers):
    pattern, cuts = trousers
    for name in ("back-lining", "back-stay"):
        said = {text.content for text in texts(draw_nest(pattern, cuts[name], 0))}
        assert any("A part of piece 3" in text for text in said)
    assert draw_projector_nest(pattern, cuts["back-stay"], 0)


def test_a_file_for_machines_and_the_ledger_know_the_new_edges(trousers):
    pattern, cuts = trousers
    data = exchange_dxf(pattern, cuts)
    assert b"PIECE NAME: back-lining" in data
    assert set(shape_of(cuts["back-stay"]["44"]).edges) >= {"hip", "knee"}


@pytest.mark.parametrize(
    ("old", "new", "code"),
    [
        ('keep = "waist"', 'keep = "outseam"', "keep-on-both-sides"),
        ('line = "knee"', 'line = "back-welt"', "line-short"),
        ('line = "knee"', 'line = "kne"', "unknown-line"),
    ],
)
def test_what_does_not_say_one_part_is_told_of_the_piece(old, new, code, tmp_path):
    text = (PARTS + LINING).replace(old, new)
    if "kne" in new:
        text = text.replace("edges.knee", "edges.kne")
    if "welt" in new:
        text = text.replace("edges.knee", "edges.back-welt")
    found = findings_of_pattern(with_parts(tmp_path, text), "suit-trousers", tmp_path / "work")
    told = {(f["code"], f["piece"]) for f in found if f["check"] == "references" and f["severity"] == "block"}
    assert told == {(code, "back-lining")}

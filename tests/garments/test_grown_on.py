"""The trousers again, with the fly of the left front cut in one with it instead of a facing sewn on."""

import re
import shutil
from pathlib import Path

import numpy as np
import pytest
import shapely

from pipeline.correction.rows import row_values
from pipeline.drawing.piece.pieces import draw_nest
from pipeline.drawing.piece.words import allowance_sentences
from pipeline.exchange.document import exchange_dxf
from pipeline.ledger.measure import measure, shape_of
from pipeline.model.pattern import Pattern
from pipeline.model.pieces import Cuts
from pipeline.tables.write import TablesFile
from tests.drawing.seen import texts
from tests.garments.cut_again import cuts_of
from tests.garments.test_first_checks import GARMENTS, KNOWN
from tests.release.test_bad_input import findings_of_pattern

SIZES = ("44", "52", "60")
FLY = 'edges.cf = { grown_on = [{ from = "waist", to = "crotch", width = "4 cm", radius = "3 cm" }] }\n'


def with_fly(folder: Path, fly: str = FLY) -> Path:
    """The trousers without their fly facing, and what is said of the left front's centre front instead."""
    shutil.copytree(GARMENTS / "suit-trousers", folder / "suit-trousers")
    file = folder / "suit-trousers/pattern.toml"
    text = file.read_text(encoding="utf-8")
    for table in ("pieces.fly-facing", "pieces.fly-facing-fusing", "seams.fly-facing"):
        text, count = re.subn(rf"\[{table}\]\n(?:.+\n)+", "", text)
        assert count == 1
    left = text.index("[pieces.front-left]")
    at = text.index("edges.waist", left)
    file.write_text(text[:at] + fly + text[at:], encoding="utf-8")
    for drawn in folder.glob("suit-trousers/sizes/*/fly-facing.svg"):
        drawn.unlink()
    return folder


@pytest.fixture(scope="module")
def trousers(tmp_path_factory) -> tuple[Pattern, Cuts]:
    return cuts_of(with_fly(tmp_path_factory.mktemp("fly")) / "suit-trousers", "front-left", SIZES)


def told_of(folder: Path, work: Path) -> set[tuple[str, str, str, str]]:
    found = findings_of_pattern(folder, "suit-trousers", work)
    return {(f["check"], f["code"], f["piece"] or "pattern", f["severity"]) for f in found if f["severity"] != "skip"}


def test_nothing_more_is_found(tmp_path):
    assert told_of(with_fly(tmp_path), tmp_path / "work") == {
        (check, code, place.split(".")[0], severity) for check, code, place, severity in KNOWN["suit-trousers"]
    }


def test_a_seam_that_would_close_the_fly_is_told(tmp_path):
    folder = with_fly(tmp_path)
    file = folder / "suit-trousers/pattern.toml"
    text = file.read_text(encoding="utf-8")
    assert text.count('b = ["front-left.crotch"]') == 1
    text = text.replace('b = ["front-left.crotch"]', 'b = ["front-left.crotch", "front-left.cf"]')
    file.write_text(text, encoding="utf-8")
    found = findings_of_pattern(folder, "suit-trousers", tmp_path / "work")
    assert [(f["code"], f["where"]) for f in found if f["check"] == "seam-lengths"] != []


@pytest.mark.parametrize(
    ("fly", "told"),
    [
        (FLY.replace('"4 cm"', '"21 cm"').replace("3 cm", "2 cm"), "length-out-of-range"),
        (FLY.replace('"crotch"', '"fly-end"'), "unknown-notch"),
        (FLY.replace("grown_on", "grown-on"), "unknown-key"),
        (FLY.replace('"4 cm"', '"1 cm"').replace("3 cm", "1 cm"), "grown-narrow"),
    ],
)
def test_what_is_written_wrongly_is_told(fly, told, tmp_path):
    found = findings_of_pattern(with_fly(tmp_path, fly), "suit-trousers", tmp_path / "work")
    assert told in {f["code"] for f in found if f["severity"] == "block"}


@pytest.mark.parametrize("size", SIZES)
def test_folded_back_its_end_lies_on_the_cut_line_of_the_waist(size, trousers):
    _, cuts = trousers
    front = cuts["front-left"][size]
    cf = front.drawn.edge("cf").path
    start, end = np.array(cf[0].start), np.array(cf[-1].end)
    (part,) = front.edge("cf").grown_on
    assert (part.start, part.end, part.cut_mm) == (0, 1, 40)
    out = np.array([(end - start)[1], -(end - start)[0]]) / np.hypot(*(end - start))
    line = np.array(front.edge("cf").cut_line[0])
    waist = shapely.LineString(front.edge("waist").cut_line[0])
    far = line[(line - start) @ out > 39.9]
    top = far[np.argmin(shapely.distance(waist, shapely.points(far)))]
    over = top - 2 * ((top - start) @ out) * out
    assert waist.distance(shapely.Point(over)) < 0.05
    assert shapely.LineString(line).distance(shapely.Point(start + out * 40 + (end - start) / 2)) < 0.05


def test_the_piece_says_how_wide_it_is_and_that_it_is_folded_along_the_line(trousers):
    pattern, cuts = trousers
    english, german = allowance_sentences(pattern, cuts["front-left"]["52"])
    assert "centre front: 4 cm (1 9/16 in) grown on, fold along the line" in english.replace("\u00a0", " ")
    assert "vordere Mitte: 4 cm (1 9/16 in) angeschnitten, an der Linie umschlagen" in german.replace("\u00a0", " ")
    said = {text.content for text in texts(draw_nest(pattern, cuts["front-left"], 0))}
    assert any(text.startswith("centre front: fold") for text in said)


def test_a_fly_that_gets_narrower_is_told_by_both_widths_and_the_ledger_holds_both(tmp_path):
    folder = with_fly(tmp_path, FLY.replace('"4 cm"', '"6 cm .. 4 cm"'))
    pattern, cuts = cuts_of(folder / "suit-trousers", "front-left", ("52",))
    front = cuts["front-left"]["52"]
    english, german = (said.replace("\u00a0", " ") for said in allowance_sentences(pattern, front))
    assert "centre front: 6 cm (2 3/8 in) tapering to 4 cm (1 9/16 in) grown on, fold along the line" in english
    assert "6 cm (2 3/8 in), auf 4 cm (1 9/16 in) zulaufend angeschnitten" in german
    facts = measure(pattern, cuts, TablesFile(pattern=pattern.name, version="1.0.0"), {}).facts
    assert facts.pieces["front-left"]["52"].said["grown onto cf"] == "40 mm .. 60 mm"  # walked up
    assert (
        row_values(pattern, "40 mm", "60 mm .. 40 mm", "de")[1].replace("\u00a0", " ")
        == "6 cm (2 3/8 in) – 4 cm (1 9/16 in)"
    )


def test_nothing_more_is_found_of_one_that_gets_narrower(tmp_path):
    folder = with_fly(tmp_path, FLY.replace('"4 cm"', '"5 cm .. 4 cm"'))
    assert told_of(folder, tmp_path / "work") == {
        (check, code, place.split(".")[0], severity) for check, code, place, severity in KNOWN["suit-trousers"]
    }


def test_a_file_for_machines_and_the_ledger_have_its_fold_as_an_inside_line(trousers):
    pattern, cuts = trousers
    assert exchange_dxf(pattern, cuts).count(b"LINE: cf-fold-1") == len(SIZES)
    assert "cf-fold-1" in shape_of(cuts["front-left"]["44"]).marks

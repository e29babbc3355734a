"""The trousers again, let out as a tailor does: more allowance at seat and inseam, which runs out towards the knee."""

import shutil
from pathlib import Path

import pytest
import shapely

from pipeline.cutting.cut import cut_pieces
from pipeline.masters.read_size import read_size
from pipeline.masters.toml.load import load_pattern
from tests.garments.test_first_checks import GARMENTS, KNOWN
from tests.release.test_bad_input import findings_of_pattern

SEAT = 'edges.seat = { allowance = "25 mm .. 1 cm" }'
INSEAM = 'edges.inseam = { allowance = "15 mm" }'
SEAT_ALONG = """edges.seat = { allowance = "25 mm" }
edges.fork = { along = [{ from = "seat", to = "inseam", allowance = "25 mm .. 1 cm" }] }"""
LET_OUT = (
    'edges.inseam = {{ allowance = "15 mm", along = [{{ from = "{}", to = "knee", allowance = "3 cm .. 15 mm" }}] }}'
)


def let_out(folder: Path, legs: int = 3) -> Path:
    """The trousers with an inseam that is let out on the first so many legs of the file: the fronts, then the back."""
    shutil.copytree(GARMENTS / "suit-trousers", folder / "suit-trousers")
    file = folder / "suit-trousers/pattern.toml"
    text = file.read_text(encoding="utf-8")
    assert (text.count(SEAT), text.count(INSEAM)) == (1, 4)  # the last is the lining's
    for crotch in ("crotch", "crotch", "fork")[:legs]:
        text = text.replace(INSEAM, LET_OUT.format(crotch), 1)
    file.write_text(text.replace(SEAT, SEAT_ALONG), encoding="utf-8")
    return folder


def test_nothing_is_found_where_all_legs_say_the_same(tmp_path):
    found = findings_of_pattern(let_out(tmp_path), "suit-trousers", tmp_path / "work")
    told = {(f["check"], f["code"], f["piece"] or "pattern", f["severity"]) for f in found if f["severity"] != "skip"}
    assert told == {
        (check, code, place.split(".")[0], severity) for check, code, place, severity in KNOWN["suit-trousers"]
    }


def test_a_back_that_is_not_let_out_is_found_at_both_of_its_seams(tmp_path):
    found = findings_of_pattern(let_out(tmp_path, 2), "suit-trousers", tmp_path / "work")
    assert {(f["code"], f["piece"], f["where"]) for f in found if f["check"] == "allowance-pairs"} == {
        ("unequal", "front-right", "inseam"),
        ("unequal", "front-left", "inseam"),
    }


@pytest.mark.parametrize("size", ["44", "60"])
def test_the_seat_is_25_mm_wide_down_to_the_fork_and_runs_out_in_its_curve(size, tmp_path):
    folder = let_out(tmp_path) / "suit-trousers"
    pattern, findings = load_pattern(folder)
    assert findings == ()
    drawn, _ = read_size(pattern, folder, size)
    cuts, told = cut_pieces(pattern, size, tuple(piece for piece in drawn if piece.piece == "back"))
    assert told == ()
    (back,) = cuts
    seam = shapely.LinearRing(back.seam_outline)
    for edge, least, most in (("seat", 25, 25), ("fork", 10, 25), ("inseam", 15, 30)):
        (line,) = back.edge(edge).cut_line
        inner = shapely.LineString(line).segmentize(2.0).coords[10:-10]
        widths = [seam.distance(shapely.Point(place)) for place in inner]
        assert min(widths) > least - 0.05
        assert max(widths) < most + 0.05

"""The picture of a seam lays both sides on each other at 1:1, whatever the pieces' own places and directions."""

from pathlib import Path

import pytest

from pipeline.checks.garment import Garment
from pipeline.cutting.cut import cut_pieces
from pipeline.masters.load import load_pattern
from pipeline.masters.read_size import read_size
from pipeline.model.findings import Finding
from pipeline.proof.finding_picture import finding_picture
from pipeline.proof.laid_sides import laid_sides

ROOT = Path(__file__).resolve().parents[2]


@pytest.fixture(scope="module")
def garment() -> Garment:
    folder = ROOT / "tests/patterns/tea-apron"
    pattern, _ = load_pattern(folder)
    assert pattern is not None
    drawn, _ = read_size(pattern, folder, "M")
    cut, _ = cut_pieces(pattern, "M", drawn)
    return Garment(pattern, {piece.piece: {"M": piece} for piece in cut})


def test_sides_that_fit_lie_on_each_other_from_end_to_end(garment: Garment):
    a, b = laid_sides(garment, garment.pattern.seams["waist"], "M")
    assert (a.length_mm, b.length_mm) == pytest.approx((320, 320))
    assert a.line[0] == b.line[0] == (0, 0)
    assert a.line[-1].distance(b.line[-1]) == pytest.approx(0, abs=1e-6)
    assert a.line[-1].x == pytest.approx(320)
    ((name_a, place_a),), ((name_b, place_b),) = a.notches, b.notches
    assert (name_a, name_b) == ("mid-waist", "mid-waist")
    assert place_a.distance(place_b) == pytest.approx(0, abs=1e-6)


@pytest.mark.parametrize(
    ("place", "said"),
    [({"where": "seams.waist"}, "a: 320.0 mm"), ({"piece": "skirt", "where": "hem"}, 'stroke="#d55e00"')],
)
def test_a_finding_becomes_a_picture_in_mm(garment: Garment, place, said: str):
    finding = Finding(
        check="seam-lengths",
        code="too-long",
        severity="block",
        pattern="tea-apron",
        size="M",
        message="m",
        remedy="r",
        **place,
    )
    picture = finding_picture(garment, finding)
    assert picture is not None
    assert said in picture
    assert 'mm" viewBox' in picture


def test_a_finding_without_a_place_has_no_picture(garment: Garment):
    finding = Finding(check="texts", code="empty", severity="block", pattern="tea-apron", message="m", remedy="r")
    assert finding_picture(garment, finding) is None

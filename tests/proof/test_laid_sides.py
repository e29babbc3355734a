"""The picture of a seam lays both sides on each other at 1:1, whatever the pieces' own places and directions."""

from pathlib import Path

import pytest

from pipeline.checks.garment import Garment
from pipeline.cutting.cut import cut_pieces
from pipeline.drawing.scene import Scene
from pipeline.masters.read_size import read_size
from pipeline.masters.toml.load import load_pattern
from pipeline.model.findings import Finding
from pipeline.proof.finding_picture import SIDE_COLOURS, finding_picture
from pipeline.proof.laid_sides import laid_sides
from tests.drawing.seen import contents, line_of, paths

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


def picture_of(garment: Garment, **place: str) -> Scene:
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
    return picture


def test_a_seam_that_is_found_fault_with_is_shown_with_both_lengths_at_its_own_size(garment: Garment):
    picture = picture_of(garment, where="seams.waist")
    assert {"a: 320.0 mm", "b: 320.0 mm"} <= set(contents(picture))
    for colour in SIDE_COLOURS:
        drawn = [path for path in paths(picture) if path.stroke and path.stroke.colour == colour]
        assert max(line_of(path.runs[0]).length for path in drawn) == pytest.approx(320, abs=0.01)


def test_an_edge_that_is_found_fault_with_stands_out_on_its_piece(garment: Garment):
    picture = picture_of(garment, piece="skirt", where="hem")
    styles = {path.stroke for path in paths(picture)}
    plain, named = SIDE_COLOURS
    assert [style.width_mm for style in styles if style and style.colour == named] == [pytest.approx(1.2)]
    assert [style.width_mm for style in styles if style and style.colour == plain] == [pytest.approx(0.4)]


def test_a_finding_without_a_place_has_no_picture(garment: Garment):
    finding = Finding(check="texts", code="empty", severity="block", pattern="tea-apron", message="m", remedy="r")
    assert finding_picture(garment, finding) is None

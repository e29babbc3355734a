"""The camp shirt again: the facing that is grown on is interfaced alone, by keys that there are."""

import shutil

import pytest
import shapely

from pipeline.cutting.cut import cut_pieces
from pipeline.masters.copied import copy_folder
from pipeline.masters.read_size import read_size
from tests.garments.test_first_checks import GARMENTS, KNOWN
from tests.garments.test_topstitched import told
from tests.release.test_bad_input import findings_of_pattern

STAY = """
[pieces.facing-stay]
title = { en = "Front facing interfacing", fr = "Entoilage du devant rabattu" }
number = 90
views = ["shirt"]
outline_of = "front"
upto = { line = "facing-edge", keep = "edge" }
past_seam = "0 mm"
cut = [{ material = "fusing", count = 2 }]
"""
SIZES = ("S", "4XL")


@pytest.fixture(scope="module")
def shirts(tmp_path_factory):
    folder = tmp_path_factory.mktemp("shirts")
    shutil.copytree(GARMENTS / "lido-set", folder / "lido-set")
    file = folder / "lido-set/pattern.toml"
    file.write_text(file.read_text(encoding="utf-8") + STAY, encoding="utf-8")
    return folder


@pytest.mark.parametrize("size", SIZES)
def test_it_is_the_facing_folded_back_as_far_as_its_seam_lines(shirts, size):
    """A facing mirrors what it lies on: the band of the front beneath it, mirrored about the fold, lies on it."""
    copy = shirts / f"copy-{size}/lido-set"
    pattern = copy_folder(shirts / "lido-set", copy).pattern
    drawn, _ = read_size(pattern, copy, size)
    cuts, findings = cut_pieces(
        pattern, size, tuple(piece for piece in drawn if piece.piece in ("front", "facing-stay"))
    )
    assert findings == ()
    front, stay = cuts
    fold_x = front.drawn.edge("edge").path[0].start.x
    over = shapely.Polygon([(2 * fold_x - x, y) for x, y in stay.cut_outline])
    assert over.difference(shapely.Polygon(front.cut_outline)).area < 0.01
    assert over.bounds[2] - over.bounds[0] == pytest.approx(facing_mm(front, fold_x))
    assert all(edge.grown_on == () for edge in stay.edges)


def facing_mm(front, fold_x):
    """How far the line where the facing ends lies from the fold."""
    line = next(line for line in front.drawn.inside if line.name == "facing-edge")
    return max(abs(place.x - fold_x) for segment in line.path for place in (segment.start, segment.end))


def test_nothing_more_is_found_than_that_the_booklet_does_not_name_it(shirts, tmp_path):
    found = told(findings_of_pattern(shirts, "lido-set", tmp_path / "work"))
    assert found - KNOWN["lido-set"] == {("booklet-pieces", "not-named", "facing-stay", "warn")}  # no step is sewn anew

"""Derived pieces lie in their source as far as is declared."""

import pytest

from pipeline.checks.garment import Garment
from pipeline.cutting.cut import cut_pieces
from pipeline.masters.read_size import read_size
from tests.checks.apron import FOLDER, SIZES, codes, counted, found, pattern, piece, replace


def _with_fusing(declared: dict, cut_with: dict | None = None, allowance_mm: float = 10.0) -> Garment:
    """The apron with a fusing of its skirt: cut as `cut_with` says, declared otherwise where the two differ."""
    source = piece("skirt", allowance_mm=allowance_mm, edges={"middle": pattern().pieces["skirt"].edges["middle"]})

    def with_fusing(said: dict):
        common = {"name": "fusing", "number": 3, "source": "skirt", "allowance_mm": None, "edges": {}}
        fusing = replace(source["skirt"], cut=counted("shell", 1), **common, **said)
        return replace(pattern(), pieces={**source, "fusing": fusing})

    making = with_fusing(cut_with or declared)
    pieces: dict = {}
    for size in SIZES:
        drawn, _ = read_size(making, FOLDER, size)
        for cut in cut_pieces(making, size, drawn)[0]:
            pieces.setdefault(cut.piece, {})[size] = cut
    return Garment(with_fusing(declared), pieces)


@pytest.mark.parametrize("said", [{"trim_mm": 3.0}, {"trim_mm": 8.0}, {"trim_mm": 14.0}, {"past_seam_mm": 2.0}])
def test_what_is_cut_as_declared_passes(said):
    assert codes("interfacing", _with_fusing(said)) == []


@pytest.mark.parametrize(
    ("declared", "cut_with", "code"),
    [
        ({"trim_mm": 8.0}, {"trim_mm": 3.0}, "too-large"),
        ({"trim_mm": 3.0}, {"trim_mm": 8.0}, "too-small"),
        ({"past_seam_mm": 1.0}, {"past_seam_mm": 4.0}, "too-large"),
        ({"past_seam_mm": 6.0}, {"past_seam_mm": 2.0}, "too-small"),
    ],
)
def test_what_is_cut_otherwise_blocks_in_every_size(declared, cut_with, code):
    assert codes("interfacing", _with_fusing(declared, cut_with)) == [(code, "block", "S"), (code, "block", "M")]


def test_fusing_past_the_cloth_blocks():
    (first, *_) = found("interfacing", _with_fusing({"past_seam_mm": 5.0}, allowance_mm=2.0))
    assert (first.code, first.severity, first.piece) == ("past-cloth", "block", "fusing")
    # 5 mm outside a seam line with 2 mm of allowance: 3 mm, and 3 √2 = 4.24 mm at a right-angled corner
    assert "4.2 mm past the cut line of skirt" in first.message


def test_a_piece_that_is_not_derived_is_not_held():
    assert codes("interfacing", Garment(pattern(), {})) == []

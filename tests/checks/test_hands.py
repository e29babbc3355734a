"""One-sided pieces: turned over in all sizes they still measure right."""

import pytest

from pipeline.model.piece_specs import Cut
from tests.checks.skirt import PATTERN, SIZES, codes, in_all, one, replace, told, turned_over


@pytest.mark.parametrize("piece", ["pocket", "pocket-lining"])
def test_a_one_sided_piece_turned_over_in_all_sizes_blocks(piece):
    finding = one("piece-hands", in_all(piece, turned_over))
    assert (finding.code, finding.severity, finding.where) == ("flipped", "block", "seams.bag")
    assert codes(told(in_all(piece, turned_over))) == {("piece-hands", "flipped")}


def test_a_lining_that_is_not_cut_mirrored_is_the_same_fault():
    lining = PATTERN.pieces["pocket-lining"]
    straight = replace(lining, cut=(Cut("shell", dict.fromkeys(SIZES, 1), dict.fromkeys(SIZES, 0)),))
    pattern = replace(PATTERN, pieces={**PATTERN.pieces, "pocket-lining": straight})
    assert one("piece-hands", pattern=pattern).code == "flipped"


def test_pairs_and_pieces_on_the_fold_fit_either_way():
    assert ("piece-hands", "flipped") not in codes(told(in_all("front", turned_over)))
    pieces = dict(PATTERN.pieces)
    for name in ("pocket", "pocket-lining"):
        pieces[name] = replace(pieces[name], cut=(Cut("shell", dict.fromkeys(SIZES, 2), dict.fromkeys(SIZES, 1)),))
    assert told(in_all("pocket", turned_over), replace(PATTERN, pieces=pieces)) == []

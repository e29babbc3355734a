"""A piece that is drawn as its mirror image in one size."""

import pytest

from pipeline.checks.all import check_garment
from pipeline.checks.causes import places_of
from pipeline.checks.telling import tell
from pipeline.model.pieces import DrawnPiece
from tests.checks.skirt import PATTERN, SIZES, garment, lines, replace, spec
from tests.checks.skirt_faults import BAGS, bag, with_edges

SLOPE_MM = 14.0


def other_way(piece: DrawnPiece) -> DrawnPiece:
    """The mirror image, with its edges named as they then lie: the mouth slopes the other way."""
    edges = {
        "top": lines((0, 14), (140, 0)),
        "right": lines((140, 0), (126, 180)),
        "foot": lines((126, 180), (10, 180)),
        "left": lines((10, 180), (0, 14)),
    }
    return replace(with_edges(piece, edges), file=f"sizes/{piece.size}/{piece.piece}.svg")


def mirrored(*sizes: str, pieces: dict | None = None):
    """Pockets of every size's own drawing, which grow by 2 mm, but for sizes that are drawn the other way round."""
    faults = {(piece, size): bag(2.0 * place) for piece in BAGS for place, size in enumerate(SIZES)}
    pattern = replace(PATTERN, pieces={**PATTERN.pieces, **(pieces or {})})
    return check_garment(garment({**faults, **{("pocket", size): other_way for size in sizes}}, pattern))


@pytest.mark.parametrize("size", SIZES)
def test_it_is_told_in_the_one_size_that_is_the_mirror_image_of_the_others(size):
    found = [f for f in mirrored(size) if f.check == "size-mirrored"]
    assert [(f.code, f.severity, f.piece, f.size) for f in found] == [("mirrored", "block", "pocket", size)]
    assert found[0].message == f"pocket: size {size} is drawn as the mirror image of the other sizes"


def test_it_is_told_first_with_what_comes_of_it_beneath():
    lines_told = tell(mirrored("L"), (SIZES,), places_of(PATTERN))
    assert "drawn as the mirror image" in lines_told[0]
    assert [line for line in lines_told if line.startswith(("BLOCKS: pocket,", "look at: pocket."))] == lines_told[:1]


def test_pieces_in_order_and_a_pair_of_which_both_hands_are_cut_are_let_be():
    assert [f for f in mirrored() if f.check == "size-mirrored"] == []
    pair = {"pocket": spec("pocket", 4, 2, 1)}
    assert [f for f in mirrored("L", pieces=pair) if f.check == "size-mirrored"] == []

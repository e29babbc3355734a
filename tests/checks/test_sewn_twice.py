"""A piece that every seam wants twice is cut twice; one that is sewn on its left to one piece and on its right to
another is not."""

import pytest

from pipeline.checks.sewn_twice import cut_sewn_twice
from pipeline.model.pattern import Seam, SideEdge
from pipeline.model.piece_specs import EdgePart
from tests.checks.outlines import ring, sewn
from tests.checks.skirt import replace, seam
from tests.checks.test_layers import counted

SQUARE = ring(top=(0, 0), side=(100, 0), foot=(100, 200), middle=(0, 200))
OUTSIDE = {"top": "front", "side": "sleeve", "foot": "back"}
PIECES = ("yoke", "front", "sleeve", "back", "facing", "lining-sleeve", "lining-back")
INSIDE = {"top": "facing", "side": "lining-sleeve", "foot": "lining-back"}


def yoke(seams: list[Seam], **counts: tuple[int, int]):
    """A half yoke, and the pieces that are sewn to its edges, all cut as pairs unless something else is said."""
    return counted(sewn(dict.fromkeys(PIECES, SQUARE), *seams), **counts)


def both(inside: dict[str, str] = INSIDE) -> list[Seam]:
    sides = (("outside", OUTSIDE), ("inside", inside))
    return [
        seam(f"{told}-{edge}", [f"yoke.{edge}"], [f"{piece}.{edge}"])
        for told, pieces in sides
        for edge, piece in pieces.items()
    ]


def told(garment) -> list[tuple[str, str | None, str | None]]:
    return [(one.code, one.piece, one.size) for one in cut_sewn_twice(garment)]


@pytest.mark.parametrize(("count", "found"), [(2, [("once", "yoke", "M")]), (4, [])])
def test_a_yoke_between_shell_and_lining_has_two_layers(count: int, found: list[tuple[str, str, str]]) -> None:
    assert told(yoke(both(), yoke=(count, count // 2))) == found


def test_an_edge_that_is_sewn_once_tells_of_one_layer() -> None:
    assert told(yoke(both({"top": "facing", "side": "lining-sleeve"}))) == []


def test_left_and_right_pieces_share_the_edges_between_them() -> None:
    """A back whose left half is sewn to one front and whose right half to another."""
    ones = dict.fromkeys(PIECES[1:], (1, 0))
    assert told(yoke(both(), **ones)) == []


def test_one_hood_in_both_seams_of_the_neck_is_shared_by_them() -> None:
    hooded = both({**INSIDE, "top": "front"})
    assert told(yoke(hooded, front=(4, 2))) == [("once", "yoke", "M")]
    assert told(yoke(hooded)) == [], "one layer of it in both seams asks for no second layer of the yoke"


def test_a_part_of_an_edge_says_nothing_of_the_whole() -> None:
    whole = both()
    (step,) = whole[0].a
    parted = replace(whole[0], a=(SideEdge(step.piece, step.edge, part=EdgePart("start", "mid")),))
    assert told(yoke([parted, *whole[1:]])) == []

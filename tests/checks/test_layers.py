"""Third pieces in a seam, edges in several seams, pieces that lie within: none of them is a fault."""

import pytest

from pipeline.checks.all import check_garment
from pipeline.model.pattern import Range
from pipeline.model.piece_specs import Cut, EdgeSpec
from tests.checks.outlines import notched, ring, sewn
from tests.checks.skirt import FOLD, replace, seam

SQUARE = ring(top=(0, 0), side=(100, 0), foot=(100, 200), middle=(0, 200))
POCKET = ring(mouth=(0, 0), right=(50, 0), under=(50, 60), left=(0, 60))
SIDE = seam("side", ["front.side"], ["back.side"])


def codes(garment, check: str) -> list[tuple[str, str | None, str | None]]:
    return [(f.code, f.piece, f.where) for f in check_garment(garment) if f.check == check]


def test_a_notch_called_after_a_third_piece_needs_no_partner():
    shapes = {"front": SQUARE, "back": SQUARE, "pocket": POCKET}
    assert codes(notched(sewn(shapes, SIDE), front__side=("pocket", 80)), "seam-notches") == []
    assert codes(notched(sewn(shapes, SIDE), front__side=("hip", 80)), "seam-notches") == [
        ("no-partner", None, "seams.side")
    ]


def test_nor_does_one_that_a_third_piece_has_which_is_sewn_to_that_one():
    shapes = {"front": SQUARE, "back": SQUARE, "pouch": POCKET}
    mouth = seam("mouth", ["front.top"], ["pouch.mouth"], ease=Range(0, 60), notches=False)
    marks = {"front__side": ("bag", 80.0), "pouch__right": ("bag", 20.0)}
    assert codes(notched(sewn(shapes, SIDE, mouth), **marks), "seam-notches") == []
    assert codes(notched(sewn(shapes, SIDE), **marks), "seam-notches") == [("no-partner", None, "seams.side")]


def test_one_that_the_other_side_has_elsewhere_was_lost_or_moved():
    shapes = {"front": SQUARE, "back": SQUARE, "pocket": POCKET}
    other = notched(sewn(shapes, SIDE), front__side=("pocket", 80), back__top=("pocket", 30))
    assert codes(other, "seam-notches") == [("no-partner", None, "seams.side")]


def test_a_notch_that_meets_the_other_side_s_very_end_lets_the_rest_lap_over():
    longer = ring(top=(0, 0), side=(100, 0), foot=(100, 220), middle=(0, 220))
    lap = replace(SIDE, ease=Range(20, 20))
    garment = notched(sewn({"front": longer, "back": SQUARE}, lap), front__side=("end", 200), back__side=("end", 0))
    assert codes(garment, "seam-notches") == []


def counted(garment, **counts: tuple[int, int]):
    """The garment with pieces cut otherwise: how often, and how many of these mirrored."""
    pieces = dict(garment.pattern.pieces)
    for name, (count, mirrored) in counts.items():
        pieces[name] = replace(pieces[name], cut=(Cut("shell", {"M": count}, {"M": mirrored}),))
    garment.pattern = replace(garment.pattern, pieces=pieces)
    return garment


SLOPED = ring(top=(0, 0), side=(90, 10), foot=(100, 200), middle=(0, 200))


@pytest.mark.parametrize(("backs", "told"), [((2, 1), []), ((4, 2), ["does-not-pair"])])
def test_a_right_and_a_left_front_share_the_backs(backs, told):
    shapes = {"right": SLOPED, "left": SLOPED, "back": SLOPED}
    sides = [seam(name, [f"{name}.side"], ["back.side"]) for name in ("right", "left")]
    garment = counted(sewn(shapes, *sides), right=(1, 0), left=(1, 0), back=backs)
    assert [code for code, *_ in codes(garment, "cut-counts")] == told


def test_a_band_goes_round_front_and_back():
    shapes = {"front": SQUARE, "back": SQUARE, "band": ring(upper=(0, 0), end=(100, 0), lower=(100, 40), cf=(0, 40))}
    edges = {"front.middle": FOLD, "back.middle": FOLD, "band.cf": FOLD}
    hems = [seam(name, ["band.upper"], [f"{name}.foot"]) for name in ("front", "back")]
    garment = sewn(shapes, *hems, edges=edges)
    assert codes(counted(garment, front=(1, 0), back=(1, 0), band=(2, 0)), "cut-counts") == []
    assert codes(counted(garment, front=(1, 0), back=(1, 0), band=(3, 0)), "cut-counts") != []


def test_a_hood_that_is_lined_with_itself_has_two_layers():
    shapes = {"side": SQUARE, "centre": SQUARE, "body": SQUARE}
    neck = seam("neck", ["side.foot", "centre.foot"], ["body.foot"], ease=Range(0, 900), notches=False)
    face = seam("face", ["side.top", "centre.top"], ["side.top", "centre.top"])
    said = {"side": (4, 2), "centre": (4, 2), "body": (2, 1)}
    assert codes(counted(sewn(shapes, neck, face), **said), "cut-counts") == []
    assert codes(counted(sewn(shapes, neck), **said), "cut-counts") != []


def test_free_edges_of_facings_and_linings_may_be_raw():
    raw = EdgeSpec(allowance_mm=0.0)
    slanted = ring(top=(0, 0), side=(100, 0), foot=(130, 200), middle=(0, 200))
    facing = ring(top=(60, 0), side=(100, 0), foot=(130, 200), inner=(90, 200))
    faced = sewn({"front": slanted, "back": facing}, SIDE, edges={"back.inner": raw, "front.middle": raw})
    assert codes(faced, "allowance-bare") == [("bare", "front", "middle")]
    hung = sewn({"front": SQUARE, "back": SQUARE}, replace(SIDE, kind="lining"), edges={"front.foot": raw})
    assert codes(hung, "allowance-bare") == []

"""Left and right of the wearer: each wrong use is told, and what is said needs no waiver."""

import pytest

from pipeline.geometry.points import Point
from pipeline.model.piece_specs import Cut, EdgeSpec, MarkSpec
from pipeline.model.pieces import MarkPoint
from tests.checks.apron import SIZES, codes, counted, cuts, found, garment, pattern, piece, replace
from tests.checks.outlines import ring, sewn
from tests.checks.skirt import seam
from tests.checks.test_layers import SLOPED
from tests.checks.test_layers import codes as told_of

BAG = ring(mouth=(0, 0), right=(190, 10), under=(60, 60), left=(0, 60))


def entries(*said: tuple[str, int, int, str | None, int]) -> tuple[Cut, ...]:
    """(material, count, mirrored, side, layers) an entry."""
    return tuple(Cut(cloth, {"M": count}, {"M": images}, side=side, layers=n) for cloth, count, images, side, n in said)


def fronts(fly: tuple[Cut, ...], front: tuple[Cut, ...] = entries(("shell", 2, 1, None, 1))):
    """A pair of fronts with a fly that is sewn to one of them."""
    made = sewn({"front": SLOPED, "fly": BAG}, seam("fly", ["front.side"], ["fly.right"], angles=False))
    pieces = dict(made.pattern.pieces)
    for name, cut in (("front", front), ("fly", fly)):
        pieces[name] = replace(pieces[name], cut=cut)
    made.pattern = replace(made.pattern, pieces=pieces)
    return made


def test_what_one_side_has_is_sewn_to_one_of_a_pair():
    assert [code for code, *_ in told_of(fronts(entries(("shell", 1, 0, None, 1))), "cut-counts")] == ["does-not-pair"]
    one = fronts(entries(("shell", 1, 0, "left", 1)))
    assert told_of(one, "cut-counts") == told_of(one, "cut-sides") == []


def test_two_for_one_side_are_told_unless_they_lie_on_each_other():
    two = fronts(entries(("shell", 2, 0, "left", 1)))
    assert told_of(two, "cut-sides") == [("several", "fly", None)]
    assert told_of(fronts(entries(("shell", 2, 1, "left", 2))), "cut-sides") == []


def test_a_left_and_a_right_of_one_hand_block():
    alike = fronts(entries(("shell", 1, 0, "left", 1), ("lining", 1, 0, "right", 1)))
    assert told_of(alike, "cut-sides") == [("alike", "fly", None)]
    assert told_of(fronts(entries(("shell", 1, 0, "left", 1), ("lining", 1, 1, "right", 1))), "cut-sides") == []


def test_a_fusing_of_one_front_alone_says_its_side():
    def told(side: str | None) -> list[str]:
        front = entries(("shell", 2, 1, None, 1), ("fusing", 1, 0, side, 1))
        return [code for code, *_ in told_of(fronts(entries(("shell", 1, 0, "left", 1)), front), "cut-pairs")]

    assert told(None) == ["half-a-pair"]
    assert told("left") == []


def test_a_derived_piece_for_the_other_side_is_told():
    made = fronts(entries(("shell", 1, 0, "left", 1)))
    fusing = replace(made.pattern.pieces["fly"], name="fusing", source="fly", cut=entries(("fusing", 1, 0, "right", 1)))
    made.pattern = replace(made.pattern, pieces={**made.pattern.pieces, "fusing": fusing})
    made.cuts["fusing"] = {
        size: replace(cut, drawn=replace(cut.drawn, piece="fusing")) for size, cut in made.cuts["fly"].items()
    }
    assert told_of(made, "cut-sides") == [("other-than-source", "fusing", None)]


def test_layers_that_are_said_need_no_waiver():
    assert found("cut-counts", garment(pieces=piece("band", cut=counted("shell", 2)))) != []
    two = tuple(replace(entry, layers=2) for entry in counted("shell", 2))
    assert found("cut-counts", garment(pieces=piece("band", cut=two))) == []


def marked(side: str | None, half: str | None, of_pocket: str | None = None):
    """The apron, whose skirt is on the fold, with a pocket and its mark."""
    drawn = cuts()
    skirt = {
        size: replace(cut, drawn=replace(cut.drawn, points=(MarkPoint("pocket", Point(0, 0)),)))
        for size, cut in drawn["skirt"].items()
    }
    pocket = {
        size: replace(cut, drawn=replace(cut.drawn, piece="pocket"), fold=None) for size, cut in drawn["band"].items()
    }
    fold = next(edge.name for edge in drawn["skirt"]["S"].edges if edge.fold)
    own = pattern().pieces
    edges = {**own["skirt"].edges, fold: EdgeSpec(fold=True, half=half)}
    sewn_on = tuple(replace(entry, side=of_pocket) for entry in counted("shell", 1))
    pieces = {
        **own,
        "skirt": replace(own["skirt"], edges=edges, point_marks={"pocket": MarkSpec(side=side)} if side else {}),
        "pocket": replace(own["band"], name="pocket", cut=sewn_on),
    }
    return garment(drawn={**drawn, "skirt": skirt, "pocket": pocket}, pieces=pieces)


@pytest.mark.parametrize(
    ("side", "half", "of_pocket", "told"),
    [
        ("left", None, "left", "half-unsaid"),
        ("left", "right", "left", None),
        ("left", "left", None, None),
        (None, "left", "left", "mark-on-both"),
        (None, None, None, None),
    ],
)
def test_a_mark_says_its_side_and_the_fold_which_half_is_drawn(side, half, of_pocket, told):
    assert codes("cut-sides", marked(side, half, of_pocket)) == [(told, "warn", size) for size in SIZES if told]


@pytest.mark.parametrize(("side", "of_pocket"), [("left", "right"), ("right", "left")])
def test_a_mark_for_the_other_side_than_its_piece_stops_the_release(side, of_pocket):
    found_there = found("cut-sides", marked(side, "left", of_pocket))
    assert [(f.code, f.severity, f.size) for f in found_there] == [("other-side", "block", size) for size in SIZES]
    assert found_there[0].message == f"pocket is for the {of_pocket} alone, and its mark on skirt is for the {side}"


def test_a_mark_of_one_side_asks_for_one_piece():
    assert [code for code, *_ in codes("cut-uses", marked(None, None))] == ["used-otherwise"] * 2
    assert codes("cut-uses", marked("left", "left")) == []


@pytest.mark.parametrize(
    ("sides", "apart_mm", "told"),
    [
        (("left", "left"), 0, True),
        (("right", "right"), 8, True),
        (("left", "right"), 0, False),
        ((None, None), 0, False),
        (("left", None), 0, False),
        (("left", "left"), 60, False),  # at the two ends of a cuff
    ],
)
def test_a_button_is_not_sewn_on_its_own_buttonhole(sides, apart_mm, told):
    places = {"button-1": Point(30, 30), "buttonhole-1": Point(30 + apart_mm, 30)}
    points = tuple(MarkPoint(name, place) for name, place in places.items())
    drawn = dict(cuts())
    drawn["skirt"] = {
        size: replace(cut, drawn=replace(cut.drawn, points=points)) for size, cut in drawn["skirt"].items()
    }
    marks = {name: MarkSpec(side=side) for name, side in zip(places, sides, strict=True)}
    fold = {
        name: replace(edge, half="left") if edge.fold else edge
        for name, edge in pattern().pieces["skirt"].edges.items()
    }
    made = garment(drawn=drawn, pieces=piece("skirt", point_marks=marks, edges=fold))
    assert [code for code, _, _ in codes("cut-sides", made)] == (["own-hole"] * len(SIZES) if told else [])

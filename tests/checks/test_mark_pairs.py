"""Two marks for a pocket, against the edge of it that lies between them."""

from collections.abc import Mapping

import pytest

from pipeline.checks.all import check_garment
from pipeline.geometry.points import Point
from pipeline.model.piece_specs import Cut, MarkSpec
from pipeline.model.pieces import MarkPoint
from tests.checks.skirt import PATTERN, SIZES, Change, garment, lines, replace
from tests.checks.skirt_faults import with_edges

MOUTH_MM = (140.0, 14.0)
"""How the pocket's top runs."""


def wider_below(by_mm: float) -> Change:
    """The pocket wider under its mouth, to both sides."""
    edges = {
        "right": lines((140, 14), (140 + by_mm, 100), (130, 180)),
        "left": lines((14, 180), (-by_mm, 100), (0, 0)),
    }
    return lambda piece: with_edges(piece, edges)


def told(
    farther: Mapping[str, float] | float,
    names: tuple[str, str] = ("pocket-inner", "pocket-outer"),
    side: str | None = "left",
    turned: bool = False,
    below_mm: float = 0.0,
):
    """What is said of two marks on the front, which is on the fold, so much farther apart than the pocket is wide."""

    def points(size: str) -> Change:
        more = farther if isinstance(farther, float) else farther.get(size, 0.0)
        dx, dy = MOUTH_MM[0] + more, -MOUTH_MM[1] if turned else MOUTH_MM[1]
        places = (Point(5, 200), Point(5 + dx, 200 + dy))
        return lambda piece: replace(piece, points=tuple(map(MarkPoint, names, places)))

    marks = {name: MarkSpec(side=side) for name in names} if side else {}
    front = replace(PATTERN.pieces["front"], point_marks=marks)
    pattern = replace(PATTERN, pieces={**PATTERN.pieces, "front": front})
    faults = {("front", size): points(size) for size in SIZES}
    faults |= {("pocket", size): wider_below(below_mm) for size in SIZES if below_mm}
    found = check_garment(garment(faults, pattern))
    return [f for f in found if f.check == "mark-pairs"]


@pytest.mark.parametrize("turned", [False, True])
def test_marks_at_the_ends_of_the_mouth_pass_on_either_half(turned):
    assert told(0.0, turned=turned) == []


def test_marks_that_are_farther_apart_than_the_mouth_in_every_size_are_told():
    found = told(8.0)
    assert [(f.code, f.severity, f.piece, f.size) for f in found] == [
        ("apart", "warn", "front", size) for size in SIZES
    ]
    assert found[0].message == "pocket-inner and pocket-outer are 8.0 mm farther apart than pocket.top is long"


def test_holes_that_the_pocket_hides_are_let_be_and_a_single_size_off_the_others_is_told():
    assert told(-8.0) == []
    assert [f.size for f in told({"L": -5.0})] == ["L"]
    assert [f.size for f in told({"L": 5.0})] == ["L"]


def test_only_where_it_is_certain_what_they_mark():
    """One of two pockets each; ends of something else; and a piece that is there twice for the place."""
    assert told(8.0, names=("pocket-1", "pocket-2")) == []
    assert told(8.0, names=("button-inner", "button-outer")) == []
    assert told(8.0, side=None) == []


@pytest.mark.parametrize(("narrower_mm", "sizes"), [(0.0, 5), (12.0, 0)])
def test_a_pocket_that_is_narrower_at_its_mouth_may_be_marked_where_it_is_widest(narrower_mm, sizes):
    """The marks are 8 mm farther apart than the mouth; below it the pocket is as wide as that, or it is not."""
    assert len(told(8.0, below_mm=narrower_mm)) == sizes


def tab(off_mm: Mapping[str, float] | float, count: int = 1, name: str = "pocket-end", side: str | None = None):
    """What is said of one end of a tab, 140 mm wide, that is marked on half a front, 60 mm from the fold."""

    def points(size: str) -> Change:
        more = off_mm if isinstance(off_mm, float) else off_mm.get(size, 0.0)
        return lambda piece: replace(piece, points=(MarkPoint(name, Point(60 + more, 200)),))

    front = replace(PATTERN.pieces["front"], point_marks={name: MarkSpec(side=side)} if side else {})
    pocket = replace(
        PATTERN.pieces["pocket"], cut=(Cut("shell", dict.fromkeys(SIZES, count), dict.fromkeys(SIZES, 0)),)
    )
    pattern = replace(PATTERN, pieces={**PATTERN.pieces, "front": front, "pocket": pocket})
    found = check_garment(garment({("front", size): points(size) for size in SIZES}, pattern))
    return [f for f in found if f.check == "mark-pairs"]


def test_a_tab_across_the_fold_reaches_from_its_mark_to_the_mirror_image_of_it():
    assert tab(0.0) == tab(-20.0) == []  # 120 mm apart for a tab of 140 mm: buttons stand within its ends
    assert [(f.size, f.found, f.piece) for f in tab(20.0)] == [(size, "160.0 mm", "front") for size in SIZES]
    assert "pocket-end and its mirror image are" in tab(20.0)[0].message


def test_a_tab_a_side_a_tab_on_one_side_and_a_mark_that_is_no_end_say_nothing():
    assert (
        tab(20.0, count=2)
        == tab(20.0, side="left")
        == tab(20.0, name="pocket-button")
        == tab(20.0, name="pocket")
        == []
    )

"""Strips against the edges they go round, the marks named after them, and the grain that a curve needs."""

import pytest

from pipeline.geometry.curves import Cubic
from pipeline.geometry.points import Point
from pipeline.model.pattern import Seam, SideEdge
from pipeline.model.piece_specs import EdgeSpec
from pipeline.model.pieces import MarkPoint, Notch
from tests.checks.apron import SIZES, codes, counted, cuts, garment, pattern, replace, strip, total


@pytest.mark.parametrize(
    ("goes_round", "count", "told"),
    [
        ("skirt.hem", 2, False),  # a half on the fold has two hems
        ("2 x skirt.hem", 1, False),
        ("skirt.hem", 1, True),
        ("2 x skirt.hem", 2, True),
        ("body.waist", 3, False),
        ("0.5 x skirt.hem", 2, False),
    ],
)
def test_there_are_as_many_strips_as_edges_for_them(goes_round, count, told):
    made = strip("30 cm", goes_round=total(goes_round), cut=counted("shell", count))
    found = codes("strip-uses", garment(strips=made))
    assert found == ([("used-otherwise", "warn", size) for size in SIZES] if told else [])


def test_flat_strips_may_lie_in_layers():
    made = strip("30 cm", goes_round=total("2 x skirt.hem"), cut=counted("shell", 2), make="flat")
    assert codes("strip-uses", garment(strips=made)) == []


def marked(count: int, *names: str, notch: bool = False, on_fold: bool = False, long: str = "30 cm", cord=None, **said):
    """What is told of a strip where the apron's skirt has marks."""
    skirt = marked_skirt(*names, notch=notch, on_fold=on_fold)
    made = strip(long, cut=counted("shell", count), cord=cord)
    return codes("strip-uses", garment(drawn={**cuts(), "skirt": skirt}, strips=made, **said))


def marked_skirt(*names: str, notch: bool = False, on_fold: bool = False):
    """The apron's skirt with marks near its fold, as points or as notches of its hem."""
    skirt = {}
    for size, cut in cuts()["skirt"].items():
        assert cut.fold is not None
        place = cut.fold[0] if on_fold else cut.fold[0].plus(cut.fold[0].to(cut.fold[1]).left().scaled(-0.1))
        notches = tuple(Notch(name, "hem", 5.0, place) for name in names) if notch else ()
        points = () if notch else tuple(MarkPoint(name, place) for name in names)
        skirt[size] = replace(cut, drawn=replace(cut.drawn, notches=notches, points=points))
    return skirt


TOLD = [("used-otherwise", "warn", size) for size in SIZES]


@pytest.mark.parametrize("notch", [True, False])
def test_a_mark_on_a_half_stands_twice_and_one_on_its_fold_once(notch):
    assert marked(2, "loop", notch=notch) == []
    assert marked(1, "loop", notch=notch) == TOLD
    assert marked(1, "loop", notch=notch, on_fold=True) == []


def test_numbered_marks_are_a_strip_each_and_other_endings_are_ends_of_one():
    assert marked(4, "loop-1", "loop-2") == []
    assert marked(2, "loop-1", "loop-2") == TOLD
    assert marked(2, "loop-upper", "loop-lower") == []


def test_a_notch_that_both_sides_of_a_seam_have_is_one_place():
    side = (SideEdge("skirt", "hem"),)
    seams = {"side": Seam(name="side", a=side, b=side)}
    assert marked(2, "loop", notch=True, seams=seams) == []


@pytest.mark.parametrize("notch", [True, False])
@pytest.mark.parametrize("count", [1, 2])
def test_a_mark_on_a_half_may_be_one_of_both_ends_of_a_loop(count, notch):
    assert marked(count, "loop", notch=notch, long="13 cm") == []
    assert marked(3, "loop", notch=notch, long="13 cm") == TOLD


@pytest.mark.parametrize(
    ("long", "cord", "told"),
    [
        ("80 cm", None, True),  # a tie: its other end is free
        ("80 cm", True, True),
        ("80 cm", False, False),  # a strap that is caught at both ends
        ("7 cm", False, True),  # it does not reach from mark to mark
        ("13 cm", True, True),
    ],
)
def test_one_strip_between_two_marks_reaches_from_one_to_the_other_and_has_no_free_end(long, cord, told):
    assert marked(1, "loop", long=long, cord=cord) == (TOLD if told else [])


def test_a_loop_may_span_the_seam_of_a_piece_that_is_cut_twice():
    side = (SideEdge("skirt", "hem"),)
    drawn = {
        size: replace(cut, fold=None, edges=tuple(replace(edge, fold=False) for edge in cut.edges))
        for size, cut in marked_skirt("loop").items()
    }
    pieces = {**pattern().pieces}
    pieces["skirt"] = replace(pieces["skirt"], cut=counted("shell", 2, mirrored=1))
    for seams, told in (({"back": Seam(name="back", a=side, b=side)}, []), ({}, TOLD)):
        made = strip("13 cm", cut=counted("shell", 1))
        told_of = garment(drawn={**cuts(), "skirt": drawn}, pieces=pieces, strips=made, seams=seams)
        assert codes("strip-uses", told_of) == told


def test_marks_of_other_names_say_nothing():
    assert marked(7, "loophole") == []


@pytest.mark.parametrize(
    ("grain", "make", "allowance_mm", "told"),
    [
        ("along", "quarters", 0.0, True),
        ("any", "edges-to-centre", 0.0, True),
        ("bias", "quarters", 0.0, False),
        ("across", "quarters", 0.0, False),  # a knitted cloth gives across
        ("along", "doubled", 0.0, False),  # a straight waistband on a curved waist
        ("along", "quarters", 10.0, False),  # not bound, but sewn on
    ],
)
def test_what_binds_a_curve_must_give(grain, make, allowance_mm, told):
    found = binding(grain, make, allowance_mm, bow_mm=80.0)
    assert found == ([("does-not-give", "warn", None)] if told else [])


def test_a_straight_edge_may_be_bound_with_the_grain():
    assert binding("along", "quarters", 0.0, bow_mm=0.0) == []


def binding(grain, make, allowance_mm, bow_mm):
    drawn = cuts()
    skirt = {}
    for size, cut in drawn["skirt"].items():
        hem = cut.drawn.edge("hem").path
        start, end = hem[0].start, hem[-1].end
        low = Point(0, 0).to(Point(0, bow_mm))
        bow = Cubic(start, start.plus(low), end.plus(low), end)
        edges = tuple(replace(e, path=(bow,)) if e.name == "hem" else e for e in cut.drawn.edges)
        made = tuple(replace(e, allowance_mm=allowance_mm) if e.name == "hem" else e for e in cut.edges)
        skirt[size] = replace(cut, drawn=replace(cut.drawn, edges=edges), edges=made)
    pieces = {**pattern().pieces}
    pieces["skirt"] = replace(pieces["skirt"], edges={**pieces["skirt"].edges, "hem": EdgeSpec(allowance_mm=0.0)})
    made = strip("2 x skirt.hem", goes_round=total("2 x skirt.hem"), grain=grain, make=make)
    return codes("strip-grain", garment(drawn={**drawn, "skirt": skirt}, pieces=pieces, strips=made))

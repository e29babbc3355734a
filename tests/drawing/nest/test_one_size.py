"""A piece in nest coordinates: opened, it has its marks on both halves."""

import pytest
import shapely
from msgspec.structs import replace

from pipeline.drawing.nest.marks import common_grain
from pipeline.drawing.nest.one_size import in_nest
from pipeline.drawing.nest.opened import CENTRE, OneHalf
from pipeline.drawing.nest.takes import TakeMarks
from pipeline.drawing.piece.pieces import draw_nest
from pipeline.geometry.curves import Line
from pipeline.geometry.points import Point
from pipeline.model.pieces import InsideLine, MarkPoint
from tests.drawing.seen import contents
from tests.drawing.stack_factory import P, back, chain, cut_piece, pattern_of


def _mirrored(place: Point) -> tuple[float, float]:
    """The fold of the back is x = 0, and its anchor lies on it."""
    return round(-place.x, 3), round(place.y, 3)


def _rounded(place: Point) -> tuple[float, float]:
    return round(place.x, 3), round(place.y, 3)


def test_an_opened_piece_has_notches_clips_buttonholes_and_places_on_both_halves():
    made = back("34", 0)
    marks = (MarkPoint("a", P(60, 300)), MarkPoint("b", P(30, 400), (P(20, 400), P(40, 410))))
    clips = ((P(40, 20), P(42, 26)), (P(60, 12), P(62, 18)))
    made = replace(made, clips=clips, drawn=replace(made.drawn, points=marks))
    half, whole = in_nest(made, 0), in_nest(made, 0, whole=True)
    assert whole.fold is None
    assert len(half.clips) == 2
    clipped = {(_rounded(a), _rounded(b)) for a, b in half.clips}
    assert {(_rounded(a), _rounded(b)) for a, b in whole.clips} == clipped | {
        (_mirrored(a), _mirrored(b)) for a, b in half.clips
    }
    assert {(_rounded(s.outer), _rounded(s.inner)) for s in whole.notches} == {
        (way(s.outer), way(s.inner)) for s in half.notches for way in (_rounded, _mirrored)
    }
    assert {_rounded(p.place) for p in whole.points} == {
        way(p.place) for p in half.points for way in (_rounded, _mirrored)
    }
    assert {(_rounded(p.slit[0]), _rounded(p.slit[1])) for p in whole.points if p.slit} == {
        (way(p.slit[0]), way(p.slit[1])) for p in half.points if p.slit for way in (_rounded, _mirrored)
    }


def test_what_lies_outside_the_cut_line_is_no_seam_line():
    """A fusing is cut smaller than its facing: at an edge without allowance its cut line lies inside the seam line."""
    made = cut_piece("fusing", "34", chain(P(0, 0), P(100, 0), P(100, 40), P(0, 40)), allowance_mm=8.0)
    bare_below = (P(-8, -8), P(108, -8), P(108, 38), P(-8, 38))
    trimmed = replace(made, cut_drawn=bare_below, cut_outline=bare_below)
    piece = in_nest(trimmed, 0)
    cut = shapely.Polygon(piece.cut_ground)
    seam = shapely.MultiLineString([line.ring for line in piece.seam])
    assert seam.difference(cut.buffer(0.2)).is_empty
    assert seam.length == pytest.approx(100 + 2 * 38, abs=0.5), "what lies on the piece is still drawn"
    assert in_nest(made, 0).seam[0].closed, "a seam line that lies on its piece is one ring"


def test_a_mark_of_one_side_is_on_its_half_alone_where_the_piece_lies_whole():
    made = back("34", 0)
    marks = tuple(MarkPoint(name, P(60, 300 + 30 * at)) for at, name in enumerate(("mine", "theirs", "both")))
    line = InsideLine("seen", (Line(P(20, 100), P(50, 100)),), False)
    made = replace(made, drawn=replace(made.drawn, points=marks, inside=(line,)))
    whole = in_nest(made, 0, True, one_half=OneHalf({"seen": False}, {"mine": True, "theirs": False}))
    half = {point.key: point.place for point in in_nest(made, 0).points}
    assert {point.key: _rounded(point.place) for point in whole.points} == {
        "mine": _rounded(half["mine"]),
        "theirs": _mirrored(half["theirs"]),
        "both": _rounded(half["both"]),
        "both'": _mirrored(half["both"]),
    }
    (seen,) = [line for line in whole.inside if line.key != CENTRE]
    (drawn,) = in_nest(made, 0).inside
    assert seen.key == "seen"
    assert [_rounded(place) for place in seen.chain.points] == [_mirrored(place) for place in drawn.chain.points]


def test_an_opened_piece_shows_where_it_was_folded_from_cut_line_to_cut_line():
    (line,) = [line for line in in_nest(back("34", 0), 0, whole=True).inside if line.key == CENTRE]
    top, bottom = (place.y for place in sorted(line.chain.points, key=lambda place: place.y))
    _, cut_top, _, cut_bottom = shapely.Polygon(in_nest(back("34", 0), 0).cut_ground).bounds
    assert {round(place.x, 3) for place in line.chain.points} == {0}
    assert (bottom, cut_top <= top) == (pytest.approx(cut_bottom), True)
    assert all(other.key != CENTRE for other in in_nest(back("34", 0), 0).inside)


def test_a_line_that_the_designer_drew_on_the_fold_is_there_once_and_shows_it():
    made = back("34", 0)
    line = InsideLine("cb", (Line(P(0, 100), P(0, 500)),), closed=False)
    made = replace(made, drawn=replace(made.drawn, inside=(line,)))
    assert [line.key for line in in_nest(made, 0, whole=True).inside] == ["cb"]


def test_a_pleat_that_is_folded_where_the_piece_is_has_one_arrow_over_both_halves():
    """Two arrows from one fold were one with two heads: it told no way."""
    start, end = P(0, 12), P(25, 12)
    (arrow,) = in_nest(back("34", 0), 0, whole=True, takes=TakeMarks(((start, end),))).arrows
    ((tail, head),) = in_nest(back("34", 0), 0, takes=TakeMarks(((start, end),))).arrows
    assert (_rounded(arrow[0]), _rounded(arrow[1])) == (_mirrored(head), _rounded(head))
    assert _rounded(tail)[0] == 0


def test_pleats_beside_the_fold_have_an_arrow_on_each_half_also_where_both_lead_to_it():
    for start, end in ((P(60, 12), P(35, 12)), (P(25, 12), P(0, 12))):
        arrows = in_nest(back("34", 0), 0, whole=True, takes=TakeMarks(((start, end),))).arrows
        ((tail, head),) = in_nest(back("34", 0), 0, takes=TakeMarks(((start, end),))).arrows
        assert {(_rounded(a), _rounded(b)) for a, b in arrows} == {
            (_rounded(tail), _rounded(head)),
            (_mirrored(tail), _mirrored(head)),
        }


def _with_grains(*grains):
    ring = chain(P(0, 0), P(200, 0), P(200, 300), P(0, 300))
    return {
        str(34 + 2 * k): cut_piece("front", str(34 + 2 * k), ring, grain=g, anchor=P(0, 0))
        for k, g in enumerate(grains)
    }


@pytest.mark.parametrize(
    ("second", "one"),
    [
        ((P(100, 280), P(100, 20)), True),
        ((P(120, 250), P(120, 50)), True),
        ((P(100, 20), P(100, 280)), False),
        ((P(100, 280), P(100 + 260 * 0.0009, 20)), True),
        ((P(100, 280), P(100 + 260 * 0.0011, 20)), False),
    ],
)
def test_sizes_share_a_grain_line_only_where_it_points_the_same_way_within_a_thousandth(second, one):
    pieces = {size: in_nest(cut, 0) for size, cut in _with_grains((P(100, 280), P(100, 20)), second).items()}
    assert (common_grain(pieces, shapely.box(0, 0, 200, 300)) is not None) == one


def test_grain_lines_that_point_opposite_ways_are_drawn_apart():
    cuts = _with_grains((P(100, 280), P(100, 20)), (P(100, 20), P(100, 280)))
    drawings = draw_nest(pattern_of("front", sizes=("34", "36")), cuts, 0)
    assert [d.sizes for d in drawings if any("Grain" in text for text in contents(d.shapes))] == [("34",), ("36",)]

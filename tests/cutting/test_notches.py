"""Notches, and what darts and pleats take up."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from pipeline.model.piece_specs import EdgeSpec, Take
from tests.cutting.shapes import arc, array, clean, codes, cut, notch, polygon, straight

SQUARE = polygon([(0, 0), (400, 0), (400, 300), (0, 300)])


@settings(deadline=None, max_examples=60)
@given(st.floats(6, 60), st.floats(20, 380), st.sampled_from(["single", "double", "triple"]))
def test_a_slit_starts_on_the_cut_line_and_stops_short_of_half_the_allowance(allowance, at, style):
    piece = clean(SQUARE, allowance_mm=allowance, notches=(notch(SQUARE, "e0", at, style),))
    count = {"single": 1, "double": 2, "triple": 3}[style]
    assert len(piece.slits) == count
    places = [slit.outer.x for slit in piece.slits]
    assert np.diff(places) == pytest.approx([8] * (count - 1))
    assert np.mean(places) == pytest.approx(at)
    for slit in piece.slits:
        assert slit.cut
        assert slit.outer.y == pytest.approx(-allowance)
        assert slit.inner.x == pytest.approx(slit.outer.x, abs=1e-6)
        length = slit.inner.y - slit.outer.y
        assert 0 < length < allowance / 2
        assert allowance - length >= 3


@pytest.mark.parametrize("allowance", [0, 1, 3, 5.9])
def test_under_6_mm_a_mark_lies_across_the_seam_line_and_is_no_slit(allowance):
    piece = clean(SQUARE, allowance_mm=allowance, notches=(notch(SQUARE, "e0", 100),))
    (mark,) = piece.slits
    assert not mark.cut
    assert mark.outer.y == pytest.approx(-min(allowance, 3))
    assert mark.inner.y == pytest.approx(3)


def test_on_a_curve_a_slit_is_square_to_the_seam_line_and_strokes_are_8_mm_apart_along_it():
    edges = {"round": arc((0, 0), 100, 180, 180), "base": straight((100, 0), (-100, 0))}
    at = 100 * math.pi / 3
    piece = clean(edges, notches=(notch(edges, "round", at, "double"),))
    for slit, along in zip(piece.slits, (at - 4, at + 4), strict=True):
        angle = math.pi + along / 100
        outward = np.array([math.cos(angle), math.sin(angle)])
        assert np.array(slit.outer) == pytest.approx(110 * outward, abs=0.005)
        assert np.array(slit.inner) == pytest.approx(105.5 * outward, abs=0.005)


def test_a_notch_at_a_corner_has_a_slit_on_both_edges():
    piece = clean(SQUARE, notches=(notch(SQUARE, "e0", 400), notch(SQUARE, "e1", 0)))
    assert [tuple(slit.outer) for slit in piece.slits] == [(400, -10), (410, 0)]


def test_strokes_that_would_leave_the_edge_are_moved_and_told():
    piece, findings = cut(SQUARE, notches=(notch(SQUARE, "e0", 2, "double"),))
    assert codes(findings) == {"notch-near-end"}
    assert piece is not None
    assert [slit.outer.x for slit in piece.slits] == [0, 8]


def test_nothing_is_cut_on_a_fold():
    fold = {"e3": EdgeSpec(fold=True)}
    assert clean(SQUARE, fold, notches=(notch(SQUARE, "e3", 0),)).slits == ()
    _, findings = cut(SQUARE, fold, notches=(notch(SQUARE, "e3", 100),))
    assert codes(findings) == {"notch-on-fold"}


def test_what_darts_and_pleats_take_up_counts_only_in_the_gross_length():
    notches = tuple(notch(SQUARE, "e0", at, name=name) for at, name in ((100, "a"), (130, "b"), (200, "c"), (240, "d")))
    takes = (Take("a", "b", "dart"), Take("d", "c", "pleat"))
    edge = clean(SQUARE, {"e0": EdgeSpec(takes=takes)}, notches=notches).edge("e0")
    assert edge.gross_length_mm == pytest.approx(400)
    assert edge.length_mm == pytest.approx(330)
    _, findings = cut(SQUARE, {"e0": EdgeSpec(takes=(Take("a", "z", "dart"),))}, notches=notches)
    assert codes(findings) == {"take-notch"}
    assert findings[0].allowed == "z"


def test_outlines_are_walked_clockwise_on_the_page():
    piece = clean(SQUARE)
    for outline in (piece.seam_drawn, piece.cut_drawn, piece.seam_outline, piece.cut_outline):
        x, y = array(outline).T
        assert x @ np.roll(y, -1) - y @ np.roll(x, -1) > 0

"""Cuffs and grown-on facings that are turned about a fold line must mirror what they turn onto."""

import math

import pytest

from pipeline.checks.garment import Garment
from pipeline.checks.turned import fold_mirrored
from pipeline.model.pattern import Seam
from pipeline.model.pieces import InsideLine
from tests.checks.skirt import PATTERN, cut, drawn, lines, replace, seam, spec

SEWN = {"cuff": seam("cuff", ["cuff.upper"], ["sleeve.hem"])}


def told(corners, fold, seams: dict[str, Seam] = SEWN, kind="fold", names=("upper", "right", "lower", "left")):
    edges = {name: lines(one, two) for name, one, two in zip(names, corners, (*corners[1:], corners[0]), strict=True)}
    mark = InsideLine("turn", lines(*fold), False, kind)
    piece = drawn("cuff", "S", edges, (50, 60, 20), inside=(mark,))
    pattern = replace(PATTERN, pieces={"cuff": spec("cuff", 1, 2)}, seams=seams)
    outcomes = fold_mirrored(Garment(pattern, {"cuff": {"S": cut(pattern, piece)}}))
    return [(outcome.where, float(outcome.found.split(" ")[0])) for outcome in outcomes]


def cuff(low: float):
    """A cuff of 2 x 40 mm, 200 mm wide above and at the fold, `low` mm narrower on both sides below."""
    corners = ((0, 0), (200, 0), (200, 40), (200 - low, 80), (low, 80), (0, 40))
    return corners, ((0, 40), (200, 40)), ("upper", "right", "right-low", "lower", "left-low", "left")


@pytest.mark.parametrize(("low", "edges"), [(0, set()), (2, set()), (6, {"right", "left"}), (-6, {"right", "left"})])
def test_a_cuff_whose_turned_half_tapers_is_told_at_both_ends(low, edges):
    corners, fold, names = cuff(low)
    found = told(corners, fold, names=names)
    assert {where.removesuffix("-low") for where, _ in found} == edges
    assert all(off == pytest.approx(0.95 * abs(low), abs=0.1) for _, off in found)


def test_a_taper_that_runs_on_across_the_fold_is_twice_as_far_off():
    """Both halves lean alike: 8 mm over 80, so at 38 mm from the fold they are 2 x 3.8 mm apart."""
    found = told(((0, 0), (200, 0), (192, 80), (8, 80)), ((4, 40), (196, 40)))
    assert found == [("left", pytest.approx(7.6, abs=0.1)), ("right", pytest.approx(7.6, abs=0.1))]


def test_a_grown_on_facing_is_held_against_the_piece():
    """A facing of 30 mm on a pocket of 180: the sides taper by 5 degrees, and the facing goes on in them."""
    lean = math.tan(math.radians(5))
    corners = ((-30 * lean, -30), (140 + 30 * lean, -30), (140 - 150 * lean, 150), (150 * lean, 150))
    found = told(corners, ((0, 0), (140, 0)), {"bag": seam("bag", ["cuff.lower"], ["bag.lower"])})
    assert [off for _, off in found] == pytest.approx([2 * 0.95 * 30 * lean] * 2, abs=0.1)


def test_a_crease_a_place_line_and_a_roll_line_are_let_be():
    taper = ((0, 0), (200, 0), (192, 80), (8, 80))
    crease = {"leg": seam("leg", ["cuff.left"], ["back.left"]), "in": seam("in", ["cuff.right"], ["back.right"])}
    assert told(taper, ((4, 40), (196, 40)), crease) == []
    assert told(taper, ((4, 40), (196, 40)), kind="place") == []
    assert told(((0, 0), (200, 0), (200, 200), (0, 200)), ((0, 20), (160, 0)), {}) == []

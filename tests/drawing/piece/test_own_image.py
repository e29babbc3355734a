"""Two copies of a piece that is its own mirror image are two; a pair is told only where one could be taken for the
other wrongly."""

import msgspec
import pytest

from pipeline.drawing.piece.words import cut_sentences
from pipeline.geometry.curves import Line
from pipeline.geometry.points import Point
from pipeline.model.pattern import Material, Pattern
from pipeline.model.piece_specs import MarkSpec
from pipeline.model.pieces import CutPiece, GrainLine, InsideLine, MarkPoint, Notch
from tests.lays.samples import cut, cut_piece, pattern, piece_spec

UP = GrainLine(Point(50, 150), Point(50, 50))
SQUARE = [(0, 0), (100, 0), (100, 200), (0, 200)]
PAIR, SAME = "Cut 2 in main cloth: 1 and 1 mirrored", "Cut 2 in main cloth"


def pocket(outline: list[tuple[float, float]] = SQUARE, **marked: object) -> CutPiece:
    piece = cut_piece("pocket", outline, grain=UP)
    return msgspec.structs.replace(piece, drawn=msgspec.structs.replace(piece.drawn, **marked))


def made(nap: str = "none", **more: object) -> Pattern:
    shell = Material(title={"en": "main cloth"}, widths_mm=(1400.0,), nap=nap)
    return pattern([piece_spec("pocket", cut(2, 1), **more)], shell=shell)


def told(of: Pattern, piece: CutPiece) -> str:
    """As the label has it."""
    return cut_sentences(of, piece)[0]


def notch(x: float, y: float, style: str = "single") -> Notch:
    return Notch(None, "side", 0.0, Point(x, y), style)


def across(x: float, to_x: float) -> InsideLine:
    return InsideLine("line", (Line(Point(x, 60), Point(to_x, 60)),), closed=False)


@pytest.mark.parametrize(
    "piece",
    [
        pocket(),
        pocket(notches=(notch(0, 50), notch(100, 50))),
        pocket(points=(MarkPoint("button", Point(50, 40)),)),
        pocket(inside=(across(20, 80),)),
        pocket(inside=(across(20, 40), across(60, 80))),
    ],
)
def test_a_piece_that_is_its_own_image_is_cut_twice(piece):
    assert told(made(), piece) == SAME


@pytest.mark.parametrize(
    "piece",
    [
        pocket([(0, 0), (100, 0), (60, 200), (0, 200)]),
        pocket(notches=(notch(0, 50),)),
        pocket(notches=(notch(0, 50), notch(100, 50, "double"))),
        pocket(points=(MarkPoint("button", Point(30, 40)),)),
        pocket(inside=(across(20, 60),)),
    ],
)
def test_a_piece_with_anything_on_one_half_alone_stays_a_pair(piece):
    assert told(made(), piece) == PAIR


@pytest.mark.parametrize(
    "of",
    [
        made(nap="one-way"),
        made(nap="either"),
        made(grain="bias"),
        made(point_marks={"button": MarkSpec(side="right")}),
        made(line_marks={"place": MarkSpec(side="left")}),
    ],
)
def test_cloth_with_a_direction_the_bias_and_what_one_side_of_the_wearer_has_keep_the_pair(of):
    assert told(of, pocket()) == PAIR

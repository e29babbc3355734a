"""The sign of the direction in which a knit gives most: square to the grain, inside the piece, named in the key."""

import math

import msgspec
import pytest
import shapely

from pipeline.drawing.drawing import shown_signs
from pipeline.drawing.nest.stretch_sign import stretch_sign
from pipeline.drawing.piece.pieces import draw_nest
from pipeline.drawing.styles import BLACK, NESTED, PROJECTED, LineStyle
from pipeline.geometry.points import Point
from pipeline.model.pieces import GrainLine
from pipeline.model.questions import stretches_most
from tests.drawing.stack_factory import SIZES, collar, pattern_of

GRAIN = (Point(50, 200), Point(50, 100))
STYLE = LineStyle(BLACK, 0.35)
WIDE = shapely.box(0, 50, 120, 250)


def ends(ink) -> tuple[Point, Point]:
    """Where the two heads point."""
    spring = ink.strokes[: len(ink.strokes) - 4]
    return spring[0][0], spring[-1][1]


@pytest.mark.parametrize("look", [NESTED, PROJECTED])
@pytest.mark.parametrize(("across", "turned_deg"), [(True, 90.0), (False, 0.0)])
def test_it_lies_square_to_the_grain_or_along_it_inside_the_piece(across, turned_deg, look):
    ink = stretch_sign(("34",), GRAIN, across, WIDE, [], STYLE, look)
    start, end = ends(ink)
    run, grain = start.to(end), GRAIN[0].to(GRAIN[1])
    assert math.degrees(math.acos(abs(run.unit().dot(grain.unit())))) == pytest.approx(turned_deg, abs=1e-4)
    assert all(WIDE.contains(shapely.LineString(stroke)) for stroke in ink.strokes)
    line = shapely.LineString(GRAIN)
    assert all(shapely.LineString(stroke).intersects(line) is False for stroke in ink.strokes) is not across


def test_it_lies_on_no_line_where_there_is_room_and_is_shorter_on_a_narrow_piece():
    level = shapely.LineString([(0, 175), (120, 175)])  # a quarter up the grain, where it would lie
    ink = stretch_sign(("34",), GRAIN, True, WIDE, [level], STYLE, NESTED)
    assert not any(shapely.LineString(stroke).intersects(level) for stroke in ink.strokes)
    start, end = ends(stretch_sign(("34",), GRAIN, True, shapely.box(40, 50, 60, 250), [], STYLE, NESTED))
    assert start.distance(end) == pytest.approx(13)
    assert stretch_sign(("34",), GRAIN, True, shapely.box(48, 50, 52, 250), [], STYLE, NESTED) is None


def signs(**said) -> frozenset[str]:
    made = pattern_of("collar", sizes=SIZES[:1])
    grain = said.pop("grain", "warp")
    shell = msgspec.structs.replace(made.materials["shell"], **said)
    spec = msgspec.structs.replace(made.pieces["collar"], grain=grain)
    made = msgspec.structs.replace(made, materials={"shell": shell}, pieces={"collar": spec})
    return shown_signs(draw_nest(made, {"34": collar("34", 0)}, 0))


@pytest.mark.parametrize(
    ("said", "there"),
    [
        ({}, False),
        ({"stretch_width": 0.5}, True),
        ({"stretch_length": 0.5, "stretch_width": 0.2, "grain": "weft"}, True),
        ({"stretch_length": 0.5, "stretch_width": 0.5}, False),
        ({"stretch_width": 0.5, "grain": "bias"}, False),
    ],
)
def test_pieces_show_it_where_their_cloth_gives_more_in_one_direction(said, there):
    assert ("stretch" in signs(**said)) is there


def test_which_direction_that_is():
    cloth = pattern_of("collar").materials["shell"]
    given = {(0.5, 0.2): "across", (0.2, 0.5): "along", (0.5, None): "across", (0.5, 0.5): None, (None, None): None}
    for (width, length), told in given.items():
        assert stretches_most(msgspec.structs.replace(cloth, stretch_width=width, stretch_length=length)) == told


def test_sizes_whose_grain_lines_are_not_parallel_have_a_sign_each():
    made = pattern_of("collar", sizes=SIZES[:2])
    shell = msgspec.structs.replace(made.materials["shell"], stretch_width=0.5)
    cuts = {size: collar(size, step) for step, size in enumerate(SIZES[:2])}
    drawn = cuts["36"].drawn
    apart = GrainLine(Point(66, 42), Point(60, 8))
    cuts["36"] = msgspec.structs.replace(cuts["36"], drawn=msgspec.structs.replace(drawn, grain=apart))
    nest = draw_nest(msgspec.structs.replace(made, materials={"shell": shell}), cuts, 0)
    assert {drawing.sizes for drawing in nest if "stretch" in drawing.signs} == {("34",), ("36",)}

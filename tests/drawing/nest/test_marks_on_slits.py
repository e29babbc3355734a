"""A button is often sewn on at the end of its buttonhole: one mark must not vanish in the strokes of the other."""

import math
from collections.abc import Sequence

import pytest
from msgspec.structs import replace

from pipeline.drawing.nest.marks import Spot, point_inks
from pipeline.drawing.nest.one_size import nest_points
from pipeline.drawing.size_codes import SizeCodes
from pipeline.drawing.styles import NESTED, PLAIN, PROJECTED, Look
from pipeline.geometry.points import Point, Vector
from pipeline.model.pieces import MarkPoint
from tests.drawing.stack_factory import SIZES, P, back

LOOKS = pytest.mark.parametrize("look", [PLAIN, NESTED, PROJECTED], ids=["plain", "nested", "projected"])
CODES = SizeCodes({size: number for number, size in enumerate(SIZES, start=1)}, {})
ON_END, AWAY = 3.0, 40.0
"""How far a button lies from the end of its buttonhole, along it: common practice, and elsewhere."""


def spots(look: Look, at_mm: float, turned_deg: float = 0.0, sizes: Sequence[str] = SIZES[:1]) -> list[Spot]:
    """Of each size a buttonhole 22 mm long, 4 mm below the one of the size before, and a button in line with it."""
    points = {}
    along = Vector(math.cos(math.radians(turned_deg)), math.sin(math.radians(turned_deg)))
    for number, size in enumerate(sizes):
        start = P(60, 300 + 4 * number)
        end = start.plus(along.scaled(22.0))
        middle = Point((start.x + end.x) / 2, (start.y + end.y) / 2)
        marks = (
            MarkPoint("buttonhole", middle, (start, end)),
            MarkPoint("button", start.plus(along.scaled(at_mm))),
        )
        made = back("34", 0)
        points[size] = nest_points(replace(made, drawn=replace(made.drawn, points=marks)))
    return point_inks(points, CODES, look)


def buttons(found: Sequence[Spot]) -> list[Spot]:
    return [spot for spot in found if spot.key == "button"]


def angles_deg(spot: Spot) -> list[float]:
    """How the arms of its cross are turned."""
    return sorted(math.degrees(math.atan2(end.y - start.y, end.x - start.x)) % 180.0 for start, end in spot.ink.strokes)


@LOOKS
@pytest.mark.parametrize("turned_deg", [0.0, 90.0, 45.0, 20.0])
def test_no_arm_of_a_cross_on_a_buttonhole_lies_along_its_strokes(look: Look, turned_deg: float) -> None:
    (button,) = buttons(spots(look, ON_END, turned_deg))
    assert angles_deg(button) == pytest.approx(sorted(((turned_deg + 45) % 180, (turned_deg + 135) % 180)), abs=0.01)


@LOOKS
def test_a_place_by_itself_has_an_upright_cross(look: Look) -> None:
    (button,) = buttons(spots(look, AWAY, 20.0))
    assert angles_deg(button) == pytest.approx([0.0, 90.0])


@LOOKS
@pytest.mark.parametrize("at_mm", [0.0, ON_END, 8.0])
def test_a_buttonhole_takes_no_circle_from_the_button_on_it(look: Look, at_mm: float) -> None:
    """Circles are left out where two would touch; a buttonhole has none."""
    (button,) = buttons(spots(look, at_mm))
    assert button.ink.sign == "point"


@LOOKS
def test_where_sizes_crowd_the_small_crosses_are_turned_too_and_reach_beyond_the_stroke(look: Look) -> None:
    crowd = buttons(spots(look, ON_END, sizes=SIZES[:3]))
    assert len(crowd) == 3
    for button in crowd:
        assert button.ink.sign == "point-small"
        assert angles_deg(button) == pytest.approx([45.0, 135.0])
        out = max(end.distance(button.place) for stroke in button.ink.strokes for end in stroke)
        assert out * math.sin(math.radians(45)) > look.mark_mm

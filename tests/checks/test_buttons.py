"""Buttons that are bought against those that the pieces have places for, and the sides that they are on."""

import pytest

from pipeline.checks.all import check_garment
from pipeline.geometry.points import Point
from pipeline.model.pattern import Notion
from pipeline.model.piece_specs import MarkSpec
from pipeline.model.pieces import MarkPoint
from tests.checks.skirt import PATTERN, SIZES, garment, replace

SLIT = Point(4.0, 0.0), Point(-4.0, 0.0)


def places(kind: str, count: int) -> tuple[MarkPoint, ...]:
    slit = SLIT if kind == "buttonhole" else None
    numbers = range(1, count + 1)
    return tuple(MarkPoint(f"{kind}-{number}", Point(20.0, 60.0 + 40.0 * number), slit) for number in numbers)


def told(
    bought: dict[str, int], points: tuple[MarkPoint, ...], sides: dict[str, str] | None = None, piece: str = "front"
):
    notions = {
        name: Notion(name=name, title={"en": name}, count=dict.fromkeys(SIZES, count)) for name, count in bought.items()
    }
    marks = {
        point.name: MarkSpec(side=side)
        for point in points
        for kind, side in (sides or {}).items()
        if point.name.startswith(f"{kind}-")
    }
    spec = replace(PATTERN.pieces[piece], point_marks=marks)
    pattern = replace(PATTERN, notions=notions, pieces={**PATTERN.pieces, piece: spec})
    faults = {(piece, size): lambda drawn: replace(drawn, points=points) for size in SIZES}
    found = check_garment(garment(faults, pattern))
    return [(f.check, f.code, f.size, f.found, f.allowed) for f in found if f.code in {"too-few", "same-side"}]


@pytest.mark.parametrize("kind", ["button", "buttonhole"])
@pytest.mark.parametrize("missing", [1, 2, 4])
def test_fewer_buttons_than_places_are_told_in_every_size(kind, missing):
    assert told({"button": 5 - missing}, places(kind, 5)) == [
        ("buttons", "too-few", size, str(5 - missing), "at least 5") for size in SIZES
    ]


@pytest.mark.parametrize("bought", [5, 6, 10])
def test_as_many_buttons_as_places_or_more_pass(bought):
    assert told({"button": bought}, places("button", 5) + places("buttonhole", 5)) == []


def test_what_has_no_buttons_has_its_buttonholes_for_something_else():
    assert told({}, places("buttonhole", 3)) == []


def test_two_buttonholes_can_take_one_button_in_turn():
    assert told({"button": 1}, places("buttonhole", 2)) == []


def test_buttons_for_another_piece_are_not_counted():
    assert told({"button": 4, "button-back": 2}, places("button", 5)) != []
    assert told({"button": 2, "button-front": 5}, places("button", 5)) == []


@pytest.mark.parametrize("side", ["left", "right"])
def test_buttons_and_buttonholes_on_one_side_are_told(side):
    points = places("button", 3) + places("buttonhole", 3)
    other = {"left": "right", "right": "left"}[side]
    assert told({"button": 3}, points, {"button": side, "buttonhole": other}) == []
    assert told({"button": 3}, points, {"button": side, "buttonhole": side}) == [
        ("button-sides", "same-side", size, f"both on the wearer's {side}", "one side each") for size in SIZES
    ]


def test_buttons_of_which_no_side_is_said_are_not_told():
    assert told({"button": 3}, places("button", 3) + places("buttonhole", 3), {"button": "left"}) == []

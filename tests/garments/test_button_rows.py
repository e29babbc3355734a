"""Buttons of garments: marks without a partner or out of their row, and facings that end beneath them."""

from collections.abc import Mapping
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory
from types import MappingProxyType

import pytest
from msgspec.structs import replace

from pipeline.checks.button_rows import button_rows
from pipeline.checks.facings import button_facings
from pipeline.checks.garment import Garment
from pipeline.model.pattern import Pattern
from pipeline.model.piece_specs import MarkSpec
from pipeline.model.pieces import CutPiece, Cuts, MarkPoint
from pipeline.rules.sources import read_source
from tests.garments.cut_again import cuts_of
from tests.garments.test_first_checks import GARMENTS

SIDES = MappingProxyType({})
JACKET = GARMENTS.parents[1] / "source/work-jacket"


@cache
def pieces(garment: str, *names: str, size: str) -> tuple[Pattern, Cuts]:
    cuts: dict[str, Mapping[str, CutPiece]] = {}
    with TemporaryDirectory() as work:
        folder = read_source(JACKET if garment == "work-jacket" else GARMENTS / garment, Path(work)).folder
        for name in names:
            pattern, found = cuts_of(folder, name, [size])
            cuts |= found
    return replace(pattern, sizes=(size,)), cuts


def shirt(marks: Mapping[str, MarkSpec] = SIDES, lost: str = "", width_mm: float = 70.0) -> Garment:
    """The camp shirt's front, with other buttons."""
    pattern, cuts = pieces("lido-set", "front", size="M")
    front, cut = pattern.pieces["front"], cuts["front"]["M"]
    points = tuple(point for point in cut.drawn.points if point.name != lost)
    edge = cut.edge("edge")
    (grown,) = edge.grown_on
    narrow = replace(edge, grown_on=(replace(grown, width_mm=width_mm),))
    edges = tuple(narrow if each.name == "edge" else each for each in cut.edges)
    changed = replace(
        pattern,
        pieces={"front": replace(front, point_marks={**front.point_marks, **marks})},
    )
    return Garment(changed, {"front": {"M": replace(cut, drawn=replace(cut.drawn, points=points), edges=edges)}})


def test_the_garments_themselves_are_right():
    for check in (button_rows, button_facings):
        assert list(check(shirt())) == []


@pytest.mark.parametrize(("lost", "kept"), [("button-5", "buttonhole-5"), ("buttonhole-2", "button-2")])
def test_a_buttonhole_without_a_button_is_told_and_a_button_without_a_buttonhole(lost: str, kept: str):
    (told,) = button_rows(shirt(lost=lost))
    assert (told.code, told.piece, told.where) == ("no-partner", "front", f"points.{kept}")
    assert told.message == f"{kept} has no {lost.split('-')[0]}, 4 others of front have one"


def test_a_mark_whose_side_was_forgotten_is_told():
    (told,) = button_rows(shirt(marks={"buttonhole-4": MarkSpec()}))
    assert told.message == "buttonhole-4 of front is on both sides, all others of its row on the left"


@pytest.mark.parametrize("width_mm", [12.0, 19.0])
def test_a_facing_that_is_grown_on_too_narrow_for_its_buttonholes_is_told(width_mm: float):
    found = [(each.code, each.where) for each in button_facings(shirt(width_mm=width_mm))]
    assert found == [("past-facing", "edge")]


@pytest.mark.parametrize(("longer_mm", "codes"), [(0.0, []), (20.0, []), (80.0, ["past-facing"])])
def test_a_buttonhole_that_reaches_past_a_facing_that_is_sewn_on_is_told(longer_mm: float, codes: list[str]):
    pattern, cuts = pieces("work-jacket", "front", "front-facing", size="34")
    cut = cuts["front"]["34"]
    points = tuple(longer(point, longer_mm) if point.name == "buttonhole-3" else point for point in cut.drawn.points)
    changed = {**cuts, "front": {"34": replace(cut, drawn=replace(cut.drawn, points=points))}}
    told = list(button_facings(Garment(pattern, changed)))
    assert [each.code for each in told] == codes
    assert all("buttonhole-3 of front reaches" in each.message and "front-facing" in each.message for each in told)


def longer(point: MarkPoint, by_mm: float) -> MarkPoint:
    """The buttonhole, its inner end farther in."""
    assert point.slit is not None
    outer, inner = point.slit
    run = outer.to(inner)
    return replace(point, slit=(outer, inner.plus(run.scaled(by_mm / outer.distance(inner)))))

"""Buttons of garments from outside: fewer to buy than are marked, marks without a partner, both on one side."""

from collections.abc import Mapping
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory
from types import MappingProxyType

import pytest
from msgspec.structs import replace

from pipeline.checks.buttons import button_counts, button_sides
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


def shirt(buttons: int = 5, marks: Mapping[str, MarkSpec] = SIDES, lost: str = "", width_mm: float = 70.0) -> Garment:
    """The camp shirt's front, with other buttons."""
    pattern, cuts = pieces("lido-set", "front", size="M")
    front, button, cut = pattern.pieces["front"], pattern.notions["button"], cuts["front"]["M"]
    points = tuple(point for point in cut.drawn.points if point.name != lost)
    edge = cut.edge("edge")
    (grown,) = edge.grown_on
    narrow = replace(edge, grown_on=(replace(grown, width_mm=width_mm),))
    edges = tuple(narrow if each.name == "edge" else each for each in cut.edges)
    changed = replace(
        pattern,
        notions={"button": replace(button, count={"M": buttons})},
        pieces={"front": replace(front, point_marks={**front.point_marks, **marks})},
    )
    return Garment(changed, {"front": {"M": replace(cut, drawn=replace(cut.drawn, points=points), edges=edges)}})


def counted(garment: str, notion: str, *names: str, size: str, fewer: int) -> list[str]:
    pattern, cuts = pieces(garment, *names, size=size)
    own = pattern.notions[notion]
    assert own.count is not None
    less = replace(own, count={size: own.count[size] - fewer})
    said = replace(pattern, notions={**pattern.notions, notion: less})
    return [told.message for told in button_counts(Garment(said, cuts))]


def test_the_garments_themselves_are_right():
    for check in (button_counts, button_sides, button_facings):
        assert list(check(shirt())) == []


def test_spare_buttons_are_fine():
    assert list(button_counts(shirt(buttons=8))) == []


@pytest.mark.parametrize("buttons", [1, 4])
def test_fewer_buttons_than_are_marked_are_told(buttons: int):
    (told,) = button_counts(shirt(buttons))
    assert (told.code, told.where, told.size) == ("too-few", "notions.button", "M")
    assert told.message == f"there are {buttons} of button, fewer than the 5 that are marked: 5 on front"


def test_a_row_over_several_pieces_and_cuffs_that_close_themselves_are_counted():
    of = ("front", "collar-stand", "cuff", "skirt-front-a")
    assert counted("shirt-dress", "button-a", *of, size="44", fewer=0) == []
    assert counted("shirt-dress", "button-a", *of, size="44", fewer=1) == [
        "there are 14 of button-a, fewer than the 15 that are marked: "
        "2 on cuff and 6 on front and 6 on skirt-front-a and 1 on collar-stand"
    ]


def test_buttons_of_another_size_for_a_tab_are_no_spare_ones_of_the_front():
    assert counted("work-jacket", "button", "front", "upper-sleeve", size="34", fewer=0) == []
    assert counted("work-jacket", "button", "front", "upper-sleeve", size="34", fewer=1) == [
        "there are 5 of button, fewer than the 6 that are marked: 6 on front"
    ]


def test_a_mark_with_a_title_of_its_own_asks_for_no_button():
    titled = {f"{kind}-5": MarkSpec(title={"en": "eyelet"}) for kind in ("button", "buttonhole")}
    assert list(button_counts(shirt(4, titled))) == []


@pytest.mark.parametrize(("lost", "kept"), [("button-5", "buttonhole-5"), ("buttonhole-2", "button-2")])
def test_a_buttonhole_without_a_button_is_told_and_a_button_without_a_buttonhole(lost: str, kept: str):
    (told,) = button_counts(shirt(lost=lost))
    assert (told.code, told.piece, told.where) == ("no-partner", "front", f"points.{kept}")
    assert told.message == f"{kept} has no {lost.split('-')[0]}, 4 others of front have one"


def test_a_button_and_its_buttonhole_on_one_side_are_told():
    told = list(button_sides(shirt(marks={"button-3": MarkSpec(side="left")})))
    assert [(each.code, each.where) for each in told] == [
        ("one-side", "points.button-3"),
        ("out-of-row", "points.button-3"),
    ]
    assert told[0].message == "button-3 and buttonhole-3 of front are both on the left"


def test_all_buttons_on_the_side_of_their_buttonholes_are_told():
    marks = {f"button-{number}": MarkSpec(side="left") for number in range(1, 6)}
    assert [each.code for each in button_sides(shirt(marks=marks))] == ["one-side"] * 5


def test_a_mark_whose_side_was_forgotten_is_told():
    (told,) = button_sides(shirt(marks={"buttonhole-4": MarkSpec()}))
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

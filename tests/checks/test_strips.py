"""Strips against what they go round and what passes through them; notions in every size."""

import pytest

from pipeline.geometry.points import Point
from pipeline.masters.toml.sums import parse_marks
from pipeline.model.pattern import Notion, View
from pipeline.model.piece_specs import MarkSpec
from pipeline.model.pieces import MarkPoint
from tests.checks.apron import codes, cuts, found, garment, notion, piece, replace, strip, total


@pytest.mark.parametrize(
    ("length", "goes_round", "expected"),
    [
        ("2 x skirt.waist + 30 mm", "2 x skirt.waist", None),
        ("2 x skirt.waist", "2 x skirt.waist", None),
        ("2 x skirt.waist - 5 mm", "2 x skirt.waist", ("too-short", "block")),
        ("skirt.waist", "2 x skirt.waist", ("too-short", "block")),
        ("4 x skirt.waist", "2 x skirt.waist", ("too-long", "warn")),
    ],
)
def test_goes_round(length, goes_round, expected):
    told = codes("strip-lengths", garment(strips=strip(length, goes_round=total(goes_round))))
    assert {(code, severity) for code, severity, _ in told} == ({expected} if expected else set())
    assert len(told) == (2 if expected else 0)


@pytest.mark.parametrize(
    ("name", "title", "told"),
    [
        ("belt", "Belt", False),
        ("one", "Tie belt, left", False),
        ("one", "Bindegürtel", False),
        ("one", "Schärpe", False),
        ("one", "Ruban à nouer", False),
        ("one", "Cinturón", False),
        ("one", "Strikceintuur", False),
        ("one", "Knytskärp", False),
        ("belt-loop", "Gürtelschlaufe", True),
        ("waistband", "Ceinture", True),
        ("one", "Tier", True),
        ("one", "Elbow band", True),
    ],
)
def test_what_is_tied_may_be_longer_by_its_ends(name, title, told):
    made = strip("4.4 x skirt.waist", goes_round=total("2 x skirt.waist"))["loop"]
    named = {name: replace(made, name=name, title={"en": title})}
    expected = [("too-long", "warn", size) for size in ("S", "M")]
    assert codes("strip-lengths", garment(strips=named)) == (expected if told else [])


def test_a_cord_may_be_longer_and_what_is_tied_not_without_end():
    long = strip("4.4 x skirt.waist", goes_round=total("2 x skirt.waist"), cord=True)
    assert codes("strip-lengths", garment(strips=long)) == []
    endless = {"belt": replace(long["loop"], name="belt", length=total("12 x skirt.waist"))}
    assert {code for code, _, _ in codes("strip-lengths", garment(strips=endless))} == {"too-long"}


def test_a_strip_that_gives_may_be_stretched_so_it_warns():
    bias = strip("2 x skirt.waist - 5 mm", goes_round=total("2 x skirt.waist"), grain="bias")
    assert {(code, severity) for code, severity, _ in codes("strip-lengths", garment(strips=bias))} == {
        ("too-short", "warn")
    }


@pytest.mark.parametrize(
    ("length", "allowance", "expected"),
    [
        ("40 mm + 10 mm + 2 x 10 mm", 0.0, None),  # loop: opening + 2 tucks, 70 mm for 50
        ("50 mm", 10.0, None),  # the tucks are its allowances
        ("50 mm", 0.0, ("no-tucks", "warn")),
        ("45 mm", 0.0, ("opening-too-small", "block")),
    ],
)
def test_opening(length, allowance, expected):
    loop = strip(length, opening=total("50 mm"), allowance_mm=allowance)
    told = codes("strip-lengths", garment(strips=loop))
    assert {(code, severity) for code, severity, _ in told} == ({expected} if expected else set())


@pytest.mark.parametrize(
    ("width_mm", "length", "told"),
    [(60, "8 mm", True), (110, "35 mm", True), (8, "60 mm", False), (60, "60 mm", False), (60, "35 mm", False)],
)
def test_a_strip_of_which_width_and_length_were_exchanged_warns(width_mm, length, told):
    loop = strip(length, width_mm=float(width_mm), opening=total("1 mm"), allowance_mm=20.0)
    expected = [("wider-than-long", "warn", size) for size in ("S", "M")]
    assert codes("strip-lengths", garment(strips=loop)) == (expected if told else [])


def test_a_strip_without_length_blocks_and_names_itself():
    (first, *_) = found("strip-lengths", garment(strips=strip("10 mm - skirt.waist", opening=total("50 mm"))))
    assert (first.code, first.severity, first.where, first.size) == ("no-length", "block", "strips.loop", "S")


def test_a_strip_that_nothing_is_declared_for_is_skipped():
    assert codes("strip-lengths", garment(strips=strip("80 mm"))) == [("not-held", "skip", None)]


def test_notions_of_every_size_pass():
    assert codes("notions", garment(notions=notion(count={"S": 5, "M": 6}))) == []
    assert codes("notions", garment(notions=notion(length=total("2 x skirt.waist")))) == []


def test_a_notion_that_one_size_lacks_blocks():
    assert codes("notions", garment(notions=notion(count={"S": 5}))) == [("missing", "block", "M")]
    assert codes("notions", garment(notions=notion(count={"S": 5, "M": 0}))) == [("missing", "block", "M")]
    without = {**cuts(), "skirt": {"S": cuts()["skirt"]["S"]}}
    lost = garment(drawn=without, notions=notion(length=total("skirt.waist")))
    assert codes("notions", lost) == [("missing", "block", "M")]


BUTTONS = {"tape": Notion(name="tape", title={}, marks=parse_marks("marks skirt.button"))}


def buttons(small: int, large: int) -> dict:
    """The apron with so many buttons on its skirt in each size."""
    skirts = {}
    for size, count in (("S", small), ("M", large)):
        cut = cuts()["skirt"][size]
        points = tuple(MarkPoint(f"button-{n + 1}", Point(40, 40 + 10 * n)) for n in range(count))
        skirts[size] = replace(cut, drawn=replace(cut.drawn, points=points))
    return {**cuts(), "skirt": skirts}


@pytest.mark.parametrize(
    ("drawn", "told"),
    [
        ((1, 2), []),
        ((2, 1), [("falls", "warn", "M")]),
        ((0, 1), [("missing", "block", "S")]),
        ((0, 0), [("missing", "block", "S"), ("missing", "block", "M")]),
    ],
)
def test_marks_that_are_counted_are_there_in_every_size(drawn, told):
    assert codes("notions", garment(drawn=buttons(*drawn), notions=BUTTONS)) == told


def test_a_size_that_is_said_to_have_no_such_mark_takes_none():
    said = piece("skirt", point_marks={"button-1": MarkSpec(sizes=("M",))})
    assert codes("notions", garment(drawn=buttons(0, 1), notions=BUTTONS, pieces=said)) == []


def test_marks_of_one_view_are_taken_in_that_view_alone():
    views = {name: View(name, {}) for name in ("long", "short")}
    said = piece("skirt", views=("long",))
    assert codes("notions", garment(drawn=buttons(1, 1), notions=BUTTONS, pieces=said, views=views)) == []
    lost = garment(drawn=buttons(0, 1), notions=BUTTONS, pieces=said, views=views)
    assert codes("notions", lost) == [("missing", "block", "S")]


def test_a_notion_that_falls_warns():
    (told,) = found("notions", garment(notions=notion(count={"S": 6, "M": 5})))
    assert (told.code, told.severity, told.size, told.where) == ("falls", "warn", "M", "notions.tape")
    assert told.remedy.startswith("correct the amount")


@pytest.mark.parametrize(
    ("length", "grain", "expected"),
    [
        ("1.6 x skirt.waist", "across", set()),
        ("1.6 x skirt.waist", "bias", set()),
        ("1.6 x skirt.waist", "along", {("too-short", "block")}),
        ("1.2 x skirt.waist", "across", {("too-short", "warn")}),
        ("2 x skirt.waist - 5 cm", "across", {("too-short", "warn")}),
    ],
)
def test_a_band_that_is_said_to_be_a_part_of_what_it_goes_round_is_stretched(length, grain, expected):
    band = strip(length, goes_round=total("2 x skirt.waist"), grain=grain)
    assert {(code, severity) for code, severity, _ in codes("strip-lengths", garment(strips=band))} == expected


@pytest.mark.parametrize(("length", "told"), [("18 cm", False), ("18.5 cm", False), ("20 cm", True)])
def test_a_zip_is_no_longer_than_its_opening(length, told):
    zipped = notion(length=total(length), opening=total("180 mm"))
    found = codes("notion-fits", garment(notions=zipped))
    assert found == ([("too-long", "warn", size) for size in ("S", "M")] if told else [])


def test_an_opening_that_a_size_does_not_have_is_told():
    without = {**cuts(), "skirt": {"S": cuts()["skirt"]["S"]}}
    zipped = notion(length=total("18 cm"), opening=total("skirt.waist"))
    assert codes("notion-fits", garment(drawn=without, notions=zipped)) == [("no-opening", "warn", "M")]


@pytest.mark.parametrize(
    ("length", "sold", "told"),
    [
        ("170 mm", (160.0, 180.0), []),  # 180 mm, as long as the opening
        ("172 mm", (165.0, 190.0), []),  # 165 mm
        ("178 mm", (160.0, 190.0), [("too-long", "warn", "S"), ("too-long", "warn", "M")]),
        (
            "200 mm",
            (180.0, 240.0),
            [("too-long", "warn", "S"), ("too-long", "warn", "M")],
        ),  # needed
        ("140 mm", (160.0,), [("not-sold", "warn", "S"), ("not-sold", "warn", "M")]),
        ("156 mm", (160.0,), []),
    ],
)
def test_what_is_sold_must_fit_the_opening_too_and_be_near_what_is_needed(length, sold, told):
    zipped = notion(length=total(length), opening=total("180 mm"), sold_mm=sold)
    assert codes("notion-fits", garment(notions=zipped)) == told

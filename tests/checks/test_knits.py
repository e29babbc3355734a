"""Knits: bands by their share, cloth that gives what is asked of it, and what a pattern must say of it."""

import msgspec
import pytest

from pipeline.model.pattern import Range
from tests.checks.apron import codes, garment, strip, total

BAND = Range(0.8, 0.9, percent=True)


def knit(made, **said):
    """The garment with this said of its cloth."""
    shell = msgspec.structs.replace(made.pattern.materials["shell"], **said)
    made.pattern = msgspec.structs.replace(made.pattern, materials={**made.pattern.materials, "shell": shell})
    return made


def band(length, **said):
    return strip(length, goes_round=total("2 x skirt.waist"), grain="across", **said)


@pytest.mark.parametrize(
    ("length", "told"),
    [
        ("1.7 x skirt.waist", None),
        ("1.6 x skirt.waist", None),
        ("1.59 x skirt.waist", None),
        ("1.58 x skirt.waist", "other-share"),
        ("1.81 x skirt.waist", None),
        ("1.82 x skirt.waist", "other-share"),
    ],
)
def test_a_band_has_the_share_that_is_said_within_half_a_percent(length, told):
    made = knit(garment(strips=band(length, stretched=BAND)), stretch_width=0.5)
    assert {code for code, _, _ in codes("knit-bands", made)} == ({told} if told else set())
    assert codes("strip-lengths", made) == []


@pytest.mark.parametrize(("gives", "told"), [(0.25, None), (0.24, "more-than-its-cloth"), (None, None)])
def test_a_band_asks_no_more_than_its_cloth_gives(gives, told):
    made = knit(garment(strips=band("1.6 x skirt.waist", stretched=BAND)), stretch_width=gives)
    assert {code for code, _, _ in codes("knit-bands", made)} == ({told} if told else set())


@pytest.mark.parametrize(("grain", "told"), [("across", set()), ("along", {"more-than-its-cloth"})])
def test_what_must_pass_is_held_against_the_way_in_which_the_band_lies(grain, told):
    ring = strip("50 cm", opens_to=total("60 cm"), grain=grain)
    made = knit(garment(strips=ring), stretch_width=0.3, stretch_length=0.1)
    assert {code for code, _, _ in codes("knit-bands", made)} == told


def test_a_stretched_band_needs_a_cloth_of_which_the_stretch_is_said():
    made = garment(strips=band("1.7 x skirt.waist", stretched=BAND))
    assert codes("knit-said", made) == [("no-stretch", "warn", None)]
    assert codes("knit-said", knit(made, stretch_width=0.5)) == []


@pytest.mark.parametrize(
    ("turn", "along", "told"), [("free", 0.2, ["turn-free"]), ("free", 0.5, []), ("half", 0.2, [])]
)
def test_a_cloth_that_gives_more_in_one_direction_may_not_lie_at_any_angle(turn, along, told):
    made = knit(garment(), turn=turn, stretch_width=0.5, stretch_length=along)
    assert [code for code, _, _ in codes("knit-turned", made)] == told


@pytest.mark.parametrize(("grain", "told"), [("any", ["any-grain"]), ("across", [])])
def test_nor_may_a_band_that_is_stretched_be_cut_in_any_direction(grain, told):
    ring = strip("50 cm", opens_to=total("60 cm"), grain=grain)
    made = knit(garment(strips=ring), stretch_width=0.5)
    assert [code for code, _, _ in codes("knit-turned", made)] == told

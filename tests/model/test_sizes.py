"""Sizes on one ladder and on several: which stand beside each other, and how they are told in few words."""

import msgspec
import pytest

from pipeline.model.pattern import Pattern
from pipeline.model.sizes import (
    common_size,
    designer_sets,
    ladders,
    places,
    product_of,
    shared_by_values,
    size_runs,
    size_title,
    values_in_any_order,
)
from tests.checks.skirt import PATTERN

HEIGHTS = {"size": ("36", "38", "40"), "height": ("petite", "regular", "tall")}


def in_axes(axes: dict[str, tuple[str, ...]], without: tuple[str, ...] = (), **rest) -> Pattern:
    sizes = tuple(point for point in product_of(axes) if point not in without)
    sets = dict(shared_by_values(axes, sizes))
    return msgspec.structs.replace(PATTERN, sizes=sizes, base=sizes[0], size_axes=axes, size_sets=sets, **rest)


def test_sizes_without_axes_are_one_ladder():
    (ladder,) = ladders(msgspec.structs.replace(PATTERN, bands=("M",)))
    assert (ladder.sizes, ladder.ends, ladder.along) == (PATTERN.sizes, ("M",), "")


def test_every_point_stands_on_a_ladder_of_each_axis():
    found = ladders(in_axes(HEIGHTS))
    assert [ladder.sizes for ladder in found if ladder.axis == "size"] == [
        tuple(f"{size}-{height}" for size in HEIGHTS["size"]) for height in HEIGHTS["height"]
    ]
    assert [ladder.sizes for ladder in found if ladder.axis == "height"] == [
        tuple(f"{size}-{height}" for height in HEIGHTS["height"]) for size in HEIGHTS["size"]
    ]
    assert {ladder.along for ladder in found} == {" along size", " along height"}


def test_a_band_ends_on_the_ladders_of_its_axis_alone():
    found = ladders(in_axes(HEIGHTS, bands=("regular",)))
    assert {ladder.ends for ladder in found if ladder.axis == "size"} == {()}
    assert [ladder.ends for ladder in found if ladder.axis == "height"] == [
        ("36-regular",),
        ("38-regular",),
        ("40-regular",),
    ]


def test_a_point_that_is_not_offered_parts_its_ladders():
    axes = {"size": ("34", "36", "38", "40", "42"), "height": ("petite", "tall")}
    found = [ladder.sizes for ladder in ladders(in_axes(axes, ("38-tall",))) if ladder.axis == "size"]
    assert found[1:] == [("34-tall", "36-tall"), ("40-tall", "42-tall")]
    assert len(found[0]) == 5


def test_three_axes_have_sets_for_one_value_and_for_two():
    pattern = in_axes({"size": ("36", "38"), "height": ("petite", "tall"), "cup": ("A", "B")})
    assert pattern.size_sets["36-A"] == ("36-petite-A", "36-tall-A")
    assert pattern.size_sets["petite-B"] == ("36-petite-B", "38-petite-B")
    assert len(pattern.size_sets) == 3 * 3 * 3 - 8 - 1
    assert places(pattern)["38-petite-B"] == (1, 0, 1)
    assert designer_sets(pattern) == {}


@pytest.mark.parametrize(
    ("names", "together"),
    [(("36", "petite"), "36-petite"), (("petite", "36-petite"), "36-petite"), (("36", "38"), None), (("36",), "36")],
)
def test_values_of_several_axes_say_a_point_together(names, together):
    assert common_size(in_axes(HEIGHTS), names) == together


def test_one_ladder_says_nothing_together():
    assert common_size(PATTERN, ("S", "M")) is None


def test_the_name_of_a_point_may_have_its_values_in_any_order():
    assert ("36-petite", "petite 36") in set(values_in_any_order(in_axes(HEIGHTS)))
    assert list(values_in_any_order(PATTERN)) == []


@pytest.mark.parametrize(
    ("sizes", "runs"),
    [
        (["36-petite"], [["36-petite"]]),
        (["36-petite", "36-regular", "36-tall"], [["36"]]),
        (["36-tall", "38-tall", "40-tall"], [["tall"]]),
        (["36-petite", "38-petite"], [["36-petite", "38-petite"]]),
        (["36-petite", "36-tall"], [["36-petite"], ["36-tall"]]),
        (["40-petite", "36-tall"], [["36-tall"], ["40-petite"]]),
        (["36-petite", "36-regular", "36-tall", "38-tall"], [["36"], ["38-tall"]]),
        (product_of({"size": ("36", "38"), "height": HEIGHTS["height"]}), [["36", "38"]]),
        (product_of(HEIGHTS), [["36", "38", "40"], ["petite", "regular", "tall"]]),
    ],
)
def test_values_stand_for_all_their_points(sizes, runs):
    assert size_runs(in_axes(HEIGHTS), sizes) == runs


def test_runs_of_any_points_name_each_once():
    pattern = in_axes(HEIGHTS, ("36-tall",))
    sets = {**pattern.size_sets, **{size: (size,) for size in pattern.sizes}}
    for bits in range(1, 2 ** len(pattern.sizes) - 1):
        sizes = [size for place, size in enumerate(pattern.sizes) if bits >> place & 1]
        named = [size for run in size_runs(pattern, sizes) for name in run for size in sets[name]]
        assert sorted(named) == sorted(sizes)


def test_a_point_has_the_titles_of_its_values_where_it_has_none_of_its_own():
    titles = {"36": {"en": "36 (8)"}, "38-tall": {"en": "long 38"}}
    pattern = in_axes(HEIGHTS, size_titles=titles)
    told = [size_title(pattern, name, "en") for name in ("36", "36-petite", "38-tall", "40-tall", "tall")]
    assert told == ["36 (8)", "36 (8), petite", "long 38", "40, tall", "tall"]

"""Which code each size has: neighbours along every axis differ in colour, and a value has one of its own."""

from itertools import pairwise

import msgspec
import pytest

from pipeline.drawing.size_codes import size_codes
from pipeline.drawing.styles import BLACK, NESTED, SizeCodes, size_colour
from pipeline.masters.toml.load import load_pattern
from pipeline.model.pattern import Pattern
from pipeline.model.sizes import ladders, places, product_of, shared_by_values
from tests.by_steps import APRON


def pattern_of(axes: dict[str, list[str]]) -> Pattern:
    pattern, _ = load_pattern(APRON)
    assert pattern is not None
    sizes = product_of(axes)
    sets = dict(shared_by_values(axes, sizes)) if len(axes) > 1 else {}
    kept = axes if len(axes) > 1 else {}
    return msgspec.structs.replace(pattern, sizes=sizes, size_axes=kept, size_sets=sets, bands=())


NINE = [str(size) for size in range(34, 52, 2)]
AXES = [
    {"size": NINE, "height": ["petite", "regular", "tall"]},
    {"size": NINE, "cup": ["A", "B", "C", "D"]},  # four, after which colours begin again
    {"size": ["36", "38"], "height": ["petite", "tall"], "cup": ["A", "B", "C"]},
]


def test_sizes_of_one_ladder_are_counted_from_one():
    codes = size_codes(pattern_of({"size": NINE}), NINE)
    assert list(codes.numbers.values()) == list(range(1, 10))
    assert codes.colours == {(size,): number for size, number in codes.numbers.items()}


@pytest.mark.parametrize("axes", AXES, ids=["heights", "cups", "three"])
def test_neighbours_along_every_axis_differ_in_colour(axes):
    pattern = pattern_of(axes)
    codes = size_codes(pattern, pattern.sizes)
    steps = [(a, b) for ladder in ladders(pattern) for a, b in pairwise(ladder.sizes)]
    assert not [(a, b) for a, b in steps if colour(codes, a) == colour(codes, b)]


@pytest.mark.parametrize("axes", AXES, ids=["heights", "cups", "three"])
def test_so_do_sizes_that_are_one_up_one_axis_and_one_down_another(axes):
    """As 36 with cup C and 38 with cup B, whose lines lie a millimetre apart."""
    pattern = pattern_of(axes)
    codes, at = size_codes(pattern, pattern.sizes), places(pattern)
    steps = {a: {b for b in pattern.sizes if is_across(at[a], at[b])} for a in pattern.sizes}
    assert sum(map(len, steps.values())) > 0
    assert not [(a, b) for a, others in steps.items() for b in others if colour(codes, a) == colour(codes, b)]


def is_across(one: tuple[int, ...], other: tuple[int, ...]) -> bool:
    return sorted(b - a for a, b in zip(one, other, strict=True) if a != b) == [-1, 1]


def colour(codes: SizeCodes, size: str) -> str:
    return size_colour(codes.colours[size,])


@pytest.mark.parametrize("axes", AXES, ids=["heights", "cups", "three"])
def test_what_all_sizes_of_a_value_share_has_the_colour_of_the_value(axes):
    pattern = pattern_of(axes)
    codes = size_codes(pattern, pattern.sizes)
    for values in axes.values():
        shared = [tuple(size for size in pattern.sizes if value in size.split("-")) for value in values]
        assert [codes.colours[sizes] for sizes in shared] == list(range(1, len(values) + 1))
        assert [NESTED.cut(sizes, codes).colour for sizes in shared] == [size_colour(1 + n) for n in range(len(values))]
        assert {NESTED.cut(sizes, codes).dash_mm for sizes in shared} == {()}  # solid: it belongs to several sizes


def test_what_sizes_of_several_values_share_is_black():
    pattern = pattern_of(AXES[0])
    codes = size_codes(pattern, pattern.sizes)
    for sizes in (pattern.sizes, ("34-petite", "34-regular"), ("34-tall", "36-petite")):
        assert NESTED.cut(sizes, codes).colour == BLACK


def test_of_a_piece_that_some_sizes_have_those_count():
    pattern = pattern_of(AXES[0])
    drawn = ("34-petite", "34-regular", "36-regular")
    assert size_codes(pattern, drawn).colours["34-petite", "34-regular"] == 1

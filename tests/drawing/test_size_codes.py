"""Which code each size has: lines that lie nearest to each other never share a colour, a value has its own."""

from itertools import pairwise, product

import msgspec
import pytest

from pipeline.drawing.size_codes import size_codes
from pipeline.drawing.styles import BLACK, NESTED, SIZE_COLOURS
from pipeline.masters.toml.load import load_pattern
from pipeline.model.pattern import Pattern
from pipeline.model.sizes import places, product_of, shared_by_values
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


NEAREST = [(*range(2, 13),), (*range(2, 6),)], [(*range(2, 7),), (2, 3), (2,)]
"""Lengths of axes: two of up to 12 x 5, three of up to 6 x 3 x 2."""


def axes_of(lengths: tuple[int, ...]) -> dict[str, list[str]]:
    return {f"axis{n}": [f"{'abc'[n]}{value}" for value in range(length)] for n, length in enumerate(lengths)}


def beside(pattern: Pattern) -> list[tuple[str, str]]:
    """Two sizes that differ by one step along an axis, or by one up on an axis and one down on another."""
    at = places(pattern)
    near = [sorted(step) for step in ((1,), (-1, 1))]
    moved = {
        (a, b): sorted(x - y for x, y in zip(at[a], at[b], strict=True) if x != y) for a in at for b in at if a != b
    }
    return [pair for pair, steps in moved.items() if steps in near]


@pytest.mark.parametrize("lengths", [each for some in NEAREST for each in product(*some)], ids=str)
def test_sizes_whose_lines_lie_nearest_never_share_a_colour(lengths):
    pattern = pattern_of(axes_of(lengths))
    codes = size_codes(pattern, pattern.sizes)
    colours = {size: NESTED.cut((size,), codes).colour for size in pattern.sizes}
    pairs = beside(pattern)
    assert len(pairs) >= len(pattern.sizes)
    assert not [pair for pair in pairs if colours[pair[0]] == colours[pair[1]]]
    assert set(colours.values()) <= set(SIZE_COLOURS)
    if len(lengths) == 2:
        unlike = {SIZE_COLOURS[0], SIZE_COLOURS[2]}  # vermillion, green
        assert not [pair for pair in pairs if {colours[size] for size in pair} == unlike]


def test_a_dress_of_sizes_and_cups_has_three_colours_where_one_ran_along_the_diagonal():
    pattern = pattern_of({"size": ["36", "38", "40"], "cup": ["b", "c", "d"]})
    codes = size_codes(pattern, pattern.sizes)
    assert len({NESTED.cut((size,), codes).colour for size in ("36-c", "38-b")}) == 2
    assert len({NESTED.cut((size,), codes).colour for size in ("36-d", "38-c", "40-b")}) == 3
    assert len({NESTED.cut((size,), codes).colour for size in pattern.sizes}) == 4


@pytest.mark.parametrize("axes", AXES, ids=["heights", "cups", "three"])
def test_what_all_sizes_of_a_value_share_has_the_colour_of_the_value(axes):
    pattern = pattern_of(axes)
    codes = size_codes(pattern, pattern.sizes)
    first = [values[0] for values in axes.values()]
    for axis, values in enumerate(axes.values()):
        shared = [tuple(size for size in pattern.sizes if value in size.split("-")) for value in values]
        alone = ["-".join((*first[:axis], value, *first[axis + 1 :])) for value in values]
        looks = [NESTED.cut(sizes, codes) for sizes in shared]
        assert [look.colour for look in looks] == [NESTED.cut((size,), codes).colour for size in alone]
        assert all(a.colour != b.colour for a, b in pairwise(looks))
        assert {look.dash_mm for look in looks} == {()}  # solid: it belongs to several sizes


def test_what_sizes_of_several_values_share_is_black():
    pattern = pattern_of(AXES[0])
    codes = size_codes(pattern, pattern.sizes)
    for sizes in (pattern.sizes, ("34-petite", "34-regular"), ("34-tall", "36-petite")):
        assert NESTED.cut(sizes, codes).colour == BLACK


def test_of_a_piece_that_some_sizes_have_those_count():
    pattern = pattern_of(AXES[0])
    drawn = ("34-petite", "34-regular", "36-regular")
    assert size_codes(pattern, drawn).colours["34-petite", "34-regular"] == 1

"""How sizes are written at lines and marks."""

import msgspec
import pytest
from fontTools.pens.boundsPen import BoundsPen
from fontTools.ttLib import TTFont

from pipeline.drawing.fonts import FONT_FILES
from pipeline.drawing.wording import all_sizes, size_heading, size_label, size_range, view_titles
from pipeline.model.pattern import Pattern, View
from pipeline.model.sizes import product_of, shared_by_values
from tests.checks.skirt import PATTERN

BROAD = 0.51
"""Width against height of a letter from which it is no stroke."""


def in_sizes(*sizes: str) -> Pattern:
    return msgspec.structs.replace(PATTERN, sizes=sizes)


def test_a_name_that_looks_like_a_stroke_stands_in_brackets_and_no_other_does():
    font = TTFont(FONT_FILES[True])
    glyphs, names = font.getGlyphSet(), font.getBestCmap()
    for letter in filter(str.isalnum, map(chr, range(ord("0"), ord("z") + 1))):
        pen = BoundsPen(glyphs)
        glyphs[names[ord(letter)]].draw(pen)
        left, bottom, right, top = pen.bounds
        stroke = right - left < BROAD * (top - bottom)
        assert size_label((letter,), in_sizes(letter)) == (f"({letter})" if stroke else letter)


@pytest.mark.parametrize(
    ("sizes", "label"),
    [
        (("m", "l"), "m, l"),
        (("m", "l", "xl"), "m–xl"),
        (("l",), "(l)"),
        (("11",), "(11)"),
        (("xl",), "xl"),
        (("12",), "12"),
    ],
)
def test_among_others_a_name_needs_no_brackets(sizes, label):
    assert size_label(sizes, in_sizes("m", "l", "xl", "11", "12")) == label


AXES = {"size": ("36", "38", "40"), "height": ("petite", "tall")}


def in_axes(**rest) -> Pattern:
    points = product_of(AXES)
    sets = dict(shared_by_values(AXES, points))
    return msgspec.structs.replace(PATTERN, sizes=points, base=points[0], size_axes=AXES, size_sets=sets, **rest)


def test_lines_that_all_points_of_a_value_share_have_its_name():
    assert size_label(("36-petite", "36-tall"), in_axes()) == "36"
    assert size_label(("36-tall", "38-tall", "40-tall"), in_axes()) == "tall"
    assert size_label(("36-petite",), in_axes()) == "36-petite"


def test_where_a_buyer_chooses_titles_stand_and_in_lines_the_short_name():
    titled = in_sizes("m", "l")
    titled = msgspec.structs.replace(titled, size_titles={"m": {"en": "M (40/42)"}})
    assert size_heading(("m",), titled, "en") == "M (40/42)"
    assert size_heading(("m", "l"), titled, "en") == size_label(("m", "l"), titled) == "m, l"
    assert all_sizes(titled, "en") == "M (40/42), l"


def test_all_sizes_are_told_by_axis():
    pattern = in_axes(size_titles={"tall": {"en": "tall (from 172 cm)"}})
    assert all_sizes(pattern, "en") == "36, 38, 40; petite, tall (from 172 cm)"
    assert size_heading(("36-tall", "38-tall", "40-tall"), pattern, "en") == "tall (from 172 cm)"


def test_axes_are_parted_as_the_language_parts_them():
    pattern = in_axes(languages=("en", "fr"))
    assert size_range(pattern.sizes, pattern, "fr") == "36–40\u00a0; petite, tall"
    assert size_range(pattern.sizes, pattern) == "36–40; petite, tall", (
        "in a text for several languages as in the first"
    )
    alone = in_axes(languages=("fr",))
    assert size_label(alone.sizes, alone) == size_range(alone.sizes, alone, "fr")


def test_views_whose_titles_hold_commas_are_told_apart():
    views = {"long": View("long", {"en": "A, long"}), "short": View("short", {"en": "B, short"})}
    pattern = msgspec.structs.replace(PATTERN, views=views)
    assert view_titles(("long", "short", "long"), pattern, "en") == "A, long; B, short"

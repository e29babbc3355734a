"""How sizes are written at lines and marks."""

import msgspec
import pytest
from fontTools.pens.boundsPen import BoundsPen
from fontTools.ttLib import TTFont

from pipeline.drawing.fonts import FONT_FILES
from pipeline.drawing.wording import size_label
from pipeline.model.pattern import Pattern
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

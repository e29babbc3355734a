"""How sizes are written at lines and marks."""

import pytest
from fontTools.pens.boundsPen import BoundsPen
from fontTools.ttLib import TTFont

from pipeline.drawing.fonts import FONT_FILES
from pipeline.drawing.wording import size_label

BROAD = 0.51
"""Width against height of a letter from which it is no stroke."""


def test_a_name_that_looks_like_a_stroke_stands_in_brackets_and_no_other_does():
    font = TTFont(FONT_FILES[True])
    glyphs, names = font.getGlyphSet(), font.getBestCmap()
    for letter in filter(str.isalnum, map(chr, range(ord("0"), ord("z") + 1))):
        pen = BoundsPen(glyphs)
        glyphs[names[ord(letter)]].draw(pen)
        left, bottom, right, top = pen.bounds
        stroke = right - left < BROAD * (top - bottom)
        assert size_label((letter,), (letter,)) == (f"({letter})" if stroke else letter)


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
    assert size_label(sizes, ("m", "l", "xl", "11", "12")) == label

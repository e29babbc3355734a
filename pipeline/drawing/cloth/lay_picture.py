"""A lay as a picture of its own: the cloth as it lies, and what there is to know of it over and under it.

Texts are large enough to read on a phone, where a page is as wide as a hand.
"""

from collections.abc import Collection

import msgspec

from pipeline.drawing import scene
from pipeline.drawing.cloth.laid_cloth import Cloth, Look
from pipeline.drawing.cloth.lay_marks import SMALL_MM
from pipeline.drawing.cloth.lay_words import LayWords
from pipeline.drawing.scene import Scene, Shape, Text
from pipeline.drawing.styles import LEAST_TEXT_MM
from pipeline.drawing.text_lines import fitted, wrapped
from pipeline.geometry.points import Affine, Point
from pipeline.lays.saved import Chosen
from pipeline.model.pattern import Pattern

PICTURE_WIDTH_MM = 190.0
"""Fits an A4 page with a margin of 10 mm."""
PICTURE_HEIGHT_MM = 259.0
"""Fits the area that A4 and Letter share (190 x 259.4 mm, calculated)."""
_TITLE_MM = 5.2
_TEXT_MM = 4.0
_LEADING = 1.35
_LEAST_SHARE = 0.6
"""Of its scale on a page without a legend: where a cloth would be smaller, its legend has a page of its own."""


_OF_FILES = Look(PICTURE_WIDTH_MM, PICTURE_HEIGHT_MM, LEAST_TEXT_MM, titles=True)


class Picture(msgspec.Struct, frozen=True):
    """A drawing of a height, as wide as every picture; its top left corner is (0, 0).

    `below` is what is told of it on a page of its own, where beneath the cloth it would make that small.
    """

    height_mm: float
    body: tuple[Shape, ...]
    below_mm: float = 0.0
    below: tuple[Text, ...] = ()

    @property
    def scene(self) -> Scene:
        """The picture as a file of its own."""
        beneath = [scene.group(self.below, Affine(1, 0, 0, 1, 0, self.height_mm))] if self.below else []
        return scene.of(0, 0, PICTURE_WIDTH_MM, self.height_mm + self.below_mm, (*self.body, *beneath))


def lay_picture(pattern: Pattern, chosen: Chosen, buy: str, own_image: Collection[str] = ()) -> Picture:
    """The picture of one lay, in every language of the pattern.

    `buy` is the length to buy as it is written; `own_image` are pieces that are their own mirror image. Raises
    ValueError for a missing glyph.
    """
    words = LayWords(pattern=pattern, chosen=chosen, own_image=own_image)
    head_mm, head = _head(words, buy)
    legend_mm, legend = _legend(words)
    drawing, alone = (Cloth(words, _OF_FILES, head_mm, under_mm) for under_mm in (legend_mm, 0.0))
    if drawing.scale < _LEAST_SHARE * alone.scale:
        body = (*head, *alone.cloth(), *alone.pieces(), *alone.marks())
        return Picture(alone.bottom, body, legend_mm, tuple(legend))
    below = scene.group(legend, Affine(1, 0, 0, 1, 0, drawing.bottom))
    return Picture(drawing.bottom + legend_mm, (*head, *drawing.cloth(), *drawing.pieces(), *drawing.marks(), below))


def _head(words: LayWords, buy: str) -> tuple[float, list[Text]]:
    """(height, what stands over the cloth): the garment, then a title, measures and the way of laying a language."""
    text, size = fitted([words.garment()], PICTURE_WIDTH_MM, SMALL_MM, LEAST_TEXT_MM)
    lines = [scene.text(Point(0, size), text, size)]
    y = size + 1.0
    for language in words.pattern.languages:
        title, *rest = words.head(language, buy)
        y += _TITLE_MM * _LEADING
        lines.append(
            scene.text(Point(0, y), *fitted([title], PICTURE_WIDTH_MM, _TITLE_MM, LEAST_TEXT_MM, bold=True), bold=True)
        )
        for content in rest:
            y = _lines(lines, content, y, _TEXT_MM)
    return y + 2.0, lines


def _legend(words: LayWords) -> tuple[float, list[Text]]:
    """(height, what stands under the cloth, from y = 0 on)."""
    lines: list[Text] = []
    y = 0.0
    for language in words.pattern.languages:
        for content in (words.tones(language), *words.counts(language)):
            y = _lines(lines, content, y, SMALL_MM)
        y += 1.5
    return y + 2.0, lines


def _lines(lines: list[Text], content: str, y: float, size: float) -> float:
    for line in wrapped(content, size, PICTURE_WIDTH_MM):
        y += size * _LEADING
        lines.append(scene.text(Point(0, y), line, size))
    return y

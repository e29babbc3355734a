"""A lay as a picture of its own: the cloth as it lies, and what there is to know of it over and under it.

Texts are large enough to read on a phone, where a page is as wide as a hand.
"""

import math
from collections.abc import Collection, Iterator
from typing import NamedTuple

import msgspec

from pipeline.drawing import scene
from pipeline.drawing.cloth.laid_cloth import Cloth, Look
from pipeline.drawing.cloth.lay_marks import SMALL_MM
from pipeline.drawing.cloth.lay_words import LayWords
from pipeline.drawing.cloth.legend import GAP_MM, LEADING, Legend, Told, legend_in_column, legends
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
_LEAST_SHARE = 0.6
"""Of its scale on a page without a legend: where a cloth would be smaller with its legend under or beside it, that has
a page of its own."""
_COLUMNS_MM = (92.0, 75.0, 60.0)
"""How wide a legend beside a cloth may be: half of the page, or as little as leaves most sentences two lines."""

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
    told = words.legend()
    best = max((*_under(words, head_mm, told), *_beside(words, head_mm, told)), key=lambda each: each.scale)
    alone = Cloth(words, _OF_FILES, head_mm)
    if best.scale < _LEAST_SHARE * alone.scale:
        own = min(legends(told, PICTURE_WIDTH_MM), key=lambda legend: pages_of(legend.height_mm))
        return Picture(alone.bottom, (*head, *_drawn(alone)), own.height_mm, own.lines)
    legend = scene.group(best.legend.lines, Affine(1, 0, 0, 1, best.left_mm, best.top_mm))
    height_mm = max(best.cloth.bottom, best.top_mm + best.legend.height_mm)
    return Picture(height_mm, (*head, *_drawn(best.cloth), legend))


def pages_of(below_mm: float) -> int:
    """How many pages of their own a height of lines takes."""
    return math.ceil(below_mm / PICTURE_HEIGHT_MM)


class _Setting(NamedTuple):
    """A cloth, and its legend with the top left corner of that."""

    cloth: Cloth
    legend: Legend
    left_mm: float
    top_mm: float

    @property
    def scale(self) -> float:
        return round(self.cloth.scale, 6)


def _under(words: LayWords, head_mm: float, told: Told) -> Iterator[_Setting]:
    """The legend under the cloth, in few columns first."""
    for legend in legends(told, PICTURE_WIDTH_MM):
        cloth = Cloth(words, _OF_FILES, head_mm, legend.height_mm)
        yield _Setting(cloth, legend, 0.0, cloth.bottom)


def _beside(words: LayWords, head_mm: float, told: Told) -> Iterator[_Setting]:
    """The legend at the right of a cloth that is not as wide as the page, in a wide column first."""
    for wide_mm in _COLUMNS_MM:
        legend = legend_in_column(told, wide_mm)
        room = PICTURE_WIDTH_MM - wide_mm - GAP_MM
        cloth = Cloth(words, _OF_FILES._replace(width_mm=room), head_mm)
        if cloth.right_mm <= room and head_mm + legend.height_mm <= PICTURE_HEIGHT_MM:
            yield _Setting(cloth, legend, PICTURE_WIDTH_MM - wide_mm, head_mm)


def _drawn(cloth: Cloth) -> tuple[Shape, ...]:
    return (*cloth.cloth(), *cloth.pieces(), *cloth.marks())


def _head(words: LayWords, buy: str) -> tuple[float, list[Text]]:
    """(height, what stands over the cloth): the garment, then a title, measures and the way of laying a language."""
    text, size = fitted([words.garment()], PICTURE_WIDTH_MM, SMALL_MM, LEAST_TEXT_MM)
    lines = [scene.text(Point(0, size), text, size)]
    y = size + 1.0
    for language in words.pattern.languages:
        title, *rest = words.head(language, buy)
        y += _TITLE_MM * LEADING
        lines.append(
            scene.text(Point(0, y), *fitted([title], PICTURE_WIDTH_MM, _TITLE_MM, LEAST_TEXT_MM, bold=True), bold=True)
        )
        for content in rest:
            y = _lines(lines, content, y, _TEXT_MM)
    return y + 2.0, lines


def _lines(lines: list[Text], content: str, y: float, size: float) -> float:
    for line in wrapped(content, size, PICTURE_WIDTH_MM):
        y += size * LEADING
        lines.append(scene.text(Point(0, y), line, size))
    return y

"""What a projector file tells below its pieces: two squares to measure, what holds for all of it, and each piece.

Nobody who throws a pattern has the paper one at hand, so nothing here sends there.
"""

from collections.abc import Mapping, Sequence
from typing import NamedTuple

import msgspec

from pipeline.drawing import scene
from pipeline.drawing.fonts import CAP_HEIGHT
from pipeline.drawing.lay_names import laid_names
from pipeline.drawing.panels.column import Column
from pipeline.drawing.panels.squares import INCH_SQUARE_MM, SIDES_MM, SQUARE_IN, SQUARE_MM, sides_told
from pipeline.drawing.panels.strip_list import NO_STRIPS, StripSizes, strip_list
from pipeline.drawing.panels.words import size_words, version_words
from pipeline.drawing.piece.words import allowance_sentences, cut_sentences, vital_sentences
from pipeline.drawing.scene import Shape
from pipeline.drawing.styles import BLACK
from pipeline.drawing.wording import size_range, told_apart, told_of
from pipeline.geometry.points import Point
from pipeline.model.pattern import Pattern, in_language
from pipeline.model.pieces import CutPiece, Cuts
from pipeline.model.questions import is_cut_of, may_have_nap
from pipeline.words import say

LEAST_WIDTH_MM = 2 * SQUARE_MM + 180.0
_TEXT_MM = 9.0
"""Read from standing height."""
_LINE_MM = 1.5
_INDENT = 2.2
"""Where titles begin, in text sizes."""
_GAP_MM = 20.0
_NARROWEST_MM = 260.0


class Panel(NamedTuple):
    """Shapes whose top left corner is (0, 0), in black, and how high they are together."""

    shapes: tuple[Shape, ...]
    height_mm: float


def projector_panel(
    pattern: Pattern,
    material: str,
    cuts: Cuts,
    width_mm: float,
    sizes: Sequence[str],
    strips: StripSizes = NO_STRIPS,
) -> Panel:
    """The panel of a material's file, every sentence in each language; `cuts` are the pieces that it shows.

    `sizes` are those of the file: a single one has no layers to choose from. It tells of those `strips` that are cut
    of the material, too.
    """
    of_material = {
        size: {name: cut for name, cut in of_size.items() if is_cut_of(pattern.strips[name].cut, material)}
        for size, of_size in strips.items()
    }
    side, other = SIDES_MM[pattern.units]
    second = side + _GAP_MM
    beside = second + other + _GAP_MM
    body = [*_square(0.0, side), *_square(second, other)]
    left, top = (beside, 0.0) if width_mm - beside >= _NARROWEST_MM else (0.0, INCH_SQUARE_MM + _GAP_MM)
    count = max(1, min(len(pattern.languages), int((width_mm - left + _GAP_MM) // (_NARROWEST_MM + _GAP_MM))))
    wide = (width_mm - left - (count - 1) * _GAP_MM) / count
    ends = [top + INCH_SQUARE_MM]
    for number in range(count):
        column = Column(left + number * (wide + _GAP_MM), top, wide, _TEXT_MM)
        for language in pattern.languages[number::count]:
            _told(column, pattern, material, cuts, sizes, language)
            strip_list(column, pattern, sizes, of_material, (language,), "sizes")
            column.gap()
        body += column.body
        ends.append(column.y)
    return Panel(tuple(body), max(ends))


def _square(left: float, side_mm: float) -> list[Shape]:
    caption = "100 mm × 100 mm" if side_mm == SQUARE_MM else f"{SQUARE_IN} in × {SQUARE_IN} in"
    corners = (Point(left, 0), Point(left + side_mm, 0), Point(left + side_mm, side_mm), Point(left, side_mm))
    place = Point(left + side_mm / 2, (side_mm + CAP_HEIGHT * _TEXT_MM) / 2)
    return [
        scene.polyline(corners, BLACK, _LINE_MM, closed=True),
        scene.text(place, caption, _TEXT_MM, anchor="middle", bold=True),
    ]


def _told(column: Column, pattern: Pattern, material: str, cuts: Cuts, sizes: Sequence[str], language: str) -> None:
    """All of it in one language."""
    spec = pattern.materials[material]
    column.heading(f"{in_language(pattern.title, language)} · {in_language(spec.title, language)}")
    shown = size_words(sizes, pattern, (language,))
    column.text(f"{version_words(pattern, (language,))} · {shown}")
    column.gap(0.3)
    several = ("projector.layers",) if len(sizes) > 1 else ()
    one_way = ("projector.one-way",) if may_have_nap(pattern, material) else ()
    for key in ("projector.squares", *several, "projector.cloth", *one_way, "projector.edges", "projector.pieces"):
        told = sides_told(language, pattern.units) if key == "projector.squares" else {}
        column.text(say(language, key, **told))
    named = laid_names(pattern, language)
    for piece, by_size in cuts.items():
        name = named.get(piece) or named[f"strips.{piece}"]
        told_by_size = {size: _sentences(pattern, cut, language) for size, cut in by_size.items()}
        sentences = told_apart(language, _in_sizes(pattern, told_by_size, language))
        column.text(f"{told_of(language, name.title, sentences)}.", indent_mm=_INDENT * _TEXT_MM, label=name.short)


def _sentences(pattern: Pattern, cut: CutPiece, language: str) -> tuple[str, ...]:
    """How a piece is cut, whether off the grain, and what its cut line includes."""
    one = msgspec.structs.replace(pattern, languages=(language,))
    return (
        *cut_sentences(one, cut, pattern.projector.unfold),
        *vital_sentences(one, cut.piece),
        *allowance_sentences(one, cut),
    )


def _in_sizes(pattern: Pattern, told: Mapping[str, tuple[str, ...]], language: str) -> list[str]:
    """Each sentence once, with its sizes before it where not all have it."""
    having: dict[str, list[str]] = {}
    for size, sentences in told.items():
        for sentence in sentences:
            having.setdefault(sentence, []).append(size)
    return [
        sentence if len(sizes) == len(told) else told_of(language, size_range(sizes, pattern, language), sentence)
        for sentence, sizes in having.items()
    ]

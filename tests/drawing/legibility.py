"""What is hard to read on a drawn stack: texts with a line through them, on each other, or on a joint of pages.

Texts are the boxes of what their letters cover in the font's own outlines; lines count whatever their dashes.
"""

from collections.abc import Iterable, Iterator, Mapping
from functools import cache
from typing import NamedTuple

import shapely
from fontTools.ttLib import TTFont

from pipeline.drawing.drawing import Drawing
from pipeline.drawing.fonts import FONT_FILES
from pipeline.drawing.nest.one_size import in_nest
from pipeline.drawing.nest.page_joints import Joints
from pipeline.drawing.styles import ALIKE_MM
from pipeline.model.pieces import CutPiece
from tests.drawing.seen import SeenText, fills, lines, patches, text_box, texts

_EDGE_MM = 0.02
"""What is written with three decimals, and cut to a box's edge, touches within so much."""
_IN_LINE_MM = 1.0
"""A text whose middle is nearer to a line of its own stands in it."""


class Fault(NamedTuple):
    """What is hard to read; `by` is what spoils it."""

    kind: str
    text: str
    sizes: tuple[str, ...]
    by: str
    place: tuple[float, float]


def kind_of(text: SeenText) -> str:
    """block, size (along a line or beside a place), or words (along grain, fold and inside lines)."""
    if text.anchor == "start":
        return "block"
    return "words" if any(letter.isalpha() for letter in text.content) else "size"


def lines_through_texts(drawn: Iterable[Drawing]) -> Iterator[Fault]:
    """Texts that a line or a filled mark of any size passes, but for lines that a patch of the text's own hides."""
    drawings = list(drawn)
    strokes = [
        (line.shape, line.width_mm / 2, f"{line.stroke} {line.width_mm} {line.dash_mm}") for line in lines(drawings)
    ]
    strokes += [(fill.shape, 0.0, "filled") for fill in fills(drawings)]
    tree = shapely.STRtree([shape for shape, _, _ in strokes])
    grounds: dict[tuple[str, ...], list[shapely.Polygon]] = {}
    for patch in patches(drawings):
        grounds.setdefault(patch.sizes, []).append(patch.shape)
    for text in texts(drawings):
        box = ink_box(text).buffer(-_EDGE_MM)
        hidden = shapely.union_all([ground for ground in grounds.get(text.sizes, ()) if ground.intersects(box)])
        for k in tree.query(box.buffer(1.0)).tolist():
            shape, half, told = strokes[k]
            if shape.distance(box) < half and shape.difference(hidden).distance(box) < half:
                yield _fault("line", text, told)
                break


def texts_on_texts(drawn: Iterable[Drawing]) -> Iterator[Fault]:
    """Pairs of texts of which one lies on the other; all sizes are shown."""
    found = texts(drawn)
    boxes = [ink_box(text) for text in found]
    for a, b in zip(*shapely.STRtree(boxes).query(boxes, predicate="intersects").tolist(), strict=True):
        if a < b:
            yield _fault("text", found[a], found[b].content)


def texts_on_joints(drawn: Iterable[Drawing], joints: Mapping[str, Joints]) -> Iterator[Fault]:
    """Texts that lie on more than one page."""
    found = texts(drawn)
    for paper, own in joints.items():
        for text in found:
            left, top, right, bottom = ink_box(text).bounds
            if any(left < x < right for x in own.at_x) or any(top < y < bottom for y in own.at_y):
                yield _fault(f"{kind_of(text)} on joint", text, paper)


def notches_on_joints(
    cuts: Mapping[str, CutPiece], quarter_turns: int, joints: Mapping[str, Joints]
) -> Iterator[Fault]:
    """Notches that a joint parts."""
    for size, cut in cuts.items():
        for stroke in in_nest(cut, quarter_turns).notches:
            (left, right), (top, bottom) = (sorted(pair) for pair in zip(stroke.outer, stroke.inner, strict=True))
            for paper, own in joints.items():
                if any(left < x < right for x in own.at_x) or any(top < y < bottom for y in own.at_y):
                    yield Fault("notch on joint", "", (size,), paper, tuple(stroke.outer))


def foreign_lines(drawn: Iterable[Drawing], cuts: Mapping[str, CutPiece], quarter_turns: int) -> Iterator[Fault]:
    """Texts in a line of their own sizes that a line of another size would pass, were it not broken for them."""
    shapes: list[tuple[str, shapely.Geometry]] = []
    for size, cut in cuts.items():
        piece = in_nest(cut, quarter_turns)
        shapes.append((size, shapely.LinearRing(piece.cut_ground)))
        shapes.extend((size, shapely.LineString(line.chain.ring)) for line in piece.inside)
    tree = shapely.STRtree([shape for _, shape in shapes])
    for text in texts(drawn):
        if not text.bold or text.anchor == "start":
            continue
        box = ink_box(text)
        middle, near = box.centroid, [shapes[k] for k in tree.query(box, predicate="intersects").tolist()]
        own = [shape for size, shape in near if size in text.sizes and shape.distance(middle) < _IN_LINE_MM]
        others = [
            size
            for size, shape in near
            if size not in text.sizes
            and own
            and shape.intersection(box).difference(own[0].buffer(ALIKE_MM)).length > _EDGE_MM
        ]
        if others:
            yield _fault("foreign line", text, ", ".join(others))


def ink_box(text: SeenText) -> shapely.Polygon:
    """The box of what the text's letters really cover above and below its baseline."""
    above, below = _reach(text.content, text.bold)
    return text_box(text.start, text.width_mm, text.turned_deg, above * text.size_mm, below * text.size_mm)


@cache
def _reach(content: str, bold: bool) -> tuple[float, float]:
    """Highest and lowest of the letters' outlines, as shares of the text size."""
    heights = _heights(bold)
    found = [heights[letter] for letter in content if letter in heights]
    return max(high for _, high in found), max(0.0, -min(low for low, _ in found))


@cache
def _heights(bold: bool) -> dict[str, tuple[float, float]]:
    font = TTFont(FONT_FILES[bold])
    glyphs, em = font["glyf"], font["head"].unitsPerEm
    shapes = {chr(code): glyphs[name] for code, name in font.getBestCmap().items()}
    return {
        letter: (shape.yMin / em, shape.yMax / em) for letter, shape in shapes.items() if shape.numberOfContours != 0
    }


def _fault(kind: str, text: SeenText, by: str) -> Fault:
    middle = text.box.centroid
    return Fault(kind, text.content, text.sizes, by, (round(middle.x, 1), round(middle.y, 1)))

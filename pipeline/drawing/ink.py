"""What is drawn, collected by the sizes that show it, with its extent and what it occupies."""

import itertools
import math
from collections.abc import Sequence
from typing import NamedTuple

import shapely

from pipeline.drawing import scene
from pipeline.drawing.drawing import Drawing
from pipeline.drawing.fonts import ACCENTED, DESCENT, text_width_mm
from pipeline.drawing.scene import Run, Shape
from pipeline.drawing.styles import BLACK, LineStyle
from pipeline.geometry.points import Point, Vector, bounds

_MARGIN_MM = 1.0


class Ink(NamedTuple):
    """Shapes of some sizes. `extent` is (left, top, right, bottom); `strokes` and `boxes` are what texts avoid.

    `gaps` are where lines are not seen for the sake of a text. `sign` is what the key of signs explains it by.
    `together`: it is of all its sizes at once, and of none alone.
    """

    sizes: tuple[str, ...]
    shapes: tuple[Shape, ...]
    extent: tuple[float, float, float, float]
    strokes: tuple[tuple[Point, Point], ...] = ()
    boxes: tuple[shapely.Polygon, ...] = ()
    gaps: tuple[shapely.Polygon, ...] = ()
    sign: str = ""
    together: bool = False


def stroke_ink(sizes: tuple[str, ...], runs: Sequence[Run], style: LineStyle) -> Ink:
    """Lines of one style in one path."""
    rings = [points + points[:1] if closed else points for points, closed in runs]
    left, top, right, bottom = bounds(place for ring in rings for place in ring)
    half = style.width_mm / 2
    return Ink(
        sizes,
        (scene.path(runs, style),),
        (left - half, top - half, right + half, bottom + half),
        tuple((a, b) for ring in rings for a, b in itertools.pairwise(ring)),
    )


def text_box(baseline: Point, content: str, size_mm: float, turned_deg: float, bold: bool) -> shapely.Polygon:
    """The box of a line of text whose baseline's middle is given."""
    half = text_width_mm(content, size_mm, bold) / 2
    angle = math.radians(turned_deg)
    along = Vector(math.cos(angle), math.sin(angle))
    down = Vector(-along.dy, along.dx)
    above, below = -ACCENTED * size_mm, DESCENT * size_mm
    corners = ((-half, above), (half, above), (half, below), (-half, below))
    return shapely.Polygon([baseline.plus(along.scaled(x)).plus(down.scaled(y)) for x, y in corners])


def text_ink(
    sizes: tuple[str, ...],
    baseline: Point,
    content: str,
    size_mm: float,
    turned_deg: float = 0.0,
    bold: bool = False,
    fill: str = BLACK,
    gaps: tuple[shapely.Polygon, ...] = (),
) -> Ink:
    """One line of text whose baseline's middle is given."""
    box = text_box(baseline, content, size_mm, turned_deg, bold)
    shape = scene.text(baseline, content, size_mm, "middle", turned_deg, bold, fill)
    return Ink(sizes, (shape,), box.bounds, boxes=(box,), gaps=gaps)


def patch_inks(texts: Sequence[Ink], ground: str) -> list[Ink]:
    """What hides the lines under texts: their gaps, filled with the ground and shown with the texts' own sizes."""
    return [
        Ink(ink.sizes, (scene.polygon([Point(*corner) for corner in gap.exterior.coords[:-1]], ground),), gap.bounds)
        for ink in texts
        for gap in ink.gaps
    ]


def drawings_of(
    piece: str, order: Sequence[str], inks: Sequence[Ink], quarter_turns: int = 0, above: bool = False
) -> tuple[Drawing, ...]:
    """One drawing for each set of sizes, those of many sizes first; elements keep their order within it."""
    places = {size: index for index, size in enumerate(order)}
    sets = {(ink.sizes, ink.together) for ink in inks}
    order_of_sets = sorted(sets, key=lambda one: (-len(one[0]), [places[size] for size in one[0]], one[1]))
    return tuple(
        _drawing(piece, one, [ink for ink in inks if (ink.sizes, ink.together) == one], quarter_turns, above)
        for one in order_of_sets
    )


def _drawing(
    piece: str, shown: tuple[tuple[str, ...], bool], inks: Sequence[Ink], quarter_turns: int, above: bool
) -> Drawing:
    left = min(ink.extent[0] for ink in inks) - _MARGIN_MM
    top = min(ink.extent[1] for ink in inks) - _MARGIN_MM
    width = max(ink.extent[2] for ink in inks) + _MARGIN_MM - left
    height = max(ink.extent[3] for ink in inks) + _MARGIN_MM - top
    return Drawing(
        piece=piece,
        sizes=shown[0],
        together=shown[1],
        left_mm=left,
        top_mm=top,
        width_mm=width,
        height_mm=height,
        quarter_turns=quarter_turns,
        shapes=tuple(shape for ink in inks for shape in ink.shapes),
        above=above,
        signs=tuple(sorted({ink.sign for ink in inks} - {""})),
    )

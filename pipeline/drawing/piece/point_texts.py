"""What points and buttonholes are called, beside them."""

from collections.abc import Sequence

import shapely

from pipeline.drawing.fonts import text_width_mm
from pipeline.drawing.ink import Ink
from pipeline.drawing.labels.side_text import Room, text_near
from pipeline.drawing.nest.all_sizes import Nest
from pipeline.drawing.nest.marks import Spot
from pipeline.drawing.nest.opened import MIRRORED
from pipeline.drawing.piece.mark_names import point_words
from pipeline.drawing.piece.texts import BESIDE_OFF_MM, CLEAR_OF_LINES, text_inks, wordings_of
from pipeline.drawing.wording import SEPARATOR
from pipeline.geometry.points import Point, Vector

_DOWN = Vector(0.0, 1.0)


def point_names(nest: Nest, spots: Sequence[Spot], room: Room, taken: list[shapely.Geometry]) -> list[Ink]:
    """What points and buttonholes are called, beside them where there is room off all lines.

    Once for all sizes, and of those that are called alike, as a row of buttons, beside the first that has room; plainly
    nearer to their own than to what is called otherwise, where that can be.
    """
    groups: dict[str, list[Spot]] = {}
    for spot in spots:
        if not spot.key.endswith(MIRRORED):
            groups.setdefault(spot.key, []).append(spot)
    texts: list[Ink] = []
    named: dict[tuple[str, ...], set[str]] = {}
    for key, group in groups.items():
        words = point_words(nest.pattern, nest.name, key)
        had = named.setdefault(words, set())
        shown = {size for spot in group for size in spot.ink.sizes} - had
        if not words or not shown:
            continue
        look = nest.look
        reach_mm = text_width_mm(SEPARATOR.join(words), look.inside_label_mm[0], bold=True)
        marks = [
            (Point(spot.place.x - reach_mm, spot.place.y), Point(spot.place.x + reach_mm, spot.place.y))
            for spot in (group[0], group[-1])
        ]
        offs = [max(spot.reach_mm(_DOWN) for spot in group) + off * look.marks**0.5 for off in BESIDE_OFF_MM]
        sizes = tuple(size for size in nest.sizes if size in shown)
        tried = marks, wordings_of(words, look.terse), look.inside_label_mm, offs, room, CLEAR_OF_LINES
        found = text_near(*tried, _called_otherwise(nest, spots, words), smaller=False) or text_near(*tried)
        had |= shown if found else set()
        texts += text_inks(nest, sizes, found, taken)
    return texts


def _called_otherwise(nest: Nest, spots: Sequence[Spot], words: tuple[str, ...]) -> shapely.Geometry:
    """The strokes of all places that are called otherwise."""
    keys = {spot.key for spot in spots}
    others = {key for key in keys if point_words(nest.pattern, nest.name, key) != words}
    return shapely.MultiLineString([stroke for spot in spots if spot.key in others for stroke in spot.ink.strokes])

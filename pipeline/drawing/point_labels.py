"""Whose place is whose: sizes beside places that stand apart, a row of sizes with leaders where they crowd.

A row of labels lies beside the row of places, each label opposite its own place or as near to that as its neighbours
let it, in the same order, so that no two leaders cross.
"""

import itertools
import math
from collections.abc import Iterator, Sequence
from typing import NamedTuple

import shapely

from pipeline.drawing.fonts import CAP_HEIGHT, text_width_mm
from pipeline.drawing.ink import Ink, stroke_ink, text_ink
from pipeline.drawing.line_labels import Obstacles
from pipeline.drawing.marks import POINT_RADIUS_MM, Spot
from pipeline.drawing.piece_words import size_range
from pipeline.drawing.stack import Stack
from pipeline.drawing.styles import LineStyle
from pipeline.model.points import Point, Vector

_CROWD_MM = 9.0
"""Places of one name that are nearer than this to each other get a row of labels."""
_ROW_OFF_MM = (2.5, 5.0, 8.0, 12.0)
_BETWEEN_MM = 0.9
_SMALLER = 0.8
_CLEAR_MM = 0.5


class _Tag(NamedTuple):
    """A place, its text, and where the text's middle would stand in the row, in mm along it."""

    spot: Spot
    text: str
    at_mm: float


def point_labels(stack: Stack, spots: Sequence[Spot], obstacles: Obstacles, taken: list[shapely.Polygon]) -> list[Ink]:
    """Sizes, with leaders where places crowd, of all places that not all sizes share, where there is room."""
    inks: list[Ink] = []
    named: dict[str, list[Spot]] = {}
    for spot in spots:
        if spot.ink.sizes != stack.sizes:
            named.setdefault(spot.key, []).append(spot)
    for group in named.values():
        nearest = [
            min((spot.place.distance(other.place) for other in group if other is not spot), default=math.inf)
            for spot in group
        ]
        if min(nearest) < _CROWD_MM * stack.look.marks:
            inks += _row(stack, group, obstacles, taken)
        else:
            for spot in group:
                inks += _beside(stack, spot, obstacles, taken)
    return inks


def _beside(stack: Stack, spot: Spot, obstacles: Obstacles, taken: list[shapely.Polygon]) -> list[Ink]:
    look, place = stack.look, spot.place
    label = size_range(spot.ink.sizes, stack.pattern.sizes)
    for dx, dy in ((1.0, -0.5), (1.0, 1.3), (-1.0, -0.5), (-1.0, 1.3), (0.0, -1.6), (0.0, 2.6)):
        baseline = Point(place.x + dx * 2 * look.tag_mm, place.y + dy * POINT_RADIUS_MM * look.marks)
        text = text_ink(spot.ink.sizes, baseline, label, look.tag_mm, bold=True, fill=look.ink)
        box = text.boxes[0]
        if not len(obstacles.tree.query(box, predicate="intersects")) and not any(box.intersects(b) for b in taken):
            taken.append(box)
            return [text]
    return []


def _row(stack: Stack, group: Sequence[Spot], obstacles: Obstacles, taken: list[shapely.Polygon]) -> list[Ink]:
    """The row of labels that has room and fewest lines in it; nothing where every row stands on a mark or a text."""
    best: tuple[int, list[Ink], list[shapely.Polygon]] | None = None
    for inks, boxes, leaders in _rows(stack, group):
        if any(box.intersects(other) for other in taken for box in (*boxes, *leaders)):
            continue
        at_box, at_line = obstacles.tree.query(boxes, predicate="intersects")
        owners = obstacles.owners[at_line]
        if (owners < 0).any():
            continue
        crossed = len(set(zip(at_box.tolist(), owners.tolist(), strict=True)))
        if best is None or crossed < best[0]:
            best = crossed, inks, boxes
        if crossed == 0:
            break
    if best is None:
        return []
    taken.extend(best[2])
    return best[1]


def _rows(
    stack: Stack, group: Sequence[Spot]
) -> Iterator[tuple[list[Ink], list[shapely.Polygon], list[shapely.LineString]]]:
    """Rows on both sides, near ones first, then with smaller text: inks, boxes of the texts, leaders."""
    first, last = group[0].place, max(group, key=lambda spot: group[0].place.distance(spot.place)).place
    along = first.to(last).unit() if first != last else Vector(1.0, 0.0)  # slits of several lengths about one middle
    look = stack.look
    for size_mm in (look.tag_mm, _SMALLER * look.tag_mm):
        for off_mm in _ROW_OFF_MM:
            for side in (1, -1):
                yield _laid(stack, group, along, along.left().scaled(side), off_mm * look.marks, size_mm)


def _laid(
    stack: Stack, group: Sequence[Spot], along: Vector, out: Vector, off_mm: float, size_mm: float
) -> tuple[list[Ink], list[shapely.Polygon], list[shapely.LineString]]:
    look, origin = stack.look, group[0].place
    texts = [size_range(spot.ink.sizes, stack.pattern.sizes) for spot in group]
    places = [along.dot(origin.to(spot.place)) for spot in group]
    tags = sorted((_Tag(*tag) for tag in zip(group, texts, places, strict=True)), key=lambda tag: tag.at_mm)
    halves = [_half(tag.text, size_mm, along) + _BETWEEN_MM * look.marks / 2 for tag in tags]
    middles = _spaced([tag.at_mm for tag in tags], halves)
    edge = max(out.dot(origin.to(tag.spot.place)) + tag.spot.reach_mm(out) for tag in tags)
    inks, boxes, leaders = [], [], []
    for tag, at_mm in zip(tags, middles, strict=True):
        half_out = _half(tag.text, size_mm, out)
        middle = origin.plus(along.scaled(at_mm)).plus(out.scaled(edge + off_mm + half_out))
        baseline = Point(middle.x, middle.y + CAP_HEIGHT * size_mm / 2)
        sizes = tag.spot.ink.sizes
        text = text_ink(sizes, baseline, tag.text, size_mm, bold=True, fill=look.ink)
        start = tag.spot.place.plus(out.scaled(tag.spot.reach_mm(out)))
        end = middle.plus(out.scaled(-half_out - _CLEAR_MM))
        inks += [stroke_ink(sizes, [((start, end), False)], LineStyle(tag.spot.colour, look.clip_mm)), text]
        boxes.append(text.boxes[0])
        leaders.append(shapely.LineString((start, end)))
    return inks, boxes, leaders


def _half(text: str, size_mm: float, way: Vector) -> float:
    """Half of what level text covers along a direction."""
    return (abs(way.dx) * text_width_mm(text, size_mm, bold=True) + abs(way.dy) * CAP_HEIGHT * size_mm) / 2


def _spaced(wanted: Sequence[float], halves: Sequence[float]) -> list[float]:
    """Middles of labels in order, none over its neighbour, all together as near to the wanted ones as can be.

    Pool adjacent violators: labels that would overlap become one block, placed at the mean of what its labels want.
    """
    before = [0.0]
    for left, right in itertools.pairwise(halves):
        before.append(before[-1] + left + right)
    blocks: list[tuple[float, int]] = []
    for want, shift in zip(wanted, before, strict=True):
        total, count = want - shift, 1
        while blocks and blocks[-1][0] / blocks[-1][1] > total / count:
            earlier, many = blocks.pop()
            total, count = total + earlier, count + many
        blocks.append((total, count))
    starts = [total / count for total, count in blocks for _ in range(count)]
    return [start + shift for start, shift in zip(starts, before, strict=True)]

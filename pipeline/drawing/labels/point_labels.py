"""Whose place is whose: sizes beside places that stand apart, a row of sizes with leaders where they crowd.

A row of labels lies beside the row of places, each label opposite its own place or as near to that as its neighbours
let it, in the same order, so that no two leaders cross.
"""

import itertools
import math
from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

import numpy as np
import shapely
from numpy.typing import NDArray

from pipeline.drawing.fonts import CAP_HEIGHT, DESCENT, text_width_mm
from pipeline.drawing.ink import Ink, stroke_ink, text_ink
from pipeline.drawing.labels.side_text import Room
from pipeline.drawing.nest.all_sizes import Nest
from pipeline.drawing.nest.marks import POINT_RADIUS_MM, Spot
from pipeline.drawing.scene import Run
from pipeline.drawing.styles import LEAST_TEXT_MM, LineStyle
from pipeline.drawing.wording import size_label
from pipeline.geometry.points import Point, Vector

_CROWD_MM = 9.0
"""Places of one name that are nearer than this to each other get a row of labels."""
_ROW_OFF_MM = (2.5, 5.0, 8.0, 12.0)
_BETWEEN_MM = 0.9
_SMALLER = 0.8
_CLEAR_MM = 0.5
_SIDE_MM = 0.3
"""How far lines keep from a label."""

Floats = NDArray[np.float64]


class Group(NamedTuple):
    """Places of one kind, at most one a size; `along` is the way from one to the next."""

    along: Vector
    spots: Sequence[Spot]


class Row(NamedTuple):
    """Labels of a group: text size, middles, boxes that lines keep clear of, and the leaders from places to labels."""

    spots: Sequence[Spot]
    texts: Sequence[str]
    size_mm: float
    middles: Floats
    boxes: NDArray[np.object_]
    leaders: Floats


def point_labels(nest: Nest, spots: Sequence[Spot], room: Room, taken: list[shapely.Geometry]) -> list[Ink]:
    """Sizes, with leaders where places crowd, of all places that not all sizes share, where there is room."""
    inks: list[Ink] = []
    named: dict[str, list[Spot]] = {}
    for spot in spots:
        if spot.ink.sizes != nest.sizes:
            named.setdefault(spot.key, []).append(spot)
    for group in named.values():
        nearest = [
            min((spot.place.distance(other.place) for other in group if other is not spot), default=math.inf)
            for spot in group
        ]
        if min(nearest) < _CROWD_MM * nest.look.marks:
            first, last = group[0].place, max(group, key=lambda spot: group[0].place.distance(spot.place)).place
            # slits of several lengths may have one middle
            along = first.to(last).unit() if first != last else Vector(1.0, 0.0)
            row = row_of_labels(nest, [Group(along, group)], room, taken)
            inks += row_inks(nest, row) if row else []
        else:
            for spot in group:
                inks += _beside(nest, spot, room, taken)
    return inks


def _beside(nest: Nest, spot: Spot, room: Room, taken: list[shapely.Geometry]) -> list[Ink]:
    look, place = nest.look, spot.place
    label = size_label(spot.ink.sizes, nest.pattern)
    for dx, dy in ((1.0, -0.5), (1.0, 1.3), (-1.0, -0.5), (-1.0, 1.3), (0.0, -1.6), (0.0, 2.6)):
        baseline = Point(place.x + dx * 2 * look.tag_mm, place.y + dy * POINT_RADIUS_MM * look.marks)
        text = text_ink(spot.ink.sizes, baseline, label, look.tag_mm, bold=True, fill=look.ink)
        box = text.boxes[0]
        text = text._replace(gaps=(box,))
        free = not len(room.obstacles.tree.query(box, predicate="dwithin", distance=room.clear_mm))
        if free and not any(box.intersects(other) for other in taken):
            taken.append(box)
            return [text]
    return []


def row_of_labels(nest: Nest, groups: Iterable[Group], room: Room, taken: list[shapely.Geometry]) -> Row | None:
    """The row of labels for one of the groups that has room and fewest lines in it; nothing where none has room."""
    best, least = None, math.inf
    texts = shapely.STRtree(taken)
    for row in itertools.chain.from_iterable(_rows(nest, group) for group in groups):
        cost = _cost(row, room, texts, whole=nest.look.ground is not None)
        if cost < least:
            best, least = row, cost
        if cost == 0:
            break
    if best is not None:
        taken.extend((*best.boxes, *shapely.linestrings(best.leaders)))
    return best


def _cost(row: Row, room: Room, texts: shapely.STRtree, whole: bool) -> float:
    """How many lines pass the row's texts, 1 where a mark parts it, a half where a joint passes; infinite: no room.

    `whole`: nor is there room on a line that shows with the text on it.
    """
    if texts.query(np.concatenate((row.boxes, shapely.linestrings(row.leaders))), predicate="intersects").size:
        return math.inf
    if not shapely.contains(room.ground, row.boxes).all():
        return math.inf
    at_box, at_line = room.obstacles.tree.query(row.boxes, predicate="intersects")
    owners = room.obstacles.owners[at_line]
    if (owners < 0).any():
        return math.inf
    if whole and any(room.obstacles.kin(owners[at_box == k], set(row.spots[k].ink.sizes)).any() for k in set(at_box)):
        return math.inf
    passed = len(set(zip(at_box.tolist(), owners.tolist(), strict=True)))
    whole = shapely.box(*shapely.total_bounds(row.boxes))
    parted = (room.obstacles.owners[room.obstacles.tree.query(whole, predicate="intersects")] < 0).any()
    return passed + parted + 0.5 * bool(shapely.intersects(room.joints, row.boxes).any())


def _rows(nest: Nest, group: Group) -> Iterator[Row]:
    """Rows on both sides, near ones first, then with smaller text."""
    look, along, origin = nest.look, np.array(group.along), np.array(group.spots[0].place)
    spots = sorted(group.spots, key=lambda spot: group.along.dot(group.spots[0].place.to(spot.place)))
    texts = [size_label(spot.ink.sizes, nest.pattern) for spot in spots]
    wide = np.array([text_width_mm(text, 1.0, bold=True) for text in texts])
    below = np.array([DESCENT if any(letter.islower() or letter == "," for letter in text) else 0.0 for text in texts])
    places = np.array([spot.place for spot in spots])
    sides = []
    for out in (group.along.left(), group.along.left().scaled(-1)):
        reach = np.array([spot.reach_mm(out) for spot in spots])
        sides.append((np.array(out), places + reach[:, None] * out, ((places - origin) @ out + reach).max()))
    for size_mm in dict.fromkeys((look.tag_mm, max(_SMALLER * look.tag_mm, LEAST_TEXT_MM))):
        halves = _halves(wide, along) * size_mm + _BETWEEN_MM * look.marks / 2
        at_mm = np.array(_spaced(((places - origin) @ along).tolist(), halves.tolist()))
        side_mm = _SIDE_MM + look.clear_mm
        lefts, heights = wide * size_mm / 2 + side_mm, CAP_HEIGHT * size_mm / 2 + side_mm
        for off_mm, (out, starts, edge_mm) in itertools.product(_ROW_OFF_MM, sides):
            half_out = _halves(wide, out) * size_mm
            away = edge_mm + off_mm * look.marks + half_out
            middles = origin + at_mm[:, None] * along + away[:, None] * out
            x, y = middles.T
            boxes = shapely.box(x - lefts, y - heights, x + lefts, y + heights + below * size_mm)
            ends = middles - (half_out + (_CLEAR_MM + look.clear_mm))[:, None] * out
            yield Row(spots, texts, size_mm, middles, boxes, np.stack((starts, ends), axis=1))


def _halves(wide: Floats, way: Floats) -> Floats:
    """Half of what level texts of such widths cover along a direction, as shares of the text size."""
    halves: Floats = (abs(way[0]) * wide + abs(way[1]) * CAP_HEIGHT) / 2
    return halves


def row_inks(nest: Nest, row: Row) -> list[Ink]:
    """The labels of a row and their leaders; its places are not drawn."""
    look, inks = nest.look, []
    for spot, text, (x, y), leader, box in zip(
        row.spots, row.texts, row.middles.tolist(), row.leaders.tolist(), row.boxes, strict=True
    ):
        sizes, (start, end) = spot.ink.sizes, (Point(*place) for place in leader)
        # a colour this thin is parted into dots where a printer has black alone
        inks.append(stroke_ink(sizes, [Run((start, end))], LineStyle(look.ink, look.clip_mm)))
        baseline = Point(x, y + CAP_HEIGHT * row.size_mm / 2)
        inks.append(text_ink(sizes, baseline, text, row.size_mm, bold=True, fill=look.ink, gaps=(box,)))
    return inks


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

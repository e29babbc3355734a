"""Text beside a straight mark: along the grain, inside the fold sign."""

import math
from collections.abc import Iterator, Sequence
from itertools import compress
from typing import NamedTuple

import numpy as np
import shapely

from pipeline.drawing.fonts import CAP_HEIGHT, DESCENT, text_width_mm
from pipeline.drawing.labels.courses import Obstacles
from pipeline.drawing.labels.line_labels import LineLabel
from pipeline.drawing.styles import LEAST_TEXT_MM
from pipeline.geometry.points import Point, Vector

_SHARES = (0.5, 0.4, 0.6, 0.3, 0.7, 0.22, 0.78)
_LEADING = 1.3
_STEEP = 0.17
_SMALLER = (0.8, 0.65)
"""Text sizes against the smallest wanted one, where there is no room beside the mark."""
_OUTSIDE = 10000.0
_ON_JOINT = 0.1
_ON_MARK = 20.0
_TAKEN = 1000.0
ON_LINES, ON_MARKS, ANYWHERE = _ON_MARK, _TAKEN, math.inf
"""What a text may cost that stands, for want of better places, on lines alone, on marks too, or on all else."""

NEARER = 1.5
"""How many times as far as from its own mark a text is from others, so that nobody takes it for theirs."""
_NOTHING = shapely.LineString()

_Place = tuple[tuple[LineLabel, ...], shapely.Polygon]


class Room(NamedTuple):
    """Where text may stand: inside the ground, off lines and what is taken, and rather not on the pages' joints.

    `clear_mm` is how much farther than from thin lines it keeps from lines.
    """

    ground: shapely.Geometry
    obstacles: Obstacles
    taken: Sequence[shapely.Geometry]
    joints: shapely.Geometry
    clear_mm: float = 0.0

    def cost(self, box: shapely.Polygon) -> float:
        """How many lines pass the box; far more for marks, what is taken, and where it leaves the ground."""
        owners = self.obstacles.owners[self.obstacles.tree.query(box, predicate="dwithin", distance=self.clear_mm)]
        cost = float(np.where(owners < 0, _ON_MARK, 1.0).sum())
        cost += 0.0 if self.ground.contains(box) else _OUTSIDE
        cost += _TAKEN * sum(box.intersects(other) for other in self.taken)
        return cost + (_ON_JOINT if self.joints.intersects(box) else 0.0)


def text_beside(
    mark: tuple[Point, Point],
    wordings: Sequence[tuple[str, ...]],
    text_sizes_mm: Sequence[float],
    sides: Sequence[int],
    off_mm: float,
    room: Room,
    needed: bool = False,
    below: float = _TAKEN,
    heads_mm: float = 0.0,
) -> tuple[LineLabel, ...]:
    """The first wording (one or more lines of text) that finds room beside the mark, inside the ground, on no line.

    `sides`: 1 is the right of the way from the mark's first to its second point, -1 the left. Where every place has a
    line in it, the one with the fewest is taken; nothing where none costs less than `below`. Text that is needed is
    tried across the mark too, then smaller. `heads_mm` is how far heads go on beyond the mark's ends.
    """
    return _best(_tried(mark, wordings, text_sizes_mm, sides, off_mm, needed, heads_mm), room, below)


def text_near(
    marks: Sequence[tuple[Point, Point]],
    wordings: Sequence[tuple[str, ...]],
    text_sizes_mm: Sequence[float],
    offs_mm: Sequence[float],
    room: Room,
    below: float,
    others: shapely.Geometry = _NOTHING,
    smaller: bool = True,
) -> tuple[LineLabel, ...]:
    """Bold text along one of several marks that run side by side, on either side of them, as near as there is room.

    Where every place has something in it, the one that costs least, if less than `below`. It is plainly nearer to its
    mark than to the `others`. `smaller`: than the sizes that are wanted, too.
    """
    shapely.prepare(others)
    tried = (
        place
        for size_mm in (*text_sizes_mm, *(_smaller(text_sizes_mm) if smaller else ()))
        for wording in wordings
        for off_mm in offs_mm
        for mark in marks
        for place in _along(mark, wording, size_mm, (1, -1), off_mm, bold=True, others=others)
        if not shapely.dwithin(place[1], others, NEARER * off_mm)
    )
    return _best(tried, room, below)


def _smaller(text_sizes_mm: Sequence[float]) -> list[float]:
    """Smaller sizes than the least that is wanted, as far as they can be read on paper."""
    return [share * text_sizes_mm[-1] for share in _SMALLER if share * text_sizes_mm[-1] >= LEAST_TEXT_MM]


def _best(places: Iterator[_Place], room: Room, below: float) -> tuple[LineLabel, ...]:
    """The first place that costs nothing, else the cheapest that costs less than `below`, else nothing."""
    shapely.prepare(room.ground)
    best: tuple[LineLabel, ...] = ()
    for block, box in places:
        cost = room.cost(box)
        if cost == 0:
            return block
        if cost < below:
            below, best = cost, block
    return best


def _tried(
    mark: tuple[Point, Point],
    wordings: Sequence[tuple[str, ...]],
    text_sizes_mm: Sequence[float],
    sides: Sequence[int],
    off_mm: float,
    needed: bool,
    heads_mm: float,
) -> Iterator[_Place]:
    """Places along the mark; where the text is needed, then places across it, and both with smaller text."""
    smaller = _smaller(text_sizes_mm) if needed else []
    for sizes_mm in (text_sizes_mm, smaller):
        for size_mm in sizes_mm:
            for wording in wordings:
                yield from _along(mark, wording, size_mm, sides, off_mm)
        for size_mm in sizes_mm if needed else ():
            for wording in wordings:
                yield from _across(mark, wording, size_mm, sides, off_mm, heads_mm)


def _along(
    mark: tuple[Point, Point],
    wording: tuple[str, ...],
    size_mm: float,
    sides: Sequence[int],
    off_mm: float,
    bold: bool = False,
    others: shapely.Geometry = _NOTHING,
) -> Iterator[_Place]:
    """Places along the mark, without those whose middle alone lies too near to the `others`: most do in a nest."""
    run = mark[0].to(mark[1])
    right = run.unit().left().scaled(-1)
    width, height = _extent(wording, size_mm, bold)
    shares = [share for share in _SHARES if abs(share - 0.5) * run.length + width / 2 <= run.length / 2]
    asides = [right.scaled(side * (off_mm + height / 2)) for side in sides]
    middles = [mark[0].plus(run.scaled(share)).plus(aside) for aside in asides for share in shares]
    if middles and not shapely.is_empty(others):
        near = shapely.dwithin(shapely.points(middles), others, NEARER * off_mm + min(width, height) / 2)
        middles = list(compress(middles, ~near))
    for middle in middles:
        yield _block(middle, _reading(run.unit()), wording, size_mm, bold)


def _across(
    mark: tuple[Point, Point],
    wording: tuple[str, ...],
    size_mm: float,
    sides: Sequence[int],
    off_mm: float,
    heads_mm: float,
) -> Iterator[_Place]:
    """Lines of text that read across the mark: beside it, then beyond its ends, clear of their heads."""
    run = mark[0].to(mark[1])
    along = run.unit()
    right = along.left().scaled(-1)
    width, height = _extent(wording, size_mm)
    for side in sides:
        for share in _SHARES:
            foot = mark[0].plus(run.scaled(share))
            yield _block(foot.plus(right.scaled(side * (off_mm + width / 2))), _reading(right), wording, size_mm)
    beyond = off_mm + height / 2 + heads_mm
    for end, way in ((mark[1], along), (mark[0], along.scaled(-1))):
        yield _block(end.plus(way.scaled(beyond)), _reading(right), wording, size_mm)


def _extent(wording: tuple[str, ...], size_mm: float, bold: bool = False) -> tuple[float, float]:
    width = max(text_width_mm(text, size_mm, bold) for text in wording)
    return width, (CAP_HEIGHT + DESCENT + _LEADING * (len(wording) - 1)) * size_mm


def _reading(along: Vector) -> Vector:
    """The way that text is read along a direction: from the left or, where it is steep, upward."""
    if along.dx < -_STEEP or (abs(along.dx) <= _STEEP and along.dy > 0):
        return along.scaled(-1)
    return along


def _block(middle: Point, reading: Vector, wording: tuple[str, ...], size_mm: float, bold: bool = False) -> _Place:
    """Lines of text about a middle, and the box of them all."""
    width, height = _extent(wording, size_mm, bold)
    down = reading.left().scaled(-1)
    box = _box(middle, reading, down, width, height)
    first = middle.plus(down.scaled(CAP_HEIGHT * size_mm - height / 2))
    turned = math.degrees(math.atan2(reading.dy, reading.dx))
    labels = tuple(
        LineLabel(text, size_mm, first.plus(down.scaled(k * _LEADING * size_mm)), turned, box)
        for k, text in enumerate(wording)
    )
    return labels, shapely.Polygon(box)


def _box(middle: Point, along: Vector, down: Vector, width: float, height: float) -> tuple[Point, Point, Point, Point]:
    across, below = along.scaled(width / 2 + 0.4), down.scaled(height / 2 + 0.3)
    left, right = middle.plus(across.scaled(-1)), middle.plus(across)
    return (
        left.plus(below.scaled(-1)),
        right.plus(below.scaled(-1)),
        right.plus(below),
        left.plus(below),
    )

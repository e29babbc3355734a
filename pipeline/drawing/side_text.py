"""Text beside a straight mark: along the grain, inside the fold sign."""

import math
from collections.abc import Iterator, Sequence

import shapely

from pipeline.drawing.fonts import CAP_HEIGHT, DESCENT, text_width_mm
from pipeline.drawing.line_labels import LineLabel, Obstacles
from pipeline.model.points import Point, Vector

_SHARES = (0.5, 0.4, 0.6, 0.3, 0.7, 0.22, 0.78)
_LEADING = 1.3
_STEEP = 0.17


def text_beside(
    mark: tuple[Point, Point],
    wordings: Sequence[tuple[str, ...]],
    text_sizes_mm: Sequence[float],
    sides: Sequence[int],
    off_mm: float,
    obstacles: Obstacles,
    ground: shapely.Geometry,
    taken: Sequence[shapely.Polygon],
) -> tuple[LineLabel, ...]:
    """The first wording (one or more lines of text) that finds room beside the mark, inside the ground, on no line.

    `sides`: 1 is the right of the way from the mark's first to its second point, -1 the left. Where every place has a
    line in it, the one with the fewest is taken; nothing where none keeps clear of what is taken.
    """
    shapely.prepare(ground)
    best: tuple[int, tuple[LineLabel, ...]] | None = None
    for size_mm in text_sizes_mm:
        for wording in wordings:
            for block, box in _places(mark, wording, size_mm, sides, off_mm):
                if not ground.contains(box) or any(box.intersects(other) for other in taken):
                    continue
                crossed = len(obstacles.tree.query(box, predicate="intersects"))
                if best is None or crossed < best[0]:
                    best = (crossed, block)
                if crossed == 0:
                    return block
    return best[1] if best else ()


def _places(
    mark: tuple[Point, Point], wording: tuple[str, ...], size_mm: float, sides: Sequence[int], off_mm: float
) -> Iterator[tuple[tuple[LineLabel, ...], shapely.Polygon]]:
    start, end = mark
    run = start.to(end)
    along = run.unit()
    right = along.left().scaled(-1)
    reading = along
    if along.dx < -_STEEP or (abs(along.dx) <= _STEEP and along.dy > 0):
        reading = along.scaled(-1)
    down = reading.left().scaled(-1)
    width = max(text_width_mm(text, size_mm) for text in wording)
    height = (CAP_HEIGHT + DESCENT + _LEADING * (len(wording) - 1)) * size_mm
    if width > run.length:
        return
    for side in sides:
        for share in _SHARES:
            if abs(share - 0.5) * run.length + width / 2 > run.length / 2:
                continue
            foot = start.plus(run.scaled(share))
            middle = foot.plus(right.scaled(side * (off_mm + height / 2)))
            box = _box(middle, reading, down, width, height)
            first = middle.plus(down.scaled(CAP_HEIGHT * size_mm - height / 2))
            yield (
                tuple(
                    LineLabel(text, size_mm, first.plus(down.scaled(k * _LEADING * size_mm)), _degrees(reading), box)
                    for k, text in enumerate(wording)
                ),
                shapely.Polygon(box),
            )


def _box(middle: Point, along: Vector, down: Vector, width: float, height: float) -> tuple[Point, Point, Point, Point]:
    across, below = along.scaled(width / 2 + 0.4), down.scaled(height / 2 + 0.3)
    left, right = middle.plus(across.scaled(-1)), middle.plus(across)
    return (
        left.plus(below.scaled(-1)),
        right.plus(below.scaled(-1)),
        right.plus(below),
        left.plus(below),
    )


def _degrees(along: Vector) -> float:
    return math.degrees(math.atan2(along.dy, along.dx))

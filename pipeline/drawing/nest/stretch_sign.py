"""The direction in which a knit gives most: a sign across the grain line or beside it, a spring between two heads."""

from collections.abc import Iterator, Sequence

import shapely

from pipeline.drawing.ink import Ink, stroke_ink
from pipeline.drawing.nest.marks import arrow_head
from pipeline.drawing.scene import Run
from pipeline.drawing.styles import LineStyle, Look
from pipeline.geometry.points import Point, Vector

_LENGTHS_MM = (24.0, 18.0, 13.0, 9.0)
_WHERE = (0.25, 0.75, 0.35, 0.65, 0.15, 0.85, 0.5)
"""Where on the grain line, from its lower end."""
_BESIDE_MM = 6.0
_CLEAR_MM = 1.5
_HEAD_MM = 2.4
_LEAD = 0.22
"""The straight part at each end, of the whole."""
_COILS = 4
_HALF = 0.1
"""Half the spring's width, of the whole length."""


def stretch_sign(
    sizes: tuple[str, ...],
    grain: tuple[Point, Point],
    across: bool,
    ground: shapely.Geometry,
    lines: Sequence[shapely.Geometry],
    style: LineStyle,
    look: Look,
) -> Ink | None:
    """The sign for a grain line: `across` it, or along it and beside it; None where a piece has no room for it.

    It lies within `ground`, as long as there is room for, and rather on none of the `lines`.
    """
    inner, drawn = ground.buffer(-_CLEAR_MM * look.marks), shapely.union_all(list(lines))
    for on_none in (True, False):
        for ends in _places(grain, across, look):
            whole = shapely.LineString(ends).buffer(_HALF * ends[0].distance(ends[1]))
            if inner.contains(whole) and not (on_none and whole.intersects(drawn)):
                return stretch_ink(sizes, ends, style, look)
    return None


def _places(grain: tuple[Point, Point], across: bool, look: Look) -> Iterator[tuple[Point, Point]]:
    bottom, top = grain
    run = bottom.to(top)
    along = run.unit()
    way = along.left() if across else along
    for length in _LENGTHS_MM:
        half = way.scaled(length * look.marks / 2)
        for share in _WHERE:
            for beside in (0.0,) if across else (_BESIDE_MM, -_BESIDE_MM):
                middle = bottom.plus(run.scaled(share)).plus(along.left().scaled(beside * look.marks))
                yield middle.plus(half.scaled(-1)), middle.plus(half)


def stretch_ink(sizes: tuple[str, ...], ends: tuple[Point, Point], style: LineStyle, look: Look) -> Ink:
    """The spring between its two open heads."""
    start, end = ends
    run = start.to(end)
    along, length = run.unit(), run.length
    head = min(_HEAD_MM * look.marks, length / 5)
    heads = [_open_head(tip, way, head) for tip, way in ((start, along.scaled(-1)), (end, along))]
    return stroke_ink(sizes, [Run(tuple(_spring(start, run, length))), *heads], style)._replace(sign="stretch")


def _spring(start: Point, run: Vector, length_mm: float) -> Iterator[Point]:
    yield start
    yield start.plus(run.scaled(_LEAD))
    aside = run.unit().left().scaled(_HALF * length_mm)
    for coil in range(_COILS):
        share = _LEAD + (1 - 2 * _LEAD) * (coil + 0.5) / _COILS
        yield start.plus(run.scaled(share)).plus(aside.scaled(1 if coil % 2 else -1))
    yield start.plus(run.scaled(1 - _LEAD))
    yield start.plus(run)


def _open_head(tip: Point, along: Vector, length_mm: float) -> Run:
    _, left, right = arrow_head(tip, along, length_mm)
    return Run((left, tip, right))

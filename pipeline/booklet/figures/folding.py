"""Cloth that is folded in steps, seen from above and from its end: strips and hems.

A state says where each stretch of the cloth's width lies. Widths are mm of cloth, measured from one raw edge (`start`,
`end` of a layer), heights on the page likewise, downward; layers are counted from the lowest.
"""

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import NamedTuple

import shapely

from pipeline.booklet.figures.ink import FINE_MM, FOLD_DASH_MM, OUTLINE_MM, SEAM_DASH_MM, break_lines
from pipeline.booklet.figures.looks import RIGHT_TONE, Surface, filled
from pipeline.drawing import scene
from pipeline.drawing.scene import Shape
from pipeline.drawing.styles import BLACK
from pipeline.geometry.points import Point
from pipeline.model.pattern import StripMake

LAYER_MM = 1.7
"""Between layers in a view from the end, on paper."""
_STEP_MM = 3.0
"""How much farther a lower layer shows at the right end, on paper."""
_ARC = 12
_CLOTH_MM = 0.5


class Layer(NamedTuple):
    """A stretch of the cloth's width that lies flat: at `start` of the width it is at the height `top`, at `end` at
    `bottom`; upside down where `bottom` is less. Cloth lies wrong side up until it is turned over."""

    start: float
    end: float
    top: float
    bottom: float
    level: int

    @property
    def turned_over(self) -> bool:
        return self.bottom < self.top


class State(NamedTuple):
    """One step: its layers along the width, the heights at which it is folded next, and those of seam lines."""

    layers: tuple[Layer, ...]
    folds: tuple[float, ...] = ()
    seams: tuple[float, ...] = ()

    @property
    def low(self) -> float:
        return min(min(layer.top, layer.bottom) for layer in self.layers)

    @property
    def high(self) -> float:
        return max(max(layer.top, layer.bottom) for layer in self.layers)

    def layers_at(self, height: float) -> int:
        """How many layers of cloth lie at a height."""
        return sum(min(a.top, a.bottom) < height < max(a.top, a.bottom) for a in self.layers)


def strip_states(make: StripMake, finished_mm: float, allowance_mm: float) -> tuple[State, ...]:
    """The steps in which a strip of a finished width is folded, the first as it is cut; allowances count where its long
    edges are sewn (common practice)."""
    w, a = finished_mm, allowance_mm
    match make:
        case "flat":
            width = w + 2 * a
            return (State((Layer(0, width, 0, width, 0),), (), (a, w + a) if a else ()),)
        case "doubled":
            half = w + a
            cut = State((Layer(0, 2 * half, 0, 2 * half, 0),), (half,), (a, 2 * half - a) if a else ())
            folded = Layer(0, half, 0, half, 0), Layer(half, 2 * half, half, 0, 1)
            return cut, State(folded, (), (a,) if a else ())
        case "edges-to-centre":
            q = w / 2
            return State((Layer(0, 4 * q, 0, 4 * q, 0),), (q, 3 * q)), State(_to_centre(q))
        case "quarters":
            again = (
                Layer(0, w, 2 * w, w, 1),
                Layer(w, 2 * w, w, 2 * w, 0),
                Layer(2 * w, 3 * w, 2 * w, w, 3),
                Layer(3 * w, 4 * w, w, 2 * w, 2),
            )
            first = State((Layer(0, 4 * w, 0, 4 * w, 0),), (w, 3 * w))
            return first, State(_to_centre(w)), State(again)
        case "thirds":
            one = Layer(0, w, 2 * w, w, 1)
            first = State((Layer(0, 3 * w, 0, 3 * w, 0),), (w,))
            second = State((one, Layer(w, 3 * w, w, 3 * w, 0)), (2 * w,))
            return first, second, State((one, Layer(w, 2 * w, w, 2 * w, 0), Layer(2 * w, 3 * w, 2 * w, w, 2)))


def _to_centre(q: float) -> tuple[Layer, ...]:
    return Layer(0, q, 2 * q, q, 1), Layer(q, 3 * q, q, 3 * q, 0), Layer(3 * q, 4 * q, 3 * q, 2 * q, 1)


def hem_states(
    body_mm: float, allowance_mm: float, folds_mm: tuple[float, ...] = (), turn_up: bool = False
) -> tuple[State, ...]:
    """A hem before and after each step in which its allowance is turned up; `body_mm` of the piece are seen above the
    hem line.

    What is folded again, so far from the hem line, is folded from the raw edge on and each time to the wrong side, so
    that the raw edge lies inside; a turn-up is folded to the wrong side at its upper edge, then turned up to the right
    side (common practice).
    """
    lines = [body_mm, *(body_mm + fold for fold in folds_mm)]
    bounds = [0.0, *lines, body_mm + allowance_mm]
    layers = [Layer(start, end, start, end, 0) for start, end in pairwise(bounds)]
    flat = State((Layer(0, bounds[-1], 0, bounds[-1], 0),), tuple(lines))
    if turn_up:
        folded = [*layers[:2], *_folded_up(layers[2:])]
        over = [_mirrored(layer, body_mm)._replace(level=1 - k) for k, layer in enumerate(folded[1:3])]
        up = (layers[0]._replace(level=2), *over, *(layer._replace(level=3) for layer in folded[3:]))
        return flat, State(_joined(folded), (body_mm,)), State(up)
    states = [flat]
    for k in range(len(lines), 0, -1):
        layers = [*layers[:k], *_folded_up(layers[k:])]
        states.append(State(_joined(layers), tuple(lines[max(k - 2, 0) : k - 1])))
    return tuple(states)


def _joined(layers: Sequence[Layer]) -> tuple[Layer, ...]:
    """Layers of which one goes on from another in its plane are one."""
    joined = [layers[0]]
    for layer in layers[1:]:
        before = joined[-1]
        if (layer.level, layer.top, layer.turned_over) == (before.level, before.bottom, before.turned_over):
            joined[-1] = before._replace(end=layer.end, bottom=layer.bottom)
        else:
            joined.append(layer)
    return tuple(joined)


def _folded_up(layers: Sequence[Layer]) -> list[Layer]:
    """Layers turned over about the upper edge of their first, onto what lies above it."""
    most = max(layer.level for layer in layers)
    return [_mirrored(layer, layers[0].top)._replace(level=1 + most - layer.level) for layer in layers]


def _mirrored(layer: Layer, height: float) -> Layer:
    return layer._replace(top=2 * height - layer.top, bottom=2 * height - layer.bottom)


def seen_from_above(
    state: State, surface: Surface, left: float, top: float, scale: float, long_mm: float, open_top: bool = False
) -> Iterator[Shape]:
    """A state from above, its ends broken off; lower layers show beyond upper ones at the right end. `left`, `top` and
    `long_mm` are on paper, `surface` is the right side of the cloth; `open_top`: the cloth goes on at its upper edge.
    """
    most = max(layer.level for layer in state.layers)
    for layer in sorted(state.layers, key=lambda layer: layer.level):
        upper, lower = (top + (height - state.low) * scale for height in sorted((layer.top, layer.bottom)))
        right = left + long_mm - layer.level * _STEP_MM
        box = shapely.box(left, upper, right, lower)
        yield from filled(box, surface if layer.turned_over else surface.other)
        yield from break_lines(shapely.LineString([(left, upper), (left, lower)]))
        yield from break_lines(shapely.LineString([(right, upper), (right, lower)]))
        edges = [shapely.LineString([(left, y), (right, y)]) for y in (upper, lower)]
        if open_top and layer.start == 0:
            yield from break_lines(edges.pop(0))
        for edge in edges:
            yield scene.polyline([Point(*place) for place in edge.coords], BLACK, OUTLINE_MM)
    for heights, dash, width in ((state.folds, FOLD_DASH_MM, FINE_MM * 1.5), (state.seams, SEAM_DASH_MM, OUTLINE_MM)):
        for height in heights:
            y = top + (height - state.low) * scale
            reach = left + long_mm - most * _STEP_MM
            yield scene.line(Point(left, y), Point(reach, y), BLACK, width, dash)


def seen_from_end(state: State, surface: Surface, left: float, top: float, scale: float) -> Iterator[Shape]:
    """A state from its end: one line, folds as arcs, the right side grey; upper layers lie farther left."""
    line = section(state, left, top, scale)
    strip = shapely.LineString(line)
    # who looks from above is on the left; cloth that runs down the page lies wrong side up, its right side on the right
    grey = strip.buffer(-0.42 * LAYER_MM, single_sided=True, join_style="round")
    for part in shapely.get_parts(grey):
        if part.geom_type == "Polygon":
            yield scene.polygon([Point(*place) for place in part.exterior.coords[:-1]], RIGHT_TONE)
    yield scene.polyline(line, BLACK, _CLOTH_MM)


def section(state: State, left: float, top: float, scale: float) -> list[Point]:
    """The line of the cloth as it is seen from its end, from one raw edge to the other."""
    most = max(layer.level for layer in state.layers)

    def x(layer: Layer) -> float:
        return left + (most - layer.level) * LAYER_MM

    points: list[Point] = []
    for layer in state.layers:
        for height in (layer.top, layer.bottom):
            points.append(Point(x(layer), top + (height - state.low) * scale))
    return _rounded(points, state.layers)


def _rounded(points: Sequence[Point], layers: Sequence[Layer]) -> list[Point]:
    """The line with arcs for folds, drawn back from them by their radius, and raw edges drawn back a little."""
    ends = [[points[2 * k], points[2 * k + 1]] for k in range(len(layers))]
    arcs: list[list[Point]] = []
    for k, (one, other) in enumerate(pairwise(ends)):
        down = 1.0 if one[1].y > one[0].y else -1.0
        radius = abs(other[0].x - one[1].x) / 2
        y = one[1].y - down * min(radius, *_within(points, k), abs(one[1].y - one[0].y) / 2)
        ends[k][1], ends[k + 1][0] = Point(one[1].x, y), Point(other[0].x, y)
        arcs.append(list(_arc(ends[k][1], ends[k + 1][0], down)))
    line: list[Point] = []
    for k, pair in enumerate(ends):
        line += pair
        line += arcs[k] if k < len(arcs) else []
    if len(layers) > 1:
        line[0] = _back(line[0], line[1])
        line[-1] = _back(line[-1], line[-2])
    return line


def _within(points: Sequence[Point], fold: int) -> Iterator[float]:
    """Radii of the folds that lie in a fold of the same height: it goes round them."""
    for k in range(1, len(points) - 1, 2):
        own, other = sorted((points[2 * fold + 1].x, points[2 * fold + 2].x)), sorted((points[k].x, points[k + 1].x))
        level = abs(points[k].y - points[2 * fold + 1].y) < 1e-6
        if level and own[0] < other[0] and other[1] < own[1]:
            yield (other[1] - other[0]) / 2


def _back(end: Point, before: Point) -> Point:
    run = end.to(before)
    return end.plus(run.unit().scaled(min(0.8 * LAYER_MM, 0.4 * run.length)))


def _arc(start: Point, end: Point, down: float) -> Iterator[Point]:
    radius = (end.x - start.x) / 2
    middle = (start.x + end.x) / 2
    for k in range(1, _ARC):
        angle = math.pi * k / _ARC
        yield Point(middle - radius * math.cos(angle), start.y + down * abs(radius) * math.sin(angle))

"""Whose line is whose where lines of several sizes nearly touch: a row of sizes, each with a leader to its line.

Leaders end in dots, which stand one after the other along the lines, each on its own: a leader that passes other lines
is not theirs.
"""

import itertools
import math
from collections.abc import Sequence

import numpy as np
import shapely
from numpy.typing import NDArray

from pipeline.drawing import scene
from pipeline.drawing.fonts import CAP_HEIGHT, text_width_mm
from pipeline.drawing.ink import Ink
from pipeline.drawing.labels.point_labels import Floats, Group, row_inks, row_of_labels
from pipeline.drawing.labels.side_text import Room
from pipeline.drawing.nest.all_sizes import Nest
from pipeline.drawing.nest.marks import Spot
from pipeline.drawing.nest.stretches import Stretch
from pipeline.drawing.wording import size_label
from pipeline.geometry.chains import coordinates
from pipeline.geometry.points import Point, Vector

_NEAR_MM = 4.0
"""Lines that come so near to each other share a row."""
_DOT_MM = 0.4
_CORNERS = 12
_APART_MM = 1.2
"""Between two labels of a row, so that its dots do not touch."""
_STEP_MM = 12.0
_STATIONS = 12
"""At most so many places along a line are tried, and none nearer to the next."""


def line_rows(
    nest: Nest, stretches: Sequence[Stretch], room: Room, taken: list[shapely.Geometry]
) -> tuple[list[Ink], list[int]]:
    """Rows for stretches that run beside another one of them, and the numbers of those that have no row."""
    inks: list[Ink] = []
    lines = [shapely.linestrings(coordinates(stretch.ring)) for stretch in stretches]
    left = sorted(range(len(lines)), key=lambda k: (-lines[k].length, k))
    alone = []
    while left:
        row = row_of_labels(nest, _groups(nest, stretches, lines, left), room, taken)
        if row is None:
            alone.append(left.pop(0))
            continue
        inks += [*(spot.ink for spot in row.spots), *row_inks(nest, row)]
        served = {spot.key for spot in row.spots}
        left = [k for k in left if str(k) not in served]
    return inks, sorted(alone)


def _groups(
    nest: Nest, stretches: Sequence[Stretch], lines: Sequence[shapely.LineString], left: Sequence[int]
) -> list[Group]:
    """Dots on the first line that is left and all that run beside it, at stations along it.

    The stations with most lines, from the middle on; none where no other line is near.
    """
    host, look, runs = lines[left[0]], nest.look, np.array([lines[k] for k in left], dtype=object)[:, None]
    texts = [size_label(stretches[k].sizes, nest.pattern) for k in left]
    width = max(text_width_mm(text, look.tag_mm, bold=True) for text in texts)
    stations = np.arange(_STEP_MM / 2, host.length, max(_STEP_MM, host.length / _STATIONS))
    stations = stations[np.argsort(np.abs(stations - host.length / 2), kind="stable")]
    along = shapely.line_locate_point(runs, shapely.line_interpolate_point(host, stations)[None, :])
    ways = _ways(runs, along)
    off = _places(runs, along) - _places(host, stations)
    # negative to the left of the first line's way
    off_mm = np.copysign(np.hypot(*off.T).T, ways[0, :, 0] * off[:, :, 1] - ways[0, :, 1] * off[:, :, 0])
    senses = np.where((ways * ways[0]).sum(axis=2) > 0, 1, -1)
    found = []
    for n, way in enumerate(Vector(*way) for way in ways[0].tolist()):
        beside = _beside(off_mm[:, n], _NEAR_MM * look.marks)
        pitch = abs(way.dx) * width + abs(way.dy) * CAP_HEIGHT * look.tag_mm + _APART_MM * look.marks
        at = along[beside, n] + senses[beside, n] * (np.arange(len(beside)) - (len(beside) - 1) / 2) * pitch
        on_line = (at >= 0) & (at <= shapely.length(runs[beside, 0]))
        if len(beside) > 1 and on_line.all():
            found.append((way, [left[k] for k in beside], _places(runs[beside, 0], at).tolist()))
    most = max((len(numbers) for _, numbers, _ in found), default=0)
    return [
        Group(way, [_dot(nest, stretches[k].sizes, str(k), Point(*at)) for k, at in zip(numbers, places, strict=True)])
        for way, numbers, places in found
        if len(numbers) == most
    ]


def _places(lines: NDArray[np.object_] | shapely.LineString, along: Floats) -> Floats:
    """Where places along lines lie, a row each."""
    return shapely.get_coordinates(shapely.line_interpolate_point(lines, along)).reshape(*along.shape, 2)


def _ways(lines: NDArray[np.object_], along: Floats) -> Floats:
    """Unit vectors along lines, at places along them."""
    runs = _places(lines, np.minimum(along + 1.0, shapely.length(lines))) - _places(lines, np.maximum(along - 1.0, 0.0))
    ways: Floats = runs / np.maximum(np.hypot(runs[..., 0], runs[..., 1]), 1e-9)[..., None]
    return ways


def _beside(off_mm: Floats, near_mm: float) -> list[int]:
    """The numbers of the first line and those that are no farther than `near_mm` from the next one, left to right."""
    order = np.argsort(off_mm, kind="stable").tolist()
    first = last = order.index(0)
    while first > 0 and off_mm[order[first]] - off_mm[order[first - 1]] <= near_mm:
        first -= 1
    while last + 1 < len(order) and off_mm[order[last + 1]] - off_mm[order[last]] <= near_mm:
        last += 1
    return order[first : last + 1]


def _dot(nest: Nest, sizes: tuple[str, ...], key: str, place: Point) -> Spot:
    radius = _DOT_MM * nest.look.marks
    turns = [2 * math.pi * k / _CORNERS for k in range(_CORNERS)]
    ring = [Point(place.x + radius * math.cos(turn), place.y + radius * math.sin(turn)) for turn in turns]
    colour = nest.look.colour(sizes, nest.codes)
    extent = (place.x - radius, place.y - radius, place.x + radius, place.y + radius)
    strokes = tuple(itertools.pairwise((*ring, ring[0])))
    return Spot(Ink(sizes, (scene.polygon(ring, colour),), extent, strokes), key, place, colour)

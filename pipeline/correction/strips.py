"""Strips to tape on where a cut line lies farther out than before, in true size."""

import math
from collections.abc import Iterator
from typing import NamedTuple

import numpy as np
import shapely
from shapely import affinity

from pipeline.correction.differences import Difference, outline

HELD_MM = 12.0
"""What of a strip lies on the old piece, for the tape."""
LONGEST_MM = 200.0
"""So long a strip has room on A4 and Letter in true size."""
WIDEST_MM = 80.0
_LEAST_MM2 = 2.0


class AddedStrip(NamedTuple):
    """A part of a strip, upright, its bounding box at (0, 0): what to cut out, the old cut line on it, and what of it
    lies on the old piece."""

    piece: str
    size: str
    edge: str
    number: int
    parts: int
    area: shapely.Polygon
    old_line: shapely.Geometry
    held: shapely.Geometry

    @property
    def sides(self) -> tuple[float, float]:
        """Width and height in mm."""
        _, _, right, bottom = self.area.bounds
        return right, bottom


def strips_to_add(difference: Difference, most_mm: float) -> Iterator[AddedStrip]:
    """The strips of every edge that lies up to `most_mm` farther out; none where an edge bends so that it fits no
    page."""
    old, new = outline(difference.old), outline(difference.new)
    free = [part for part in shapely.get_parts(new.difference(old)) if part.area > _LEAST_MM2]
    for edge, move in difference.edges.items():
        if not 0 < move.out_mm <= most_mm:
            continue
        line = shapely.MultiLineString([part for part in difference.new.edges[edge] if len(part) > 1])
        added = [part for part in free if _along(part, line)]
        free = [part for part in free if part not in added]  # what goes round a corner is one strip
        if not added:
            continue
        whole = shapely.union_all(added).buffer(HELD_MM, join_style="mitre").intersection(new)
        upright = [part for each in shapely.get_parts(whole) for part in _cut(each, old)]
        if any(area.bounds[2] > WIDEST_MM for area, *_ in upright):
            continue
        for number, (area, old_line, held) in enumerate(upright, start=1):
            yield AddedStrip(difference.piece, difference.size, edge, number, len(upright), area, old_line, held)


def _along(part: shapely.Geometry, line: shapely.Geometry) -> bool:
    """Whether the edge runs along what was added, and does not only touch its end."""
    return bool(line.intersection(part.buffer(0.01)).length > 1.0)


def _cut(
    area: shapely.Geometry, old: shapely.Polygon
) -> Iterator[tuple[shapely.Polygon, shapely.Geometry, shapely.Geometry]]:
    """An area upright, in lengths that fit a page."""
    corners = np.array(area.minimum_rotated_rectangle.exterior.coords)
    sides = np.hypot(*np.diff(corners, axis=0).T)
    along = corners[int(np.argmax(sides)) + 1] - corners[int(np.argmax(sides))]
    angle = 90 - math.degrees(math.atan2(along[1], along[0]))
    turned, old_turned = (affinity.rotate(each, angle, origin=(0, 0)) for each in (area, old))
    left, top, right, bottom = turned.bounds
    count = max(1, math.ceil((bottom - top) / LONGEST_MM))
    for number in range(count):
        start, end = (top + (bottom - top) * step / count for step in (number, number + 1))
        for part in shapely.get_parts(turned.intersection(shapely.box(left, start, right, end))):
            if part.area > _LEAST_MM2:
                x, y = part.bounds[:2]
                line, held = old_turned.exterior.intersection(part.buffer(-0.01)), old_turned.intersection(part)
                yield tuple(affinity.translate(each, -x, -y) for each in (part, line, held))

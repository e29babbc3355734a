"""What lies on one side of a line: inside lines, points and the grain of a part of a piece."""

from collections.abc import Iterator
from itertools import pairwise

import msgspec
import shapely

from pipeline.geometry.curves import Line, Path, flattened
from pipeline.geometry.points import Point
from pipeline.model.pieces import DrawnPiece, Edge, GrainLine, InsideLine

_NIL_MM = 0.1
_LEAST_LINE_MM = 1.0
"""What is left of a line that is shorter marks nothing."""
_CLEAR_MM = 5.0
"""How far a grain line that was moved stays off the seam line, where there is room."""


def crosses(one: Path, other: Path) -> bool:
    """Whether two lines meet."""
    return bool(shapely.intersects(_string(one), _string(other)))


def runs_outside_mm(edges: tuple[Edge, ...], line: Path) -> float:
    """How much of a line lies outside the seam line."""
    region = shapely.buffer(_region(edges), _NIL_MM)
    return float(shapely.length(shapely.difference(_string(line), region)))


def nearer(path: Path, one: tuple[Edge, ...], other: tuple[Edge, ...]) -> bool:
    """Whether the middle of a line, or a place, lies on the first of two sides, or nearer to it."""
    line = _string(path)
    middle = shapely.line_interpolate_point(line, 0.5, normalized=True) if line.length else shapely.Point(path[0].start)
    return bool(shapely.distance(middle, _region(one)) <= shapely.distance(middle, _region(other)))


def apart(line: InsideLine, kept: tuple[Edge, ...], other: tuple[Edge, ...]) -> Iterator[InsideLine]:
    """What of an inside line does not lie on the other side."""
    whole, region = _string(line.path), _region(kept)
    rest = shapely.difference(whole, _region(other))
    if whole.length - rest.length <= _NIL_MM:
        if shapely.distance(whole, region) <= _NIL_MM:
            yield line
        return
    for part in shapely.get_parts(shapely.line_merge(rest)):
        if part.length >= _LEAST_LINE_MM and shapely.distance(part, region) <= _NIL_MM:
            places = [Point(*place) for place in part.coords]
            path = tuple(Line(a, b) for a, b in pairwise(places))
            yield msgspec.structs.replace(line, path=path, closed=False)


def marks_of(part: DrawnPiece, fold: Edge | None, along: Edge) -> DrawnPiece:
    """A part with a grain line and a rectangle for texts that lie in it. Its sizes are laid on the middle of its fold,
    else on where its new edge begins."""
    region = _region(part.edges)
    label = part.label if part.label and shapely.covers(region, shapely.Polygon(part.label)) else None
    anchor = along.path[0].start
    if fold is not None:
        a, b = fold.path[0].start, fold.path[-1].end
        anchor = Point((a.x + b.x) / 2, (a.y + b.y) / 2)
    return msgspec.structs.replace(part, grain=_grain(part.grain, region), label=label, anchor=anchor)


def _grain(grain: GrainLine, region: shapely.Polygon) -> GrainLine:
    """A piece's grain line, moved and shortened to lie in a part of it."""
    if shapely.covers(region, shapely.LineString((grain.bottom, grain.top))):
        return grain
    inner = shapely.buffer(region, -_CLEAR_MM)
    ground = region if shapely.is_empty(inner) else inner
    circle = shapely.maximum_inscribed_circle(ground, tolerance=0.1)
    middle = Point(*circle.coords[0])
    left, top, right, bottom = region.bounds
    far = grain.bottom.to(grain.top).unit().scaled(right - left + bottom - top)
    through = shapely.LineString((middle.plus(far.scaled(-1)), middle.plus(far)))
    lies = max(shapely.get_parts(shapely.intersection(through, ground)), key=lambda part: part.length)
    centre = shapely.line_interpolate_point(lies, 0.5, normalized=True)
    half = far.unit().scaled(min(lies.length, grain.bottom.distance(grain.top)) / 2)
    at = Point(centre.x, centre.y)
    return GrainLine(at.plus(half.scaled(-1)), at.plus(half), grain.drawn)


def _string(path: Path) -> shapely.LineString:
    return shapely.LineString(flattened(path))


def _region(edges: tuple[Edge, ...]) -> shapely.Polygon:
    return shapely.make_valid(shapely.Polygon([place for edge in edges for place in flattened(edge.path)]))

"""Ends of paths, moved so that they meet exactly; curves keep their shape."""

from itertools import pairwise

from pipeline.geometry.curves import Arc, Cubic, Line, Path, Segment
from pipeline.geometry.points import Affine, Point

DUST_MM = 0.001
"""A straight segment shorter than this is left over from rounding, as closing a path writes it."""


def with_ends(path: Path, start: Point, end: Point) -> Path:
    """The path with its two ends moved; its curves keep their shape."""
    if len(path) == 1:
        return (_moved(path[0], start, end),)
    return (_moved(path[0], start, path[0].end), *path[1:-1], _moved(path[-1], path[-1].start, end))


def _moved(segment: Segment, start: Point, end: Point) -> Segment:
    if segment.start.distance(start) < 1e-9 and segment.end.distance(end) < 1e-9 and isinstance(segment, Arc):
        return segment  # an arc's ends are computed and exact to the last digits only
    if isinstance(segment, Line):
        return Line(start, end)
    if isinstance(segment, Cubic):
        first, second = segment.control1.plus(segment.start.to(start)), segment.control2.plus(segment.end.to(end))
        return Cubic(start, first, second, end)
    chord, wanted = segment.start.to(segment.end), start.to(end)
    square = chord.dot(chord)
    if square < 1:  # all but a full turn: moved as a whole
        return segment.mapped(Affine(e=start.x - segment.start.x, f=start.y - segment.start.y))
    a, b = chord.dot(wanted) / square, chord.cross(wanted) / square
    turned = Affine(a, b, -b, a).point(segment.start)
    return segment.mapped(Affine(a, b, -b, a, start.x - turned.x, start.y - turned.y))


def without_dust(path: Path) -> Path:
    """The path without straight segments under a thousandth of a millimetre; the gaps are closed."""
    kept = [s for s in path if not (isinstance(s, Line) and s.start.distance(s.end) <= DUST_MM)]
    if len(kept) == len(path) or not kept:
        return path
    corners = [between(a.end, b.start) for a, b in pairwise(kept)]
    starts, ends = [path[0].start, *corners], [*corners, path[-1].end]
    return tuple(_moved(s, start, end) for s, start, end in zip(kept, starts, ends, strict=True))


def between(a: Point, b: Point) -> Point:
    """The middle of two points, or the first where they are one."""
    return a if a.distance(b) < 1e-9 else Point((a.x + b.x) / 2, (a.y + b.y) / 2)

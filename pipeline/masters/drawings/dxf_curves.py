"""Lines of a DXF as exact curves: what the file draws as curves stays that, and chains of points are led through them.

Common practice, from memory: the standard has a line lead through its curve points and leaves to the reader by which
curve. Here it is a cubic between each two points. At a curve point it has the direction of the circle through it and
both its neighbours; where one of these is far, that of the chord to it, nearly: a line runs into a curve there. At the
end of a curve it has the mirror image of the direction at its other end. Through even points of a circle it comes
within 0.0003 of the radius; of an ellipse through points 20 to 40 mm apart within a tenth of what chords are off
(measured in the tests). What lies between points that are farther apart no reader knows.
"""

from collections.abc import Sequence

from pipeline.geometry.curves import Cubic, Line, Path, Segment
from pipeline.geometry.points import Point, Vector

SAME_MM = 0.01
"""Points nearer to each other are one."""
MOST_UNEVEN = 3.0
"""A chord so many times longer than its neighbour is where a line runs into a curve, and is kept straight."""


def through(places: Sequence[Point], curved: Sequence[bool], closed: bool) -> Path:
    """The path through vertices, `curved` saying which of them are curve points."""
    kept = [i for i, place in enumerate(places) if i == 0 or place.distance(places[i - 1]) > 1e-6]
    if closed and len(kept) > 1 and places[kept[0]].distance(places[kept[-1]]) <= 1e-6:
        kept.pop()
    places, curved = [places[i] for i in kept], [curved[i] for i in kept]
    count = len(places)
    if count < 2:
        return ()
    ways = [
        _way(places[i - 1].to(places[i]), places[i].to(places[(i + 1) % count]))
        if curved[i] and (closed or 0 < i < count - 1)
        else None
        for i in range(count)
    ]
    last = count if closed else count - 1
    return tuple(_segment(places[i], places[(i + 1) % count], ways[i], ways[(i + 1) % count]) for i in range(last))


def _way(before: Vector, after: Vector) -> Vector | None:
    """The direction between two chords; None where they lead to and fro."""
    one, two = before.length, after.length
    if max(one, two) > MOST_UNEVEN * min(one, two):
        one, two = two, one
    sum_ = Vector(*(two * a / before.length + one * b / after.length for a, b in zip(before, after, strict=True)))
    return sum_.unit() if sum_.length > 1e-6 * (one + two) else None


def _segment(start: Point, end: Point, out: Vector | None, into: Vector | None) -> Segment:
    chord = start.to(end)
    along = chord.unit()
    if out is None and into is None:
        return Line(start, end)
    first = out or _mirrored(into or along, along)
    second = into or _mirrored(out or along, along)
    if max(abs(first.cross(along)), abs(second.cross(along))) < 1e-6:
        return Line(start, end)
    return Cubic(
        start,
        start.plus(first.scaled(chord.length * _reach(first.dot(along)))),
        end.plus(second.scaled(-chord.length * _reach(second.dot(along)))),
        end,
    )


def _reach(cos: float) -> float:
    """How far a handle reaches, as a share of the chord: that of an arc that leaves the chord by this angle."""
    return 2 / (3 * (1 + max(cos, 0.0)))


def _mirrored(way: Vector, along: Vector) -> Vector:
    """A direction mirrored in the chord."""
    return Vector(2 * way.dot(along) * along.dx - way.dx, 2 * way.dot(along) * along.dy - way.dy)

"""Boxes around curves, exactly: how large a mark is and where its centre lies."""

import math

import msgspec

from pipeline.geometry.curves import Arc, Cubic, Segment
from pipeline.geometry.points import Point


class Box(msgspec.Struct, frozen=True):
    """An upright rectangle, in mm."""

    left: float
    top: float
    right: float
    bottom: float

    @property
    def centre(self) -> Point:
        """The middle."""
        return Point((self.left + self.right) / 2, (self.top + self.bottom) / 2)

    @property
    def side(self) -> float:
        """The longer side."""
        return max(self.right - self.left, self.bottom - self.top)


def box_of(places: list[Point]) -> Box:
    """The box around points."""
    xs, ys = [place.x for place in places], [place.y for place in places]
    return Box(min(xs), min(ys), max(xs), max(ys))


def extremes(segment: Segment) -> list[Point]:
    """The points of a segment that its box touches, exactly: the ends and where it runs level or upright."""
    places = [segment.start, segment.end]
    if isinstance(segment, Cubic):
        for axis in (0, 1):
            p0, p1, p2, p3 = (point[axis] for point in (segment.start, segment.control1, segment.control2, segment.end))
            roots = _roots(p3 - 3 * p2 + 3 * p1 - p0, 2 * (p2 - 2 * p1 + p0), p1 - p0)
            places += [segment.at(t) for t in roots if 0 < t < 1]
    elif isinstance(segment, Arc):
        for along_u, along_v in zip(segment.u, segment.v, strict=True):
            first = math.atan2(along_v, along_u)
            for angle in (first, first + math.pi):
                t = ((angle - segment.start_rad) * math.copysign(1.0, segment.sweep_rad)) % math.tau
                if t < abs(segment.sweep_rad):
                    places.append(segment.at(t / abs(segment.sweep_rad)))
    return places


def _roots(a: float, b: float, c: float) -> list[float]:
    """Real roots of a t² + b t + c."""
    if a == 0:
        return [-c / b] if b else []
    square = b * b - 4 * a * c
    if square < 0:
        return []
    # The form that does not subtract nearly equal numbers.
    q = -(b + math.copysign(math.sqrt(square), b)) / 2
    return [q / a, *([c / q] if q else [])]


def hull(segment: Segment) -> list[Point]:
    """Points whose convex hull holds the segment (a cubic's control points, for others its extremes), in order."""
    if isinstance(segment, Cubic):
        return [segment.start, segment.control1, segment.control2, segment.end]
    return extremes(segment)

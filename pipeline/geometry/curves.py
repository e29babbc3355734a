"""The exact curves of an outline: lines, cubics and elliptic arcs, all closed under affine maps.

Quadratic curves are raised to cubics, which is exact. An arc is kept as a centre and two conjugate half diameters,
so an affine map moves three vectors and never its parameters.
"""

import math
from itertools import accumulate, pairwise

import msgspec

from pipeline.geometry.points import Affine, Point, Vector, foot_share

CHORD_ERROR_MM = 0.002
"""How far chords may lie from the curve where cut lines are computed."""
LENGTH_ERROR_MM = 1e-5
_MOST_HALVINGS = 24
_SOUGHT_ERROR_MM = 0.01
"""Chords so near to a curve tell where on it the nearest point is looked for."""


class Line(msgspec.Struct, frozen=True, tag="line"):
    """A straight segment."""

    start: Point
    end: Point

    def at(self, t: float) -> Point:
        return Point(self.start.x + (self.end.x - self.start.x) * t, self.start.y + (self.end.y - self.start.y) * t)

    def derivative(self, t: float) -> Vector:
        return self.start.to(self.end)

    def reversed(self) -> "Line":
        return Line(self.end, self.start)

    def mapped(self, affine: Affine) -> "Line":
        return Line(affine.point(self.start), affine.point(self.end))

    def bend(self) -> float:
        return 0.0


class Cubic(msgspec.Struct, frozen=True, tag="cubic"):
    """A cubic Bézier segment."""

    start: Point
    control1: Point
    control2: Point
    end: Point

    def at(self, t: float) -> Point:
        s = 1 - t
        w0, w1, w2, w3 = s * s * s, 3 * s * s * t, 3 * s * t * t, t * t * t
        return Point(
            w0 * self.start.x + w1 * self.control1.x + w2 * self.control2.x + w3 * self.end.x,
            w0 * self.start.y + w1 * self.control1.y + w2 * self.control2.y + w3 * self.end.y,
        )

    def derivative(self, t: float) -> Vector:
        s = 1 - t
        w0, w1, w2 = 3 * s * s, 6 * s * t, 3 * t * t
        d0, d1, d2 = self.start.to(self.control1), self.control1.to(self.control2), self.control2.to(self.end)
        return Vector(w0 * d0.dx + w1 * d1.dx + w2 * d2.dx, w0 * d0.dy + w1 * d1.dy + w2 * d2.dy)

    def reversed(self) -> "Cubic":
        return Cubic(self.end, self.control2, self.control1, self.start)

    def mapped(self, affine: Affine) -> "Cubic":
        return Cubic(*(affine.point(p) for p in (self.start, self.control1, self.control2, self.end)))

    def bend(self) -> float:
        """A bound of the second derivative over t, for the chord error h² bend / 8."""
        first = self.start.to(self.control1), self.control1.to(self.control2), self.control2.to(self.end)
        second = [Vector(b.dx - a.dx, b.dy - a.dy).length for a, b in pairwise(first)]
        return 6 * max(second)


class Arc(msgspec.Struct, frozen=True, tag="arc"):
    """centre + u cos φ + v sin φ, φ from `start_rad` over `sweep_rad` (either sign, at most a full turn)."""

    centre: Point
    u: Vector
    v: Vector
    start_rad: float
    sweep_rad: float

    @property
    def start(self) -> Point:
        return self.at(0.0)

    @property
    def end(self) -> Point:
        return self.at(1.0)

    def at(self, t: float) -> Point:
        angle = self.start_rad + self.sweep_rad * t
        return self.centre.plus(self.u.scaled(math.cos(angle))).plus(self.v.scaled(math.sin(angle)))

    def derivative(self, t: float) -> Vector:
        angle = self.start_rad + self.sweep_rad * t
        along_u, along_v = self.u.scaled(-math.sin(angle)), self.v.scaled(math.cos(angle))
        return Vector(along_u.dx + along_v.dx, along_u.dy + along_v.dy).scaled(self.sweep_rad)

    def reversed(self) -> "Arc":
        return Arc(self.centre, self.u, self.v, self.start_rad + self.sweep_rad, -self.sweep_rad)

    def mapped(self, affine: Affine) -> "Arc":
        centre, u, v = affine.point(self.centre), affine.vector(self.u), affine.vector(self.v)
        return Arc(centre, u, v, self.start_rad, self.sweep_rad)

    def bend(self) -> float:
        return self.sweep_rad**2 * math.hypot(self.u.length, self.v.length)


Segment = Line | Cubic | Arc
Path = tuple[Segment, ...]


def reversed_path(path: Path) -> Path:
    """The same curve walked the other way."""
    return tuple(segment.reversed() for segment in reversed(path))


def mapped_path(path: Path, affine: Affine) -> Path:
    """The curve under an affine map, exactly."""
    return tuple(segment.mapped(affine) for segment in path)


# Nodes and weights of the 7- and 15-point Gauss-Kronrod rule on [-1, 1] (QUADPACK, Piessens et al. 1983).
_KRONROD = (
    (0.991455371120813, 0.022935322010529, 0.0),
    (0.949107912342759, 0.063092092629979, 0.129484966168870),
    (0.864864423359769, 0.104790010322250, 0.0),
    (0.741531185599394, 0.140653259715525, 0.279705391489277),
    (0.586087235467691, 0.169004726639267, 0.0),
    (0.405845151377397, 0.190350578064785, 0.381830050505119),
    (0.207784955007898, 0.204432940075298, 0.0),
    (0.0, 0.209482141084728, 0.417959183673469),
)


def segment_length_mm(segment: Segment, start: float = 0.0, end: float = 1.0) -> float:
    """Length between two parameters, by adaptive Gauss-Kronrod quadrature to 1e-5 mm."""
    if isinstance(segment, Line):
        return segment.start.distance(segment.end) * (end - start)
    return _adaptive_length(segment, start, end, LENGTH_ERROR_MM, 0)


def _adaptive_length(segment: Cubic | Arc, start: float, end: float, error_mm: float, depth: int) -> float:
    middle, half = (start + end) / 2, (end - start) / 2
    fine = coarse = 0.0
    for node, weight, gauss_weight in _KRONROD:
        speed = segment.derivative(middle + half * node).length
        if node:
            speed += segment.derivative(middle - half * node).length
        fine += weight * speed
        coarse += gauss_weight * speed
    if depth >= _MOST_HALVINGS or abs(fine - coarse) * abs(half) <= error_mm:
        return fine * half
    parts = (start, middle), (middle, end)
    return sum(_adaptive_length(segment, a, b, error_mm / 2, depth + 1) for a, b in parts)


def path_length_mm(path: Path) -> float:
    """Length of a chain of segments, to 0.001 mm or better."""
    return sum(segment_length_mm(segment) for segment in path)


def arc_lengths_mm(path: Path) -> list[float]:
    """How far along a chain of segments each one begins, the first at 0, and last where the chain ends."""
    return list(accumulate((segment_length_mm(segment) for segment in path), initial=0.0))


def path_area_mm2(path: Path) -> float:
    """Area that a closed chain bounds, by Green's theorem: positive where it is walked clockwise on the page."""
    return sum(_swept_mm2(segment) for segment in path)


def _swept_mm2(segment: Segment) -> float:
    """½ ∮ (x dy − y dx) along one segment; exact for lines and cubics, closed form for arcs."""
    if isinstance(segment, Line):
        return (segment.start.x * segment.end.y - segment.end.x * segment.start.y) / 2
    if isinstance(segment, Cubic):
        p0, p1, p2, p3 = segment.start, segment.control1, segment.control2, segment.end

        def cross(a: Point, b: Point) -> float:
            return a.x * b.y - b.x * a.y

        near = 6 * cross(p0, p1) + 3 * cross(p0, p2) + cross(p0, p3)
        return (near + 3 * cross(p1, p2) + 3 * cross(p1, p3) + 6 * cross(p2, p3)) / 20
    moved = segment.start.to(segment.end)
    about_centre = segment.u.cross(segment.v) * segment.sweep_rad
    return (about_centre + segment.centre.x * moved.dy - segment.centre.y * moved.dx) / 2


def chords_needed(segment: Segment, error_mm: float) -> float:
    """How many chords of equal parameter stay within `error_mm` of a segment, at least 1, before it is rounded up.

    A chord over a step h lies at most h² M / 8 from the curve, M being the largest second derivative (`bend`).
    """
    return max(1.0, math.sqrt(segment.bend() / (8 * error_mm)))


def chord_count(segment: Segment, error_mm: float) -> int:
    """How many chords of equal parameter stay within `error_mm` of a segment."""
    return math.ceil(chords_needed(segment, error_mm))


def flattened(path: Path, error_mm: float = CHORD_ERROR_MM) -> tuple[Point, ...]:
    """Points on the curve whose chords lie within `error_mm` of it; both ends are the path's own."""
    points = [path[0].start]
    for segment in path:
        count = chord_count(segment, error_mm)
        points.extend(segment.at(i / count) for i in range(1, count))
        points.append(segment.end)
    return tuple(points)


def nearest_on_path(path: Path, place: Point) -> tuple[float, Point, float]:
    """(distance_mm, the point on the path, how far along the path it lies in mm) of the point nearest to `place`."""
    best: tuple[float, Point, float] | None = None
    before = 0.0
    for segment in path:
        count = 1 if isinstance(segment, Line) else max(8, chord_count(segment, _SOUGHT_ERROR_MM))
        t = _nearest_parameter(segment, place, count)
        found = segment.at(t)
        distance = place.distance(found)
        if best is None or distance < best[0] - 1e-9:
            best = (distance, found, before + segment_length_mm(segment, 0.0, t))
        before += segment_length_mm(segment)
    assert best is not None, "a path has at least one segment"
    return best


def _nearest_parameter(segment: Segment, place: Point, count: int) -> float:
    if isinstance(segment, Line):
        return foot_share(place, segment.start, segment.end)
    index = min(range(count + 1), key=lambda i: place.distance(segment.at(i / count)))
    low, high = max(0, index - 1) / count, min(count, index + 1) / count
    for _ in range(60):  # golden section: the distance has one valley between neighbouring samples
        left, right = high - (high - low) * 0.6180339887498949, low + (high - low) * 0.6180339887498949
        if place.distance(segment.at(left)) <= place.distance(segment.at(right)):
            high = right
        else:
            low = left
    return (low + high) / 2


def point_along(path: Path, at_mm: float) -> tuple[Point, Vector]:
    """The point `at_mm` along the path and the unit direction of travel there; clamped to the path's ends."""
    rest = max(0.0, at_mm)
    for segment in path:
        length = segment_length_mm(segment)
        if rest <= length:
            t = parameter_at(segment, rest, length)
            return segment.at(t), direction(segment, t)
        rest -= length
    return path[-1].end, direction(path[-1], 1.0)


def parameter_at(segment: Segment, at_mm: float, length_mm: float) -> float:
    """The parameter so far along a segment of that length."""
    if length_mm == 0:
        return 0.0
    if isinstance(segment, Line):
        return at_mm / length_mm
    low, high = 0.0, 1.0
    for _ in range(50):
        middle = (low + high) / 2
        if segment_length_mm(segment, 0.0, middle) < at_mm:
            low = middle
        else:
            high = middle
    return (low + high) / 2


def direction(segment: Segment, t: float) -> Vector:
    """Unit direction of travel at a parameter, also where a control point lies on its end."""
    derivative = segment.derivative(t)
    if derivative.length > 1e-9:
        return derivative.unit()
    step = 1e-4 if t < 0.5 else -1e-4
    run = segment.at(t).to(segment.at(t + step))
    if run.length == 0:
        return Vector(1.0, 0.0)
    return run.scaled(math.copysign(1.0, step)).unit()


def turn_between_rad(before: Segment, after: Segment) -> float:
    """By how much the direction turns where one segment ends and the next begins; clockwise on the page is positive."""
    return direction(before, 1.0).turn_rad(direction(after, 0.0))

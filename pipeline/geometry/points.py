"""Points and vectors of the page, in mm, x to the right and y down."""

import math
from collections.abc import Iterable
from typing import NamedTuple


class Vector(NamedTuple):
    """A displacement in mm."""

    dx: float
    dy: float

    @property
    def length(self) -> float:
        return math.hypot(self.dx, self.dy)

    def scaled(self, factor: float) -> "Vector":
        return Vector(self.dx * factor, self.dy * factor)

    def unit(self) -> "Vector":
        """The same direction, 1 mm long. Raises ZeroDivisionError for a null vector."""
        return self.scaled(1 / self.length)

    def left(self) -> "Vector":
        """Turned a quarter to the left as seen on the page: outward of an outline that is walked clockwise."""
        return Vector(self.dy, -self.dx)

    def dot(self, other: "Vector") -> float:
        return self.dx * other.dx + self.dy * other.dy

    def cross(self, other: "Vector") -> float:
        """Positive where `other` turns to the right (clockwise) as seen on the page."""
        return self.dx * other.dy - self.dy * other.dx

    def turn_rad(self, other: "Vector") -> float:
        """The angle from this direction to another, from -π to π, positive where it turns to the right."""
        return math.atan2(self.cross(other), self.dot(other))

    def turn_deg(self, other: "Vector") -> float:
        """The same in degrees."""
        return math.degrees(self.turn_rad(other))


class Point(NamedTuple):
    """A place in mm."""

    x: float
    y: float

    def to(self, other: "Point") -> Vector:
        return Vector(other.x - self.x, other.y - self.y)

    def plus(self, vector: Vector) -> "Point":
        return Point(self.x + vector.dx, self.y + vector.dy)

    def distance(self, other: "Point") -> float:
        return math.hypot(other.x - self.x, other.y - self.y)


class Affine(NamedTuple):
    """x' = a x + c y + e, y' = b x + d y + f: the order of SVG's matrix(a b c d e f)."""

    a: float = 1.0
    b: float = 0.0
    c: float = 0.0
    d: float = 1.0
    e: float = 0.0
    f: float = 0.0

    def point(self, place: Point) -> Point:
        return Point(self.a * place.x + self.c * place.y + self.e, self.b * place.x + self.d * place.y + self.f)

    def vector(self, vector: Vector) -> Vector:
        return Vector(self.a * vector.dx + self.c * vector.dy, self.b * vector.dx + self.d * vector.dy)

    def after(self, first: "Affine") -> "Affine":
        """The map that applies `first`, then this one: in SVG's terms the product self x first."""
        origin = self.point(Point(first.e, first.f))
        x_axis, y_axis = self.vector(Vector(first.a, first.b)), self.vector(Vector(first.c, first.d))
        return Affine(*x_axis, *y_axis, *origin)

    @property
    def determinant(self) -> float:
        return self.a * self.d - self.b * self.c


def foot_share(place: Point, start: Point, end: Point) -> float:
    """Where on a chord the point nearest to a place lies: at 0 its start, at 1 its end; 0 where it has no length."""
    run = start.to(end)
    square = run.dot(run)
    return min(1.0, max(0.0, start.to(place).dot(run) / square)) if square else 0.0


def bounds(points: Iterable[Point]) -> tuple[float, float, float, float]:
    """(left, top, right, bottom) of points."""
    places = tuple(points)
    xs, ys = [p[0] for p in places], [p[1] for p in places]
    return min(xs), min(ys), max(xs), max(ys)

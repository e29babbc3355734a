"""Paths and the basic shapes of SVG as exact curves, in user units."""

import math
from collections.abc import Callable
from itertools import pairwise

from pipeline.geometry.curves import Arc, Line, Segment
from pipeline.geometry.points import Point, Vector
from pipeline.masters.svg.arcs import ellipse
from pipeline.masters.svg.fault import SvgFault
from pipeline.masters.svg.numbers import number_list, user_length
from pipeline.masters.svg.path_data import Subpath, parse_path
from pipeline.masters.svg.tree import Node
from pipeline.masters.svg.viewport import Viewport


class Measure:
    """Reads the lengths of one element in its viewport."""

    def __init__(self, node: Node, viewport: Viewport, pixels_per_inch: float) -> None:
        self.node, self.viewport, self.pixels_per_inch = node, viewport, pixels_per_inch

    def across(self, key: str, default: str = "0") -> float:
        """A length along x; a percentage is of the viewport's width."""
        return self._length(key, default, self.viewport.width)

    def down(self, key: str, default: str = "0") -> float:
        """A length along y; a percentage is of the viewport's height."""
        return self._length(key, default, self.viewport.height)

    def radius(self, key: str) -> float:
        """A length in no direction; a percentage is of the viewport's diagonal."""
        return self.size(key, self._length(key, "0", self.viewport.diagonal))

    def size(self, key: str, length: float) -> float:
        """The length, which may not be negative."""
        if length < 0:
            raise SvgFault(
                "negative-size",
                f"{key} of the <{self.node.tag}> is negative.",
                "Draw the object again.",
                self.node.attributes.get(key, ""),
                "0 or more",
            )
        return length

    def _length(self, key: str, default: str, whole: float) -> float:
        text = self.node.attributes.get(key, default)
        return user_length(text, f"{key} of the <{self.node.tag}>", whole, self.pixels_per_inch)


def shape_of(node: Node, measure: Measure) -> tuple[Subpath, ...]:
    """The strokes of a path or basic shape; none where it has no geometry. Raises SvgFault."""
    return SHAPES[node.tag](node, measure)


def _path(node: Node, measure: Measure) -> tuple[Subpath, ...]:
    return parse_path(node.attributes.get("d", ""))


def _line(node: Node, measure: Measure) -> tuple[Subpath, ...]:
    start = Point(measure.across("x1"), measure.down("y1"))
    end = Point(measure.across("x2"), measure.down("y2"))
    return (_chain([start, end], False),)


def _polyline(node: Node, measure: Measure) -> tuple[Subpath, ...]:
    numbers = number_list(node.attributes.get("points", ""), f"points of the <{node.tag}>")
    if len(numbers) % 2:
        raise SvgFault(
            "bad-points",
            f"points of the <{node.tag}> holds {len(numbers)} numbers: one coordinate has no partner.",
            "Draw the object again.",
            f"{len(numbers)} numbers",
            "an even count",
        )
    places = [Point(numbers[i], numbers[i + 1]) for i in range(0, len(numbers), 2)]
    return (_chain(places, node.tag == "polygon"),) if places else ()


def _chain(places: list[Point], closed: bool) -> Subpath:
    ends = [*places, places[0]] if closed else places
    lines = tuple(Line(a, b) for a, b in pairwise(ends) if a != b)
    return Subpath(places[0], lines, closed)


def _circle(node: Node, measure: Measure) -> tuple[Subpath, ...]:
    radius = measure.radius("r")
    return (_round(Point(measure.across("cx"), measure.down("cy")), radius, radius),)


def _ellipse(node: Node, measure: Measure) -> tuple[Subpath, ...]:
    rx, ry = _radii(node, measure)
    return (_round(Point(measure.across("cx"), measure.down("cy")), rx, ry),)


def circle(centre: Point, radius: float) -> Subpath:
    """The stroke of a circle."""
    return _round(centre, radius, radius)


def _round(centre: Point, rx: float, ry: float) -> Subpath:
    if rx == 0 or ry == 0:
        return Subpath(centre, (), True)
    return Subpath(Point(centre.x + rx, centre.y), (ellipse(centre, rx, ry),), True)


def _radii(node: Node, measure: Measure) -> tuple[float, float]:
    """rx and ry; one that is missing or "auto" is as large as the other (SVG 2, 7.4)."""
    given = {key: node.attributes.get(key, "auto").strip() != "auto" for key in ("rx", "ry")}
    rx = measure.size("rx", measure.across("rx")) if given["rx"] else None
    ry = measure.size("ry", measure.down("ry")) if given["ry"] else None
    first = rx if rx is not None else ry if ry is not None else 0.0
    return first, ry if ry is not None else first


def _rect(node: Node, measure: Measure) -> tuple[Subpath, ...]:
    x, y = measure.across("x"), measure.down("y")
    width, height = measure.size("width", measure.across("width")), measure.size("height", measure.down("height"))
    rx, ry = _radii(node, measure)
    rx, ry = min(rx, width / 2), min(ry, height / 2)
    if rx == 0 or ry == 0:
        right, bottom = x + width, y + height
        return (_chain([Point(x, y), Point(right, y), Point(right, bottom), Point(x, bottom)], True),)
    return (_rounded(x, y, width, height, rx, ry),)


def _rounded(x: float, y: float, width: float, height: float, rx: float, ry: float) -> Subpath:
    """A rectangle with round corners, clockwise from the left end of its top side."""
    left, right, top, bottom = x + rx, x + width - rx, y + ry, y + height - ry
    u, v, quarter = Vector(rx, 0.0), Vector(0.0, ry), math.pi / 2
    segments: list[Segment] = []
    sides = (
        (Point(left, y), Point(right, y), Point(right, top), -quarter),
        (Point(x + width, top), Point(x + width, bottom), Point(right, bottom), 0.0),
        (Point(right, y + height), Point(left, y + height), Point(left, bottom), quarter),
        (Point(x, bottom), Point(x, top), Point(left, top), math.pi),
    )
    for start, end, centre, angle in sides:
        if start != end:
            segments.append(Line(start, end))
        segments.append(Arc(centre, u, v, angle, quarter))
    return Subpath(Point(left, y), tuple(segments), True)


SHAPES: dict[str, Callable[[Node, Measure], tuple[Subpath, ...]]] = {
    "path": _path,
    "line": _line,
    "polyline": _polyline,
    "polygon": _polyline,
    "circle": _circle,
    "ellipse": _ellipse,
    "rect": _rect,
}

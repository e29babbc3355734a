"""What the drafting scripts share: curves through given tangents, lengths that must meet, and the writing of masters.

Lengths in mm, x to the right, y down. Angles in degrees.
"""

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from itertools import pairwise

from pipeline.geometry.curves import Arc, Cubic, Line, Path, Segment, flattened, path_length_mm, point_along
from pipeline.geometry.points import Affine, Point, Vector, bounds

_PAPER_MARGIN_MM = 20.0


@dataclass(frozen=True)
class Graded:
    """A measure that grows by one step a size up to the last size of the first band, then by another."""

    smallest: float
    step: float
    late_step: float

    def at(self, index: int, band_end: int) -> float:
        """The measure of the size with that index, in the unit it was given in."""
        return self.smallest + self.step * min(index, band_end) + self.late_step * max(0, index - band_end)


@dataclass(frozen=True)
class Master:
    """One piece of one size: named edges in walking order, and what is marked on it.

    `points` holds places, or the two ends of a buttonhole; `grain` runs from its lower end to its upper one.
    """

    edges: Mapping[str, Path]
    grain: tuple[Point, Point]
    anchor: Point
    notches: tuple[tuple[str, Point], ...] = ()
    inside: Mapping[str, Path] = field(default_factory=dict)
    points: Mapping[str, Point | tuple[Point, Point]] = field(default_factory=dict)


def heading(angle: float) -> Vector:
    """Unit vector; 0 points right, 90 down the page."""
    return Vector(math.cos(math.radians(angle)), math.sin(math.radians(angle)))


def polyline(*places: Point) -> Path:
    """Straight segments through places."""
    return tuple(Line(a, b) for a, b in pairwise(places))


def curve(start: Point, leaving: Vector, first: float, end: Point, arriving: Vector, second: float) -> Cubic:
    """A cubic with given directions of travel at both ends, and the length of its handles."""
    return Cubic(start, start.plus(leaving.scaled(first)), end.plus(arriving.scaled(-second)), end)


def end_curvature(cubic: Cubic) -> float:
    """Curvature at the end of a cubic, without its sign: 2/3 of the far control's distance from the tangent over h²."""
    handle = cubic.control2.to(cubic.end)
    away = abs(handle.unit().cross(cubic.control1.to(cubic.end)))
    return 2 / 3 * away / handle.length**2


def with_end_curvature(cubic: Cubic, curvature: float) -> Cubic:
    """The same cubic with the handle at its end as long as that curvature asks for."""
    handle = cubic.control2.to(cubic.end).unit()
    away = abs(handle.cross(cubic.control1.to(cubic.end)))
    return Cubic(
        cubic.start, cubic.control1, cubic.end.plus(handle.scaled(-math.sqrt(2 / 3 * away / curvature))), cubic.end
    )


def split(cubic: Cubic, t: float) -> tuple[Cubic, Cubic]:
    """Both parts of a cubic, by de Casteljau's construction."""

    def between(a: Point, b: Point) -> Point:
        return a.plus(a.to(b).scaled(t))

    a, b, c = (
        between(cubic.start, cubic.control1),
        between(cubic.control1, cubic.control2),
        between(cubic.control2, cubic.end),
    )
    d, e = between(a, b), between(b, c)
    middle = between(d, e)
    return Cubic(cubic.start, a, d, middle), Cubic(middle, e, c, cubic.end)


def split_at_x(cubic: Cubic, x: float) -> tuple[Cubic, Cubic]:
    """Both parts of a cubic that runs one way in x, parted where it crosses `x`."""
    return split(cubic, solved(lambda t: cubic.at(t).x - x, 0.0, 1.0))


def split_at_y(cubic: Cubic, y: float) -> tuple[Cubic, Cubic]:
    """Both parts of a cubic that runs one way in y, parted where it crosses `y`."""
    return split(cubic, solved(lambda t: cubic.at(t).y - y, 0.0, 1.0))


def solved(excess: Callable[[float], float], low: float, high: float) -> float:
    """Where a monotonous function is nought, by halving. Raises ValueError where both ends have one sign."""
    at_low, at_high = excess(low), excess(high)
    if at_low * at_high > 0:
        raise ValueError(f"no root between {low} and {high}: {at_low:.3f} and {at_high:.3f}")
    for _ in range(60):
        middle = (low + high) / 2
        if (excess(middle) > 0) == (at_high > 0):
            high = middle
        else:
            low = middle
    return (low + high) / 2


def rounded_corner(before: Point, corner: Point, after: Point, radius: float) -> Cubic:
    """A quarter-like turn that replaces a corner, `radius` along each leg."""
    start = corner.plus(corner.to(before).unit().scaled(radius))
    end = corner.plus(corner.to(after).unit().scaled(radius))
    pull = 0.5523 * radius
    return curve(start, before.to(corner).unit(), pull, end, corner.to(after).unit(), pull)


def mirrored(path: Path, axis_x: float) -> Path:
    """The path seen in a mirror that stands upright at `axis_x`, walked in the same order."""
    return tuple(segment.mapped(Affine(-1, 0, 0, 1, 2 * axis_x, 0)) for segment in path)


def place_along(path: Path, at_mm: float) -> Point:
    """The point so far along a path."""
    return point_along(path, at_mm)[0]


def length(path: Path) -> float:
    """Length of a path in mm."""
    return path_length_mm(path)


def svg_texts(masters: Mapping[str, Master], decimals: int = 3) -> dict[str, str]:
    """The SVG of one piece in each of its sizes (or sets), all on one size of paper so that they lie on each other."""
    corners = [p for master in masters.values() for path in master.edges.values() for p in flattened(path, 0.1)]
    left, top, right, bottom = bounds(corners)
    frame = (
        math.floor(left - _PAPER_MARGIN_MM),
        math.floor(top - _PAPER_MARGIN_MM),
        math.ceil(right + _PAPER_MARGIN_MM),
        math.ceil(bottom + _PAPER_MARGIN_MM),
    )
    return {size: _svg(master, frame, decimals) for size, master in masters.items()}


def _svg(master: Master, frame: tuple[int, int, int, int], decimals: int) -> str:
    left, top, right, bottom = frame
    width, height = right - left, bottom - top

    def number(value: float) -> str:
        text = f"{value:.{decimals}f}".rstrip("0").rstrip(".")
        return "0" if text == "-0" else text

    def place(point: Point) -> str:
        return f"{number(point.x)},{number(point.y)}"

    def path(name: str, segments: Path) -> str:
        words = [f"M{place(segments[0].start)}", *(_command(segment, place, number) for segment in segments)]
        return f'<path data-name="{name}" d="{" ".join(words)}"/>'

    def dot(name: str, centre: Point, radius: float) -> str:
        return f'<circle data-name="{name}" cx="{number(centre.x)}" cy="{number(centre.y)}" r="{radius:g}"/>'

    def mark(name: str, what: Point | tuple[Point, Point]) -> str:
        return dot(name, what, 2) if isinstance(what, Point) else path(name, polyline(*what))

    groups = {
        "seam": [path(name, segments) for name, segments in master.edges.items()],
        "notches": [dot(name, centre, 1) for name, centre in master.notches],
        "grain": [path("grain", polyline(*master.grain))],
        "inside": [path(name, segments) for name, segments in master.inside.items()],
        "points": [mark(name, what) for name, what in master.points.items()],
        "anchor": [dot("anchor", master.anchor, 1)],
    }
    lines = [
        '<svg xmlns="http://www.w3.org/2000/svg" xmlns:draft="https://example.org/draft" '
        f'width="{width}mm" height="{height}mm" viewBox="{left} {top} {width} {height}">',
        '<g fill="none" stroke="#000" stroke-width=".5">',
    ]
    for label, objects in groups.items():
        if objects:
            lines += [f'<g draft:label="{label}">', *objects, "</g>"]
    return "\n".join([*lines, "</g>", "</svg>", ""])


def _command(segment: Segment, place: Callable[[Point], str], number: Callable[[float], str]) -> str:
    if isinstance(segment, Line):
        return f"L{place(segment.end)}"
    if isinstance(segment, Cubic):
        return f"C{place(segment.control1)} {place(segment.control2)} {place(segment.end)}"
    assert isinstance(segment, Arc)
    radius, large, sweep = number(segment.u.length), int(abs(segment.sweep_rad) > math.pi), int(segment.sweep_rad > 0)
    return f"A{radius},{radius} 0 {large} {sweep} {place(segment.end)}"

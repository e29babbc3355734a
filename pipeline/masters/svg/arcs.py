"""Elliptic arcs of path data: from two ends, radii and flags to a centre and two half diameters."""

import math

from pipeline.geometry.curves import Arc, Line
from pipeline.geometry.points import Affine, Point, Vector


def arc_between(
    start: Point, end: Point, radii: tuple[float, float], turned_deg: float, large: bool, clockwise: bool
) -> Arc | Line | None:
    """The arc from `start` to `end`; a line where a radius is 0, nothing where the ends are one point.

    SVG 1.1, appendix F.6.5 and F.6.6 (radii that are too small are scaled up until the arc fits).
    """
    rx, ry = abs(radii[0]), abs(radii[1])
    if start == end:
        return None
    if rx == 0 or ry == 0:
        return Line(start, end)
    angle = math.radians(math.remainder(turned_deg, 360.0))
    cos, sin = math.cos(angle), math.sin(angle)
    # Half the chord in the ellipse's own axes, in units of the radii: the arc becomes one of the unit circle.
    half = Vector((start.x - end.x) / 2, (start.y - end.y) / 2)
    x1, y1 = (cos * half.dx + sin * half.dy) / rx, (-sin * half.dx + cos * half.dy) / ry
    reach = math.hypot(x1, y1)
    if reach == 0:  # the ends differ by less than numbers can tell
        return Line(start, end)
    if reach > 1:
        rx, ry, x1, y1 = rx * reach, ry * reach, x1 / reach, y1 / reach
        reach = 1.0
    away = math.sqrt(1 - reach * reach) / reach * (-1 if large == clockwise else 1)
    cx, cy = away * y1, -away * x1
    first, last = math.atan2(y1 - cy, x1 - cx), math.atan2(-y1 - cy, -x1 - cx)
    sweep = last - first
    if clockwise and sweep < 0:
        sweep += math.tau
    elif not clockwise and sweep > 0:
        sweep -= math.tau
    middle = Point((start.x + end.x) / 2, (start.y + end.y) / 2)
    to_page = Affine(cos * rx, sin * rx, -sin * ry, cos * ry, middle.x, middle.y)
    u, v = Vector(to_page.a, to_page.b), Vector(to_page.c, to_page.d)
    return Arc(to_page.point(Point(cx, cy)), u, v, first, sweep)


def ellipse(centre: Point, rx: float, ry: float) -> Arc:
    """A full ellipse, from its rightmost point clockwise on the page."""
    return Arc(centre, Vector(rx, 0.0), Vector(0.0, ry), 0.0, math.tau)

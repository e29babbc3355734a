"""The work jacket's block: front, back and sleeve of one size as curves, from a table of measures.

The draft is the workroom's own and invented. Body: front and back share the shoulder length and the curve of the side.
Sleeve: a block of one piece is drafted, its cap fitted to the armhole with the ease declared, then parted into an
upper and an under sleeve whose seams lie `FRONT_SHIFT` and `BACK_SHIFT` from the folds.
"""

import math
from dataclasses import dataclass

from drafting import (
    Graded,
    curve,
    end_curvature,
    heading,
    length,
    mirrored,
    polyline,
    solved,
    split_at_x,
    split_at_y,
    with_end_curvature,
)

from pipeline.geometry.curves import Arc, Cubic, Line, Path, reversed_path
from pipeline.geometry.points import Point, Vector

SIZES = ("34", "36", "38", "40", "42", "44", "46", "48", "50", "52", "54")
BAND_END = SIZES.index("46")

MEASURES = {
    "quarter": Graded(240, 10, 15),  # a quarter of the finished bust
    "bust_level": Graded(218, 4, 6),  # below the nape
    "waist_level": Graded(405, 4, 6),
    "neck_width": Graded(74, 2, 2.5),
    "neck_depth": Graded(64, 1.5, 2),  # front, below the nape
    "shoulder": Graded(130, 3.2, 4.5),
    "sleeve": Graded(605, 4, 5),
    "cap_height": Graded(134, 3, 4),
    "wrist": Graded(136, 3, 4),  # half of the finished hem
}
EXTENSION, HIP, BELOW_WAIST = 20.0, 200.0, 250.0
BACK_SLOPE, FRONT_SLOPE = 19.0, 23.0
FRONT_SHIFT, BACK_SHIFT = 18.0, 12.0
DART_RADIUS, DART_ANGLE = 75.0, 7.6
LEFT, RIGHT, DOWN, UP = heading(180), heading(0), heading(90), heading(-90)


@dataclass(frozen=True)
class Panel:
    """Front or back: edges in walking order from the centre, clockwise, and the levels across it."""

    neck: Path
    shoulder: Path
    armhole: Path
    side: Path
    hem: Path
    centre_top: Point
    levels: dict[str, Path]

    @property
    def hem_y(self) -> float:
        return self.hem[-1].end.y


@dataclass(frozen=True)
class Sleeve:
    """Upper and under sleeve, as edges in walking order, and the places that both share with the armhole."""

    upper: dict[str, Path]
    under: dict[str, Path]
    dart: tuple[Point, Point, Point]
    elbow_y: float
    front_cap: float
    back_cap: float


def measures_of(size: str) -> dict[str, float]:
    index = SIZES.index(size)
    return {name: graded.at(index, BAND_END) for name, graded in MEASURES.items()}


def panels(m: dict[str, float], raised: float = 0.0) -> tuple[Panel, Panel]:
    """(front, back), with the underarm raised so far."""
    hem_y = m["waist_level"] + BELOW_WAIST
    upper_side = curve(
        Point(m["quarter"], m["bust_level"]), heading(94), 60, Point(m["quarter"] - 12, m["waist_level"]), DOWN, 70
    )
    lower_side = curve(upper_side.end, DOWN, 90, Point(m["quarter"] + 4, hem_y - 4), heading(87), 80)
    if raised:
        start = upper_side.start.plus(heading(94).scaled(-raised))
        side: Path = (Line(start, upper_side.start), upper_side, lower_side)
    else:
        side = (upper_side, lower_side)
    hem: Path = (curve(lower_side.end, heading(177), m["quarter"] * 0.33, Point(0, hem_y), LEFT, m["quarter"] * 0.4),)

    def half(
        neck_y: float, tip_y: float, slope: float, hollow: float, cross_y: float
    ) -> tuple[Point, Point, Cubic, Cubic]:
        neck_point = Point(m["neck_width"] - (2 if neck_y > 0 else 0), tip_y)
        tip = neck_point.plus(heading(slope).scaled(m["shoulder"]))
        across = Point(tip.x - hollow * (cross_y - tip.y), cross_y)
        underarm = side[0].start
        low = curve(across, DOWN, (underarm.y - cross_y) * 0.66, underarm, heading(4), (underarm.x - across.x) * 0.6)
        high = curve(across, UP, (cross_y - tip.y) * 0.58, tip, heading(slope - 90), (cross_y - tip.y) * 0.38)
        return neck_point, tip, low, high

    front_y = m["neck_depth"]
    front_point, front_tip, front_low, front_high = half(front_y, -20, FRONT_SLOPE, 0.2, m["bust_level"] * 0.62)
    back_point, back_tip, back_low, back_high = half(0, -23, BACK_SLOPE, 0.175, m["bust_level"] * 0.53)
    back_low = with_end_curvature(back_low, end_curvature(front_low))
    back_high = with_end_curvature(back_high, end_curvature(front_high))
    depth = front_y + 20
    front_neck = curve(
        Point(0, front_y), RIGHT, front_point.x * 0.42, front_point, heading(FRONT_SLOPE - 90), depth * 0.43
    )
    back_neck = curve(Point(0, 0), RIGHT, back_point.x - 9.6, back_point, heading(BACK_SLOPE - 90), 12)
    back_neck = with_end_curvature(back_neck, end_curvature(front_neck))

    def panel(neck: Path, tip: Point, low: Cubic, high: Cubic, hem_path: Path) -> Panel:
        armhole = (*reversed_path((high,)), low)
        levels = {
            "bust-line": polyline(Point(0, upper_side.start.y), upper_side.start),
            "waist-line": polyline(Point(0, upper_side.end.y), upper_side.end),
            "hip-line": polyline(*_level(lower_side, m["waist_level"] + HIP)),
        }
        return Panel(neck, polyline(neck[-1].end, tip), armhole, side, hem_path, neck[0].start, levels)

    edge_top, edge_foot = Point(-EXTENSION, front_y), Point(-EXTENSION, hem_y)
    front = panel(
        (Line(edge_top, front_neck.start), front_neck),
        front_tip,
        front_low,
        front_high,
        (*hem, Line(hem[-1].end, edge_foot)),
    )
    return front, panel((back_neck,), back_tip, back_low, back_high, hem)


def _level(side: Cubic, y: float) -> tuple[Point, Point]:
    place = split_at_y(side, y)[0].end
    return Point(0, place.y), place


def cap_notch_mm(panel: Panel) -> float:
    """How far from the underarm the notch of cap and armhole lies."""
    return 0.6 * length(panel.armhole)


def sleeve(front: Panel, back: Panel, m: dict[str, float], ease: tuple[float, float]) -> Sleeve:
    """The sleeve for these armholes; bicep line at y = 0, underarm point of the under sleeve at x = 0."""
    front_target, back_target = length(front.armhole) + ease[0], length(back.armhole) + ease[1]
    high = m["cap_height"]

    def front_half(width: float) -> tuple[Cubic, Cubic]:
        turn = Point(-0.53 * width, -0.42 * high)
        low = curve(Point(-width, 0), RIGHT, 0.3 * width, turn, heading(-52), 0.26 * high)
        return low, curve(turn, heading(-52), 0.42 * high, Point(0, -high), RIGHT, 0.27 * width)

    def back_half(width: float) -> tuple[Cubic, Cubic]:
        turn = Point(0.5 * width, -0.46 * high)
        top = curve(Point(0, -high), RIGHT, 0.33 * width, turn, heading(46), 0.36 * high)
        return top, curve(turn, heading(46), 0.3 * high, Point(width, 0), RIGHT, 0.26 * width)

    front_width = solved(lambda w: length(front_half(w)) - front_target, front_target * 0.5, front_target)
    back_width = solved(lambda w: length(back_half(w)) - back_target, back_target * 0.5, back_target)
    front_low, front_top = front_half(front_width)
    back_top, back_low = back_half(back_width)
    front_outer, front_inner = split_at_x(front_low, -front_width / 2 - FRONT_SHIFT)
    back_inner, back_outer = split_at_x(back_low, back_width / 2 + BACK_SHIFT)

    wrist_y, elbow_y = m["sleeve"] - high - 8, 0.56 * m["sleeve"] - high
    fore = _fore_seam(front_inner.start, elbow_y, wrist_y)
    wrist = fore[-1].end
    upper_foot = Point(wrist.x + m["wrist"] + FRONT_SHIFT + BACK_SHIFT, wrist_y + 0.087 * (m["wrist"] + 30))
    elbow, tilt, foot_angle = _hind_elbow(back_inner.end, upper_foot, elbow_y)
    tip = elbow.plus(heading(tilt + 90).scaled(DART_RADIUS))
    dart_a = tip.plus(heading(tilt - 90 - DART_ANGLE / 2).scaled(DART_RADIUS))
    dart_b = tip.plus(heading(tilt - 90 + DART_ANGLE / 2).scaled(DART_RADIUS))
    above, below = 0.36 * (elbow_y - back_inner.end.y), 0.36 * (upper_foot.y - elbow_y)
    hind_top = curve(back_inner.end, DOWN, above, dart_a, heading(tilt - DART_ANGLE / 2), above)
    hind_foot = curve(dart_b, heading(tilt + DART_ANGLE / 2), below, upper_foot, heading(foot_angle), below)
    mouth = _around(tip, dart_a, dart_b)

    under_start = Point(back_width - back_inner.end.x, back_inner.end.y)
    foot_x = upper_foot.x - 2 * BACK_SHIFT

    def under_hind(foot_y: float) -> tuple[Cubic, Cubic]:
        foot = Point(foot_x, foot_y)
        middle, slope, _ = _hind_elbow(under_start, foot, elbow_y)
        upper = curve(under_start, DOWN, above, middle, heading(slope), above)
        return upper, curve(middle, heading(slope), below, foot, heading(foot_angle), below)

    hind_length = length((hind_top, hind_foot))
    foot_y = solved(lambda y: length(under_hind(y)) - hind_length, upper_foot.y - 40, upper_foot.y + 40)
    under_back = under_hind(foot_y)
    shifted = Vector(2 * FRONT_SHIFT, 0)
    under_fore = _fore_seam(
        front_outer.end.plus(Vector(2 * (-front_width / 2 - front_outer.end.x), 0)), elbow_y, wrist_y
    )
    assert abs(under_fore[-1].end.x - wrist.plus(shifted).x) < 1e-6

    def hem(start: Point, end: Point) -> Path:
        third = start.distance(end) / 3
        return (curve(start, heading(foot_angle + 90), third, end, heading(184), third),)

    return Sleeve(
        upper={
            "cap": (front_inner, front_top, back_top, back_inner),
            "back": (hind_top, mouth, hind_foot),
            "hem": hem(upper_foot, wrist),
            "front": reversed_path(fore),
        },
        under={
            "underarm-front": reversed_path(mirrored((front_outer,), -front_width / 2)),
            "underarm-back": reversed_path(mirrored((back_outer,), back_width / 2)),
            "back": under_back,
            "hem": hem(under_back[-1].end, under_fore[-1].end),
            "front": reversed_path(under_fore),
        },
        dart=(dart_a, tip, dart_b),
        elbow_y=elbow_y,
        front_cap=length((front_inner, front_top)),
        back_cap=length((back_top, back_inner)),
    )


def _fore_seam(top: Point, elbow_y: float, wrist_y: float) -> tuple[Cubic, Cubic]:
    hollow = Point(top.x + 13, elbow_y)
    above, below = 0.36 * (elbow_y - top.y), 0.36 * (wrist_y - elbow_y)
    upper = curve(top, DOWN, above, hollow, heading(90.5), above)
    return upper, curve(hollow, heading(90.5), below, Point(top.x + 3, wrist_y), heading(94), below)


def _hind_elbow(top: Point, foot: Point, elbow_y: float) -> tuple[Point, float, float]:
    """(the elbow of a hind seam, its heading there, its heading at the wrist): little is taken in above the elbow."""
    elbow = Point(top.x - 0.2 * (top.x - foot.x), elbow_y)
    above = math.degrees(math.atan2(top.x - elbow.x, elbow_y - top.y))
    below = math.degrees(math.atan2(elbow.x - foot.x, foot.y - elbow_y))
    return elbow, 90 + (above + below) / 2, 90 + below + 1


def _around(centre: Point, start: Point, end: Point) -> Arc:
    """The mouth of a dart: an arc about its tip, so that both halves lie on each other when it is folded."""
    first, last = centre.to(start), centre.to(end)
    across = Vector(-first.dy, first.dx)
    return Arc(centre, first, across, 0.0, math.asin(first.cross(last) / first.dot(first)))

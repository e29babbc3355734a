"""The jacket's small pieces: the stand collar, the patch pocket and the inside pocket with its lining."""

from drafting import Master, curve, heading, length, place_along, polyline, rounded_corner, solved, split
from jacket_block import EXTENSION, RIGHT

from pipeline.geometry.curves import Cubic, Line, Path, reversed_path
from pipeline.geometry.points import Point

STAND = 42.0
INSIDE_TOP = (Point(0, 0), Point(140, 14))
INSIDE_STEP = (Point(0, 30), Point(140, 44))
INSIDE_FOOT = (Point(14, 178), Point(130, 178))


def collar(neck_mm: float, back_neck_mm: float, more: float) -> Master:
    """Half a stand from the centre back, bent up to the front; `more` is what the upper collar adds outside."""
    rise, lift = 16.0, 8.0

    def lower(run: float) -> Cubic:
        return curve(Point(0, 0), RIGHT, 0.42 * run, Point(run, -rise), heading(-lift), 0.3 * run)

    run = solved(lambda x: length((lower(x),)) - neck_mm, 0.8 * neck_mm, neck_mm)
    neck = lower(run)
    height = STAND + more / 2
    top_corner = neck.end.plus(heading(-lift - 90).scaled(height - 2)).plus(heading(-lift).scaled(more / 2))
    top = curve(Point(0, -height), RIGHT, 0.41 * run, top_corner, heading(-lift), 0.3 * run)
    turn = rounded_corner(top.control2, top_corner, neck.end, 14)
    t = solved(lambda t: top.at(t).distance(top_corner) - 14, 0.5, 1)
    start = split(top, t)[0]
    turn = Cubic(start.end, start.end.plus(heading(-lift).scaled(7.8)), turn.control2, turn.end)
    path = reversed_path((neck,))
    return Master(
        edges={
            "outer": (start, turn, Line(turn.end, neck.end)),
            "neck": path,
            "cb": polyline(neck.start, Point(0, -height)),
        },
        grain=(Point(0.3 * run, -8), Point(0.3 * run, -height + 6)),
        anchor=Point(0, 0),
        notches=(
            ("shoulder", place_along((neck,), back_neck_mm)),
            ("cf", place_along((neck,), neck_mm - EXTENSION)),
        ),
    )


def pocket(width: float, depth: float) -> Master:
    """Patch pocket with rounded lower corners and a turned-in top."""
    right, radius = Point(width, 0), 22.0
    low_right, low_left = Point(width, depth), Point(0, depth)
    turn_right = rounded_corner(right, low_right, low_left, radius)
    turn_left = rounded_corner(low_right, low_left, Point(0, 0), radius)
    round_edge: Path = (
        Line(right, turn_right.start),
        turn_right,
        Line(turn_right.end, turn_left.start),
        turn_left,
        Line(turn_left.end, Point(0, 0)),
    )
    return Master(
        edges={"top": polyline(Point(0, 0), right), "outer": round_edge},
        grain=(Point(width / 2, depth - 30), Point(width / 2, 30)),
        anchor=Point(0, 0),
        inside={"stitch-line": polyline(Point(0, 25), Point(width, 25))},
    )


def inside_pocket() -> Master:
    """The pocket inside the left front: its mouth slopes, so it fits one side only."""
    (left, right), (step_left, step_right), (foot_left, foot_right) = INSIDE_TOP, INSIDE_STEP, INSIDE_FOOT
    return Master(
        edges={
            "top": polyline(left, right),
            "facing-right": polyline(right, step_right),
            "right": polyline(step_right, foot_right),
            "foot": polyline(foot_right, foot_left),
            "left": polyline(foot_left, step_left),
            "facing-left": polyline(step_left, left),
        },
        grain=(Point(70, 150), Point(70, 40)),
        anchor=left,
        notches=(("mouth-left", step_left), ("mouth-right", step_right)),
        inside={"lining-line": polyline(step_left, step_right)},
    )


def inside_pocket_lining() -> Master:
    (step_left, step_right), (foot_left, foot_right) = INSIDE_STEP, INSIDE_FOOT
    return Master(
        edges={
            "top": polyline(step_left, step_right),
            "right": polyline(step_right, foot_right),
            "foot": polyline(foot_right, foot_left),
            "left": polyline(foot_left, step_left),
        },
        grain=(Point(70, 150), Point(70, 60)),
        anchor=step_left,
    )

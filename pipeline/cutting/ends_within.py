"""Where what is grown on ends within its edge: square to the edge, or round.

A rounded end is an arc of the radius asked for. It leaves the raw edge at a tangent and ends on the line that stands
square to the edge where the part ends; on a straight edge its middle lies a radius before that place, and a radius
within the raw edge. Where it would come nearer to the edge than the allowance beside it, that allowance goes on.
"""

import math

import numpy as np

from pipeline.cutting.bands import offset_points
from pipeline.cutting.corners import Corner, Side, stepped, turn_at
from pipeline.cutting.rules import EdgeRule
from pipeline.cutting.runs import Run, make_run
from pipeline.geometry.chains import Array
from pipeline.geometry.curves import CHORD_ERROR_MM


def end_within(
    place: Array,
    sides: tuple[Side, Side],
    runs: tuple[Run, Run],
    widths: tuple[Array, Array],
    rules: tuple[EdgeRule, EdgeRule],
) -> Corner:
    """The joint of two stretches of an edge, of which one at least is grown on: both end square to the edge."""
    square = stepped(place, *sides, turn_at(*sides), told=False)
    fills, trims, tails = list(square.fills), list(square.trims), list(square.tails)
    wide = 0 if sides[0].width_mm >= sides[1].width_mm else 1
    part, low_mm = rules[wide].extension, sides[1 - wide].width_mm
    if part is not None and part.radius_mm is not None:
        arc = rounded(runs[wide], wide == 0, widths[wide], part.radius_mm)
        if arc is not None and sides[wide].width_mm > low_mm:
            at, rim = arc
            trims[wide] = _beyond(place, sides[wide], rim, part.radius_mm)
            tail = np.vstack((rim, place + sides[wide].normal * low_mm))
            tails[wide] = tail if wide == 0 else tail[::-1]
            if fills[wide] is None and low_mm > sides[wide].width_mm - part.radius_mm:
                fills[wide] = _beneath(runs[wide], wide == 0, at, low_mm)
    return Corner((fills[0], fills[1]), (trims[0], trims[1]), (tails[0], tails[1]), turn_rad=square.turn_rad)


def rounded(run: Run, at_end: bool, widths: Array, radius_mm: float) -> tuple[int, Array] | None:
    """The rounded end of a strip of a width at each point, at the end (or start) of a run: the chord of the run beside
    which the arc leaves the raw edge, and the arc from there on; None where the run is too short for it.

    The middle of a circle that touches the raw edge at T, whose outward normal there is m, is T - r m. As T runs from
    the end of the strip, that is first r away from the line across the end at the one place asked for.
    """
    step = -1 if at_end else 1
    raw, end = offset_points(run, widths), run.normals[::step][0]
    normals = (run if (widths == widths[0]).all() else make_run(run.edge, raw)).normals[::step]
    raw = raw[::step]
    across = np.array([-end[1], end[0]]) * -step
    places = np.repeat(raw, 2, axis=0)[1:-1]
    out = np.repeat(normals, 2, axis=0)
    away = -((places - radius_mm * out - run.points[::step][0]) @ across)
    beyond = np.flatnonzero(away >= radius_mm)
    if not len(beyond):
        return None
    index = int(beyond[0])
    low = max(0, index - 1)
    share = 1.0 if index == 0 else (radius_mm - away[low]) / (away[index] - away[low])
    normal = out[low] * (1 - share) + out[index] * share
    normal = normal / np.hypot(*normal)
    touch = places[low] * (1 - share) + places[index] * share
    chord = index // 2
    return (len(run.normals) - 1 - chord if at_end else chord), _arc(touch, normal, across, radius_mm)


def _arc(touch: Array, normal: Array, across: Array, radius_mm: float) -> Array:
    """From where a circle touches the raw edge to where it touches the line across the strip's end."""
    middle = touch - radius_mm * normal
    sweep = math.atan2(normal[0] * across[1] - normal[1] * across[0], float(normal @ across))
    count = max(2, math.ceil(abs(sweep) / (2 * math.acos(1 - CHORD_ERROR_MM / radius_mm))) + 1)
    turns = np.linspace(0.0, sweep, count)
    sideways = np.array([-normal[1], normal[0]])
    return np.asarray(middle + radius_mm * (np.cos(turns)[:, None] * normal + np.sin(turns)[:, None] * sideways))


def _beyond(place: Array, side: Side, rim: Array, radius_mm: float) -> Array:
    """What of a strip lies beyond its rounded end, with room to spare outside."""
    tangent = (rim[0] - rim[1]) / np.hypot(*(rim[0] - rim[1]))
    out = np.array([tangent[1], -tangent[0]])
    out = out if out @ side.normal > 0 else -out
    corner = place + side.normal * (side.width_mm + radius_mm) + side.past * radius_mm
    return np.vstack((rim, rim[-1] + side.past * radius_mm, corner, rim[0] + out * radius_mm))


def _beneath(run: Run, at_end: bool, chord: int, width_mm: float) -> Array:
    """The allowance beside the part, run on beneath its rounded end."""
    kept = slice(chord, None) if at_end else slice(None, chord + 2)
    points = run.points[kept]
    outer = offset_points(run, width_mm)[kept]
    return np.vstack((points, outer[::-1]))

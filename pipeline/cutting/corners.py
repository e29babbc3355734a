"""The corner where two allowances meet: how far each edge's strip grows past its end, or is trimmed.

Where the outline turns by θ between an edge of width d0 that ends and one of width d1 that starts, the two offset lines
meet at M, which lies a = (d1 - d0 cos θ) / sin θ past the end of the first and b = (d0 - d1 cos θ) / sin θ before the
start of the second. The corner then has the area (a d0 + b d1) / 2 = (2 d0 d1 - (d0² + d1²) cos θ) / (2 sin θ).

Where an allowance tapers, its cut line rises past the end by a slope: it passes through the width at the end, square to
the seam line, and stands at its own angle to it. θ is then the turn between one edge's seam line and the other's cut
line, d1 that cut line's distance from the corner, and a = (d1 - d0 cos θ) / (sin θ + slope cos θ).

A *reach* is a distance from the corner point of the seam line. A mitre whose M reaches farther than 2 x the larger
allowance is blunted: cut off at right angles to the line from the corner to M, at exactly that reach.
"""

import math

import msgspec
import numpy as np

from pipeline.geometry.chains import Array, turn_rad

REACH = 2.0
"""A mitre reaches at most this many times the larger allowance from the corner."""
_STRAIGHT = 1e-9
_NIL_MM = 1e-9
STEP_MM = 0.01
"""Allowances that differ by less are the same."""


class Side(msgspec.Struct, frozen=True):
    """One of the two edges at a corner: outward normal, direction past its end, and width there.

    `slope`: by how much the cut line rises for each mm past the end, where the width tapers.
    """

    normal: Array
    past: Array
    width_mm: float
    slope: float = 0.0

    @property
    def heading(self) -> Array:
        """Where the cut line runs past the end, as long as it goes for 1 mm along the seam line."""
        return np.asarray(self.past + self.normal * self.slope)

    @property
    def line_normal(self) -> Array:
        """The outward unit normal of the cut line."""
        if self.slope == 0:
            return self.normal
        return np.asarray((self.normal - self.past * self.slope) / math.hypot(1, self.slope))

    @property
    def line_mm(self) -> float:
        """The cut line's distance from the corner of the seam line."""
        return self.width_mm / math.hypot(1, self.slope)


class Corner(msgspec.Struct, frozen=True):
    """What a corner does to the strips of its two edges.

    `fills` are polygons to add for the ending and the starting edge, or None. `trims` are polygons to take from their
    strips, or None. `tails` continue the two offset lines up to the point where the cut line passes from one edge to
    the other: from the ending edge's last offset point on, and up to the starting edge's first one. `stepped` is true
    where widths differ and the lines meet too far off to be joined by a mitre.
    """

    fills: tuple[Array | None, Array | None] = (None, None)
    trims: tuple[Array | None, Array | None] = (None, None)
    tails: tuple[Array | None, Array | None] = (None, None)
    stepped: bool = False
    turn_rad: float = 0.0


def turn_at(ending: Side, starting: Side) -> float:
    """How far the outline turns, in radians: positive at a convex corner."""
    return turn_rad(ending.normal, starting.normal)


def growth_mm(width_mm: float, other_mm: float, turn_rad: float, slope: float = 0.0) -> float:
    """How far past its end an edge's offset line meets the other edge's: (d1 - d0 cos θ) / (sin θ + slope cos θ)."""
    sine = math.sin(turn_rad) + slope * math.cos(turn_rad)
    if abs(sine) < _STRAIGHT:
        sine = math.copysign(_STRAIGHT, sine)
    return (other_mm - width_mm * math.cos(turn_rad)) / sine


def mitred(place: Array, ending: Side, starting: Side) -> Corner:
    """The corner where the two offset lines meet, blunted past the limit; a step where they meet too far off."""
    turn, bend = turn_at(ending, starting), turn_rad(ending.line_normal, starting.line_normal)
    a = growth_mm(ending.width_mm, starting.line_mm, turn_rad(ending.normal, starting.line_normal), ending.slope)
    b = growth_mm(starting.width_mm, ending.line_mm, turn_rad(ending.line_normal, starting.normal), starting.slope)
    widest = max(ending.width_mm, starting.width_mm)
    same = abs(ending.width_mm - starting.width_mm) < STEP_MM
    if widest <= 0 or (abs(bend) < _STRAIGHT and same):
        return Corner(turn_rad=turn)
    if bend < 0 and a <= 0 and b <= 0:
        return Corner(turn_rad=turn)
    reach = math.hypot(ending.width_mm + ending.slope * a, a)
    if reach > REACH * widest * (1 + 1e-9):
        if bend > 0 and a >= 0 and b >= 0:
            return _blunted(place, ending, starting, a, REACH * widest, turn)
        return stepped(place, ending, starting, turn, told=not same)
    tip = place + ending.normal * ending.width_mm + ending.heading * a
    fills = tuple(
        np.array([place, place + side.normal * side.width_mm, tip]) if grown > _NIL_MM and side.width_mm > 0 else None
        for side, grown in ((ending, a), (starting, b))
    )
    trims = tuple(
        _trim(place, side, tip) if bend > 0 and grown < 0 else None for side, grown in ((ending, a), (starting, b))
    )
    return Corner((fills[0], fills[1]), (trims[0], trims[1]), (np.array([tip]), np.array([tip])), turn_rad=turn)


def _trim(place: Array, side: Side, tip: Array) -> Array:
    """What lies beyond the line from the corner to `tip`, with room to spare on the other sides."""
    outer = place + (side.normal * side.width_mm) * 1.2
    spare = side.past * (0.2 * (side.width_mm or 1.0))
    return np.array([place, place + (tip - place) * 1.2, outer + spare, place + spare])


def _blunted(place: Array, ending: Side, starting: Side, a: float, reach: float, turn: float) -> Corner:
    along = ending.normal * ending.width_mm + ending.heading * a
    along = along / math.hypot(*along)
    middle = place + along * reach
    fills, tails = [], []
    for side in (ending, starting):
        outer = side.normal * side.width_mm
        cut = place + outer + side.heading * ((reach - outer @ along) / (side.heading @ along))
        fills.append(
            np.array([place, place + outer, cut, middle]) if side.width_mm > 0 else np.array([place, cut, middle])
        )
        tails.append(np.array([cut, middle]))
    return Corner((fills[0], fills[1]), (None, None), (tails[0], tails[1][::-1]), turn_rad=turn)


def stepped(place: Array, ending: Side, starting: Side, turn: float, told: bool) -> Corner:
    """Each strip ends square to its own edge; a wedge of the smaller width closes a gap between them. `told`: a finding
    says so."""
    least = min(ending.width_mm, starting.width_mm)
    fill = None
    if turn > 0 and least > 0:
        tip = place + ending.normal * least + ending.past * (least * math.tan(turn / 2))
        fill = np.array([place, place + ending.normal * least, tip, place + starting.normal * least])
    wide_ends = ending.width_mm >= starting.width_mm
    foot = np.array([place + (starting if wide_ends else ending).normal * least])
    tails = (foot, None) if wide_ends else (None, foot)
    return Corner((fill, None), (None, None), tails, stepped=told, turn_rad=turn)


def squared(place: Array, ending: Side, starting: Side, owner: int) -> Corner:
    """A corner where the owner's allowance ends square to the owner.

    Up to a right angle the square line stands on the owner's last point. Where the outline turns farther, the other
    edge's allowance has to pass round the corner, so the line stands where the owner's seam line, run on, meets the
    other's cut line; it reaches no farther than a mitre would, and at most 2 x the larger allowance.
    """
    plain = mitred(place, ending, starting)
    own, other = (ending, starting) if owner == 0 else (starting, ending)
    turn = plain.turn_rad
    if turn <= 0 or own.width_mm <= 0:
        return plain
    bend = turn_rad(own.normal, other.line_normal) if owner == 0 else turn_rad(other.line_normal, own.normal)
    cosine, sine = math.cos(bend), math.sin(bend)
    a = growth_mm(own.width_mm, other.line_mm, bend, own.slope)
    if a < 0:
        x, y = 0.0, other.line_mm / cosine
    else:
        cap = math.sqrt((REACH * max(own.width_mm, other.width_mm)) ** 2 - own.width_mm**2)
        x = min(other.line_mm / max(sine, _STRAIGHT), cap)
        if cosine >= 0 or x >= a:
            return plain
        y = (other.line_mm - x * sine) / cosine
    outer = place + own.normal * own.width_mm
    foot = place + own.past * x + own.normal * y
    head = outer + own.heading * x
    own_fill = np.array([place, outer, head, foot]) if x > 0 else None
    other_fill = np.array([place, foot, place + other.normal * other.width_mm]) if other.width_mm > 0 else None
    own_tail, other_tail = np.array([head, foot]), np.array([foot])
    if owner == 0:
        return Corner((own_fill, other_fill), (None, None), (own_tail, other_tail), turn_rad=turn)
    return Corner((other_fill, own_fill), (None, None), (other_tail, own_tail[::-1]), turn_rad=turn)


def beside_fold(place: Array, ending: Side, starting: Side, fold: int) -> Corner:
    """The corner of an edge beside a fold: its offset line runs on to the fold's line; the rest is cut off there."""
    turn = turn_at(ending, starting)
    own = starting if fold == 0 else ending
    grown = growth_mm(own.width_mm, 0.0, turn, own.slope)
    if turn <= 0 or own.width_mm <= 0 or grown <= 0:
        return Corner(turn_rad=turn)
    plain = mitred(place, ending, starting)
    if fold == 0:
        return Corner((None, plain.fills[1]), (None, None), (None, plain.tails[1]), turn_rad=turn)
    return Corner((plain.fills[0], None), (None, None), (plain.tails[0], None), turn_rad=turn)

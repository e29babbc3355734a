"""A seam as steps from edge to edge: from either end, opened elsewhere where it is a ring, and what meets in it."""

from typing import NamedTuple

import shapely
from shapely.ops import substring

from pipeline.checks.garment import Garment
from pipeline.checks.notch_match import match_notches
from pipeline.checks.seam_walk import Direction, WalkedNotch, WalkedSide, walk_side
from pipeline.geometry.curves import flattened
from pipeline.geometry.points import Point
from pipeline.model.pattern import Seam, SideEdge
from pipeline.model.pieces import Notch
from pipeline.proof.laid_sides import walked_path

_CHORD_MM = 0.02


class Spot(NamedTuple):
    """A place on a side: in the piece's own coordinates, on the edge that is counted `step` in the side as it is said;
    the notch there, None where edges meet."""

    step: int
    piece: str
    place: Point
    notch: Notch | None = None


class Meeting(NamedTuple):
    """Two places that lie on each other when the seam is sewn."""

    a: Spot
    b: Spot


class Step(NamedTuple):
    """An edge, or of a split one a part, as it is walked; `reverse`: against its outline's walking order."""

    order: int
    piece: str
    edge: str
    points: tuple[Point, ...]
    reverse: bool


Steps = tuple[Step, ...]


def steps_of(garment: Garment, side: tuple[SideEdge, ...], reverse: tuple[bool, ...], size: str) -> Steps:
    """A side as it is walked. Raises KeyError where the size lacks an edge."""
    return tuple(
        Step(k, step.piece, step.edge, flattened(walked_path(garment, step, turned, size), _CHORD_MM), turned)
        for k, (step, turned) in enumerate(zip(side, reverse, strict=True))
    )


def from_end(steps: Steps) -> Steps:
    """The side walked from its other end."""
    return tuple(step._replace(points=step.points[::-1], reverse=not step.reverse) for step in reversed(steps))


def closes(garment: Garment, seam: Seam, steps: Steps) -> bool:
    """Whether a side is a ring: its ends are neighbours in one piece, or what is beside them is sewn together."""
    if any(step.part for step in (*seam.a, *seam.b)):
        return False
    first, last = steps[0], steps[-1]
    before, after = _neighbour(garment, first, ahead=False), _neighbour(garment, last, ahead=True)
    if before == (last.piece, last.edge) and after == (first.piece, first.edge):
        return True
    return any(
        {before, after} <= {(step.piece, step.edge) for step in (*other.a, *other.b)}
        for other in garment.pattern.seams.values()
        if other is not seam and other.kind == "sewn"
    )


def _neighbour(garment: Garment, step: Step, ahead: bool) -> tuple[str, str]:
    """The edge beside the start of an edge as it is walked, or beside its end."""
    names = [edge.name for edge in next(iter(garment.cuts[step.piece].values())).drawn.edges]
    return step.piece, names[(names.index(step.edge) + (1 if ahead != step.reverse else -1)) % len(names)]


def opened(steps: Steps, spot: Spot) -> Steps:
    """A ring that begins and ends at a spot."""
    own = steps[spot.step]
    line = shapely.LineString(own.points)
    at = line.project(shapely.Point(spot.place))
    parts = [
        own._replace(points=tuple(Point(*place) for place in substring(line, *reach).coords))
        for reach in ((at, line.length), (0.0, at))
        if reach[1] - reach[0] > 0.5
    ]
    if len(parts) == 2:
        return (parts[0], *steps[spot.step + 1 :], *steps[: spot.step], parts[1])
    begin = spot.step if at < 1.0 else spot.step + 1
    return (*steps[begin:], *steps[:begin])


def meetings_of(garment: Garment, seam: Seam, way: Direction, size: str) -> tuple[Meeting, ...]:
    """What meets between both ends of the seam, along side a."""
    a, b = walk_side(garment, seam.a, way.a, size), walk_side(garment, seam.b, way.b, size)
    matches, _ = match_notches(seam, a, b)
    return tuple(
        Meeting(
            _spot(garment, seam.a, way.a, a, match.a, match.a_mm, size),
            _spot(garment, seam.b, way.b, b, match.b, match.b_mm, size),
        )
        for match in matches
    )


def _spot(
    garment: Garment,
    side: tuple[SideEdge, ...],
    reverse: tuple[bool, ...],
    walked: WalkedSide,
    notch: WalkedNotch | None,
    at_mm: float,
    size: str,
) -> Spot:
    """The place of a notch; without one, of the joint that is so far along the side."""
    if notch is None:
        step = min(range(len(side)), key=lambda k: abs(walked.joints_mm[k] - at_mm))
        return Spot(step, side[step].piece, walked_path(garment, side[step], reverse[step], size)[0].start)
    own = [k for k, step in enumerate(side) if (step.piece, step.edge) == (notch.piece, notch.edge)]
    step = min(own, key=lambda k: abs((walked.joints_mm[k] + walked.joints_mm[k + 1]) / 2 - at_mm))
    drawn = garment.cuts[notch.piece][size].drawn.notches
    found = next(mark for mark in drawn if (mark.name, mark.edge) == (notch.name, notch.edge))
    return Spot(step, notch.piece, found.place, found)

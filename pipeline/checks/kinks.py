"""Kinks in curves: a place within an edge where the line turns at once, and other sizes run on smoothly."""

import math
from collections.abc import Iterator
from itertools import pairwise
from typing import NamedTuple

from pipeline.checks.catalogue import CHECKS
from pipeline.checks.garment import Garment
from pipeline.checks.registry import Outcome
from pipeline.checks.size_rows import masters_of
from pipeline.geometry.curves import Line, segment_length_mm, turn_between_rad
from pipeline.geometry.points import Point
from pipeline.model.pieces import CutPiece, Edge

KINK_DEG = 3.0
ALONE_MOST_DEG = 30.0
_LEAST_DEG = 0.5
"""What another size turns by, to be held against a turn that is past the limit."""
_SAME_SHARE = 0.05
_AT_NOTCH_MM = 1.0
"""How far beside its notch the leg of a dart may turn the edge."""


class Turn(NamedTuple):
    """A joint within an edge at which the line turns: where along it (in mm, and 0 to 1), how far, and the place."""

    along_mm: float
    share: float
    angle_deg: float
    place: Point


@CHECKS.register(
    id="curve-kinks",
    title="Curves run smoothly where two of their segments meet",
    rationale="A point of a curve whose handles were pulled apart leaves a kink, which is cut and sewn as it is drawn.",
    remedy="make the two handles of that point lie in one line, or waive this where the corner is meant",
    severity="warn",
    source=(
        f"turns of more than {KINK_DEG:g} degrees that no other size has there, or up to {ALONE_MOST_DEG:g} degrees "
        "between two curves of a piece that is drawn once, but where a dart or pleat is trued: common practice, the "
        "limits from memory"
    ),
)
def curve_kinks(garment: Garment) -> Iterator[Outcome]:
    """Joints with a curve on one side at least: an edge of straight lines has corners that are meant, and so has one
    between the notches of a dart or pleat, where it is trued."""
    for spec in garment.pattern.pieces.values():
        if spec.source is not None:
            continue
        cuts = masters_of(garment, spec.name)
        for name in dict.fromkeys(edge.name for cut in cuts for edge in cut.drawn.edges):
            rows = [(cut, edge, turns(edge)) for cut in cuts for edge in cut.drawn.edges if edge.name == name]
            for cut, edge, own in rows:
                others = [other for beside, _, other in rows if beside is not cut]
                taken = _taken_mm(garment, cut, name)
                for turn in own:
                    if any(low <= turn.along_mm <= high for low, high in taken):
                        continue
                    if abs(turn.angle_deg) > KINK_DEG and _is_kink(edge, turn, others):
                        yield _outcome(cut, name, turn)


def turns(edge: Edge) -> list[Turn]:
    """Every joint between segments of an edge, a curve among the two, at which it turns."""
    found, along = [], 0.0
    total = sum(segment_length_mm(segment) for segment in edge.path) if len(edge.path) > 1 else 0.0
    for before, after in pairwise(edge.path):
        along += segment_length_mm(before)
        if isinstance(before, Line) and isinstance(after, Line):
            continue
        angle = math.degrees(turn_between_rad(before, after))
        if abs(angle) > _LEAST_DEG:
            found.append(Turn(along, along / total, angle, after.start))
    return found


def _taken_mm(garment: Garment, cut: CutPiece, edge: str) -> list[tuple[float, float]]:
    """From where to where darts and pleats are taken up on an edge: it is trued there, with a turn at legs and peak."""
    at = {mark.name: mark.at_mm for mark in cut.drawn.notches if mark.edge == edge}
    pairs = ((take.start_notch, take.end_notch) for take in garment.takes(cut.piece, edge))
    ends = [sorted((at[one], at[two])) for one, two in pairs if one in at and two in at]
    return [(low - _AT_NOTCH_MM, high + _AT_NOTCH_MM) for low, high in ends]


def _is_kink(edge: Edge, turn: Turn, others: list[list[Turn]]) -> bool:
    """Whether fewer than half of the other sizes turn there; of a piece that is drawn once, whether it turns little."""
    if not others:
        beside = [segment for segment in edge.path if turn.place in (segment.start, segment.end)]
        return abs(turn.angle_deg) < ALONE_MOST_DEG and not any(isinstance(segment, Line) for segment in beside)
    alike = sum(any(abs(o.share - turn.share) <= _SAME_SHARE and _same(o, turn) for o in other) for other in others)
    return 2 * alike < len(others)


def _same(one: Turn, two: Turn) -> bool:
    return one.angle_deg * two.angle_deg > 0 and abs(one.angle_deg - two.angle_deg) <= max(
        KINK_DEG, abs(two.angle_deg) / 3
    )


def _outcome(cut: CutPiece, edge: str, turn: Turn) -> Outcome:
    place = f"x {turn.place.x:.1f}, y {turn.place.y:.1f} mm"
    return Outcome(
        code="kink",
        size=cut.size,
        piece=cut.piece,
        where=edge,
        file=cut.drawn.file,
        object=edge,
        found=f"{abs(turn.angle_deg):.1f} degrees at {place}",
        allowed=f"up to {KINK_DEG:g} degrees, or as in the other sizes",
        message=f"{cut.piece}.{edge} has a kink of {abs(turn.angle_deg):.1f} degrees at {place}",
    )

"""The seam line itself: spikes and crumbs. Whether it is closed and simple is settled when masters are read."""

import math
from collections.abc import Iterator

from pipeline.checks.catalogue import CHECKS
from pipeline.checks.garment import Garment
from pipeline.checks.registry import Outcome
from pipeline.geometry.curves import Segment, segment_length_mm, turn_between_rad
from pipeline.model.pieces import CutPiece

SPIKE_DEG = 10.0
SHORT_MM = 0.5
_SHARE_OF_NEIGHBOURS = 0.1
_SLOT_LEG_MM = 5.0


@CHECKS.register(
    id="outline-spikes",
    title="The seam line has no spikes",
    rationale="A point that was pulled out of line by accident is printed, cut and sewn as it stands.",
    remedy="open the master at that edge and delete the stray point",
    severity="block",
    source=f"no corner sharper than {SPIKE_DEG:g} degrees: common practice, the limit from memory",
)
def outline_spikes(garment: Garment) -> Iterator[Outcome]:
    """Where the outline turns back on itself: outward always, inward where one leg is too short to be a dart's."""
    for _, cut in garment.each():
        for edge, before, after in _joints(cut):
            turn = math.degrees(turn_between_rad(before, after))
            if 180 - abs(turn) > SPIKE_DEG:
                continue
            leg = min(segment_length_mm(before), segment_length_mm(after))
            if turn > 0 or leg < _SLOT_LEG_MM:
                yield Outcome(
                    code="spike",
                    size=cut.size,
                    piece=cut.piece,
                    where=edge,
                    file=cut.drawn.file,
                    object=edge,
                    found=f"{180 - abs(turn):.1f} degrees at x {after.start.x:.1f}, y {after.start.y:.1f} mm",
                    allowed=f"more than {SPIKE_DEG:g} degrees",
                    message=f"the seam line turns back on itself on {cut.piece}.{edge}",
                )


@CHECKS.register(
    id="outline-crumbs",
    title="The seam line has no crumbs of segments",
    rationale="A segment that is hardly there is left from an edit; notches and cuts take their direction from it.",
    remedy="delete the stray point, or join the two that nearly lie on each other",
    severity="warn",
    source=f"segments under {SHORT_MM:g} mm between ones ten times as long: common practice, the limit from memory",
)
def outline_crumbs(garment: Garment) -> Iterator[Outcome]:
    """Segments under the limit whose neighbours are far longer: curves made of many short chords are meant so."""
    for _, cut in garment.each():
        segments = [(edge.name, segment) for edge in cut.drawn.edges for segment in edge.path]
        short = [index for index, (_, segment) in enumerate(segments) if _chord_mm(segment) < SHORT_MM]
        for index in short:
            name, segment = segments[index]
            length_mm = segment_length_mm(segment)
            beside = (segments[index - 1][1], segments[(index + 1) % len(segments)][1])
            if length_mm < SHORT_MM and length_mm < _SHARE_OF_NEIGHBOURS * min(map(segment_length_mm, beside)):
                yield Outcome(
                    code="crumb",
                    size=cut.size,
                    piece=cut.piece,
                    where=name,
                    file=cut.drawn.file,
                    object=name,
                    found=f"{length_mm:.2f} mm at x {segment.start.x:.1f}, y {segment.start.y:.1f} mm",
                    allowed=f"at least {SHORT_MM:g} mm",
                    message=f"{cut.piece}.{name} has a segment of {length_mm:.2f} mm",
                )


def _joints(cut: CutPiece) -> Iterator[tuple[str, Segment, Segment]]:
    """(edge of the second, segment, next segment) all round the outline."""
    segments = [(edge.name, segment) for edge in cut.drawn.edges for segment in edge.path]
    for index, (name, segment) in enumerate(segments):
        yield name, segments[index - 1][1], segment


def _chord_mm(segment: Segment) -> float:
    """A lower bound of a segment's length that costs nothing: the distance of its ends."""
    return segment.start.distance(segment.end)

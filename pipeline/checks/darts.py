"""Darts: both legs as long as each other."""

from collections.abc import Iterator

from pipeline.checks.catalogue import CHECKS
from pipeline.checks.garment import Garment
from pipeline.checks.registry import Outcome
from pipeline.model.curves import Path, path_length_mm, reversed_path
from pipeline.model.pattern import Take
from pipeline.model.pieces import CutPiece
from pipeline.model.points import Point

TOLERANCE_MM = 1.0
_TOUCHES_MM = 1.0


@CHECKS.register(
    id="dart-legs",
    title="Both legs of a dart are equally long",
    rationale="The legs are sewn to each other; where one is longer, the edge has a step once the dart is closed.",
    remedy="move the dart's tip or one of its notches until both legs are equal",
    severity="block",
    source="1 mm, the tolerance of a seam: common practice",
)
def dart_legs(garment: Garment) -> Iterator[Outcome]:
    """Legs of all darts that `takes` names, along the inside lines that start at its notches."""
    for _, cut in garment.each():
        for edge in cut.edges:
            for take in garment.takes(cut.piece, edge.name):
                if take.kind == "dart":
                    yield from _legs_outcome(cut, edge.name, take)


def _legs_outcome(cut: CutPiece, edge: str, take: Take) -> Iterator[Outcome]:
    places = {notch.name: notch.place for notch in cut.drawn.notches if notch.edge == edge}
    if take.start_notch not in places or take.end_notch not in places:
        return  # cutting tells of a notch that is not there
    legs = legs_mm(cut, places[take.start_notch], places[take.end_notch])
    name = f"{take.start_notch} to {take.end_notch}"
    if legs is None:
        yield Outcome(
            code="no-legs",
            severity="skip",
            size=cut.size,
            piece=cut.piece,
            where=edge,
            message=f"the legs of the dart {name} on {cut.piece}.{edge} are not drawn, so they are not measured",
        )
    elif abs(legs[0] - legs[1]) > TOLERANCE_MM:
        longer = take.start_notch if legs[0] > legs[1] else take.end_notch
        yield Outcome(
            code="unequal",
            size=cut.size,
            piece=cut.piece,
            where=edge,
            file=cut.drawn.file,
            object=name,
            found=f"{legs[0]:.2f} and {legs[1]:.2f} mm",
            allowed=f"equal, ± {TOLERANCE_MM:g} mm",
            message=f"of the dart {name} the leg at {longer} is {abs(legs[0] - legs[1]):.1f} mm longer than the other",
        )


def legs_mm(cut: CutPiece, start: Point, end: Point) -> tuple[float, float] | None:
    """Lengths of the two legs from their notches to the tip; None where no inside lines run there.

    Drawn as one line from notch to notch, its tip the joint farthest from them, or as two lines that share an end.
    """
    paths = [line.path for line in cut.drawn.inside if not line.closed]
    whole = _from(paths, start, end)
    if whole is not None:
        return _split(whole, start, end)
    first, second = _from(paths, start), _from(paths, end)
    if first is None or second is None or first[-1].end.distance(second[-1].end) > _TOUCHES_MM:
        return None
    return path_length_mm(first), path_length_mm(second)


def _from(paths: list[Path], start: Point, end: Point | None = None) -> Path | None:
    """The path that starts at a place, turned so, and ends at another where one is given."""
    for drawn in paths:
        for path in (drawn, reversed_path(drawn)):
            ends_there = end is None or path[-1].end.distance(end) <= _TOUCHES_MM
            if path[0].start.distance(start) <= _TOUCHES_MM and ends_there:
                return path
    return None


def _split(path: Path, start: Point, end: Point) -> tuple[float, float] | None:
    if len(path) < 2:
        return None
    tip = max(range(1, len(path)), key=lambda i: path[i].start.distance(start) + path[i].start.distance(end))
    return path_length_mm(path[:tip]), path_length_mm(path[tip:])

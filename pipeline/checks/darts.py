"""Darts: both legs as long as each other, and their stitching lines on their notches."""

from collections.abc import Iterator

from pipeline.checks.catalogue import CHECKS
from pipeline.checks.garment import Garment
from pipeline.checks.registry import Outcome
from pipeline.cutting.dart_legs import TOUCHES_MM, legs_of
from pipeline.geometry.curves import direction, nearest_on_path, path_length_mm, reversed_path
from pipeline.geometry.points import Point
from pipeline.model.piece_specs import Take
from pipeline.model.pieces import CutPiece

TOLERANCE_MM = 1.0
NEAR_MM = 25.0
"""A line that ends nearer than this to a dart's notch was meant to end on it."""


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


@CHECKS.register(
    id="dart-ends",
    title="A dart's stitching line ends on its notches",
    rationale="The notches are cut, the line is drawn: where they part, one says another dart than the other.",
    remedy="draw the stitching line from notch to notch, or move the notch to where the line meets the edge",
    severity="block",
    source=(
        f"within {TOUCHES_MM:g} mm, looked for up to {NEAR_MM:g} mm from the notch; a line that stops short and "
        "points at the notch, or runs on past it, is meant: common practice, the limits from memory"
    ),
)
def dart_ends(garment: Garment) -> Iterator[Outcome]:
    """Darts without legs, where a stitching line ends beside a notch, or where other sizes have their legs."""
    for name, by_size in garment.cuts.items():
        takes = [
            (edge.name, take)
            for edge in next(iter(by_size.values())).edges
            for take in garment.takes(name, edge.name)
            if take.kind == "dart" and name in garment.pattern.pieces and not garment.pattern.pieces[name].source
        ]
        for edge, take in takes:
            ends = {size: _notch_places(cut, edge, take) for size, cut in by_size.items()}
            drawn = {size for size, places in ends.items() if places and legs_mm(by_size[size], *places)}
            for size, places in ends.items():
                if places and size not in drawn:
                    off_mm = max(_beside_mm(by_size[size], place) for place in places)
                    if off_mm > TOUCHES_MM or drawn:
                        yield _off_notch(by_size[size], edge, take, off_mm)


def _notch_places(cut: CutPiece, edge: str, take: Take) -> tuple[Point, Point] | None:
    places = {notch.name: notch.place for notch in cut.drawn.notches if notch.edge == edge}
    if take.start_notch in places and take.end_notch in places:
        return places[take.start_notch], places[take.end_notch]
    return None  # cutting tells of a notch that is not there


def _beside_mm(cut: CutPiece, notch: Point) -> float:
    """How far the nearest end of a stitching line lies beside a notch; 0 where none is near or one leads to it."""
    off = []
    for line in cut.drawn.inside:
        if line.kind != "stitch":
            continue
        if nearest_on_path(line.path, notch)[1].distance(notch) <= TOUCHES_MM:
            return 0.0
        for path in () if line.closed else (line.path, reversed_path(line.path)):
            along, to = direction(path[0], 0.0), path[0].start.to(notch)
            if to.length <= NEAR_MM:
                leads = along.dot(to) < 0 and abs(along.cross(to)) <= TOUCHES_MM
                off.append(0.0 if leads else to.length)
    return min(off, default=0.0)


def _off_notch(cut: CutPiece, edge: str, take: Take, off_mm: float) -> Outcome:
    name = f"{take.start_notch} to {take.end_notch}"
    found = f"{off_mm:.1f} mm beside it" if off_mm else "no line from notch to notch, as other sizes have"
    return Outcome(
        code="off-notch" if off_mm else "lost",
        size=cut.size,
        piece=cut.piece,
        where=edge,
        file=cut.drawn.file,
        object=name,
        found=found,
        allowed=f"on its notches, ± {TOUCHES_MM:g} mm",
        message=f"the stitching line of the dart {name} on {cut.piece}.{edge} does not end on its notches",
    )


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
    """Lengths of the two legs from their notches to the tip; None where no inside lines run there."""
    legs = legs_of(cut.drawn.inside, start, end)
    return legs and (path_length_mm(legs[0]), path_length_mm(legs[1]))

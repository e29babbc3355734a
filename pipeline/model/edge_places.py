"""Places on an edge that have a name: its notches, and its ends, called after the edges that meet it there."""

from collections.abc import Iterable, Mapping, Sequence
from typing import Protocol

from pipeline.geometry.curves import path_length_mm
from pipeline.model.piece_specs import EdgePart, Take
from pipeline.model.pieces import CutEdge, CutPiece, DrawnPiece

SAME_MM = 0.1
"""Places that lie closer are one: a notch at a corner, and the neighbour there."""
Places = Mapping[str, tuple[float, ...]]
"""Where on an edge each name lies, in mm from its first point: several places where one name means several."""


class Placed(Protocol):
    """A notch as far as its place goes, drawn or measured."""

    @property
    def name(self) -> str | None: ...

    @property
    def edge(self) -> str: ...

    @property
    def at_mm(self) -> float: ...


def named_places(drawn: DrawnPiece, edge: str) -> Places:
    """The places on an edge of a drawn piece. Raises KeyError where the piece has no such edge."""
    length_mm = path_length_mm(drawn.edge(edge).path)
    return places_along([own.name for own in drawn.edges], edge, length_mm, drawn.notches)


def cut_places(cut: CutPiece, edge: CutEdge) -> Places:
    """The places on an edge of a cut piece, whose length is known."""
    return places_along([own.name for own in cut.edges], edge.name, edge.gross_length_mm, cut.drawn.notches)


def places_along(names: Sequence[str], edge: str, length_mm: float, notches: Iterable[Placed]) -> Places:
    """The places on an edge that is so long, among the edges of its piece in their order."""
    at = names.index(edge)
    told = [
        (notch.name, _snapped(notch.at_mm, length_mm))
        for notch in notches
        if notch.edge == edge and notch.name is not None
    ]
    if len(names) > 1:
        told += [(names[at - 1], 0.0), (names[(at + 1) % len(names)], length_mm)]
    places: dict[str, tuple[float, ...]] = {}
    for name, at_mm in told:
        before = places.get(name, ())
        if all(abs(at_mm - other) > SAME_MM for other in before):
            places[name] = (*before, at_mm)
    return places


def _snapped(at_mm: float, length_mm: float) -> float:
    """A place at an end of the edge is that end."""
    return 0.0 if at_mm <= SAME_MM else length_mm if at_mm >= length_mm - SAME_MM else at_mm


def places_once(places: Places, part: EdgePart) -> tuple[float, float] | None:
    """Where a part of an edge begins and ends, as it is said; None where a name says no place, or several."""
    start, end = _one(places, part.start), _one(places, part.end)
    return None if start is None or end is None else (start, end)


def place_mm(drawn: DrawnPiece, edge: str, name: str) -> float | None:
    """Where on an edge the one place of a name lies; None where there is none, or several."""
    return _one(named_places(drawn, edge), name)


def _one(places: Places, name: str) -> float | None:
    found = places.get(name, ())
    return found[0] if len(found) == 1 else None


def net_position_mm(notches: Iterable[Placed], edge: str, at_mm: float, takes: Iterable[Take]) -> float:
    """How far along the closed edge a place lies: less all that darts and pleats before it take up."""
    places = {notch.name: notch.at_mm for notch in notches if notch.edge == edge}
    taken = 0.0
    for take in takes:
        if take.start_notch in places and take.end_notch in places:
            low, high = sorted((places[take.start_notch], places[take.end_notch]))
            taken += min(max(at_mm - low, 0.0), high - low)
    return at_mm - taken


def part_length_mm(
    places: Places, part: EdgePart, edge: str, notches: Iterable[Placed], takes: Iterable[Take]
) -> float | None:
    """How long a part of an edge is without what `takes` take up of it; None where a place of it is not there once, or
    both are one place."""
    start_mm, end_mm = _one(places, part.start), _one(places, part.end)
    if start_mm is None or end_mm is None or abs(end_mm - start_mm) <= SAME_MM:
        return None
    low, high = (net_position_mm(notches, edge, at_mm, takes) for at_mm in (start_mm, end_mm))
    return abs(high - low)

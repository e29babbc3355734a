"""Places on an edge that have a name: its notches, and its ends, called after the edges that meet it there."""

from pipeline.geometry.curves import path_length_mm
from pipeline.model.pieces import DrawnPiece

SAME_MM = 0.1
"""Places that lie closer are one: a notch at a corner, and the neighbour there."""


def named_places(drawn: DrawnPiece, edge: str) -> dict[str, tuple[float, ...]]:
    """Where on an edge each name lies, in mm from its first point: several places where one name means several.

    Raises KeyError where the piece has no such edge.
    """
    path = drawn.edge(edge).path
    names = [own.name for own in drawn.edges]
    at, length_mm = names.index(edge), path_length_mm(path)
    told = [
        (notch.name, _snapped(notch.at_mm, length_mm))
        for notch in drawn.notches
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


def place_mm(drawn: DrawnPiece, edge: str, name: str) -> float | None:
    """Where on an edge the one place of a name lies; None where there is none, or several."""
    found = named_places(drawn, edge).get(name, ())
    return found[0] if len(found) == 1 else None

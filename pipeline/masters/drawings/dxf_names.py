"""Names of marks in a DXF: texts on the layer of annotations, each where its mark is. See `model/d6673.py`."""

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from pipeline.geometry.points import Point
from pipeline.model import d6673

HERE_MM = 0.5
"""A text this near to a mark stands at it."""
GROUP_MM = 20.0
"""The strokes of a double or triple notch lie within this of its place."""


class MarkName(NamedTuple):
    """What a mark is called, its kind, of how many strokes it is, and where it stands."""

    kind: str
    name: str
    strokes: int
    place: Point


def mark_name(text: str, place: Point) -> MarkName | None:
    """The mark that a text names; None for another text."""
    kind, _, said = text.partition(":")
    name, _, strokes = said.partition(",")
    known = kind.strip().upper() in d6673.MARKS and bool(name.strip())
    count = int(strokes) if strokes.strip().isdecimal() else 1
    return MarkName(kind.strip().upper(), name.strip(), count, place) if known else None


def name_at(names: Iterable[MarkName], kind: str, place: Point) -> str | None:
    """What the mark of that kind at that place is called."""
    here = [mark for mark in names if mark.kind == kind and mark.place.distance(place) <= HERE_MM]
    return min(here, key=lambda mark: mark.place.distance(place)).name if here else None


def named_notches(names: Iterable[MarkName], places: Sequence[Point]) -> list[tuple[Point, str | None]]:
    """Each notch with its name; strokes that a text says are one notch are one, where the text stands."""
    left = list(places)
    found: list[tuple[Point, str | None]] = []
    for mark in names:
        if mark.kind != d6673.MARK_NOTCH or mark.strokes < 2:
            continue
        strokes = sorted((place for place in left if place.distance(mark.place) <= GROUP_MM), key=mark.place.distance)
        if len(strokes) >= mark.strokes:
            left = [place for place in left if place not in strokes[: mark.strokes]]
            found.append((mark.place, mark.name))
    return [*found, *((place, name_at(names, d6673.MARK_NOTCH, place)) for place in left)]

"""Distances of places from chains of points and from outlines."""

from collections.abc import Iterator, Sequence
from itertools import pairwise

from pipeline.geometry.points import Point, foot_share


def to_line_mm(place: Point, line: Sequence[Point]) -> float:
    """Distance of a place from a chain of points."""
    return min((place.distance(foot) for foot, _, _ in _feet(place, line)), default=place.distance(line[0]))


def outside_mm(place: Point, outline: Sequence[Point]) -> float:
    """How far a place lies outside a closed outline; 0 within it."""
    inside = False
    for start, end in pairwise((outline[-1], *outline)):
        if (start.y > place.y) != (end.y > place.y):
            crossing = start.x + (place.y - start.y) * (end.x - start.x) / (end.y - start.y)
            inside ^= place.x < crossing
    return 0.0 if inside else to_line_mm(place, (*outline, outline[0]))


def right_of_mm(place: Point, line: Sequence[Point]) -> tuple[float, Point]:
    """(distance from a chain, positive to its right as it is walked; the nearest point of the chain)."""
    foot, start, end = min(_feet(place, line), key=lambda item: place.distance(item[0]))
    away = place.distance(foot)
    return (away if start.to(end).cross(start.to(place)) >= 0 else -away), foot


def _feet(place: Point, line: Sequence[Point]) -> Iterator[tuple[Point, Point, Point]]:
    """The nearest point of each chord, with the chord."""
    for start, end in pairwise(line):
        if start != end:
            yield start.plus(start.to(end).scaled(foot_share(place, start, end))), start, end

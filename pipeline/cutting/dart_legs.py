"""The two legs of a dart along the inside lines that start at its notches."""

from collections.abc import Sequence

from pipeline.geometry.curves import Path, reversed_path
from pipeline.geometry.points import Point
from pipeline.model.pieces import InsideLine

TOUCHES_MM = 1.0


def legs_of(inside: Sequence[InsideLine], start: Point, end: Point) -> tuple[Path, Path] | None:
    """The legs from the notches at `start` and `end`; None where no inside lines run there.

    Drawn as one line from notch to notch, its tip the joint farthest from them, or as two lines that share an end. The
    first ends at the tip; the second ends there too, or starts there where both are one line.
    """
    paths = [line.path for line in inside if not line.closed]
    whole = _from(paths, start, end)
    if whole is not None:
        return _split(whole, start, end)
    first, second = _from(paths, start), _from(paths, end)
    if first is None or second is None or first[-1].end.distance(second[-1].end) > TOUCHES_MM:
        return None
    return first, second


def _from(paths: list[Path], start: Point, end: Point | None = None) -> Path | None:
    """The path that starts at a place, turned so, and ends at another where one is given."""
    for drawn in paths:
        for path in (drawn, reversed_path(drawn)):
            ends_there = end is None or path[-1].end.distance(end) <= TOUCHES_MM
            if path[0].start.distance(start) <= TOUCHES_MM and ends_there:
                return path
    return None


def _split(path: Path, start: Point, end: Point) -> tuple[Path, Path] | None:
    if len(path) < 2:
        return None
    tip = max(range(1, len(path)), key=lambda i: path[i].start.distance(start) + path[i].start.distance(end))
    return path[:tip], path[tip:]

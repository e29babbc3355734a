"""The codes of a pattern's sizes, and of what all sizes of a value share."""

from collections.abc import Collection, Iterable

from pipeline.drawing.styles import SizeCodes
from pipeline.model.pattern import Pattern
from pipeline.model.sizes import places, shared_by_values

_ON_TWO = (1, 2, 4, 3, 2, 4), (1, 2)
_ON_MORE = (1, 2, 3, 4), (1, 2, 3)
"""Colours, one after the other, and how many of them one step along each axis goes on. Two points that differ by one
step, or by one up and one down, are never alike.

On two axes each point and two of its neighbours are beside each other: three kinds do, the first and the third colour
being one kind, so that these are never beside each other. On three it takes all four; on more no four are enough, and
steps along the fourth axis go on as along the first.
"""


def size_codes(pattern: Pattern, drawn: Collection[str]) -> SizeCodes:
    """The codes of the sizes that are drawn. Where sizes stand on several axes, lines that lie nearest to each other
    are of neighbours along an axis, or of one step up on an axis and down on another: their colours differ."""
    at, axes = places(pattern), len(pattern.size_axes)
    colours: dict[tuple[str, ...], int] = {(size,): _colour(enumerate(at[size]), axes) for size in drawn}
    for _, sizes in shared_by_values(pattern.size_axes, drawn) if axes > 1 else ():
        alike = [set(axis) for axis in zip(*(at[size] for size in sizes), strict=True)]
        if len(sizes) > 1:
            colours[sizes] = _colour(((n, min(axis)) for n, axis in enumerate(alike) if len(axis) == 1), axes)
    return SizeCodes({size: pattern.sizes.index(size) + 1 for size in drawn}, colours)


def _colour(places: Iterable[tuple[int, int]], axes: int) -> int:
    """The number of the colour of a place on each of some axes, counted from 0."""
    if axes < 2:
        return 1 + sum(place for _, place in places)
    colours, steps = _ON_TWO if axes == 2 else _ON_MORE
    return colours[sum(place * steps[axis % len(steps)] for axis, place in places) % len(colours)]

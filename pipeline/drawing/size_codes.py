"""The codes of a pattern's sizes, and of what all sizes of a value share."""

from collections.abc import Collection

from pipeline.drawing.styles import SizeCodes
from pipeline.model.pattern import Pattern
from pipeline.model.sizes import places, shared_by_values

_STEPS = (1, 2, 3, 1)
"""How many colours a step along each axis goes on. Of four, as many as there are, none is met again by a step up one of
the first three axes and one down another, where the lines of cups lie nearest to each other."""


def size_codes(pattern: Pattern, drawn: Collection[str]) -> SizeCodes:
    """The codes of the sizes that are drawn. Neighbours along an axis, and one up one axis and down another, differ in
    colour; neighbouring values are counted one after the other."""
    at = places(pattern)
    colours: dict[tuple[str, ...], int] = {
        (size,): 1 + sum(step * place for step, place in zip(_STEPS, at[size], strict=False)) for size in drawn
    }
    for _, sizes in shared_by_values(pattern.size_axes, drawn) if len(pattern.size_axes) > 1 else ():
        alike = [set(axis) for axis in zip(*(at[size] for size in sizes), strict=True)]
        if len(sizes) > 1:
            colours[sizes] = 1 + sum(min(axis) for axis in alike if len(axis) == 1)
    return SizeCodes({size: pattern.sizes.index(size) + 1 for size in drawn}, colours)

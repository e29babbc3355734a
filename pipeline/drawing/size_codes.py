"""The codes of a pattern's sizes, and of what all sizes of a value share."""

from collections.abc import Collection

from pipeline.drawing.styles import SizeCodes
from pipeline.model.pattern import Pattern
from pipeline.model.sizes import places, shared_by_values


def size_codes(pattern: Pattern, drawn: Collection[str]) -> SizeCodes:
    """The codes of the sizes that are drawn. Along each axis neighbours are counted one after the other, and so are
    neighbouring values."""
    at = places(pattern)
    colours: dict[tuple[str, ...], int] = {(size,): 1 + sum(at[size]) for size in drawn}
    for _, sizes in shared_by_values(pattern.size_axes, drawn) if len(pattern.size_axes) > 1 else ():
        alike = [set(axis) for axis in zip(*(at[size] for size in sizes), strict=True)]
        if len(sizes) > 1:
            colours[sizes] = 1 + sum(min(axis) for axis in alike if len(axis) == 1)
    return SizeCodes({size: pattern.sizes.index(size) + 1 for size in drawn}, colours)

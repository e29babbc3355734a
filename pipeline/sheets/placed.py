"""What lies where on the arranged sheet: the ground on which pages are kept, left out and listed by size."""

from collections.abc import Sequence

import msgspec
import shapely
from shapely.geometry.base import BaseGeometry

from pipeline.sheets.layout import Layout
from pipeline.sheets.stacks import Stack, moved

_SIZE_REACH_MM = 0.5
"""A size needs a page into which its piece, line included, reaches farther: what is less is the line's own room."""
_PAGE_REACH_MM = 1.0
"""What reaches less far into a page is not worth one."""


class PlacedStack(msgspec.Struct, frozen=True, kw_only=True):
    """One stack on the sheet, in sheet coordinates; the fields are those of `Stack`, but for `region`.

    Wherever `region` lies there must be a page: it is all sizes' pieces less what is not worth one. The room for what
    is written along lines is not in it.
    """

    piece: str
    views: tuple[str, ...]
    region: BaseGeometry
    lines: dict[str, BaseGeometry]
    marks: tuple[BaseGeometry, ...]


def placed_stacks(stacks: Sequence[Stack], layout: Layout) -> tuple[PlacedStack, ...]:
    """Every placed stack as it lies on the sheet. Raises KeyError for a piece that is placed and not in `stacks`."""
    named = {stack.piece: stack for stack in stacks}
    placed: list[PlacedStack] = []
    for place in layout.placements:
        stack = named[place.piece]
        placed.append(
            PlacedStack(
                piece=stack.piece,
                views=stack.views,
                region=moved(shapely.union_all(list(stack.lines.values())), place).buffer(-_PAGE_REACH_MM),
                lines={size: moved(shape, place) for size, shape in stack.lines.items()},
                marks=tuple(moved(mark, place) for mark in stack.marks),
            )
        )
    return tuple(placed)


class Field:
    """All stacks of a sheet, asked rectangle by rectangle."""

    def __init__(self, placed: Sequence[PlacedStack]) -> None:
        self._placed = placed
        for stack in placed:
            shapely.prepare(stack.region)
            shapely.prepare(list(stack.lines.values()))
        self._regions = shapely.STRtree([stack.region for stack in placed])

    def within(self, left: float, top: float, right: float, bottom: float) -> tuple[set[str], set[str]]:
        """(sizes, views) whose pieces lie in the rectangle; both empty where nothing does.

        A size counts where its piece or its line lies, the paper inside a piece too: without it the piece has a hole.
        """
        here = [self._placed[n] for n in self._regions.query(shapely.box(left, top, right, bottom), "intersects")]
        reach = _SIZE_REACH_MM
        window = shapely.box(left + reach, top + reach, right - reach, bottom - reach)
        sizes = {size for stack in here for size, shape in stack.lines.items() if shape.intersects(window)}
        return sizes, {view for stack in here for view in stack.views}

"""Where a rectangle of text finds room: inside a free area, as far from its edges as it can be."""

from typing import NamedTuple

import numpy as np
import shapely
from numpy.typing import NDArray

_CELLS = 110
_LEAST_CELL_MM = 0.5
_MARGINS_MM = (15.0, 8.0, 4.0, 0.0)


class Rectangle(NamedTuple):
    """A rectangle by its top left corner."""

    left: float
    top: float
    width: float
    height: float


class FreeArea:
    """A free area, sampled once on a grid of at most 110 cells a side, searched for many rectangles.

    `even`: of as many cells as a square has, so that they are small on a narrow area too.
    """

    def __init__(self, area: shapely.Geometry, even: bool = False) -> None:
        self.area = area
        self.empty = bool(area.is_empty)
        if self.empty:
            return
        left, top, right, bottom = area.bounds
        self.left, self.top = left, top
        side = ((right - left) * (bottom - top)) ** 0.5 if even else max(right - left, bottom - top)
        self.cell_mm = max(_LEAST_CELL_MM, side / _CELLS)
        columns, rows = int((right - left) / self.cell_mm) + 1, int((bottom - top) / self.cell_mm) + 1
        xs, ys = np.meshgrid(left + np.arange(columns) * self.cell_mm, top + np.arange(rows) * self.cell_mm)
        shapely.prepare(area)
        inside = shapely.contains_xy(area, xs, ys)
        self.sums = np.zeros((rows + 1, columns + 1), dtype=np.int64)
        self.sums[1:, 1:] = inside.cumsum(axis=0).cumsum(axis=1)

    def place(self, width_mm: float, height_mm: float) -> Rectangle | None:
        """A place for a rectangle, with the widest margin that the area has to give; None where it does not fit."""
        if self.empty or not len(self._corners(width_mm, height_mm)):  # most do not fit even without a margin
            return None
        for margin in _MARGINS_MM:
            corners = self._corners(width_mm + 2 * margin, height_mm + 2 * margin)
            if len(corners):
                found = self._checked(corners, width_mm, height_mm, margin)
                if found is not None:
                    return found
        return None

    def _corners(self, width_mm: float, height_mm: float) -> NDArray[np.intp]:
        """Grid places (row, column) whose rectangle has only free cells."""
        rows, columns = int(np.ceil(height_mm / self.cell_mm)) + 1, int(np.ceil(width_mm / self.cell_mm)) + 1
        sums = self.sums
        if rows >= sums.shape[0] or columns >= sums.shape[1]:
            return np.empty((0, 2), dtype=np.intp)
        free = sums[rows:, columns:] - sums[:-rows, columns:] - sums[rows:, :-columns] + sums[:-rows, :-columns]
        return np.argwhere(free == rows * columns)

    def _checked(self, corners: NDArray[np.intp], width: float, height: float, margin: float) -> Rectangle | None:
        """The place nearest to the middle of all places at which the exact area holds the rectangle."""
        order = np.argsort(np.hypot(*(corners - corners.mean(axis=0)).T), kind="stable")
        for row, column in corners[order[:12]].tolist():
            found = Rectangle(
                self.left + column * self.cell_mm + margin, self.top + row * self.cell_mm + margin, width, height
            )
            if self.area.contains(shapely.box(found.left, found.top, found.left + width, found.top + height)):
                return found
        return None

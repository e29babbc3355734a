"""Shapes as cells of a coarse grid, and where a shape fits among others.

A grid is one long integer, a bit a cell, row after row, so that a whole sheet is tested at once. Each row ends with one
cell that is never free, so a shape cannot reach round into the next row.
"""

from typing import NamedTuple

import numpy as np
import numpy.typing as npt
import shapely
from shapely.geometry.base import BaseGeometry

from pipeline.geometry.chains import Array

CELL_MM = 5.0
_SAMPLE_MM = 0.5

Run = tuple[int, int, int]
"""Row, first cell, number of cells."""


def boundary(shape: BaseGeometry, step_mm: float) -> Array:
    """Points along all rings of a shape, at most `step_mm` apart, corners among them."""
    return shapely.get_coordinates(shapely.segmentize(shape, step_mm))


class Outline(NamedTuple):
    """A shape's rings: points close together, and the rings' own corners."""

    points: Array
    rings: tuple[Array, ...]


def outline_of(shape: BaseGeometry) -> Outline:
    """What is asked of a shape again and again as it is moved."""
    rings = [ring for part in shapely.get_parts(shape) for ring in (part.exterior, *part.interiors)]
    return Outline(boundary(shape, _SAMPLE_MM), tuple(shapely.get_coordinates(ring) for ring in rings))


class Cells(NamedTuple):
    """The cells that a shape touches, as runs; its corner of least x and y lies in the grid as given."""

    runs: tuple[Run, ...]
    columns: int
    rows: int


def cells_of(shape: Outline, left_mm: float = 0.0, top_mm: float = 0.0) -> Cells:
    """Every cell that the shape touches where the grid's corner lies at (left, top); to about 0.1 mm at corners."""
    outline = (shape.points - [left_mm, top_mm]) / CELL_MM
    # a shape that ends on a cell's border does not touch the cell beyond it
    nudge = 1e-6
    low, high = np.floor(outline + nudge).astype(int), np.ceil(outline - nudge).astype(int) - 1
    columns, rows = (int(n) for n in low.max(axis=0).clip(min=high.max(axis=0)) + 1)
    filled = _inside(shape.rings, left_mm, top_mm, columns, rows)
    for picked in (np.minimum(low, np.maximum(high, 0)), np.maximum(high, 0)):
        filled[picked[:, 1].clip(0), picked[:, 0].clip(0)] = True
    return Cells(_runs(filled), columns, rows)


def _inside(rings: tuple[Array, ...], left_mm: float, top_mm: float, columns: int, rows: int) -> npt.NDArray[np.bool_]:
    """Cells whose centre lies inside, by counting the crossings of each row's middle line."""
    crossings = np.zeros((rows, columns + 1), dtype=np.int64)
    for ring in rings:
        at = (ring - [left_mm, top_mm]) / CELL_MM - 0.5
        start, end = at[:-1], at[1:]
        first = np.ceil(np.minimum(start[:, 1], end[:, 1])).astype(int)
        count = np.ceil(np.maximum(start[:, 1], end[:, 1])).astype(int) - first
        which = np.repeat(np.arange(len(count)), count)
        row = np.arange(len(which)) - np.repeat(np.cumsum(count) - count, count) + first[which]
        run, rise = (end - start)[which].T
        x = start[which, 0] + (row - start[which, 1]) * run / np.where(rise == 0, 1, rise)
        column = np.ceil(x).astype(int)
        held = (row >= 0) & (row < rows)
        np.add.at(crossings, (row[held], column[held].clip(0, columns)), 1)
    return np.cumsum(crossings, axis=1)[:, :columns] % 2 == 1


def _runs(filled: npt.NDArray[np.bool_]) -> tuple[Run, ...]:
    padded = np.zeros((filled.shape[0], filled.shape[1] + 2), dtype=np.int8)
    padded[:, 1:-1] = filled
    change = np.diff(padded, axis=1)
    (rows, starts), ends = np.nonzero(change == 1), np.nonzero(change == -1)[1]
    return tuple(zip(rows.tolist(), starts.tolist(), (ends - starts).tolist(), strict=True))


class Grid:
    """Free cells of a sheet of `columns` x `rows`, and the question where a shape fits."""

    def __init__(self, columns: int, rows: int, taken: int = 0) -> None:
        self.columns, self.rows, self.stride = columns, rows, columns + 1
        row = (1 << columns) - 1
        everywhere = row * (((1 << self.stride * rows) - 1) // ((1 << self.stride) - 1)) if rows else 0
        self._doubled = [everywhere & ~taken]
        self._eroded: dict[int, int] = {}

    def _free_for(self, count: int) -> int:
        """Cells from which `count` cells to the right are free."""
        power = count.bit_length() - 1
        while len(self._doubled) <= power:
            last = self._doubled[-1]
            self._doubled.append(last & (last >> (1 << (len(self._doubled) - 1))))
        half = self._doubled[power]
        return half & (half >> (count - (1 << power)))

    def corners(self, cells: Cells, most: int, allowed: int | None = None) -> npt.NDArray[np.int64]:
        """(column, row) where the shape lies free but could move neither up nor to one side; the uppermost `most`.

        `allowed` are the cells, as bits, where the shape's corner may lie at all.
        """
        places = (1 << self.stride * self.rows) - 1 if allowed is None else allowed
        for down, first, count in cells.runs:
            free = self._eroded.get(count)
            if free is None:
                free = self._eroded[count] = self._free_for(count)
            places &= free >> (down * self.stride + first)
            if not places:
                break
        stopped = places & ~(places << self.stride) & (~(places << 1) | ~(places >> 1))
        raw = np.frombuffer(stopped.to_bytes((self.stride * self.rows + 7) // 8, "little"), dtype=np.uint8)
        held = np.flatnonzero(raw)[:most]
        byte, bit = np.nonzero(np.unpackbits(raw[held, None], axis=1, bitorder="little"))
        row, column = np.divmod(held[byte] * 8 + bit, self.stride)
        return np.stack([column, row], axis=1)[:most]


def mask(cells: Cells, stride: int, column: int) -> int:
    """The cells, moved right to `column`, as bits of a grid whose rows are `stride` long; cut off at its right side."""
    bits = 0
    for row, first, count in cells.runs:
        count = min(count, stride - 1 - first - column)
        if count > 0:
            bits |= ((1 << count) - 1) << (row * stride + first + column)
    return bits

"""Pages across which nothing is cut that one of them holds."""

import msgspec
import numpy as np
import numpy.typing as npt

from pipeline.sheets.raster import CELL_MM, Grid

_SLACK_MM = 1e-6

Flags = npt.NDArray[np.bool_]


class Unbroken(msgspec.Struct, frozen=True):
    """The window of every page of a grid that begins at (0, 0). A shape is told by the sides of its bounding box."""

    width_mm: float
    height_mm: float

    def pages(self, width_mm: float, height_mm: float) -> int:
        """The fewest pages that a shape lies on, wherever it lies."""
        return _fewest(width_mm, self.width_mm) * _fewest(height_mm, self.height_mm)

    def touched(self, left_mm: float, top_mm: float, right_mm: float, bottom_mm: float) -> int:
        """How many pages a shape lies on, by its bounding box."""
        across = _spanned(np.array([left_mm]), right_mm - left_mm, self.width_mm)
        down = _spanned(np.array([top_mm]), bottom_mm - top_mm, self.height_mm)
        return int(across[0] * down[0])

    def next_top(self, top_mm: float, height_mm: float) -> float:
        """Where a shape may begin that begins at `top_mm` or below."""
        if _spanned(np.array([top_mm]), height_mm, self.height_mm)[0] <= _fewest(height_mm, self.height_mm):
            return top_mm
        return float(np.ceil(top_mm / self.height_mm) * self.height_mm)

    def least(
        self, width_mm: float, height_mm: float, lefts: npt.NDArray[np.float64], tops: npt.NDArray[np.float64]
    ) -> tuple[Flags, Flags]:
        """For the left sides and for the upper sides: whether a shape that begins there crosses no joint too many."""
        across = _spanned(lefts, width_mm, self.width_mm) == _fewest(width_mm, self.width_mm)
        down = _spanned(tops, height_mm, self.height_mm) == _fewest(height_mm, self.height_mm)
        return across, down

    def cells(self, width_mm: float, height_mm: float, grid: Grid) -> int:
        """The same for cells of a grid, as its bits: those where the corner of a shape may lie."""
        lefts, tops = (np.arange(count, dtype=np.float64) * CELL_MM for count in (grid.columns, grid.rows))
        across, down = self.least(width_mm, height_mm, lefts, tops)
        bits = np.zeros((grid.rows, grid.stride), dtype=np.uint8)
        bits[:, : grid.columns] = down[:, None] & across
        return int.from_bytes(np.packbits(bits.ravel(), bitorder="little").tobytes(), "little")


def _fewest(length_mm: float, page_mm: float) -> int:
    return max(1, int(np.ceil((length_mm - _SLACK_MM) / page_mm)))


def _spanned(starts: npt.NDArray[np.float64], length_mm: float, page_mm: float) -> npt.NDArray[np.int64]:
    first = np.floor((starts + _SLACK_MM) / page_mm).astype(np.int64)
    last = np.ceil((starts + length_mm - _SLACK_MM) / page_mm).astype(np.int64) - 1
    return last - first + 1

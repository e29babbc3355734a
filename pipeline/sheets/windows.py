"""The grid of windows over a sheet: how many, where it begins, which of them hold something."""

import math
from collections.abc import Sequence

import msgspec
import numpy as np
import numpy.typing as npt
import shapely

from pipeline.sheets.layout import Layout, Page, SavedGrid, Window
from pipeline.sheets.off_joints import joints_across
from pipeline.sheets.papers import Tile
from pipeline.sheets.placed import Field, PlacedStack

_STEPS = 16
_FINE_MM = 1.5
_SAMPLE_MM = 12.0
_LATTICE_MM = 50.0
_LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ"


class WindowGrid(msgspec.Struct, frozen=True):
    """Windows of one size; the first begins at (left, top), which may lie beyond the sheet's corner."""

    tile: Tile
    left_mm: float
    top_mm: float
    columns: int
    rows: int


def row_letters(row: int) -> str:
    """A, B, ... Z, AA, AB, ... for rows counted from 1, without I and O, which read as digits."""
    letters = ""
    while row > 0:
        row, rest = divmod(row - 1, len(_LETTERS))
        letters = _LETTERS[rest] + letters
    return letters


def page_label(number: int, row: int) -> str:
    """ "7B" for the seventh page of the file, in the second row.

    Print dialogues take its number. A letter first would make paper sizes of pages: A4, B5.
    """
    return f"{number}{row_letters(row)}"


def grid_at(layout: Layout, tile: Tile, left_mm: float = 0.0, top_mm: float = 0.0) -> WindowGrid:
    """The grid that begins there and covers the sheet."""
    columns = _count(layout.width_mm - left_mm, tile.width_mm, tile.step_x_mm)
    rows = _count(layout.height_mm - top_mm, tile.height_mm, tile.step_y_mm)
    return WindowGrid(tile, left_mm, top_mm, columns, rows)


def _count(length_mm: float, tile_mm: float, step_mm: float) -> int:
    return max(1, 1 + int(np.ceil((length_mm - tile_mm) / step_mm - 1e-6)))


def kept_pages(
    grid: WindowGrid, field: Field, sizes: Sequence[str], views: Sequence[str], first_number: int
) -> tuple[Page, ...]:
    """A page for each window that holds something, row by row; `sizes` and `views` are the pattern's, in its order."""
    tile = grid.tile
    pages: list[Page] = []
    for row in range(grid.rows):
        for column in range(grid.columns):
            x, y = grid.left_mm + column * tile.step_x_mm, grid.top_mm + row * tile.step_y_mm
            # what lies in the strip that the next page repeats belongs to that page
            right = x + (tile.width_mm if column == grid.columns - 1 else tile.step_x_mm)
            bottom = y + (tile.height_mm if row == grid.rows - 1 else tile.step_y_mm)
            held_sizes, held_views = field.within(x, y, right, bottom)
            if held_sizes:
                number = first_number + len(pages)
                pages.append(
                    Page(
                        number=number,
                        label=page_label(number, row + 1),
                        row=row + 1,
                        column=column + 1,
                        window=Window(x, y, tile.width_mm, tile.height_mm),
                        sizes=tuple(size for size in sizes if size in held_sizes),
                        views=tuple(view for view in views if view in held_views),
                    )
                )
    return tuple(pages)


def is_of(sold: SavedGrid, tile: Tile) -> bool:
    """Whether a grid that was sold is one of these tiles."""
    was = sold.width_mm, sold.height_mm, sold.step_x_mm, sold.step_y_mm
    now = tile.width_mm, tile.height_mm, tile.step_x_mm, tile.step_y_mm
    return all(abs(one - other) < 1e-6 for one, other in zip(was, now, strict=True))


def as_numbered(pages: Sequence[Page], sold: SavedGrid, first_number: int) -> tuple[Page, ...]:
    """Pages in the order in which they were sold, new ones after them: all others keep their numbers.

    A page that became blank leaves a gap, which a new page fills, else the last one.
    """
    there = {(page.row, page.column): page for page in pages}
    found = [there.pop(at, None) for at in sold.places]
    new = list(there.values())
    for index in [index for index, page in enumerate(found) if page is None]:
        if new:
            found[index] = new.pop(0)
    found += new
    kept = [page for page in found if page is not None]
    gaps = [index for index, page in enumerate(found[: len(kept)]) if page is None]
    for index, page in zip(gaps, [page for page in found[len(kept) :] if page is not None], strict=True):
        found[index] = page
    return tuple(
        msgspec.structs.replace(page, number=number, label=page_label(number, page.row))
        for number, page in enumerate((page for page in found[: len(kept)] if page is not None), start=first_number)
    )


def best_grid(layout: Layout, placed: Sequence[PlacedStack], tile: Tile) -> WindowGrid:
    """The grid with fewest pages, then with fewest marks on a joint, then nearest to the sheet's corner.

    It begins left of and above the corner by no more than the last windows reach beyond the sheet: there are never more
    rows and columns. Candidates are counted by samples, the last few exactly.
    """
    points = _points(placed)
    marks = np.array([mark for stack in placed for mark in stack.marks], dtype=object)
    spans = shapely.bounds(marks).reshape(-1, 4)

    def crossings(grid: WindowGrid) -> int:
        across = joints_across(spans[:, [0, 2]], grid.left_mm, tile.step_x_mm)
        return across + joints_across(spans[:, [1, 3]], grid.top_mm, tile.step_y_mm)

    def rank(grid: WindowGrid) -> tuple[int, int, float]:
        return _sampled_pages(points, grid), crossings(grid), -grid.left_mm - grid.top_mm

    def exact(grid: WindowGrid) -> tuple[int, int, float]:
        held = kept_pages(grid, Field(placed), (), (), 1)
        return len(held), crossings(grid), -grid.left_mm - grid.top_mm

    plain = grid_at(layout, tile)
    room_x = (plain.columns - 1) * tile.step_x_mm + tile.width_mm - layout.width_mm
    room_y = (plain.rows - 1) * tile.step_y_mm + tile.height_mm - layout.height_mm

    def shifted(around: WindowGrid, step_x: float, step_y: float, count: int) -> WindowGrid:
        xs = {_whole(around.left_mm + n * step_x, room_x) for n in range(-count, count + 1)}
        ys = {_whole(around.top_mm + n * step_y, room_y) for n in range(-count, count + 1)}
        grids = [msgspec.structs.replace(plain, left_mm=x, top_mm=y) for x in sorted(xs) for y in sorted(ys)]
        return min(grids, key=rank)

    coarse = shifted(plain, room_x / _STEPS, room_y / _STEPS, _STEPS)
    fine = shifted(coarse, min(_FINE_MM, room_x / _STEPS), min(_FINE_MM, room_y / _STEPS), _STEPS // 2)
    return _trimmed(min((plain, coarse, fine), key=exact), placed)


def _trimmed(grid: WindowGrid, placed: Sequence[PlacedStack]) -> WindowGrid:
    """Without rows and columns at its sides that have no page: a sheet ends in room for what is written along lines."""
    pages = kept_pages(grid, Field(placed), (), (), 1)
    rows, columns = [page.row for page in pages], [page.column for page in pages]
    return WindowGrid(
        grid.tile,
        grid.left_mm + (min(columns) - 1) * grid.tile.step_x_mm,
        grid.top_mm + (min(rows) - 1) * grid.tile.step_y_mm,
        max(columns) - min(columns) + 1,
        max(rows) - min(rows) + 1,
    )


def _whole(start_mm: float, room_mm: float) -> float:
    """A start in whole millimetres: tiles and large sheets then lie on one raster."""
    return float(min(0, max(math.ceil(-room_mm), round(start_mm))))


def _points(placed: Sequence[PlacedStack]) -> npt.NDArray[np.float64]:
    """Points of all regions, close enough to count pages by."""
    points = [np.zeros((0, 2))]
    for stack in placed:
        points.append(shapely.get_coordinates(shapely.segmentize(stack.region.simplify(0.1), _SAMPLE_MM)))
        left, top, right, bottom = stack.region.bounds
        lattice = np.meshgrid(np.arange(left, right, _LATTICE_MM), np.arange(top, bottom, _LATTICE_MM))
        flat = np.stack(lattice, axis=-1).reshape(-1, 2)
        points.append(flat[shapely.contains_xy(stack.region, flat)])
    return np.concatenate(points)


def _sampled_pages(points: npt.NDArray[np.float64], grid: WindowGrid) -> int:
    column = np.floor((points[:, 0] - grid.left_mm) / grid.tile.step_x_mm).astype(np.int64)
    row = np.floor((points[:, 1] - grid.top_mm) / grid.tile.step_y_mm).astype(np.int64)
    number = row.clip(0, grid.rows - 1) * grid.columns + column.clip(0, grid.columns - 1)
    return int((np.bincount(number) > 0).sum())

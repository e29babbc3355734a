"""Stacks on a sheet, one after the other: where each fits, and how many pages that opens."""

from collections.abc import Iterable, Sequence

import msgspec
import numpy as np
import numpy.typing as npt
import shapely
from shapely.geometry.base import BaseGeometry

from pipeline.geometry.chains import Array
from pipeline.sheets.layout import Placement
from pipeline.sheets.papers import Tile
from pipeline.sheets.raster import CELL_MM, Cells, Grid, Outline, boundary, cells_of, mask, outline_of
from pipeline.sheets.stacks import Stack, turned
from pipeline.sheets.unbroken import Unbroken

_SAMPLE_MM = 16.0
_LATTICE_MM = 45.0
_INWARD_MM = 0.01
_MOST_PLACES = 40
_FIRST_PLACES = 10


class Taste(msgspec.Struct, frozen=True):
    """What makes a place good: how many mm of length a page may cost, and whether the lower end or the upper counts."""

    page_mm: float
    lower_end: bool = True


class Pose(msgspec.Struct, frozen=True):
    """A stack's region in one turn, its bounding box moved to (0, 0). `anchor` is where the stack's anchor then lies.

    `samples` are points of it, so close that no page of any paper is missed that it touches by more than a sliver.
    `dear_mm` is how much higher it must lie than in another pose to be taken.
    """

    piece: str
    quarter_turns: int
    shape: BaseGeometry
    width_mm: float
    height_mm: float
    anchor: tuple[float, float]
    outline: Outline
    cells: Cells
    samples: Array
    dear_mm: float = 0.0

    def placement(self, left_mm: float, top_mm: float) -> Placement:
        """The placement that puts the pose's bounding box at (left, top)."""
        x, y = round(left_mm + self.anchor[0], 3), round(top_mm + self.anchor[1], 3)
        return Placement(self.piece, x, y, self.quarter_turns)

    def shape_at(self, left_mm: float, top_mm: float) -> BaseGeometry:
        """The region where its bounding box begins at (left, top)."""
        return shapely.transform(self.shape, lambda at: np.add(at, (left_mm, top_mm)))


def poses_of(stack: Stack) -> tuple[Pose, ...]:
    """The stack in each quarter turn; a turn that looks like an earlier one is left out."""
    poses: list[Pose] = []
    for turns in range(4):
        pose = pose_of(stack, turns)
        if not any(pose.shape.normalize().equals_exact(other.shape.normalize(), 0.01) for other in poses):
            poses.append(pose)
    return tuple(poses)


def pose_of(stack: Stack, turns: int) -> Pose:
    """The stack in one quarter turn."""
    shape = turned(stack.region, turns)
    left, top, right, bottom = shape.bounds
    shape = shapely.transform(shape, lambda at: np.subtract(at, (left, top)))
    size = right - left, bottom - top
    outline = outline_of(shape)
    return Pose(stack.piece, turns, shape, *size, (-left, -top), outline, cells_of(outline), _samples(shape))


def _samples(shape: BaseGeometry) -> Array:
    left, top, right, bottom = shape.bounds
    xs, ys = (np.arange(start + 5, end, _LATTICE_MM) for start, end in ((left, right), (top, bottom)))
    lattice = np.stack(np.meshgrid(xs, ys), axis=-1).reshape(-1, 2)
    inner = lattice[shapely.contains_xy(shape, lattice)]
    edge = boundary(shape.simplify(1.0), _SAMPLE_MM)
    middle = np.array([(left + right) / 2, (top + bottom) / 2])
    # an edge on a joint belongs to the page that the shape is on
    return np.concatenate([edge + np.sign(middle - edge) * _INWARD_MM, inner])


class _Pages:
    """How much lies on each page of one paper, in samples."""

    def __init__(self, tile: Tile, width_mm: float) -> None:
        self.tile = tile
        self.last_column = max(0, int(np.ceil((width_mm - tile.width_mm) / tile.step_x_mm - 1e-6)))
        self.count = np.zeros((1, self.last_column + 1), dtype=np.int64)

    def cells(self, pose: Pose, at: Array) -> tuple[npt.NDArray[np.int64], npt.NDArray[np.int64]]:
        """(rows, columns) of pages for places (K x 2), each K x number of samples."""
        column = ((at[:, :1] + pose.samples[:, 0]) / self.tile.step_x_mm).astype(np.int64)
        row = ((at[:, 1:] + pose.samples[:, 1]) / self.tile.step_y_mm).astype(np.int64)
        return row, np.minimum(column, self.last_column, out=column)

    def load(self, pose: Pose, at: Array) -> npt.NDArray[np.int64]:
        """How many samples of the pose lie on each page."""
        row, column = self.cells(pose, at[None, :])
        self._reach(int(row.max()))
        columns = self.count.shape[1]
        return np.bincount(row[0] * columns + column[0], minlength=self.count.size).reshape(self.count.shape)

    def opened(self, pose: Pose, at: Array) -> npt.NDArray[np.int64]:
        """How many pages become used, for each place."""
        row, column = self.cells(pose, at)
        self._reach(int(row.max()))
        first_row, first_column = row.min(axis=1), column.min(axis=1)
        rows = int((row.max(axis=1) - first_row).max()) + 1
        columns = int((column.max(axis=1) - first_column).max()) + 1
        local = (row - first_row[:, None]) * columns + column - first_column[:, None]
        hit = np.zeros((len(at), rows * columns), dtype=bool)
        hit[np.arange(len(at))[:, None], local] = True
        padded = np.zeros((self.count.shape[0] + rows, self.count.shape[1] + columns), dtype=bool)
        padded[: self.count.shape[0], : self.count.shape[1]] = self.count == 0
        row_of, column_of = np.divmod(np.arange(rows * columns), columns)
        unused = padded[first_row[:, None] + row_of, first_column[:, None] + column_of]
        return (hit & unused).sum(axis=1)

    def _reach(self, row: int) -> None:
        if row >= len(self.count):
            self.count = np.pad(self.count, ((0, row + 1 - len(self.count)), (0, 0)))


class Placed(msgspec.Struct):
    """A pose on the sheet: the corner of its bounding box, the grid cells that it takes."""

    pose: Pose
    left_mm: float
    top_mm: float
    bits: int

    @property
    def corner(self) -> Array:
        """The corner as one row of coordinates."""
        return np.array([(self.left_mm, self.top_mm)])

    @property
    def middle(self) -> tuple[float, float]:
        """The middle of the bounding box."""
        return self.left_mm + self.pose.width_mm / 2, self.top_mm + self.pose.height_mm / 2


class Packing:
    """A sheet of given width and any length, the stacks that lie on it and the pages that they use.

    `unbroken` is the window of pages across which nothing lies that one of them holds, and what none holds lies on as
    few as it can.
    """

    def __init__(self, width_mm: float, tiles: Sequence[Tile], unbroken: Unbroken | None = None) -> None:
        self.width_mm = width_mm
        self.unbroken = unbroken
        self.columns = max(1, int(np.ceil(width_mm / CELL_MM - 1e-6)))
        self.papers = [_Pages(tile, width_mm) for tile in tiles]
        self.placed: dict[str, Placed] = {}

    @property
    def height_mm(self) -> float:
        """How far down stacks reach."""
        return max((one.top_mm + one.pose.height_mm for one in self.placed.values()), default=0.0)

    @property
    def used_width_mm(self) -> float:
        """How far to the right stacks reach."""
        return max((one.left_mm + one.pose.width_mm for one in self.placed.values()), default=0.0)

    @property
    def pages(self) -> int:
        """Pages that hold something, over all papers."""
        return sum(int((paper.count > 0).sum()) for paper in self.papers)

    def put(self, pose: Pose, left_mm: float, top_mm: float) -> None:
        """Lay a pose down; nothing is asked."""
        column, row = (int(np.floor(at / CELL_MM + 1e-6)) for at in (left_mm, top_mm))
        cells = cells_of(pose.outline, column * CELL_MM - left_mm, row * CELL_MM - top_mm)
        bits = mask(cells, self.columns + 1, column) << (row * (self.columns + 1))
        self.placed[pose.piece] = Placed(pose, left_mm, top_mm, bits)
        for paper in self.papers:
            load = paper.load(pose, self.placed[pose.piece].corner[0])
            paper.count += load

    def take(self, piece: str) -> Placed:
        """Pick a stack up again."""
        one = self.placed.pop(piece)
        for paper in self.papers:
            paper.count -= paper.load(one.pose, one.corner[0])
        return one

    def scarce(self, rank: int) -> list[str]:
        """The stacks on a page that holds little; `rank` 0 is the page that holds least, and so on, round and round."""
        loads = [
            (int(paper.count[row, column]), number, int(row), int(column))
            for number, paper in enumerate(self.papers)
            for row, column in np.argwhere(paper.count > 0)
        ]
        loads.sort()
        _, number, row, column = loads[rank % len(loads)]
        paper = self.papers[number]
        return [name for name, one in self.placed.items() if paper.load(one.pose, one.corner[0])[row, column]]

    @property
    def evenness(self) -> int:
        """Low where some pages are full and others nearly empty: the nearly empty are the next to go."""
        return -sum(int((paper.count**2).sum()) for paper in self.papers)

    def nearest(self, pieces: Sequence[str]) -> list[str]:
        """The other stacks, those whose middles lie nearest to the first of `pieces` first."""
        x, y = self.placed[pieces[0]].middle

        def distance(piece: str) -> float:
            return float(np.hypot(self.placed[piece].middle[0] - x, self.placed[piece].middle[1] - y))

        return sorted((piece for piece in self.placed if piece not in pieces), key=distance)

    def best(self, poses: Iterable[Pose], taste: Taste) -> tuple[Pose, float, float] | None:
        """The best place for one stack, or None where it is wider than the sheet in every turn.

        Best is: few pages opened, then near the top, then near the left.
        """
        chosen: tuple[float, Pose, float, float] | None = None
        fitting = [pose for pose in poses if pose.width_mm <= self.width_mm + 1e-6]
        if not fitting:
            return None
        tallest, below = max(pose.height_mm for pose in fitting), self.height_mm
        if self.unbroken is not None:
            cut = [self.unbroken.pages(pose.width_mm, pose.height_mm) for pose in fitting]
            fitting = [pose for pose, pages in zip(fitting, cut, strict=True) if pages == min(cut)]
            below = self.unbroken.next_top(self.height_mm, tallest)
        rows = int(np.ceil((below + tallest) / CELL_MM)) + 2
        taken = 0
        for one in self.placed.values():
            taken |= one.bits
        grid = Grid(self.columns, rows, taken)
        for pose in fitting:
            at = np.concatenate([self._by_cells(grid, pose), self._by_boxes(pose)])
            base = at[:, 1] + 0.02 * (at[:, 0] + pose.width_mm) + pose.dear_mm
            if taste.lower_end:
                base += pose.height_mm
            order = np.argsort(base, kind="stable")
            for some in (order[:_FIRST_PLACES], order[_FIRST_PLACES:]):
                # opening pages only adds to the cost, so what costs more than the best without them is not looked at
                if chosen is not None:
                    some = some[base[some] < chosen[0] - 1e-6]
                if not len(some):
                    continue
                cost = base[some] + taste.page_mm * self._opened(pose, at[some])
                index = int(cost.argmin())
                if chosen is None or cost[index] < chosen[0] - 1e-6:
                    chosen = (float(cost[index]), pose, float(at[some[index], 0]), float(at[some[index], 1]))
        assert chosen is not None, "there is always room below all others"
        return chosen[1:]

    def _opened(self, pose: Pose, at: Array) -> npt.NDArray[np.int64]:
        total = np.zeros(len(at), dtype=np.int64)
        for paper in self.papers:
            total += paper.opened(pose, at)
        return total

    def _by_cells(self, grid: Grid, pose: Pose) -> Array:
        """Places where the pose can move neither up nor to one side, uppermost first."""
        allowed = self.unbroken.cells(pose.width_mm, pose.height_mm, grid) if self.unbroken is not None else None
        at: Array = grid.corners(pose.cells, _MOST_PLACES, allowed).astype(np.float64) * CELL_MM
        return at[at[:, 0] <= self.width_mm - pose.width_mm + 1e-6]

    def _by_boxes(self, pose: Pose) -> Array:
        """Places flush with bounding boxes or joints whose own box is free: exact, where cells round."""
        boxes = np.array(
            [
                (one.left_mm, one.top_mm, one.left_mm + one.pose.width_mm, one.top_mm + one.pose.height_mm)
                for one in self.placed.values()
            ]
        ).reshape(-1, 4)
        joints_x = [n * paper.tile.step_x_mm for paper in self.papers for n in range(paper.last_column + 1)]
        joints_y = [n * paper.tile.step_y_mm for paper in self.papers for n in range(len(paper.count) + 1)]
        flush_right = [*joints_x[1:], self.width_mm, *boxes[:, 0]]
        xs = np.unique(np.round([*joints_x, *boxes[:, 2], *(x - pose.width_mm for x in flush_right)], 3))
        ys = np.unique(np.round([*joints_y, *boxes[:, 3]], 3))
        xs = xs[(xs >= 0) & (xs <= self.width_mm - pose.width_mm + 1e-6)]
        ys = ys[ys >= 0]
        beside = (xs[:, None] < boxes[:, 2] - 1e-6) & (xs[:, None] + pose.width_mm > boxes[:, 0] + 1e-6)
        level = (ys[:, None] < boxes[:, 3] - 1e-6) & (ys[:, None] + pose.height_mm > boxes[:, 1] + 1e-6)
        # a place lies on as many boxes as are met both across and down
        free = level.astype(np.float32) @ beside.astype(np.float32).T == 0
        if self.unbroken is not None:
            across, down = self.unbroken.least(pose.width_mm, pose.height_mm, xs, ys)
            free &= down[:, None] & across
        row, column = np.nonzero(free)
        return np.stack([xs[column], ys[row]], axis=1)[:_MOST_PLACES]

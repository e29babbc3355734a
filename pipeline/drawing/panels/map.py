"""The map: all pages of a file on the sheet, with the pieces as small outlines."""

from collections.abc import Sequence
from typing import NamedTuple

import msgspec
import numpy as np
import numpy.typing as npt
import shapely

from pipeline.drawing import scene
from pipeline.drawing.fonts import CAP_HEIGHT, text_width_mm
from pipeline.drawing.lay_names import laid_names
from pipeline.drawing.panels.squares import FINEST_MM
from pipeline.drawing.scene import Run, Shape, Text
from pipeline.drawing.styles import BLACK, LEAST_TEXT_MM, LineStyle
from pipeline.drawing.text_lines import fitted
from pipeline.drawing.wording import size_range
from pipeline.geometry.points import Affine, Point
from pipeline.model.pattern import Pattern
from pipeline.model.pieces import Cuts, Polyline
from pipeline.sheets.layout import Layout, Page, PagePlan, Window, nest_affine

_OUTLINE = "#5a5a5a"
_PIECE_FILL = "#ececec"
_THIS_PAGE, _THIS_PAGE_IN_GREY = "#bdd7ee", "#c8c8c8"
_FINE_MM = 0.1
"""How far outlines may lie beside the cut line, on the sheet: a thirtieth of that on the map."""
_GRID_MM, _FRAME_MM = 0.13, 0.7
_NUMBER_SIZES_MM = (3.4, 2.8, 2.5, 2.25)
"""The least has digits 1.6 mm tall."""
_SMALL_SIZES_MM = (2.12,)
_LABEL_MM = 3.6
_AT_ONCE = 128
"""How many places of a number are tried together: most often the first few have room."""
_LATTICE_MM = 0.7
_ROOM = 0.25
"""Around labels and numbers, in text sizes."""
_REACH_MM = 0.5
"""A page that a piece reaches no farther into is not one of its pages."""


class MapPiece(msgspec.Struct, frozen=True):
    """A piece on the sheet: its short name, as "7" or, of a drawn strip, "S1", and one outline, in mm of the sheet."""

    name: str
    outline: Polyline


def map_pieces(pattern: Pattern, layout: Layout, cut: Cuts) -> tuple[MapPiece, ...]:
    """Every placed piece's outline in its last size, of no more points than a map shows. `cut` is by piece and size."""
    found = []
    names = laid_names(pattern, pattern.languages[0])
    for placement in layout.placements:
        largest = list(cut[placement.piece].values())[-1]
        affine = Affine(e=placement.x_mm, f=placement.y_mm).after(
            nest_affine(largest.drawn.anchor, placement.quarter_turns)
        )
        line = shapely.LinearRing(largest.cut_drawn).simplify(_FINE_MM)
        outline = tuple(affine.point(Point(*place)) for place in line.coords[:-1])
        name = names.get(placement.piece) or names[f"strips.{placement.piece}"]
        found.append(MapPiece(name.short, outline))
    return tuple(found)


def page_map(
    pattern: Pattern,
    plan: PagePlan,
    pieces: Sequence[MapPiece],
    left: float,
    top: float,
    width_mm: float,
    height_mm: float,
    here: Page | None = None,
) -> list[Shape]:
    """The map inside a rectangle, as large as fits, centred: pages as they lie on the table.

    Blank places are crossed out; page `here` is tinted and framed where there are several.
    """
    cells = _cells(plan)
    to_map = _to_map(plan, left, top, width_mm, height_mm)
    drawn: list[Shape] = []
    framed = here if here is not None and len(plan.pages) > 1 else None
    tint = _THIS_PAGE_IN_GREY if pattern.print.black else _THIS_PAGE
    if framed is not None and framed.window is not None:
        drawn.append(scene.polygon(_corners(framed.window, to_map), tint))
    for piece in pieces:
        run = Run(tuple(to_map.point(place) for place in piece.outline), closed=True)
        drawn.append(scene.path([run], LineStyle(_OUTLINE, FINEST_MM), _PIECE_FILL))
    crosses = []
    frames: list[_Box] = []
    taken: list[_Box] = []
    beside: list[_Box] = []
    for window, page in cells:
        corners = _corners(window, to_map)
        frames.append(_Box(*corners[0], *corners[2]))
        width = _FRAME_MM if page is not None and page is framed else _GRID_MM
        drawn.append(scene.polyline(corners, BLACK, width, closed=True))
        if page is None:
            crosses += [(corners[0], corners[2]), (corners[1], corners[3])]
        else:
            texts = _cell_texts(pattern, plan, page, corners)
            drawn += [text.shape for text in texts]
            taken += [text.room for text in texts]
            beside.append(frames[-1]._replace(top=texts[0].room.top, bottom=texts[0].room.bottom))
    if crosses:
        drawn.append(scene.strokes(crosses, _OUTLINE, FINEST_MM))
    room = _Room(np.array(frames).T, np.array(taken).reshape(-1, 4).T, np.array(beside).reshape(-1, 4).T)
    for piece in pieces:
        outline = shapely.Polygon([to_map.point(place) for place in piece.outline]).buffer(0)
        centre, size = _number_place(outline, piece.name, room)
        place = Point(centre.x, centre.y + CAP_HEIGHT * size / 2)
        drawn.append(scene.text(place, piece.name, size, anchor="middle", fill=BLACK))
    return drawn


def map_extent(plan: PagePlan) -> tuple[float, float]:
    """Width and height in mm of the whole grid of pages."""
    cells = _cells(plan)
    first, last = cells[0][0], cells[-1][0]
    return last.left_mm + last.width_mm - first.left_mm, last.top_mm + last.height_mm - first.top_mm


def cell_mm(plan: PagePlan, width_mm: float, height_mm: float) -> float:
    """The shorter side of a page on the map that fills a rectangle."""
    window = _cells(plan)[0][0]
    return _scale(plan, width_mm, height_mm) * min(window.width_mm, window.height_mm)


def _scale(plan: PagePlan, width_mm: float, height_mm: float) -> float:
    """Millimetres of the map to one of the sheet, where the map may take a rectangle."""
    wide, high = map_extent(plan)
    return min(width_mm / wide, height_mm / high)


def pages_of_piece(plan: PagePlan, piece: MapPiece) -> tuple[int, ...]:
    """The numbers of the pages on which a piece lies in its largest size."""
    shape = shapely.Polygon(piece.outline).buffer(0)
    shapely.prepare(shape)
    found = []
    for page in plan.pages:
        if (at := page.window) is not None:
            left, top, right, bottom = at.left_mm, at.top_mm, at.left_mm + at.width_mm, at.top_mm + at.height_mm
            box = shapely.box(left + _REACH_MM, top + _REACH_MM, right - _REACH_MM, bottom - _REACH_MM)
            if shape.intersects(box):
                found.append(page.number)
    return tuple(found)


def _to_map(plan: PagePlan, left: float, top: float, width_mm: float, height_mm: float) -> Affine:
    wide, high = map_extent(plan)
    corner = _cells(plan)[0][0]
    scale = _scale(plan, width_mm, height_mm)
    x, y = left + (width_mm - wide * scale) / 2, top + (height_mm - high * scale) / 2
    return Affine(scale, 0, 0, scale, x - corner.left_mm * scale, y - corner.top_mm * scale)


class _Box(NamedTuple):
    left: float
    top: float
    right: float
    bottom: float


class _Room(NamedTuple):
    """What numbers keep off, left, top, right and bottom of each: frames of pages may be around a number, what is
    `taken` may not; off what is `labelled` they keep where they can. All is upright, so that no geometry is needed."""

    frames: npt.NDArray[np.float64]
    taken: npt.NDArray[np.float64]
    labelled: npt.NDArray[np.float64]

    def is_blocked(self, boxes: npt.NDArray[np.float64]) -> npt.NDArray[np.bool_]:
        """Which of some boxes, their sides in columns, cross a frame or lie on what is taken."""
        left, top, right, bottom = (side[:, None] for side in boxes)
        around = (self.frames[0] < left) & (right < self.frames[2]) & (self.frames[1] < top) & (bottom < self.frames[3])
        return np.any(np.hstack((_meet(boxes, self.frames) & ~around, _meet(boxes, self.taken))), axis=1)

    def is_labelled(self, boxes: npt.NDArray[np.float64]) -> npt.NDArray[np.bool_]:
        """Which of some boxes lie on what is labelled."""
        return np.any(_meet(boxes, self.labelled), axis=1)


def _meet(boxes: npt.NDArray[np.float64], others: npt.NDArray[np.float64]) -> npt.NDArray[np.bool_]:
    left, top, right, bottom = (side[:, None] for side in boxes)
    return (left <= others[2]) & (others[0] <= right) & (top <= others[3]) & (others[1] <= bottom)


def _number_place(outline: shapely.Geometry, content: str, room: _Room) -> tuple[Point, float]:
    """(centre, size) of a piece's number: as large as fits the piece off lines and labels, else off them alone; smaller
    only where neither has room, and in its middle at last. Off what is `labelled` where it can be, so that it is not
    read as part of a label.
    """
    left, top, right, bottom = outline.bounds
    lattice = np.meshgrid(np.arange(left, right, _LATTICE_MM), np.arange(top, bottom, _LATTICE_MM))
    at = np.stack(lattice, axis=-1).reshape(-1, 2)
    shapely.prepare(outline)
    at = at[shapely.contains_xy(outline, at)]
    middle = outline.centroid
    at = at[np.argsort(np.hypot(at[:, 0] - middle.x, at[:, 1] - middle.y), kind="stable")]
    tried = (
        (True, _NUMBER_SIZES_MM),
        (False, _NUMBER_SIZES_MM[-1:]),
        (True, _SMALL_SIZES_MM),
        (False, _SMALL_SIZES_MM),
    )
    for inside, size in ((inside, size) for inside, sizes in tried for size in sizes):
        half = text_width_mm(content, size) / 2 + _ROOM * size, (CAP_HEIGHT / 2 + _ROOM) * size
        if (place := _nearest(at, half, outline if inside else None, room)) is not None:
            return place, size
    return Point(middle.x, middle.y), _SMALL_SIZES_MM[-1]


def _nearest(
    at: npt.NDArray[np.float64],
    half: tuple[float, float],
    outline: shapely.Geometry | None,
    room: _Room,
) -> Point | None:
    """The first of some places around which a box of half these sides is off what is blocked, and inside an outline."""
    second: Point | None = None
    wide, high = half
    for start in range(0, len(at), _AT_ONCE):
        x, y = at[start : start + _AT_ONCE].T
        boxes = np.stack((x - wide, y - high, x + wide, y + high))
        good = ~room.is_blocked(boxes)
        if outline is not None:
            good[good] = shapely.contains(outline, shapely.box(*boxes[:, good]))
        free = good & ~room.is_labelled(boxes)
        if free.any():
            return Point(float(x[free.argmax()]), float(y[free.argmax()]))
        if second is None and good.any():
            second = Point(float(x[good.argmax()]), float(y[good.argmax()]))
    return second


def _cells(plan: PagePlan) -> list[tuple[Window, Page | None]]:
    """Every place of the grid, row by row, with its page, or None where it is blank. All windows are of one size."""
    pages = {(page.row, page.column): page for page in plan.pages if page.window is not None}
    (row, column), some = next(iter(pages.items()))
    window = some.window
    assert window is not None, "pages without a window were left out"
    step_x, step_y = window.width_mm - plan.overlap_mm, window.height_mm - plan.overlap_mm
    left, top = window.left_mm - (column - 1) * step_x, window.top_mm - (row - 1) * step_y
    return [
        (
            Window(left + column * step_x, top + row * step_y, window.width_mm, window.height_mm),
            pages.get((row + 1, column + 1)),
        )
        for row in range(plan.rows)
        for column in range(plan.columns)
    ]


def _corners(window: Window, to_map: Affine) -> tuple[Point, ...]:
    left, top = window.left_mm, window.top_mm
    right, bottom = left + window.width_mm, top + window.height_mm
    return tuple(to_map.point(Point(x, y)) for x, y in ((left, top), (right, top), (right, bottom), (left, bottom)))


class _Written(NamedTuple):
    """Text and the room that it takes."""

    shape: Text
    room: _Box


def _cell_texts(pattern: Pattern, plan: PagePlan, page: Page, corners: Sequence[Point]) -> list[_Written]:
    """The page's label, and its sizes where they are not all of the file's."""
    left, right = min(corner.x for corner in corners), max(corner.x for corner in corners)
    top, bottom = min(corner.y for corner in corners), max(corner.y for corner in corners)
    size = min(_LABEL_MM, (right - left) * 0.3, (bottom - top) * 0.3)
    drawn = [_written(left + 0.6, top + 0.6 + CAP_HEIGHT * size, page.label, size, bold=True)]
    every = {name for other in plan.pages for name in other.sizes}
    if set(page.sizes) != every and right - left > 7:
        told, room = size_range(page.sizes, pattern), right - left - 1.2
        sizes, small = fitted([told], room, _NUMBER_SIZES_MM[-1], LEAST_TEXT_MM)
        if sizes == told:  # a part of them would be wrong
            drawn.append(_written(left + 0.6, bottom - 0.7, sizes, small))
    return drawn


def _written(x: float, y: float, content: str, size: float, bold: bool = False) -> _Written:
    around = _ROOM * size
    right = x + text_width_mm(content, size, bold)
    room = _Box(x - around, y - CAP_HEIGHT * size - around, right + around, y + around)
    return _Written(scene.text(Point(x, y), content, size, bold=bold), room)

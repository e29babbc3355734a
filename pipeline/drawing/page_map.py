"""The map: all pages of a file on the sheet, with the pieces as small outlines."""

from collections.abc import Mapping, Sequence

import msgspec

from pipeline.drawing import svg
from pipeline.drawing.fonts import CAP_HEIGHT
from pipeline.drawing.page_text import fitted
from pipeline.drawing.piece_words import size_range
from pipeline.drawing.styles import BLACK, HAIRLINE_MM
from pipeline.model.pattern import Pattern
from pipeline.model.pieces import CutPiece, Polyline
from pipeline.model.points import Affine, Point
from pipeline.sheets.layout import Layout, Page, PagePlan, Window, nest_affine

_OUTLINE = "#5a5a5a"
_PIECE_FILL = "#ececec"
_THIS_PAGE = "#bdd7ee"
_STEP_MM = 2.0
_NUMBER_MM = 2.4
_LEAST_NUMBER_MM = 1.6


class MapPiece(msgspec.Struct, frozen=True):
    """A piece on the sheet: its number (none for a drawn strip) and one outline, in mm of the sheet."""

    number: int | None
    outline: Polyline


def map_pieces(pattern: Pattern, layout: Layout, cut: Mapping[str, Mapping[str, CutPiece]]) -> tuple[MapPiece, ...]:
    """Every placed piece's outline in its last size, in points at least 2 mm apart. `cut` is by piece and size."""
    found = []
    for placement in layout.placements:
        largest = list(cut[placement.piece].values())[-1]
        affine = Affine(e=placement.x_mm, f=placement.y_mm).after(
            nest_affine(largest.drawn.anchor, placement.quarter_turns)
        )
        outline = [affine.point(largest.cut_drawn[0])]
        for place in largest.cut_drawn[1:]:
            moved = affine.point(place)
            if moved.distance(outline[-1]) >= _STEP_MM:
                outline.append(moved)
        spec = pattern.pieces.get(placement.piece)
        found.append(MapPiece(spec.number if spec else None, tuple(outline)))
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
) -> str:
    """The map inside a rectangle, as large as fits, centred.

    Blank places are crossed out; page `here` is tinted where there are several.
    """
    cells = _cells(plan)
    first, last = cells[0][0], cells[-1][0]
    wide = last.left_mm + last.width_mm - first.left_mm
    high = last.top_mm + last.height_mm - first.top_mm
    scale = min(width_mm / wide, height_mm / high)
    corner = Point(left + (width_mm - wide * scale) / 2, top + (height_mm - high * scale) / 2)
    to_map = Affine(scale, 0, 0, scale, corner.x - first.left_mm * scale, corner.y - first.top_mm * scale)
    drawn = []
    if here is not None and here.window is not None and len(plan.pages) > 1:
        drawn.append(svg.polygon(_corners(here.window, to_map), _THIS_PAGE))
    for piece in pieces:
        points = [to_map.point(place) for place in piece.outline]
        drawn.append(svg.path(svg.path_d(points, closed=True), _OUTLINE, HAIRLINE_MM, fill=_PIECE_FILL))
    crosses = []
    for window, page in cells:
        corners = _corners(window, to_map)
        drawn.append(svg.polyline(corners, BLACK, 0.13, closed=True))
        if page is None:
            crosses += [svg.path_d((corners[0], corners[2])), svg.path_d((corners[1], corners[3]))]
        else:
            drawn += _cell_texts(pattern, plan, page, corners)
    if crosses:
        drawn.append(svg.path(" ".join(crosses), _OUTLINE, HAIRLINE_MM))
    for piece in pieces:
        if piece.number is None:
            continue
        size = min(_NUMBER_MM, max(_LEAST_NUMBER_MM, 26 * scale))
        centre = to_map.point(_centroid(piece.outline))
        place = Point(centre.x, centre.y + CAP_HEIGHT * size / 2)
        drawn.append(svg.text(place, str(piece.number), size, anchor="middle", fill=_OUTLINE))
    return "".join(drawn)


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


def _cell_texts(pattern: Pattern, plan: PagePlan, page: Page, corners: Sequence[Point]) -> list[str]:
    """The page's label, and its sizes where they are not all of the file's."""
    wide = corners[1].x - corners[0].x
    size = min(3.0, wide * 0.3)
    place = Point(corners[0].x + 0.6, corners[0].y + 0.6 + CAP_HEIGHT * size)
    drawn = [svg.text(place, page.label, size, bold=True)]
    every = {name for other in plan.pages for name in other.sizes}
    if set(page.sizes) != every and wide > 7:
        sizes, small = fitted([size_range(page.sizes, pattern.sizes)], wide - 1.2, 1.6, 1.4)
        drawn.append(svg.text(Point(corners[3].x + 0.6, corners[3].y - 0.7), sizes, small))
    return drawn


def _centroid(outline: Polyline) -> Point:
    """Centre of area of a closed polygon."""
    area = x = y = 0.0
    for a, b in zip(outline, (*outline[1:], outline[0]), strict=True):
        cross = a.x * b.y - b.x * a.y
        area += cross
        x += (a.x + b.x) * cross
        y += (a.y + b.y) * cross
    return Point(x / (3 * area), y / (3 * area)) if area else outline[0]

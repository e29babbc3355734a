"""The pages by which a projector is set up: grids, squares of 500 mm and of 18 in with their diagonals, circles."""

import math
from collections.abc import Sequence
from typing import get_args

import msgspec

from pipeline.drawing import scene
from pipeline.drawing.fonts import CAP_HEIGHT, text_width_mm
from pipeline.drawing.panels.column import Column, fitted_column
from pipeline.drawing.piece.pieces import Ground
from pipeline.drawing.scene import Scene, Shape, recoloured
from pipeline.drawing.styles import BLACK, WHITE, Colour
from pipeline.drawing.wording import in_decimals
from pipeline.geometry.points import Point
from pipeline.model.lengths import MM_PER_INCH
from pipeline.model.pattern import Pattern
from pipeline.sheets.layout import Page, PagePlan
from pipeline.words import say

SQUARE_MM = 500.0
DIAGONAL_MM = SQUARE_MM * math.sqrt(2)
INCHES = 18
INCH_SQUARE_MM = INCHES * MM_PER_INCH
COLUMNS, ROWS = 2, 2
BORDER_MM = 40.0
PAGE_WIDTH_MM = COLUMNS * SQUARE_MM + 2 * BORDER_MM
PAGE_HEIGHT_MM = ROWS * SQUARE_MM + 2 * BORDER_MM

_FINE, _MIDDLE = "#8c8c8c", "#5a5a5a"
_TEXT_MM = 16.0
_CIRCLE_RADIUS_MM = 150.0
_PANEL_SIZES_MM = (15.0, 14.0, 13.0, 12.0, 11.0, 10.0, 9.0, 8.0, 7.0)


def calibration_plan() -> PagePlan:
    """The pages of `calibration.pdf`, one a ground, which show no sheet."""
    pages = tuple(
        Page(number=number, label=str(number), row=0, column=0, window=None, sizes=(), views=())
        for number in range(1, len(get_args(Ground)) + 1)
    )
    return PagePlan(
        format="projector",
        page_width_mm=PAGE_WIDTH_MM,
        page_height_mm=PAGE_HEIGHT_MM,
        margin_mm=BORDER_MM,
        overlap_mm=0.0,
        rows=0,
        columns=0,
        pages=pages,
    )


def calibration_pages(pattern: Pattern) -> tuple[Scene, ...]:
    """The pages of `calibration.pdf`: black on white, then white on black, as the files of the materials are.

    Raises ValueError where the texts do not fit.
    """
    page = calibration_page(pattern)
    return page, msgspec.structs.replace(page, shapes=recoloured(page.shapes, {BLACK: WHITE, WHITE: BLACK}))


def calibration_page(pattern: Pattern) -> Scene:
    """Four squares of 500 mm, one of 18 in inside each, one grid, and how to check width, height and diagonals.

    The texts stand in the squares, in every language of the pattern. Raises ValueError where they do not fit.
    """
    corners = [
        Point(BORDER_MM + column * SQUARE_MM, BORDER_MM + row * SQUARE_MM)
        for row in range(ROWS)
        for column in range(COLUMNS)
    ]
    ground = scene.rectangle(0, 0, PAGE_WIDTH_MM, PAGE_HEIGHT_MM, WHITE)
    body: list[Shape] = [ground, _grid(50, _FINE, 1.5), _grid(100, _MIDDLE, 1.5)]
    for corner in corners:
        body += _square(corner, pattern.languages[0])
    for index, corner in enumerate(corners):
        languages = pattern.languages[index :: len(corners)]
        if languages:
            body += _how_to(corner, languages)
    return scene.of(0, 0, PAGE_WIDTH_MM, PAGE_HEIGHT_MM, body)


def _grid(step_mm: int, colour: Colour, width_mm: float) -> Shape:
    right, bottom = BORDER_MM + COLUMNS * SQUARE_MM, BORDER_MM + ROWS * SQUARE_MM
    strokes = [
        (Point(BORDER_MM + at, BORDER_MM), Point(BORDER_MM + at, bottom))
        for at in range(0, int(COLUMNS * SQUARE_MM) + 1, step_mm)
    ]
    strokes += [
        (Point(BORDER_MM, BORDER_MM + at), Point(right, BORDER_MM + at))
        for at in range(0, int(ROWS * SQUARE_MM) + 1, step_mm)
    ]
    return scene.strokes(strokes, colour, width_mm)


def _square(corner: Point, language: str) -> list[Shape]:
    """Sides, diagonals and circle of one square, each measure on its own line and on no other."""
    far = Point(corner.x + SQUARE_MM, corner.y + SQUARE_MM)
    ring = (corner, Point(far.x, corner.y), far, Point(corner.x, far.y))
    middle = Point((corner.x + far.x) / 2, (corner.y + far.y) / 2)
    out = SQUARE_MM * 0.36
    diagonal = in_decimals(language, f"{DIAGONAL_MM:.1f} mm")
    half = INCH_SQUARE_MM / 2
    inner = [Point(middle.x + x * half, middle.y + y * half) for x, y in ((-1, -1), (1, -1), (1, 1), (-1, 1))]
    return [
        scene.polyline((corner, far), BLACK, 1.5),
        scene.polyline((ring[1], ring[3]), BLACK, 1.5),
        scene.circle(middle, _CIRCLE_RADIUS_MM, BLACK, 1.5),
        scene.polyline(ring, BLACK, 2.5, closed=True),
        scene.polyline(inner, BLACK, 1.5, (12.0, 6.0), closed=True),
        *_written(Point(middle.x, middle.y + half), f"{INCHES} in", 0.0),
        *_written(Point(middle.x + half, middle.y), f"{INCHES} in", -90.0),
        *_written(Point(middle.x - out, middle.y - out), diagonal, 45.0),
        *_written(Point(middle.x + out, middle.y - out), diagonal, -45.0),
        *_written(Point(middle.x, corner.y), f"{SQUARE_MM:.0f} mm", 0.0),
        *_written(Point(corner.x, middle.y), f"{SQUARE_MM:.0f} mm", -90.0),
        *_written(Point(middle.x, middle.y + _CIRCLE_RADIUS_MM), f"Ø {2 * _CIRCLE_RADIUS_MM:.0f} mm", 0.0),
    ]


def _written(place: Point, content: str, turned_deg: float) -> list[Shape]:
    """Text centred on a place, on a white ground of its own."""
    angle = math.radians(turned_deg)
    along, across = (math.cos(angle), math.sin(angle)), (-math.sin(angle), math.cos(angle))
    half, high = text_width_mm(content, _TEXT_MM) / 2 + 4, CAP_HEIGHT * _TEXT_MM / 2 + 4
    ground = [
        Point(
            place.x + a * half * along[0] + b * high * across[0], place.y + a * half * along[1] + b * high * across[1]
        )
        for a, b in ((-1, -1), (1, -1), (1, 1), (-1, 1))
    ]
    down = CAP_HEIGHT * _TEXT_MM / 2
    baseline = Point(place.x + down * across[0], place.y + down * across[1])
    return [
        scene.polygon(ground, WHITE),
        scene.text(baseline, content, _TEXT_MM, anchor="middle", turned_deg=turned_deg),
    ]


def _how_to(corner: Point, languages: Sequence[str]) -> list[Shape]:
    """How to check, in the middle of a square."""
    half = 98.0  # the grid lines at 100 mm stay whole
    left, top = corner.x + SQUARE_MM / 2 - half, corner.y + SQUARE_MM / 2 - half

    def fill(column: Column) -> None:
        for language in languages:
            column.text(say(language, "projector.how"))

    return [
        scene.rectangle(left, top, 2 * half, 2 * half, WHITE),
        *fitted_column(left + 5, top + 5, 2 * half - 10, 2 * half - 10, [fill], _PANEL_SIZES_MM),
    ]

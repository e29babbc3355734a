"""Squares and rulers that a printed page is measured by, and what a wrong measure tells."""

from typing import NamedTuple

from pipeline.drawing import scene
from pipeline.drawing.scene import Shape
from pipeline.drawing.styles import BLACK
from pipeline.drawing.wording import in_decimals
from pipeline.geometry.points import Point
from pipeline.model.lengths import MM_PER_INCH, imperial_text
from pipeline.model.pattern import Units

SQUARE_MM = 100.0
SQUARE_IN = 4
INCH_SQUARE_MM = SQUARE_IN * MM_PER_INCH
RULER_MM = 500.0
FINEST_MM = 0.09
"""The finest line, not less than 0.25 pt in the three decimals that are written."""
PRINTER_MARGIN_MM = 4.2
"""The margin inside which printers commonly fit a page: common practice."""
_CAPTION_MM = 2.8

_PAPERS_MM = {"a4": (210.0, 297.0), "letter": (8.5 * MM_PER_INCH, 11 * MM_PER_INCH)}


SIDES_MM: dict[Units, tuple[float, float]] = {
    "metric": (SQUARE_MM, INCH_SQUARE_MM),
    "imperial": (INCH_SQUARE_MM, SQUARE_MM),
}
"""The two squares, first that of the pattern's own units."""


class WrongScale(NamedTuple):
    """What the first square measures after one mistake: `word` is the mistake's key in the catalogue."""

    word: str
    measure_mm: float


def square(left: float, top: float, side_mm: float) -> Shape:
    """A square measured from line to line, in the finest line: 0.09 mm lie between its inner and outer measure."""
    corners = (
        Point(left, top),
        Point(left + side_mm, top),
        Point(left + side_mm, top + side_mm),
        Point(left, top + side_mm),
    )
    return scene.polyline(corners, BLACK, FINEST_MM, closed=True)


def side_caption(side_mm: float, language: str) -> str:
    """What a square measures, the 4 in square in both systems; of several languages, in the sign of the first."""
    if side_mm == SQUARE_MM:
        return "100 mm × 100 mm"
    return f"{SQUARE_IN} in × {SQUARE_IN} in ({in_decimals(language, f'{INCH_SQUARE_MM:.1f} mm')})"


def sides_told(language: str, units: Units) -> dict[str, str]:
    """What the two squares measure, in the order in which they stand: `first` and `second`."""
    texts = {SQUARE_MM: "100 mm", INCH_SQUARE_MM: f"{SQUARE_IN} in ({INCH_SQUARE_MM:.1f} mm)"}
    first, second = (in_decimals(language, texts[side]) for side in SIDES_MM[units])
    return {"first": first, "second": second}


def caption(left: float, top: float, side: float, content: str) -> list[Shape]:
    """What a square measures, between two arrows that do not touch its sides."""
    middle, y = left + side / 2, top + 4.0
    half = 19.0
    drawn: list[Shape] = [scene.text(Point(middle, y + 1), content, _CAPTION_MM, anchor="middle", bold=True)]
    for direction in (-1, 1):
        tip = Point(middle + direction * (side / 2 - 1.2), y)
        drawn.append(scene.line(Point(middle + direction * half, y), tip, BLACK, 0.2))
        drawn.append(
            scene.polygon((tip, Point(tip.x - direction * 2, y - 0.7), Point(tip.x - direction * 2, y + 0.7)), BLACK)
        )
    return drawn


def measure_text(measure_mm: float, units: Units) -> str:
    """What somebody measures, with a decimal point: to 0.1 mm; for inch patterns to 1/16 in, and in mm beside it."""
    metric = f"{measure_mm:.1f} mm"
    return metric if units == "metric" else f"{imperial_text(measure_mm)} ({metric})"


def wrong_scales(page_width_mm: float, page_height_mm: float, units: Units = "metric") -> tuple[WrongScale, ...]:
    """What a page comes out at when a print dialogue fits it to its own paper's printable part, or to the other paper.

    The last two are programs that take 72 points for 96, or 96 for 72, to the inch.
    """
    side = SIDES_MM[units][0]
    width, height = page_width_mm - 2 * PRINTER_MARGIN_MM, page_height_mm - 2 * PRINTER_MARGIN_MM
    found = [WrongScale("wrong.margins", side * _fit(page_width_mm, page_height_mm, width, height))]
    for paper, (width, height) in _PAPERS_MM.items():
        share = _fit(page_width_mm, page_height_mm, width, height)
        if 0.9 < share < 0.995:
            found.append(WrongScale(f"wrong.{paper}", side * share))
    return (*found, WrongScale("wrong.dots", side * 72 / 96), WrongScale("wrong.dots", side * 96 / 72))


def _fit(width: float, height: float, into_width: float, into_height: float) -> float:
    return min(into_width / width, into_height / height)


def ruler(left: float, top: float) -> list[Shape]:
    """500 mm with ticks each 5 mm above the line, and 19 1/2 in with ticks each quarter inch below it. 12 mm high."""
    middle = top + 6
    strokes = [(Point(left, middle), Point(left + RULER_MM, middle))]
    numbers = []
    for at in range(0, int(RULER_MM) + 1, 5):
        long = 3.6 if at % 50 == 0 else 2.6 if at % 10 == 0 else 1.5
        strokes.append((Point(left + at, middle), Point(left + at, middle - long)))
        if at % 50 == 0 and at:
            numbers.append(scene.text(Point(left + at - 0.6, middle - 3), f"{at // 10} cm", 2.2, anchor="end"))
    for quarter in range(int(RULER_MM / MM_PER_INCH * 4) + 1):
        x = left + quarter * MM_PER_INCH / 4
        long = 3.6 if quarter % 4 == 0 else 2.2 if quarter % 2 == 0 else 1.4
        strokes.append((Point(x, middle), Point(x, middle + long)))
        if quarter % 4 == 0 and quarter:
            numbers.append(scene.text(Point(x - 0.6, middle + 4.6), f"{quarter // 4} in", 2.2, anchor="end"))
    return [scene.strokes(strokes, BLACK, 0.13), *numbers]

"""A pattern in inches is measured in inches first: squares, what a wrong square tells, sheets for the copy shop."""

import msgspec
import pytest

from pipeline.drawing.pages.large import large_pages
from pipeline.drawing.pages.projector_panel import projector_panel
from pipeline.drawing.pages.start import square_corners, start_page
from pipeline.drawing.panels.squares import INCH_SQUARE_MM, SQUARE_MM, wrong_scales
from pipeline.drawing.scene import Scene, Shape
from pipeline.model.pattern import Material
from tests.drawing.seen import contents, paths
from tests.press import synthetic

LAYOUT = synthetic.sheet()[0]
INCHES = msgspec.structs.replace(synthetic.pattern(), units="imperial")


def sides_mm(shapes: tuple[Shape, ...]) -> list[float]:
    """Those of the upright squares among closed lines, from the top and the left on."""
    found = []
    for path in paths(shapes):
        for run in path.runs:
            xs, ys = {round(p.x, 3) for p in run.points}, {round(p.y, 3) for p in run.points}
            wide, high = max(xs) - min(xs), max(ys) - min(ys)
            if run.closed and len(xs) == len(ys) == 2 and wide > 90 and abs(wide - high) < 0.01:
                found.append((min(ys), min(xs), wide))
    return [side for *_, side in sorted(found)]


def letter(pattern) -> Scene:
    plan = synthetic.tiles(LAYOUT, 215.9, 279.4, "letter")
    return start_page(pattern, plan, synthetic.SIZES, synthetic.map_pieces(), synthetic.SIGNS)


def test_the_first_square_of_a_start_page_is_in_the_patterns_own_units() -> None:
    assert sides_mm(letter(synthetic.pattern()).shapes) == [pytest.approx(SQUARE_MM), pytest.approx(INCH_SQUARE_MM)]
    assert sides_mm(letter(INCHES).shapes) == [pytest.approx(INCH_SQUARE_MM), pytest.approx(SQUARE_MM)]
    plan = synthetic.tiles(LAYOUT, 215.9, 279.4, "letter")
    first, second = square_corners(plan, "imperial")
    assert second.y - first.y > INCH_SQUARE_MM
    assert second.y + SQUARE_MM == pytest.approx(square_corners(plan)[1].y + INCH_SQUARE_MM)


def test_a_wrong_measure_is_told_of_the_first_square() -> None:
    shares = {scale.word: scale.measure_mm / SQUARE_MM for scale in wrong_scales(215.9, 279.4)}
    inches = {scale.word: scale.measure_mm / INCH_SQUARE_MM for scale in wrong_scales(215.9, 279.4, "imperial")}
    assert inches == pytest.approx(shares)
    said = " ".join(contents(letter(INCHES).shapes))
    assert "3 7/8 in (98.8 mm): the page was fitted to A4 paper" in said
    assert "97.3 mm" not in said


def test_sheets_for_the_copy_shop_are_told_in_inches_too() -> None:
    plan = msgspec.structs.replace(synthetic.large_sheet(LAYOUT), page_width_mm=914.4, page_height_mm=1225.55)
    given = (plan, synthetic.SIZES, synthetic.map_pieces(), synthetic.SIGNS, "print/roll-36in.pdf")
    (sheet,) = large_pages(INCHES, *given).values()
    said = " ".join(contents(sheet.shapes))
    assert "1 sheet, 36 × 48 1/4 in (914 × 1226 mm)." in said
    assert sides_mm(sheet.shapes)[:2] == [pytest.approx(INCH_SQUARE_MM), pytest.approx(SQUARE_MM)]
    (sheet,) = large_pages(synthetic.pattern(), *given).values()
    assert "1 sheet, 914 × 1226 mm (36 × 48 1/4 in)." in " ".join(contents(sheet.shapes))


def test_a_projector_panel_names_its_squares_as_they_stand() -> None:
    cloth = Material(title={"en": "main cloth", "de": "Oberstoff"}, widths_mm=(1400.0,))
    pattern = msgspec.structs.replace(INCHES, materials={"shell": cloth})
    panel = projector_panel(pattern, "shell", {}, 1400.0, synthetic.SIZES)
    assert sides_mm(panel.shapes) == [pytest.approx(INCH_SQUARE_MM), pytest.approx(SQUARE_MM)]
    said = " ".join(contents(panel.shapes))
    assert "to the middle of the next: 4 in (101.6 mm) and 100 mm." in said
    assert "4 in (101,6 mm) und 100 mm." in said

"""The key of marks, on start pages and large sheets: every mark is named, and no name stands on a mark."""

import re

import msgspec
import pytest
import shapely

from pipeline.drawing.fonts import ASCENT, DESCENT, text_width_mm
from pipeline.drawing.page_column import Column
from pipeline.drawing.page_large import large_pages
from pipeline.drawing.page_marks import marks_key
from pipeline.drawing.page_squares import INCH_SQUARE_MM
from pipeline.model.lengths import MM_PER_INCH
from pipeline.words import say
from tests.press import synthetic

MARKS = ("cut", "seam", "notch", "fold", "point", "grain", "clip")
LAYOUT = synthetic.sheet()[0]
WIDTHS_MM = {"roll-24in": 24 * MM_PER_INCH, "a0": 841.0, "roll-36in": 36 * MM_PER_INCH, "roll-42in": 42 * MM_PER_INCH}
MANY = tuple(str(number) for number in range(32, 64, 2))


def names(body: str) -> list[tuple[str, float, shapely.Polygon]]:
    """(content, size, box) of unturned text that begins at its place."""
    found = re.findall(r'<text x="([\d.]+)" y="([\d.]+)"[^>]*font-size="([\d.]+)"([^>]*)>([^<]*)</text>', body)
    boxes = []
    for x, y, size, rest, content in found:
        if "anchor" not in rest and "rotate" not in rest:
            left, base, high = float(x), float(y), float(size)
            right = left + text_width_mm(content, high, "bold" in rest)
            boxes.append((content, high, shapely.box(left, base - ASCENT * high, right, base + DESCENT * high)))
    return boxes


def strokes(body: str) -> list[shapely.LineString]:
    found = []
    for data in re.findall(r'<path d="([^"]*)"', body):
        for run in data.replace("Z", "").split("M")[1:]:
            found.append(shapely.LineString([tuple(map(float, place.split(","))) for place in run.split()]))
    return found


@pytest.mark.parametrize("languages", [("en",), ("en", "de")], ids=["one", "two"])
@pytest.mark.parametrize("size_mm", [1.8, 2.4, 3.2, 5.0])
@pytest.mark.parametrize("width_mm", [70.0, 93.6, 240.0, 470.0])
def test_names_stand_beside_their_marks(width_mm: float, size_mm: float, languages: tuple[str, ...]) -> None:
    column = Column(10.0, 20.0, width_mm, size_mm)
    marks_key(column, synthetic.SIZES, languages)
    body = "".join(column.body)
    texts = names(body)
    for mark in MARKS:
        for language in languages:
            assert say(language, f"start.mark-{mark}") in " ".join(content for content, *_ in texts)
    for number, (content, _, box) in enumerate(texts):
        left, top, right, bottom = box.bounds
        assert 10.0 <= left < right <= 10.0 + width_mm + 0.001, content
        assert 19.999 <= top < bottom <= column.y + 0.3, content
        assert not any(box.intersects(stroke) for stroke in strokes(body)), content
        assert all(box.intersection(other).area < 0.35 * size_mm for *_, other in texts[:number]), content


@pytest.mark.parametrize("paper", WIDTHS_MM)
@pytest.mark.parametrize("sizes", [("36",), synthetic.SIZES, MANY], ids=["1", "4", "16"])
def test_a_large_sheet_names_every_mark_in_its_strip(paper: str, sizes: tuple[str, ...]) -> None:
    plan = msgspec.structs.replace(synthetic.large_sheet(LAYOUT), format=paper, page_width_mm=WIDTHS_MM[paper])
    pattern = msgspec.structs.replace(synthetic.pattern(), sizes=sizes)
    drawn = large_pages(pattern, plan, sizes, synthetic.map_pieces(), f"{paper}.pdf")[1]
    texts = names(drawn)
    lines = strokes(drawn)
    for mark in MARKS:
        for language in pattern.languages:
            word = say(language, f"start.mark-{mark}")
            found = [(size, box) for content, size, box in texts if word in content]
            assert found, word
            for size, box in found:
                assert size >= 1.8, word
                assert box.bounds[3] <= plan.margin_mm + INCH_SQUARE_MM + 1, word
                assert not any(box.intersects(line) for line in lines), word

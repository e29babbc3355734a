"""The key of marks, on start pages and large sheets: every mark is named, and no name stands on a mark."""

from collections.abc import Sequence

import msgspec
import pytest
import shapely

from pipeline.drawing.fonts import ASCENT, DESCENT, text_width_mm
from pipeline.drawing.pages.large import large_pages
from pipeline.drawing.panels.column import Column
from pipeline.drawing.panels.marks_key import ALL_SIGNS, marks_key
from pipeline.drawing.panels.squares import INCH_SQUARE_MM
from pipeline.drawing.scene import Shape
from pipeline.model.lengths import MM_PER_INCH
from pipeline.words import say
from tests.drawing.seen import line_of, paths, written
from tests.press import synthetic

LAYOUT = synthetic.sheet()[0]
WIDTHS_MM = {"roll-24in": 24 * MM_PER_INCH, "a0": 841.0, "roll-36in": 36 * MM_PER_INCH, "roll-42in": 42 * MM_PER_INCH}
MANY = tuple(str(number) for number in range(32, 64, 2))


def names(shapes: Sequence[Shape]) -> list[tuple[str, float, shapely.Polygon]]:
    """(content, size, box) of unturned text that begins at its place."""
    boxes = []
    for text in written(shapes):
        if text.anchor == "start" and not text.turned_deg:
            (left, base), high = text.place, text.size_mm
            right = left + text_width_mm(text.content, high, text.bold)
            boxes.append((text.content, high, shapely.box(left, base - ASCENT * high, right, base + DESCENT * high)))
    return boxes


def strokes(shapes: Sequence[Shape]) -> list[shapely.LineString]:
    return [line_of(run) for path in paths(shapes) for run in path.runs]


@pytest.mark.parametrize("languages", [("en",), ("en", "de")], ids=["one", "two"])
@pytest.mark.parametrize("size_mm", [1.8, 2.4, 3.2, 5.0])
@pytest.mark.parametrize("width_mm", [70.0, 93.6, 240.0, 470.0])
def test_names_stand_beside_their_marks(width_mm: float, size_mm: float, languages: tuple[str, ...]) -> None:
    column = Column(10.0, 20.0, width_mm, size_mm)
    marks_key(column, synthetic.SIZES, languages, ALL_SIGNS)
    texts, lines = names(column.body), strokes(column.body)
    for sign in ALL_SIGNS:
        for language in languages:
            assert say(language, f"start.sign-{sign}") in " ".join(content for content, *_ in texts)
    for number, (content, _, box) in enumerate(texts):
        left, top, right, bottom = box.bounds
        assert 10.0 <= left < right <= 10.0 + width_mm + 0.01, content
        assert 19.999 <= top < bottom <= column.y + 0.3, content
        assert not any(box.intersects(stroke) for stroke in lines), content
        assert all(box.intersection(other).area < 0.35 * size_mm for *_, other in texts[:number]), content


@pytest.mark.parametrize("paper", WIDTHS_MM)
@pytest.mark.parametrize("sizes", [("36",), synthetic.SIZES, MANY], ids=["1", "4", "16"])
def test_a_large_sheet_names_every_mark_in_its_strip(paper: str, sizes: tuple[str, ...]) -> None:
    plan = msgspec.structs.replace(synthetic.large_sheet(LAYOUT), format=paper, page_width_mm=WIDTHS_MM[paper])
    pattern = msgspec.structs.replace(synthetic.pattern(), sizes=sizes)
    drawn = large_pages(pattern, plan, sizes, synthetic.map_pieces(), ALL_SIGNS, f"{paper}.pdf")[1]
    texts, lines = names(drawn.shapes), strokes(drawn.shapes)
    for sign in ALL_SIGNS:
        for language in pattern.languages:
            word = say(language, f"start.sign-{sign}")
            found = [(size, box) for content, size, box in texts if word in content]
            assert found, word
            for size, box in found:
                assert size >= 1.8, word
                assert box.bounds[3] <= plan.margin_mm + INCH_SQUARE_MM + 1, word
                assert not any(box.intersects(line) for line in lines), word

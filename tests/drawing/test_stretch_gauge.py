"""The gauge for a knit: as long as it says, and on the start page only where a cloth says that it stretches."""

import msgspec
import pytest

from pipeline.drawing.panels.column import Column
from pipeline.drawing.panels.stretch_gauge import gauge, stretch_gauges
from pipeline.drawing.scene import Path, Text
from pipeline.model.pattern import Material
from tests.checks.apron import pattern

JERSEY = Material(title={"en": "jersey"}, widths_mm=(1500.0,), stretch_width=0.5, recovery=0.9)


def column_of(material: Material, width_mm: float) -> Column:
    column = Column(0.0, 0.0, width_mm, 2.4)
    made = msgspec.structs.replace(pattern(), languages=("en",), units="metric", materials={"shell": material})
    stretch_gauges(column, made, ("en",))
    return column


def reach_mm(column: Column) -> tuple[float, float]:
    """Where the second bar stands, and how far the arrow reaches."""
    paths = [shape for shape in column.body if isinstance(shape, Path)]
    bars, head = paths[0].runs, paths[1].runs[0]
    return bars[1].points[0].x, max(point.x for point in head.points)


@pytest.mark.parametrize(("share", "held_mm"), [(0.1, 100.0), (0.5, 25.0), (2.0, 40.0)])
def test_the_arrow_lies_by_the_share_beyond_the_second_bar(share, held_mm):
    bars, head = gauge(10.0, 20.0, held_mm, share)
    assert [run.points[0].x for run in bars.runs[:2]] == pytest.approx([10.0, 10.0 + held_mm])
    assert max(point.x for point in head.runs[0].points) == pytest.approx(10.0 + held_mm * (1 + share))


@pytest.mark.parametrize(("width_mm", "held_mm"), [(180.0, 100.0), (101.6, 60.0), (40.0, 25.0)])
def test_as_much_is_held_as_the_place_allows_and_the_text_says_how_much(width_mm, held_mm):
    column = column_of(JERSEY, width_mm)
    assert reach_mm(column) == pytest.approx((held_mm, 1.5 * held_mm))
    words = " ".join(shape.content for shape in column.body if isinstance(shape, Text))
    assert f"hold {held_mm / 10:g} cm" in words
    assert "(50 %)" in words
    assert f"go back to {1.05 * held_mm / 10:.1f}".removesuffix(".0") in words


def test_a_length_is_told_alike_wherever_it_is_told():
    """80.4 mm are 8 cm, and 3 1/8 in as the 8 cm that are held are; they were 3 3/16 in beside them."""
    rib = msgspec.structs.replace(JERSEY, stretch_width=0.1, recovery=0.95)
    words = " ".join(shape.content for shape in column_of(rib, 90.0).body if isinstance(shape, Text))
    assert "hold 8 cm (3 1/8 in)" in words
    assert "go back to 8 cm (3 1/8 in) or less" in words


def test_a_woven_cloth_has_no_gauge():
    woven = msgspec.structs.replace(JERSEY, stretch_width=None)
    assert column_of(woven, 180.0).body == []


def test_cloths_that_give_alike_have_one_gauge():
    column = Column(0.0, 0.0, 180.0, 2.4)
    rib = msgspec.structs.replace(JERSEY, title={"en": "rib"})
    other = msgspec.structs.replace(JERSEY, title={"en": "mesh"}, stretch_width=0.8)
    materials = {"shell": JERSEY, "rib": rib, "mesh": other}
    stretch_gauges(column, msgspec.structs.replace(pattern(), units="metric", materials=materials), ("en",))
    heads = [shape.content for shape in column.body if isinstance(shape, Text) and shape.bold]
    assert heads == ["Does your jersey, rib stretch enough?", "Does your mesh stretch enough?"]

"""The picture of how pages are joined: two pages whose ticks meet, and six in the order in which they are joined."""

from itertools import combinations

import pytest
import shapely

from pipeline.drawing.pages.join_picture import join_picture
from pipeline.drawing.styles import WHITE
from tests.drawing.seen import line_of, paths, written

DRAWN = join_picture(0.0, 0.0, 90.0)
SHEETS = [
    shapely.Polygon(path.runs[0].points)
    for path in paths(DRAWN)
    if path.fill == WHITE and len(path.runs[0].points) == 4
]


def _sides(sheet: shapely.Geometry) -> tuple[float, float]:
    left, top, right, bottom = sheet.bounds
    return round(right - left, 3), round(bottom - top, 3)


def test_pages_are_upright_and_none_lies_on_another() -> None:
    assert [_sides(sheet) for sheet in SHEETS] == [(15.0, 21.0)] * 2 + [(9.0, 10.5)] * 6
    assert max(one.intersection(other).area for one, other in combinations(SHEETS, 2)) == pytest.approx(0, abs=1e-6)


def test_each_page_has_its_own_label() -> None:
    labels = [text for text in written(DRAWN) if text.content[0].isdigit() and text.content[-1].isalpha()]
    assert [text.content for text in labels] == ["2A", "3A", "2A", "3A", "4A", "5B", "6B", "7B"]
    for sheet, text in zip(SHEETS, labels, strict=True):
        assert sheet.contains(shapely.Point(text.place)), text.content


def test_ticks_of_both_pages_meet_where_the_margin_is_cut_off() -> None:
    """Three strokes a page, at the same heights; of the right page beside the line at which it is cut."""
    lines = [line_of(run) for path in paths(DRAWN) for run in path.runs if len(run.points) == 2]
    ticks = [line for line in lines if line.length == pytest.approx(2.2) and line.coords[0][1] == line.coords[1][1]]
    middles = {(round(line.centroid.x, 2), round(line.centroid.y, 2)) for line in ticks}
    (one, other) = sorted({x for x, _ in middles})
    assert {y for x, y in middles if x == one} == {y for x, y in middles if x == other}
    assert len(middles) == 6
    first, second = SHEETS[:2]
    assert first.bounds[2] - one == pytest.approx(2.0)
    assert other - second.bounds[0] == pytest.approx(2.0)

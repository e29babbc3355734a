"""Heads of the columns of cloth: apart from each other, large enough to read, with whole words."""

import itertools

import pytest

from pipeline.drawing.fonts import text_width_mm
from pipeline.tables.cloth_heads import GAP_MM, heads

SIX_POINTS_MM = 6 / 72 * 25.4
ROOM_MM = 172.0
MATERIALS = ("aufbügelbare Gewirkeeinlage", "Buttons", "feiner Netzjersey für die Taschenbeutel", "contrast jersey")


def columns(count):
    widths = ("150 cm (59 1/4 in) wide", "45 in (115 cm) wide")
    return [(MATERIALS[n % 4], widths[n % 2], "one way, with its repeat" if n % 3 else "") for n in range(count)]


@pytest.mark.parametrize("count", range(1, 9))
def test_heads_stand_apart_in_whole_words_of_six_points(count):
    told = columns(count)
    made = heads(told, ROOM_MM)
    assert made.right_mm <= ROOM_MM + 0.01
    assert min(text.size_mm for text in made.texts) >= SIX_POINTS_MM
    words = sorted(word for text in made.texts for word in text.content.split())
    assert words == sorted(word for column in told for text in column for word in text.split())
    for own in zip(made.middles_mm, made.widths_mm, strict=True):
        wide = [
            text_width_mm(t.content, t.size_mm, t.bold)
            for t in made.texts
            if t.place.x == pytest.approx(own[0], abs=0.01)
        ]
        assert max(wide) <= own[1] - GAP_MM + 0.01


@pytest.mark.parametrize("count", range(1, 9))
def test_lines_of_a_head_stand_under_each_other_within_its_height(count):
    made = heads(columns(count), ROOM_MM)
    for middle in made.middles_mm:
        lines = sorted(
            (text.place.y, text.size_mm) for text in made.texts if text.place.x == pytest.approx(middle, abs=0.01)
        )
        assert all(after - y >= size for (y, size), (after, _) in itertools.pairwise(lines))
        assert lines[-1][0] < made.height_mm
        assert lines[0][0] > 0


def test_a_long_word_has_a_wider_column_than_short_ones():
    told = [("x", "1 m", ""), ("Unterbrustbandgummieinlage", "1 m", ""), *[("x", "1 m", "")] * 6]
    short, long, *_ = heads(told, ROOM_MM).widths_mm
    assert long > short
    assert len(set(heads(columns(3), ROOM_MM).widths_mm)) == 1

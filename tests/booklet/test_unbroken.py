"""A length is never parted over the end of a line: "12" and "mm" apart are a count and a riddle."""

import pytest

from pipeline.booklet.nodes import cell, plain
from pipeline.booklet.unbroken import NO_BREAK, unbroken, unbroken_lines
from pipeline.drawing.fonts import text_width_mm


@pytest.mark.parametrize(
    ("text", "kept"),
    [
        ("Buttons, 20 mm, for the cuffs", "Buttons, 20~mm, for the cuffs"),
        ("1,5 cm (5/8 in) breit", "1,5~cm (5/8~in) breit"),
        ("3.5 cm (1 3/8 in)", "3.5~cm (1~3/8~in)"),
        ("2.10 m or 2 1/4 yd", "2.10~m or 2~1/4~yd"),
        ("shrinks by 3 %", "shrinks by 3~%"),
        ("Size 34 mmm, 3 metres, 4 x", "Size 34 mmm, 3 metres, 4 x"),
        ("pages 3 4 5", "pages 3 4 5"),
    ],
)
def test_what_a_line_keeps_together(text: str, kept: str) -> None:
    assert unbroken(text).replace(NO_BREAK, "~") == kept


def test_every_text_of_a_booklet_is_so_kept() -> None:
    assert [run.text for run in plain("20 mm wide")] == [f"20{NO_BREAK}mm wide"]
    assert [run.text for run in cell("20 mm\n3/4 in").runs] == [f"20{NO_BREAK}mm", f"3/4{NO_BREAK}in"]


@pytest.mark.parametrize(
    ("content", "widest", "told"),
    [
        ("finished 8 mm wide", "finished 8 mm", ["finished 8 mm", "wide"]),
        ("finished 8 mm wide", "finished 8", ["finished", "8 mm", "wide"]),
        ("cut 10 1/4 in", "10 1/4", ["cut", "10 1/4", "in"]),  # for which there is no room
    ],
)
def test_a_figure_parts_a_length_only_where_no_line_holds_it(content: str, widest: str, told: list[str]) -> None:
    assert unbroken_lines(content, 3.0, text_width_mm(widest, 3.0) + 0.01) == told

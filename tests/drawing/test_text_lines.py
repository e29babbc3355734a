"""Where lines of text may break."""

import pytest

from pipeline.drawing.fonts import text_width_mm
from pipeline.drawing.text_lines import wrapped


def lines(content: str, widest: str, size_mm: float = 3.0) -> list[str]:
    """In lines as wide as `widest`."""
    return wrapped(content, size_mm, text_width_mm(widest, size_mm) + 0.01)


def test_lines_break_at_spaces_and_are_no_wider_than_they_may_be():
    assert lines("cut along this line", "cut along") == ["cut along", "this line"]


def test_a_word_that_is_too_long_is_broken():
    assert lines("Schnittlinie", "Schnitt") == ["Schnitt", "linie"]


@pytest.mark.parametrize(
    ("content", "widest", "told"),
    [
        ("cut 3.2 cm (1 1/4 in) wide", "cut 3.2 cm (1", ["cut 3.2 cm", "(1 1/4 in)", "wide"]),
        ("10 15/16 in", "10 15/", ["10", "15/16", "in"]),  # for which there is no room
        ("in 2 sizes 1/4 in", "in 2 sizes", ["in 2 sizes", "1/4 in"]),
        ("pages 3 4/5", "pages 3", ["pages", "3 4/5"]),
    ],
)
def test_a_whole_number_and_its_fraction_stand_on_one_line(content, widest, told):
    assert lines(content, widest) == told

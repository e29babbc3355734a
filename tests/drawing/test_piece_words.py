"""How the allowances of a piece are told, in each language's own decimals."""

import msgspec
import pytest

from pipeline.drawing.length_words import length_words
from pipeline.drawing.piece_words import NO_BREAK, allowance_sentences
from tests.drawing.stack_factory import collar, pattern_of

PATTERN = pattern_of("front", "collar")


@pytest.mark.parametrize(
    ("language", "units", "expected"),
    [
        ("en", "metric", "1.5 cm (9/16 in)"),
        ("de", "metric", "1,5 cm (9/16 in)"),
        ("de", "imperial", "9/16 in (1,5 cm)"),
    ],
)
def test_lengths_have_the_languages_decimal_sign(language, units, expected):
    assert length_words(language, 15.0, units) == expected


@pytest.mark.parametrize(
    ("trim_mm", "past_seam_mm", "english", "german"),
    [
        (
            8.0,
            None,
            "Cut 8 mm (5/16 in) inside the cut line of piece 1",
            "8 mm (5/16 in) innerhalb der Schnittkante von Teil 1 zuschneiden",
        ),
        (
            None,
            2.5,
            "Cut 2.5 mm (1/8 in) outside the seam line of piece 1",
            "2,5 mm (1/8 in) außerhalb der Nahtlinie von Teil 1 zuschneiden",
        ),
        (
            None,
            -3.0,
            "Cut 3 mm (1/8 in) inside the seam line of piece 1",
            "3 mm (1/8 in) innerhalb der Nahtlinie von Teil 1 zuschneiden",
        ),
        (None, 0.0, "Cut along the seam line of piece 1", "Auf der Nahtlinie von Teil 1 zuschneiden"),
    ],
)
def test_a_derived_piece_tells_how_it_is_cut_from_its_source(trim_mm, past_seam_mm, english, german):
    spec = msgspec.structs.replace(PATTERN.pieces["collar"], source="front", trim_mm=trim_mm, past_seam_mm=past_seam_mm)
    pattern = msgspec.structs.replace(PATTERN, pieces={**PATTERN.pieces, "collar": spec})
    told = [sentence.replace(NO_BREAK, " ") for sentence in allowance_sentences(pattern, collar("34", 0))]
    assert told == [english, german]


def test_a_piece_of_its_own_tells_its_allowances():
    assert "Included: seam allowance" in allowance_sentences(PATTERN, collar("34", 0))[0]

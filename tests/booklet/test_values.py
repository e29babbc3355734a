"""What references come to, held against values that are calculated by hand or told by the drawing."""

import pytest

from pipeline.booklet.references import parse_reference
from pipeline.booklet.unbroken import NO_BREAK
from pipeline.booklet.values import value_text
from pipeline.model.lengths import imperial_text, metric_text
from pipeline.model.pattern import BodyMeasure
from tests.booklet.sample import finished, model
from tests.checks import apron

WAIST = BodyMeasure(name="waist", title={"en": "Waist", "de": "Taille"}, sizes_mm={"S": 1040.0, "M": 1085.0})


def text(written: str, language: str = "en", **said: object) -> str:
    """With blanks of any kind as blanks."""
    return value_text(model(language, **said), parse_reference(written)).replace(NO_BREAK, " ")


def test_a_sum_of_lengths_is_told_in_both_systems():
    assert text("2 x 3 cm + 5 mm") == "6.5 cm (2 9/16 in)"
    assert text("2 x 3 cm + 5 mm", "de") == "6,5 cm (2 9/16 in)"
    assert text("2 x 3 cm + 5 mm", units="imperial") == "2 9/16 in (6.5 cm)"


def test_an_edge_is_told_once_where_all_sizes_agree_and_by_size_where_they_do_not():
    for edge in apron.cuts()["skirt"]["S"].edges:
        lengths = {size: apron.cuts()["skirt"][size].edge(edge.name).length_mm for size in apron.SIZES}
        told = {size: f"{metric_text(mm)} ({imperial_text(mm)})" for size, mm in lengths.items()}
        expected = told["S"] if told["S"] == told["M"] else f"Size S: {told['S']} · Size M: {told['M']}"
        assert text(f"skirt.{edge.name}") == expected


def test_a_part_of_an_edge_is_told_as_far_as_it_reaches():
    places = {
        size: [n.at_mm for n in cut.drawn.notches if n.name == "mid-waist"]
        for size, cut in apron.cuts()["skirt"].items()
    }
    first = apron.cuts()["skirt"]["S"].edges[-1].name
    told = [f"Size {size}: {metric_text(at)} ({imperial_text(at)})" for size, (at, *_) in places.items()]
    assert text(f"skirt.waist[{first}..mid-waist]") in (" · ".join(told), told[0].removeprefix("Size S: "))


def test_a_body_measure_is_told_in_cm_and_never_in_m():
    assert text("body.waist", body={"waist": WAIST}) == "Size S: 104 cm (41 in) · Size M: 108.5 cm (42 3/4 in)"


def test_sizes_are_told_as_the_language_sets_its_colon():
    told = value_text(model("fr", body={"waist": WAIST}), parse_reference("body.waist"))
    assert told.startswith(f"Taille{NO_BREAK}S{NO_BREAK}: 104")


def test_a_finished_measure_is_rounded_as_the_size_table_is():
    measure = finished("waist", "2 x skirt.waist")
    whole = text("2 x skirt.waist", finished={"waist": measure})
    mm = 2 * apron.cuts()["skirt"]["S"].edge("waist").length_mm
    assert f"Size S: {round(mm / 5) * 5 / 10:g} cm ({imperial_text(mm, 8)})" in whole


@pytest.mark.parametrize(
    ("written", "told"),
    [
        ("piece skirt", "Skirt (1)"),
        ("seam waist", "Skirt (1) – Band (2)"),
        ("strip tie", "Tie (S1)"),
        ("notion button", "Buttons"),
        ("material shell", "main cloth"),
        ("term eased", "eased in"),
        ("allowance skirt.hem", "4 cm (1 9/16 in)"),
        ("allowance band.lower", "1 cm (3/8 in)"),
    ],
)
def test_names_and_allowances(written, told):
    assert text(written) == told


def test_names_are_those_of_the_reader_s_language():
    assert text("seam waist", "de") == "Rock (1) – Bund (2)"


def test_no_line_ends_within_a_length():
    assert " " not in value_text(model(), parse_reference("allowance skirt.hem"))

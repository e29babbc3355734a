"""Finished measures: body plus ease, limits, and how they grow."""

import pytest

from pipeline.checks.all import check_garment
from pipeline.model.pattern import BodyMeasure, FinishedMeasure, Range
from tests.checks import skirt
from tests.checks.apron import SIZES, TITLE, codes, cuts, found, garment, total
from tests.checks.skirt_faults import drawn_as


def _measured(**said) -> dict:
    """The apron's waist, 2 x skirt.waist, against a body that is 20 mm less in every size."""
    waist = {size: 2 * cuts()["skirt"][size].edge("waist").length_mm for size in SIZES}
    body = BodyMeasure(name="waist", title=TITLE, sizes_mm={size: waist[size] - 20 for size in SIZES})
    finished = FinishedMeasure(name="waist", title=TITLE, **{"sum": total("2 x skirt.waist"), **said})
    return {"body": {"waist": body}, "finished": {"waist": finished}}


def test_ease_within_its_band_passes_and_is_held_in_every_size():
    assert codes("finished-measures", garment(**_measured(ease=Range(15.0, 25.0)))) == []
    assert codes("finished-measures", garment(**_measured(ease=Range(25.0, 40.0)))) == [
        ("too-small", "block", "S"),
        ("too-small", "block", "M"),
    ]
    assert {code for code, _, _ in codes("finished-measures", garment(**_measured(ease=Range(0.0, 10.0))))} == {
        "too-large"
    }


def test_the_finding_says_by_how_much_and_where():
    (first, _) = found("finished-measures", garment(**_measured(ease=Range(25.0, 40.0))))
    assert first.where == "finished.waist"
    assert "5.0 mm below" in first.message
    assert first.allowed == "2.50 to 4.00 cm"


def test_ease_can_be_a_share_of_the_body():
    assert codes("finished-measures", garment(**_measured(ease=Range(0.02, 0.04, percent=True)))) == []
    assert codes("finished-measures", garment(**_measured(ease=Range(0.5, 0.6, percent=True)))) != []


def test_allowed_holds_the_measure_itself():
    assert codes("finished-measures", garment(**_measured(allowed=Range(500.0, 800.0)))) == []
    assert codes("finished-measures", garment(**_measured(allowed=Range(800.0, 900.0)))) != []


def test_a_measure_that_nothing_is_declared_for_is_skipped_and_no_pass():
    assert codes("finished-measures", garment(**_measured())) == [("not-held", "skip", None)]
    assert codes("finished-grade", garment(**_measured())) == [("not-held", "skip", None)]
    assert [f.severity for f in found("finished-measures", garment())] == ["skip"]


def test_a_sum_that_a_size_cannot_work_out_blocks():
    without = {**cuts(), "skirt": {"S": cuts()["skirt"]["S"]}}
    told = codes("finished-measures", garment(drawn=without, **_measured(allowed=Range(500.0, 800.0))))
    assert told == [("no-value", "block", "M")]


@pytest.mark.parametrize(
    ("grade", "sum_text", "expected"),
    [
        ("rises", "2 x skirt.waist", []),
        ("rises", "900 mm - skirt.waist", ["does-not-rise"]),
        ("rises", "40 cm", ["does-not-rise"]),
        ("constant", "40 cm", []),
        ("constant", "2 x skirt.waist", ["not-constant"]),
        ("free", "900 mm - skirt.waist", []),
    ],
)
def test_grades(grade, sum_text, expected):
    told = codes("finished-grade", garment(**_measured(grade=grade, sum=total(sum_text))))
    assert [code for code, severity, _ in told if severity == "block"] == expected


@pytest.mark.parametrize("size", ["M", "L", "XL"])
def test_of_two_sizes_of_which_one_does_not_rise_the_one_that_breaks_the_row_is_named(size):
    """The front of a size is drawn as the next one: the next is no larger, and right."""
    following = skirt.SIZES[skirt.SIZES.index(size) + 1]
    measure = FinishedMeasure(name="hem", title=TITLE, sum=total("2 x front.hem"), grade="rises")
    pattern = skirt.replace(skirt.PATTERN, finished={"hem": measure})
    made = skirt.garment({("front", size): drawn_as(following)}, pattern)
    (told,) = [f for f in check_garment(made) if f.check == "finished-grade"]
    assert (told.size, told.message) == (
        size,
        f"it is no smaller than in size {following}; of its lines front.hem breaks the grading",
    )

"""Lengths to buy."""

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pipeline.lays.lay import Lay
from pipeline.lays.lengths_to_buy import imperial_length, metric_length, metric_length_mm, needed_mm
from pipeline.lays.saved import Chosen
from pipeline.model.pattern import Material
from pipeline.tables.cloth import area_bound_mm, cloth_findings, cloth_lines
from pipeline.tables.cloth_page import cloth_pages
from tests.drawing.seen import contents, written
from tests.lays.samples import pattern, rectangle, request

LONGEST_MM = 100.0
PLAIN = Material(title={"en": "main cloth"}, widths_mm=(1400.0, 1500.0))


def test_rounded_up_in_both_systems_from_the_same_millimetres():
    """Round up, to 5 or 10 cm and to 1/8 yd (11.43 cm), both from the same millimetres:
    1.62 m → 1.65 m and 1 7/8 yd (common practice)."""
    assert (metric_length(1620), imperial_length(1620)) == ("1.65 m", "1 7/8 yd")


def test_shrinkage_divides():
    """Shrinkage divides: need / (1 − s); 1.62 m at 5 % → 1.705 → 1.75 m."""
    needed = needed_mm(1620, msgspec.structs.replace(PLAIN, shrinkage_length=0.05))
    assert needed == pytest.approx(1705.263, abs=0.001)
    assert (metric_length(needed), imperial_length(needed)) == ("1.75 m", "1 7/8 yd")


def test_spare_is_added_after_shrinkage():
    assert needed_mm(1900, msgspec.structs.replace(PLAIN, shrinkage_length=0.05, spare=0.02)) == pytest.approx(2040)


@pytest.mark.parametrize(("length_mm", "metric", "imperial"), [(64, "25 cm", "3/8 yd"), (270, "30 cm", "3/8 yd")])
def test_no_less_is_told_than_shops_sell(length_mm, metric, imperial):
    (line,) = cloth_lines(pattern(shell=msgspec.structs.replace(PLAIN, least_mm=250.0)), [chosen("38", length_mm)])
    assert (line.row.metric, line.row.imperial, line.row.lay_length_mm) == (metric, imperial, length_mm)


@pytest.mark.parametrize(("way", "told"), [("fold", True), ("open", False), ("two-folds", "two-folds")])
def test_a_row_says_how_the_cloth_is_laid(way, told):
    (line,) = cloth_lines(pattern(), [chosen("38", 1620, way=way)])
    assert line.row.fold == told


@pytest.mark.parametrize(
    ("ways", "way", "mark", "note"),
    [
        (("fold",), "open", "*", "something is too wide"),
        (("fold", "open"), "open", "°", "in one layer"),
        (("fold", "two-folds"), "two-folds", "†", "both selvedges folded to the middle"),
        (("fold", "partial-fold"), "partial-fold", "‡", "only as far as needed"),
        (("open", "fold"), "fold", "#", "folded once"),
        (("open", "fold"), "open", "", None),
        (("two-folds", "open"), "two-folds", "†", "both selvedges folded to the middle"),
        (("partial-fold",), "partial-fold", "‡", "only as far as needed"),
    ],
)
def test_the_page_marks_every_way_but_the_first_and_explains_it(ways, way, mark, note):
    """The first, too, where it is none that a buyer would take for granted."""
    made = pattern(shell=msgspec.structs.replace(PLAIN, ways=ways))
    told = contents(cloth_pages(made, cloth_lines(made, [chosen("38", 1620, way=way)]), "en")[0])
    assert "1.65 m" + mark in told
    assert [text for text in told if text.startswith(("*", "°", "†", "‡", "#"))] == [
        text for text in told if note and note in text
    ]
    assert (note is None) == (not mark)


def test_a_long_name_of_a_material_stays_legible_above_a_narrow_column():
    """6 pt are 2.12 mm."""
    long = msgspec.structs.replace(PLAIN, title={"en": "jersey for pockets and for tape"})
    made = pattern(shell=long)
    lays = [chosen("38", 1620, width_mm=width) for width in (700, 800, 900, 1100, 1150, 1400, 1500)]
    page = cloth_pages(made, cloth_lines(made, lays), "en")[0]
    named = [text for text in written(page) if "jersey" in text.content or "tape" in text.content]
    assert len(named) == 14
    assert min(text.size_mm for text in named) >= 2.12


@pytest.mark.parametrize(
    ("length_mm", "metric", "imperial"),
    [
        (850, "85 cm", "1 yd"),
        (850.2, "90 cm", "1 yd"),
        (1000.05, "1 m", "1 1/8 yd"),
        (914.4, "95 cm", "1 yd"),
        (1, "5 cm", "1/8 yd"),
    ],
)
def test_lengths_as_asked_for_in_a_shop(length_mm, metric, imperial):
    assert (metric_length(length_mm), imperial_length(length_mm)) == (metric, imperial)


@given(st.floats(1, 20000))
def test_never_too_short_and_never_a_step_too_long(length_mm):
    assert -0.1 <= metric_length_mm(length_mm) - length_mm < 50


def chosen(size, length_mm, width_mm=1400.0, longest_mm=600.0, **more):
    """A lay of a length; only its length counts here."""
    asked = request([rectangle("a", longest_mm, 1000, 1)], width_mm, size=size, **more)
    return Chosen(request=asked, lay=Lay(folded=False, length_mm=length_mm, placed=(), seed=1, seconds=1), kept=True)


def test_a_row_tells_the_lay_before_shrinkage_and_the_use_of_the_cloth():
    shrinking = msgspec.structs.replace(PLAIN, shrinkage_length=0.05)
    (line,) = cloth_lines(pattern(shell=shrinking), [chosen("38", 1620)])
    assert msgspec.to_builtins(line.row) == {
        "view": None,
        "size": "38",
        "material": "shell",
        "width_mm": 1400.0,
        "fold": False,
        "one_way": False,
        "lay_length_mm": 1620.0,
        "length_to_buy_mm": 1750.0,
        "metric": "1.75 m",
        "imperial": "1 7/8 yd",
        "utilisation": round(600_000 / (1400 * 1620), 4),
    }
    assert line.bound_mm == pytest.approx(600_000 / 1400)


def test_a_larger_size_is_never_told_less():
    lines = cloth_lines(pattern(), [chosen("40", 1500), chosen("38", 1620)])
    assert [(line.row.size, line.row.metric, line.raised_to) for line in lines] == [
        ("38", "1.65 m", None),
        ("40", "1.65 m", "38"),
    ]
    assert [finding.code for finding in cloth_findings(pattern(), lines)] == ["raised"]


def test_another_width_raises_nothing():
    lines = cloth_lines(pattern(), [chosen("38", 1620), chosen("40", 1500, 1500.0)])
    assert [line.raised_to for line in lines] == [None, None]


def test_a_lay_shorter_than_its_area_is_a_fault():
    lines = cloth_lines(pattern(), [chosen("38", 400)])
    assert [(finding.code, finding.severity) for finding in cloth_findings(pattern(), lines)] == [
        ("below-area", "block")
    ]


@pytest.mark.parametrize(
    ("length_mm", "codes"), [(1400, []), (1260, []), (1250, ["implausible"]), (1600, ["implausible"])]
)
def test_widths_go_together_like_the_published_table(length_mm, codes):
    """Band for the area: 0.90 to 1.11 (calculated from the published table of equal yardage between widths)."""
    lays = [chosen("38", 1400, 1400.0, LONGEST_MM), chosen("38", length_mm, 1400.0001, LONGEST_MM)]
    lines = cloth_lines(pattern(), lays)
    assert [finding.code for finding in cloth_findings(pattern(), lines)] == codes


@pytest.mark.parametrize(("length_mm", "codes"), [(1180, []), (960, ["implausible"])])
def test_one_piece_more_side_by_side_is_no_fault(length_mm, codes):
    """Bands across ribbing: two lie side by side on 1 m, and one on 70 cm, so 205 mm less than by the width."""
    lays = [chosen("38", 1400, 700.0, 210.0), chosen("38", 775, 1000.0, 210.0)]
    assert cloth_findings(pattern(), cloth_lines(pattern(), lays)) == ()
    lays = [chosen("38", 1400, 1400.0, 250.0), chosen("38", length_mm, 1401.0, 250.0)]
    assert [finding.code for finding in cloth_findings(pattern(), cloth_lines(pattern(), lays))] == codes


def test_a_width_that_can_be_folded_otherwise_is_not_held_against_one_that_cannot():
    lays = [
        chosen("38", 1140, 1500.0, LONGEST_MM, way="open"),
        chosen("38", 660, 1700.0, LONGEST_MM, way="two-folds"),
    ]
    assert cloth_findings(pattern(), cloth_lines(pattern(), lays)) == ()


def test_the_band_holds_for_the_published_table():
    """Rows of the published table of equal yardage (yards), 35-36 in against 44-45 and 58-60 in."""
    for narrow, middle, wide in [(1.75, 1.375, 1.0), (2.5, 2.125, 1.625), (3.125, 2.5, 1.875), (5.0, 3.875, 2.875)]:
        lengths = [(narrow, 35.5), (middle, 44.5), (wide, 59.0)]
        lines = cloth_lines(pattern(), [chosen("38", yards * 914.4, inches * 25.4) for yards, inches in lengths])
        assert not cloth_findings(pattern(), lines)


def test_the_area_bound_counts_every_layer():
    assert area_bound_mm(request([rectangle("a", 100, 50, 4)], 1000)) == pytest.approx(20)

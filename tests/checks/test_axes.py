"""A skirt in sizes and heights: nothing is found where both are graded well, and a fault along either is named."""

from pathlib import Path

import pytest

from tests.patterns.heights import Lengths, write_skirt
from tests.release.test_bad_input import findings_of_pattern

NINE = tuple(str(size) for size in range(36, 54, 2))


def found(place: Path, old: str = "", new: str = "", **rest) -> list[dict]:
    """What is told of the skirt, with some text of its pattern.toml replaced."""
    (place / "source").mkdir()
    file = write_skirt(place / "source", **rest) / "pattern.toml"
    text = file.read_text(encoding="utf-8")
    assert old in text
    file.write_text(text.replace(old, new), encoding="utf-8")
    findings = findings_of_pattern(place / "source", "skirt", place / "work")
    return [finding for finding in findings if finding["severity"] not in ("skip", "info")]


def longer(by_mm: float):
    def change(lengths: Lengths) -> Lengths:
        return lengths | {"length": lengths["length"] + by_mm}

    return change


@pytest.mark.parametrize("rest", [{}, {"sizes": NINE}, {"sizes": NINE, "without": ("36-tall", "52-petite")}])
def test_what_is_graded_well_along_both_axes_has_no_fault(rest, tmp_path):
    assert found(tmp_path, **rest) == []


@pytest.mark.parametrize("point", ["36-petite", "38-petite", "38-regular", "40-tall"])
def test_a_panel_that_is_off_in_one_point_is_told_of_that_point_once(point, tmp_path):
    told = [each for each in found(tmp_path, faults={f"{point}/front": longer(8)}) if each["check"] == "grading-steps"]
    assert {(each["piece"], each["size"], each["code"]) for each in told} == {("front", point, "off")}
    assert len({each["object"] for each in told}) == len(told)
    assert all(" along " in each["message"] for each in told)


def test_a_band_that_is_off_is_told_along_size_alone(tmp_path):
    sizes = {"sizes": NINE, "faults": {"40/band": longer(-12)}}
    told = [each for each in found(tmp_path, **sizes) if each["check"] == "grading-steps"]
    assert {(each["piece"], each["size"], each["file"]) for each in told} == {
        ("band", "40-petite", "sizes/40/band.svg")
    }
    assert all(each["message"].endswith("along size") for each in told)


def test_a_panel_of_another_height_is_told_as_a_copy(tmp_path):
    told = found(tmp_path, faults={"38-tall/front": longer(-30), "38-tall/back": longer(-30)})
    copies = {(each["piece"], each["size"]) for each in told if each["check"] == "size-copies"}
    assert copies == {("front", "38-tall"), ("back", "38-tall")}
    risen = [each["message"] for each in told if each["code"] == "does-not-rise"]
    assert any(message.endswith("along height") for message in risen)


def test_a_girth_may_stay_along_height_and_must_rise_along_size(tmp_path):
    still = {
        f"{size}-{height}/{piece}": _narrow
        for size in ("38",)
        for height in ("petite", "regular", "tall")
        for piece in ("front", "back")
    }
    told = [each for each in found(tmp_path, faults=still) if each["check"] == "finished-grade"]
    assert {(each["size"], each["message"]) for each in told} == {
        (f"38-{height}", f"it does not rise from size 36-{height} along size")
        for height in ("petite", "regular", "tall")
    }


def test_a_wrong_digit_of_a_value_is_told_once_and_not_of_each_of_its_points(tmp_path):
    wrong = {"old": '"44" = "1060 mm"', "new": '"44" = "1070 mm"', "sizes": NINE}
    told = [each for each in found(tmp_path, **wrong) if each["check"] == "body-steps"]
    assert [(each["where"], each["size"]) for each in told] == [("body.hip", "44-petite")]
    assert told[0]["message"].endswith("along size")


def test_a_band_along_one_axis_lets_its_steps_change_there_alone(tmp_path):
    longer_tall = {f"{size}-tall/{piece}": longer(30) for size in ("36", "38", "40") for piece in ("front", "back")}
    (tmp_path / "one").mkdir()
    uneven = found(tmp_path / "one", faults=longer_tall)
    assert {each["check"] for each in uneven} == {"grading-steps", "grading-paths"}
    assert all(each["message"].endswith("along height") for each in uneven)
    (tmp_path / "two").mkdir()
    banded = {"old": 'languages = ["en"]', "new": 'languages = ["en"]\nbands = ["regular"]'}
    assert found(tmp_path / "two", **banded, faults=longer_tall) == []


def _narrow(lengths: Lengths) -> Lengths:
    return lengths | {"width": 240}

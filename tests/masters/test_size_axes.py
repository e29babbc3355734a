"""Sizes on more than one ladder, as `pattern.toml` says them, and what is refused of them."""

from pathlib import Path

import pytest

from pipeline.masters.lookup import check_files, master_file
from pipeline.masters.toml.load import load_pattern
from pipeline.model.pattern import Pattern
from tests.masters.pattern_files import CASES, write
from tests.patterns.heights import write_skirt

AXES = (CASES / "axes.toml").read_text(encoding="utf-8")
POINTS = ("36-petite", "36-regular", "38-petite", "38-regular", "38-tall", "40-petite", "40-regular", "40-tall")


@pytest.fixture(scope="module")
def pattern(tmp_path_factory: pytest.TempPathFactory) -> Pattern:
    read, findings = load_pattern(write(tmp_path_factory.mktemp("axes"), AXES))
    assert findings == ()
    assert read is not None
    return read


def test_sizes_are_the_points_of_the_axes_but_those_left_out(pattern: Pattern) -> None:
    assert pattern.sizes == POINTS
    assert pattern.size_axes == {"size": ("36", "38", "40"), "height": ("petite", "regular", "tall")}
    assert (pattern.base, pattern.bands) == ("38-regular", ("38",))


def test_every_value_is_a_set_of_its_points(pattern: Pattern) -> None:
    assert pattern.size_sets["36"] == ("36-petite", "36-regular")
    assert pattern.size_sets["tall"] == ("38-tall", "40-tall")
    assert pattern.size_sets["small"] == ("36-petite", "36-regular", "38-petite")


def test_a_value_speaks_for_its_points_and_a_point_for_itself(pattern: Pattern) -> None:
    assert pattern.pieces["front"].cut[0].count == dict.fromkeys(POINTS, 2) | {"38-tall": 4}
    assert pattern.body["waist"].sizes_mm == {point: 640 + 40 * ["36", "38", "40"].index(point[:2]) for point in POINTS}
    zips = pattern.notions["zip"].length
    assert zips is not None
    assert (zips["40-tall"].text, zips["38-tall"].text, zips["38-petite"].text) == ("18 cm", "20 cm", "16 cm")


def test_a_piece_may_be_made_in_the_sizes_of_some_values(pattern: Pattern) -> None:
    yoke = pattern.pieces["yoke"]
    assert yoke.sizes == ("36-petite", "38-petite", "40-petite", "40-regular", "40-tall")
    assert yoke.cut[0].count == dict.fromkeys(yoke.sizes, 2) | {"40-regular": 4, "40-tall": 4}


def test_titles_are_of_sizes_and_values(pattern: Pattern) -> None:
    assert pattern.size_titles == {
        "36": {"en": "36 (8)", "de": "36 (8)"},
        "petite": {"en": "petite", "de": "Kurzgröße"},
    }


@pytest.mark.parametrize(
    ("old", "new", "code", "key"),
    [
        ('size = ["36", "38", "40"]', 'size = ["36", "38", "36"]', "twice", "size-axes.size[3]"),
        ('height = ["petite", ', 'height = ["36", "petite", ', "twice", "size-axes.height[1]"),
        ('size = ["36", "38", "40"]', 'size = ["36", "38", "all"]', "bad-name", "size-axes.size[3]"),
        ('size = ["36", "38", "40"]', 'size = ["36", "38", "3/8"]', "bad-name", "size-axes.size[3]"),
        ('size = ["36", "38", "40"]', 'size = ["36", "38", "con"]', "file-name", "size-axes.size[3]"),
        ('size = ["36", "38", "40"]', 'size = ["36", "38", "-40"]', "file-name", "size-axes.size[3]"),
        ('["petite", "regular", "tall"]', '["petite", "Tall", "tall"]', "alike-but-capitals", "size-axes.height[3]"),
        (
            'size = ["36", "38", "40"]\nheight = ["petite", "regular", "tall"]\nwithout = ["36-tall"]',
            'size = ["36", "36-a"]\nheight = ["b", "a-b"]',
            "name-twice",
            "size-axes",
        ),
        ('height = ["petite", "regular", "tall"]\nwithout = ["36-tall"]', "", "too-few-axes", "size-axes"),
        ('without = ["36-tall"]', 'cup = ["A", "B", "C", "D", "E"]\nlength = ["a", "b", "c"]', "too-many", "size-axes"),
        ('without = ["36-tall"]', 'without = ["36-tal"]', "unknown-size", "size-axes.without[1]"),
        ('without = ["36-tall"]', 'without = ["36-tall", "38-tall", "40-tall"]', "value-unused", "size-axes.without"),
        ('base = "38-regular"', 'base = "38"', "unknown-size", "pattern.base"),
        ('base = "38-regular"', 'base = "36-tall"', "unknown-size", "pattern.base"),
        ('bands = ["38"]', 'bands = ["40"]', "last-band", "pattern.bands[1]"),
        ('bands = ["38"]', 'bands = ["38-petite"]', "unknown-size", "pattern.bands[1]"),
        ('base = "38-regular"', 'base = "38-regular"\nsizes = ["36", "38"]', "sizes-and-axes", "pattern.sizes"),
        ('"36" = "64 cm", ', "", "size-missing", "body.waist.sizes"),
        ('"36" = "64 cm", ', '"36" = "64 cm", petite = "60 cm", ', "size-twice", "body.waist.sizes"),
        ('"36" = "64 cm", ', '"36" = "64 cm", "34" = "60 cm", ', "unknown-size", "body.waist.sizes.34"),
        ("petite = {", "petit = {", "unknown-size", "pattern.size_titles.petit"),
        ("[size-sets]\nsmall", "[size-sets]\ntall", "set-name", "size-sets.tall"),
    ],
)
def test_a_fault_is_told_with_its_key(old: str, new: str, code: str, key: str, tmp_path: Path) -> None:
    assert AXES.count(old) == 1
    pattern, findings = load_pattern(write(tmp_path, AXES.replace(old, new)))
    assert pattern is None
    assert (code, key) in [(finding.code, finding.object) for finding in findings]


def test_sizes_beside_axes_are_no_fault_where_they_say_the_same(tmp_path: Path) -> None:
    listed = ", ".join(f'"{point}"' for point in POINTS)
    text = AXES.replace('base = "38-regular"', f'base = "38-regular"\nsizes = [{listed}]')
    assert load_pattern(write(tmp_path, text))[1] == ()


def test_without_sizes_and_without_axes_the_key_is_missing(tmp_path: Path) -> None:
    lines = AXES.split("\n")
    axes = lines.index("[size-axes]")
    _, findings = load_pattern(write(tmp_path, "\n".join(lines[:axes] + lines[axes + 4 :])))
    assert [(finding.code, finding.object) for finding in findings if finding.code == "missing-key"] == [
        ("missing-key", "pattern.sizes")
    ]


def test_a_piece_lies_once_with_the_value_that_it_depends_on_and_a_point_of_its_own_goes_before(tmp_path: Path) -> None:
    folder = write_skirt(tmp_path)
    pattern, _ = load_pattern(folder)
    assert pattern is not None
    assert check_files(pattern, folder) == ()
    assert master_file(pattern, folder, "band", "38-tall")[0] == "sizes/38/band.svg"
    assert master_file(pattern, folder, "facing", "38-tall")[0] == "sizes/tall/facing.svg"
    (folder / "sizes/38-tall/band.svg").write_bytes((folder / "sizes/38/band.svg").read_bytes())
    assert master_file(pattern, folder, "band", "38-tall")[0] == "sizes/38-tall/band.svg"
    assert master_file(pattern, folder, "band", "38-petite")[0] == "sizes/38/band.svg"


def test_two_values_that_both_have_a_master_for_a_point_are_told(tmp_path: Path) -> None:
    folder = write_skirt(tmp_path)
    pattern, _ = load_pattern(folder)
    assert pattern is not None
    (folder / "sizes/tall/band.svg").write_bytes((folder / "sizes/38/band.svg").read_bytes())
    told = [(finding.code, finding.piece, finding.size) for finding in check_files(pattern, folder)]
    assert told == [("two-masters", "band", f"{size}-tall") for size in ("36", "38", "40")]

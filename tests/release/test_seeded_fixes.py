"""One fix of each kind after a sale: what is told is what was changed, and nothing else."""

import json
import shutil
from collections.abc import Callable

import pytest

from tests.release.conftest import Workroom

FORMATS = 'formats = ["a4", "letter", "a0", "roll-36in"]'


@pytest.fixture(scope="module")
def sold(tmp_path_factory) -> Workroom:
    room = Workroom(tmp_path_factory.mktemp("sold") / "Élise's patterns")
    room.edit("pattern.toml", FORMATS, 'formats = ["a4"]\nby_size = false')
    done = room.run("seal")
    assert done.returncode == 0, done.text
    return room


def in_toml(old: str, new: str) -> Callable[[Workroom], None]:
    return lambda room: room.edit("pattern.toml", old, new)


def in_master(old: str, new: str) -> Callable[[Workroom], None]:
    return lambda room: room.edit("sizes/M/skirt.svg", old, new)


def one_size_less(room: Workroom) -> None:
    shutil.rmtree(room.pattern / "sizes/S")
    room.edit("pattern.toml", 'sizes = ["S", "M"]', 'sizes = ["M"]')
    room.edit("pattern.toml", 'base = "S"', 'base = "M"')


FIXES = {
    "notch": (in_master('cx="180.0"', 'cx="180.8"'), {("notch", "skirt", "mid-waist on waist", "M")}, "1.1.0"),
    "mark": (in_master('cx="140"', 'cx="150"'), {("mark", "skirt", "pocket", "M")}, "1.1.0"),
    "label": (in_toml('en = "Skirt"', 'en = "Skirt panel"'), {("text", None, "pieces.skirt.title, en", None)}, "1.0.1"),
    "text": (
        in_toml("For your own sewing.", "For your own sewing only."),
        {("text", None, "pattern.licence, en", None)},
        "1.0.1",
    ),
    "allowance": (
        in_toml('edges.hem = { allowance = "4 cm"', 'edges.hem = { allowance = "39 mm"'),
        {
            ("said", "skirt", "allowance of hem", "S"),
            ("said", "skirt", "allowance of hem", "M"),
            ("edge", "skirt", "hem", "S"),
            ("edge", "skirt", "hem", "M"),
        },
        "1.1.0",
    ),
    "cloth width": (
        in_toml('widths = ["110 cm", "140 cm"]', 'widths = ["110 cm", "140 cm", "150 cm"]'),
        {("cloth", None, "shell 1500 mm wide", "S"), ("cloth", None, "shell 1500 mm wide", "M")},
        "1.1.0",
    ),
    "size taken away": (one_size_less, {("size", None, "S", None)}, "2.0.0"),
    "what customers are told": (
        lambda room: room.edit("CHANGES.md", "# 1.0.0", "# 1.0.0\n\nMore."),
        set(),
        "1.0.1",
    ),
}


@pytest.mark.parametrize("kind", FIXES)
def test_what_is_told_is_what_was_changed(sold, kind, tmp_path):
    fix, expected, number = FIXES[kind]
    aside = shutil.copytree(sold.pattern, tmp_path / "aside")
    try:
        fix(sold)
        done = sold.run("compare")
        assert done.returncode == 0, done.text
        found = json.loads((sold.work / "tea-apron/changes.json").read_bytes())
    finally:
        shutil.rmtree(sold.pattern)
        shutil.move(aside, sold.pattern)
    told = {(each["what"], each["piece"], each["name"], each["size"]) for each in found["changes"]}
    told = {each for each in told if each[0] != "page"}
    assert told == expected
    assert found["next_version"] == number

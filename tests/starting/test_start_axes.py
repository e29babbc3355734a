"""Drawings whose names say sizes on several ladders: `[size-axes]` is proposed where that is certain, else told."""

import shutil
import tomllib
from pathlib import Path

import pytest

from pipeline.masters.copied import copy_folder
from pipeline.starting.first import start
from tests.masters.drawings.small import GROWN, drawing, flap, front
from tests.masters.drawings.test_axes import WAYS, nest
from tests.patterns.heights import write_skirt

GARMENTS = Path(__file__).resolve().parents[1] / "garments"
LADDERS = {"size": ["S", "M", "L"], "height": ["short", "long"]}


def proposed(folder: Path, text: str) -> dict:
    """What is written of a drawing; a run must then read it without a fault."""
    told = write(folder, text)
    found = copy_folder(folder, folder.parents[1] / "work/bag")
    assert [each.message for each in found.findings if each.severity == "block"] == [], told
    return tomllib.loads((folder / "pattern.toml").read_text(encoding="utf-8"))


def write(folder: Path, text: str) -> list[str]:
    """What is told of a drawing."""
    (folder.parents[1] / "nest.svg").write_text(text, encoding="utf-8")
    return start(folder, [folder.parents[1] / "nest.svg"])


def capitals(text: str) -> str:
    """Sizes as people write them: a layer "s" would be one of small letters."""
    for size in GROWN:
        for word in ("Size {}", '"{}-short"', '"{}-long"', "short {}", "long {}"):
            text = text.replace(word.format(size), word.format(size.upper()))
    return text


@pytest.mark.parametrize("name", WAYS)
def test_layers_of_two_ladders_are_proposed_as_ladders(folder, name):
    text = capitals(nest(WAYS[name].format))
    ladders = LADDERS
    if name == "the point the other way round":  # beside the name of a piece "long" may be a part of it, "tall" is not
        text = text.replace('"short', '"petite').replace('"long', '"tall')
        ladders = {**LADDERS, "height": ["petite", "tall"]}
    elif name == "length, then size":
        ladders = {"size": LADDERS["size"], "length": ["short", "long"]}
    said = proposed(folder, text)
    assert said["size-axes"] == ladders
    assert "sizes" not in said["pattern"]
    assert said["pattern"]["base"] == f"M-{list(ladders.values())[1][1]}"
    assert [said["pieces"][piece]["around"][-1] for piece in ("front-panel", "flap") if piece in said["pieces"]]


@pytest.mark.parametrize(
    ("short", "long", "axis", "values"),
    [
        ("Height 164", "Height 172", "height", ["164", "172"]),
        ("Höhe kurz", "Höhe lang", "height", ["kurz", "lang"]),
        ("Cup A", "AA-Cup", "cup", ["AA", "A"]),
        ("slim", "wide", "width", ["slim", "wide"]),
        ("172", "164", "other", ["164", "172"]),
        ("Tall", "petite", "height", ["petite", "Tall"]),
        ("Length low", "Length high", "length", ["low", "high"]),
    ],
)
def test_a_ladder_is_called_as_its_layers_say(folder, short, long, axis, values):
    way = '<g data-name="Size {0}"><g data-name="{1}"><g data-name="Front">{2}</g></g></g>'
    text = capitals(nest(way.format)).replace('"short"', f'"{short}"').replace('"long"', f'"{long}"')
    assert proposed(folder, text)["size-axes"] == {"size": ["S", "M", "L"], axis: values}


def test_the_order_of_words_that_are_not_known_is_said_to_be_as_drawn(folder):
    way = '<g data-name="Size {0}"><g data-name="Length {1}er"><g data-name="Front">{2}</g></g></g>'
    write(folder, capitals(nest(way.format)))
    assert (
        'length = ["shorter", "longer"]  # proposed: as they are drawn; put the smallest first\n'
        in (folder / "pattern.toml").read_text()
    )


def test_what_is_drawn_for_a_value_is_shared_and_what_is_nowhere_drawn_left_out(tmp_path):
    folder = write_skirt(tmp_path, without=["36-tall", "38-regular"])
    (folder / "pattern.toml").unlink()
    told = start(folder, [])
    said = tomllib.loads((folder / "pattern.toml").read_text(encoding="utf-8"))
    assert told[0].startswith("21 drawings: size 36, 38, 40; height petite, regular, tall; pieces ")
    assert told[1] == "nowhere drawn, and so left out by `without`: 36-tall, 38-regular"
    assert said["size-axes"] == {
        "size": ["36", "38", "40"],
        "height": ["petite", "regular", "tall"],
        "without": ["36-tall", "38-regular"],
    }
    assert said["pattern"]["base"] == "36-regular"
    assert set(said["pieces"]) == {"front", "back", "band", "facing", "pocket"}
    found = copy_folder(folder, tmp_path / "work/skirt")
    assert [each.message for each in found.findings if each.severity == "block"] == []


def test_a_drawing_of_trousers_in_sizes_and_heights_is_read_as_its_drafter_said(tmp_path):
    folder = tmp_path / "pleated-trousers"
    shutil.copytree(GARMENTS / "pleated-trousers/drawing", folder / "drawing")
    start(folder, [])
    drafted = tomllib.loads((GARMENTS / "pleated-trousers/pattern.toml").read_text(encoding="utf-8"))
    said = tomllib.loads((folder / "pattern.toml").read_text(encoding="utf-8"))
    assert said["size-axes"] == drafted["size-axes"]
    assert said["pattern"]["base"] == drafted["pattern"]["base"]
    drawn = {name for name, piece in drafted["pieces"].items() if "outline_of" not in piece}
    assert {name: len(piece["around"]) for name, piece in said["pieces"].items()} == {
        name: len(drafted["pieces"][name]["around"]) for name in drawn
    }
    assert 'a = ["back-pocket-bag.edge-3"]\n# b = ["front-pocket-bag.edge-4"]' in (folder / "pattern.toml").read_text()


def test_ladders_in_layers_without_roles_are_proposed_by_shape(folder):
    way = '<g data-name="{0}"><g data-name="{1}"><g data-name="Front"><path d="M20,20 h{2} l9,200 H20 Z"/></g></g></g>'
    body = "".join(way.format(size, tall, 90 + 9 * i) for i, size in enumerate("SML") for tall in ("petite", "tall"))
    said = proposed(folder, drawing().split("<g", 1)[0] + body + "</svg>")
    assert said["size-axes"] == {"size": ["S", "M", "L"], "height": ["petite", "tall"]}


def test_versions_whose_pieces_differ_are_no_ladder(folder):
    more = "".join(
        f'<g data-name="{size.upper()}"><g data-name="{long}"><g data-name="{long} sleeve">{flap(size)}</g></g></g>'
        for size in GROWN
        for long in ("short", "long")
    )
    write(folder, drawing(more=more))
    assert "size-axes" not in (folder / "pattern.toml").read_text()
    assert 'sizes = ["S", "M", "L"]' in (folder / "pattern.toml").read_text()


@pytest.mark.parametrize("names", [("View A", "View B"), ("lower", "upper"), ("kort", "lång")])
def test_names_of_which_nothing_is_certain_are_told(folder, names):
    way = '<g data-name="Size {0}"><g data-name="{1}"><g data-name="Front">{2}</g></g></g>'
    text = capitals(nest(way.format)).replace('"short"', f'"{names[0]}"').replace('"long"', f'"{names[1]}"')
    told = "\n".join(write(folder, text))
    assert "size-axes" not in (folder / "pattern.toml").read_text()
    assert f'drawn more than once, in "{names[0]}", "{names[1]}": if these are heights' in told


def test_two_sizes_on_a_way_that_are_one_ladder_stay_one(folder):
    inner = "".join(
        f'<g data-name="{of}"><g data-name="{size}"><g data-name="Front">{front(drawn)}</g></g></g>'
        for of, size, drawn in (("34-36", "34", "s"), ("34-36", "36", "m"), ("38-40", "38", "l"))
    )
    write(folder, drawing().split("<g", 1)[0] + inner + "</svg>")
    assert 'sizes = ["34", "36", "38"]' in (folder / "pattern.toml").read_text()


def test_more_files_than_a_pattern_lists_are_named_by_their_folders(tmp_path):
    folder = write_skirt(tmp_path, sizes=("34", "36", "38", "40", "42", "44", "46", "48", "50"))
    (folder / "pattern.toml").unlink()
    start(folder, [])
    assert 'drawings = ["sizes/*/*.svg"]' in (folder / "pattern.toml").read_text()
    found = copy_folder(folder, tmp_path / "work/skirt")
    assert [each.message for each in found.findings if each.severity == "block"] == []

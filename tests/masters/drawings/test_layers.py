"""What names of layers say: all of it, or nothing; and the words for sizes are those of our languages."""

import tomllib
from pathlib import Path

import pytest

from pipeline.masters.drawings.layers import SIZE_WORDS, AmbiguousNameError, Said, Vocabulary, layer_name, words
from pipeline.masters.svg.tree import Node
from pipeline.masters.toml.load import load_pattern

ROOT = Path(__file__).resolve().parents[3]


@pytest.fixture
def jacket() -> Vocabulary:
    pattern, _ = load_pattern(ROOT / "source/work-jacket")
    return Vocabulary(pattern)


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("Size 34", Said(size="34")),
        ("34 – front", Said(size="34", piece="front")),
        ("Größe 36 / Vorderteil", Said(size="36", piece="front")),
        ("front_34_seam", Said(role="seam", size="34", piece="front")),
        ("Front facing", Said(piece="front-facing")),
        ("inside pocket", Said(piece="inside-pocket")),
        ("REGULAR", Said(size="regular")),
        ("Front old", Said()),
        ("Layer 1", Said()),
        ("Size 37", Said()),
        ("34 36", Said()),
        ("", Said()),
    ],
)
def test_a_name_says_what_all_its_words_say(jacket, name, said):
    assert jacket.said(name) == said


@pytest.mark.parametrize(
    ("files", "name", "said"),
    [
        (("drawing/skirt 34.svg", "drawing/skirt 36.svg"), "skirt 34", Said(size="34")),
        (("drawing/skirt 34.svg", "drawing/skirt 36.svg"), "skirt 36 old", Said()),
        (("drawing/skirt 34.svg",), "skirt 34", Said()),
        (("drawing/work jacket 34.svg",), "Work-Jacket 34", Said(size="34")),
        (("drawing/front 34.svg", "drawing/front 36.svg"), "front 34", Said(size="34", piece="front")),
        (("drawing/old.svg", "drawing/old 2.svg"), "old", Said()),
    ],
)
def test_what_all_names_of_files_share_says_nothing(files, name, said):
    pattern, _ = load_pattern(ROOT / "source/work-jacket")
    assert Vocabulary(pattern, files).said_of_file(name) == said


def test_a_name_of_two_pieces_is_ambiguous(jacket):
    jacket._add("piece", [("collar", "Front")])
    with pytest.raises(AmbiguousNameError):
        jacket.said("36 Front")


@pytest.mark.parametrize("name", ["collar", "36 collar", "collar_36", "Größe 36 / collar", "collar-36-seam"])
def test_the_key_of_a_piece_wins_over_the_title_of_another_as_it_is_spelled(jacket, name):
    jacket._add("piece", [("front", "Collar")])
    assert jacket.said(name).piece == "collar"
    with pytest.raises(AmbiguousNameError):
        jacket.said(name.replace("collar", "Collar"))


@pytest.mark.parametrize(
    ("attributes", "name"),
    [
        ({"{https://example.org/layers}label": "Size 34", "id": "g12"}, "Size 34"),
        ({"data-name": "Size 34", "id": "layer-2"}, "Size 34"),
        ({"id": "Size_x20_34"}, "Size 34"),
        ({"id": "_x33_4"}, "34"),
        ({"id": "seam_12_"}, "seam"),
        ({"id": "a_xD800_"}, "a_xD800_"),
    ],
)
def test_a_layer_is_called_as_its_editor_shows_it(attributes, name):
    assert layer_name(Node("g", attributes, 1)) == name


def test_the_words_for_sizes_are_those_that_pages_print():
    for file in (ROOT / "pipeline/words").glob("*.toml"):
        said = tomllib.loads(file.read_text(encoding="utf-8"))["size"]
        assert {words(said["name"]), words(said["several"])} <= {words(word) for word in SIZE_WORDS}, file.name

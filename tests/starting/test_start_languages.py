"""A drawing whose names are of another language keeps them; what no drawing says is asked, and not said in English."""

import tomllib

import pytest

from pipeline.checks.texts import marked_lines
from pipeline.masters.copied import copy_folder
from pipeline.starting.first import start
from tests.masters.drawings.small import drawing

NAMED = {
    "de": ("Größe", "Vorderteil", "vorderteil", "Ärmelbündchen", "aermelbuendchen"),
    "fr": ("Taille", "Empiècement", "empiecement", "Devant côté", "devant-cote"),
    "es": ("Talla", "Canesú", "canesu", "Puño", "puno"),
    "nl": ("Maat", "Voorpand", "voorpand", "Kraag", "kraag"),
    "sv": ("Storlek", "Framstycke", "framstycke", "Ärm", "aerm"),
}


def begun(folder, tmp_path, size, front, flap):
    """The text of a first pattern of layers that are so called."""
    text = drawing().replace('"Size ', f'"{size} ').replace("Front panel", front).replace("Klappe", flap)
    (tmp_path / "nest.svg").write_text(text, encoding="utf-8")
    start(folder, [tmp_path / "nest.svg"])
    return (folder / "pattern.toml").read_text(encoding="utf-8")


@pytest.mark.parametrize("language", NAMED)
def test_names_of_a_drawing_are_titles_as_they_are_written_and_tell_the_language(folder, tmp_path, language):
    size, front, front_name, flap, flap_name = NAMED[language]
    said = tomllib.loads(begun(folder, tmp_path, size, front, flap))
    assert said["pattern"]["languages"] == [language]
    assert {name: piece["title"] for name, piece in said["pieces"].items()} == {front_name: front, flap_name: flap}


def test_nothing_is_said_in_english_where_a_drawing_is_german(folder, tmp_path):
    said = begun(folder, tmp_path, "Größe", "Vorderteil", "Klappe")
    assert tomllib.loads(said)["materials"]["shell"]["title"] == "…"
    assert "First release" not in (folder / "CHANGES.md").read_text(encoding="utf-8")
    booklet = (folder / "booklet/de.md").read_text(encoding="utf-8")
    assert booklet == "# …\n\n{{ piece vorderteil }}, {{ piece klappe }}.\n\n# …\n\n1. …\n"
    found = copy_folder(folder, tmp_path / "work/bag")
    assert [each.message for each in found.findings if each.severity == "block"] == []


def test_languages_are_asked_plainly_in_a_line_that_is_marked(folder, tmp_path):
    lines = begun(folder, tmp_path, "Größe", "Vorderteil", "Klappe").splitlines()
    (asked,) = (number for number, line in enumerate(lines, start=1) if line.startswith("languages"))
    assert lines[asked - 1].endswith(
        "by the names in the drawing: which do you sell in, the first one first? de, en, es, fr, nl, sv, or one whose"
        " words you bring"
    )
    assert asked in marked_lines("\n".join(lines))


def test_where_names_are_of_two_languages_none_is_taken_from_them(folder, tmp_path):
    said = begun(folder, tmp_path, "Größe", "Front", "Devant")
    assert 'languages = ["en"]  # proposed, no name in the drawing tells: which do you sell in' in said

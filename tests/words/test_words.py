"""The catalogues of texts: alike in every language, and clear where something is missing."""

import re

import pytest

from pipeline.drawing.fonts import missing_glyphs
from pipeline.words import own_catalogue, own_languages, say, say_all
from pipeline.words.brought import word_faults


def test_there_are_six_languages():
    assert set(own_languages()) >= {"de", "en", "es", "fr", "nl", "sv"}


@pytest.mark.parametrize("language", own_languages())
def test_every_language_has_the_same_keys(language):
    assert set(own_catalogue(language)) == set(own_catalogue("en"))


@pytest.mark.parametrize("language", own_languages())
def test_every_text_has_the_same_places_and_can_be_printed(language):
    """What is asked of a catalogue that a designer brings is asked of ours."""
    assert word_faults(language, own_catalogue(language)) == ()
    assert missing_glyphs("".join(own_catalogue(language).values())) == set()


@pytest.mark.parametrize("language", own_languages())
def test_one_and_several_are_told_apart(language):
    texts = own_catalogue(language)
    assert texts["page.count-one"] != texts["page.count"]
    assert texts["strips.join"] != texts["strips.joins"]


def test_french_puts_no_line_break_before_its_signs():
    for key, text in own_catalogue("fr").items():
        assert not re.search(r" [:;!?%»]|« ", text), key


def test_french_signs_stand_after_a_space_that_does_not_break():
    """Before : ; ! ? % and within « », as the Imprimerie nationale has it; the font has the letter."""
    for key, text in own_catalogue("fr").items():
        bare = re.sub(r"\{\w+\}", "x", text)
        assert not re.search(r"[^\u00a0][:;!?%»]|«[^\u00a0]", bare), key
    assert missing_glyphs("\u00a0") == set()


NAMES = (
    "title",
    "material",
    "piece",
    "pieces",
    "strip",
    "a",
    "b",
    "view",
    "file",
    "name",
    "names",
    "mark",
    "edge",
    "edges",
)
"""What stands in these places is a name that begins with any letter, or with an article."""


def test_no_french_text_puts_a_name_where_it_would_elide_or_take_an_article():
    """ "de" before "entoilage" or "Le manteau" would be wrong, as "la" before "emmanchure" would."""
    small = "de|du|des|le|la|les|au|aux|que|jusque|lorsque|ce|se|ne|d’|l’|qu’"
    for key, text in own_catalogue("fr").items():
        assert not re.search(rf"(?i)\b({small}) ?\{{({'|'.join(NAMES)})\}}", text), key


def test_places_are_filled():
    assert say("de", "piece.number", number=2, count=14) == "Teil 2 von 14"


def test_several_languages_say_a_common_wording_once():
    assert say_all(("en", "de"), "size.name") == "Size · Größe"
    assert say_all(("en", "de"), "piece.version", version="1.0.0") == "Version 1.0.0"


def test_a_missing_key_is_a_clear_error():
    with pytest.raises(ValueError, match=r"words/en\.toml has no key 'piece.nothing'"):
        say("en", "piece.nothing")


def test_a_place_that_is_not_filled_is_a_clear_error():
    with pytest.raises(ValueError, match=r"unknown place \{count\}"):
        say("en", "piece.number", number=1)


def test_a_language_without_a_catalogue_is_a_clear_error():
    with pytest.raises(ValueError, match="no words in the language 'xx', only in de, en"):
        say("xx", "size.name")

"""The catalogues of texts: alike in every language, and clear where something is missing."""

import string

import pytest

from pipeline.words import catalogue, languages, say, say_all


def places(text: str) -> set[str]:
    return {name for _, name, _, _ in string.Formatter().parse(text) if name is not None}


def test_there_is_english_and_german():
    assert set(languages()) >= {"de", "en"}


@pytest.mark.parametrize("language", languages())
def test_every_language_has_the_same_keys(language):
    assert set(catalogue(language)) == set(catalogue("en"))


@pytest.mark.parametrize("language", languages())
def test_every_text_has_the_same_places(language):
    for key, text in catalogue(language).items():
        assert places(text) == places(catalogue("en")[key]), key


@pytest.mark.parametrize("language", languages())
def test_no_text_is_empty_or_has_blanks_at_its_ends(language):
    assert all(text and text == text.strip() for text in catalogue(language).values())


def test_places_are_filled():
    assert say("de", "piece.number", number=2, count=14) == "Teil 2 von 14"


def test_several_languages_say_a_common_wording_once():
    assert say_all(("en", "de"), "size.name") == "Size · Größe"
    assert say_all(("en", "de"), "piece.version", version="1.0.0") == "Version 1.0.0"


def test_a_missing_key_is_a_clear_error():
    with pytest.raises(ValueError, match=r"pipeline/words/en\.toml has no key 'piece.nothing'"):
        say("en", "piece.nothing")


def test_a_place_that_is_not_filled_is_a_clear_error():
    with pytest.raises(ValueError, match=r"unknown place \{count\}"):
        say("en", "piece.number", number=1)


def test_a_language_without_a_catalogue_is_a_clear_error():
    with pytest.raises(ValueError, match="no words in the language 'xx', only in de, en"):
        say("xx", "size.name")

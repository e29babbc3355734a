"""A designer brings any other language: what is wrong with it is told key by key, and what is right is printed."""

import msgspec
import pytest

from pipeline.drawing.doubts import text_findings
from pipeline.drawing.pages.doubts import page_findings
from pipeline.drawing.wording import length_words
from pipeline.model.pattern import Pattern
from pipeline.words import languages, own_catalogue, say, use_words
from pipeline.words.brought import most_letters, usable, word_faults
from tests.drawing.stack_factory import pattern_of

DANISH = {**own_catalogue("en"), "size.name": "Størrelse", "number.decimal": ","}


def faults(**changes: str | None) -> list[tuple[str, str]]:
    """(code, key) of what is wrong where these texts are changed, or left out; _ stands for the dot."""
    named = {key.replace("_", ".", 1): text for key, text in changes.items()}
    texts = {key: text for key, text in {**DANISH, **named}.items() if text is not None}
    return [(fault.code, fault.object) for fault in word_faults("da", texts)]


def danish(texts: dict[str, str]) -> Pattern:
    return msgspec.structs.replace(pattern_of("front"), languages=("en", "da"), words={"da": texts})


def test_a_language_that_is_brought_whole_is_said():
    use_words(usable({"da": DANISH}))
    assert "da" in languages()
    assert say("da", "size.name") == "Størrelse"
    assert length_words("da", 15.0, "metric") == "1,5 cm (9/16 in)"
    assert text_findings(danish(DANISH)) == ()
    assert list(page_findings(danish(DANISH))) == []


def test_what_was_brought_before_is_said_no_more():
    use_words({"da": DANISH})
    use_words({})
    assert "da" not in languages()


def test_a_language_in_which_something_is_wrong_is_not_said():
    assert usable({"da": {**DANISH, "size.name": ""}}) == {}


def test_a_language_of_ours_needs_only_what_is_to_be_said_otherwise():
    own = {"piece.allowance-none": "Sans valeur de couture"}
    assert word_faults("fr", own) == ()
    use_words(usable({"fr": own}))
    assert say("fr", "piece.allowance-none") == "Sans valeur de couture"
    assert say("fr", "size.name") == "Taille"


@pytest.mark.parametrize(
    ("changes", "told"),
    [
        ({"size_name": None, "lay_fold": None}, ("missing-words", "keys")),
        ({"size_names": "Størrelse"}, ("unknown-words", "size.names")),
        ({"size_name": ""}, ("empty-words", "size.name")),
        ({"size_name": " Størrelse"}, ("empty-words", "size.name")),
        ({"size_name": "Stør\nrelse"}, ("bad-words", "size.name")),
        ({"size_name": "Størrelse" * 20}, ("long-words", "size.name")),
        ({"piece_number": "Del {number}"}, ("wrong-places", "piece.number")),
        ({"piece_number": "Del {number} af {total}"}, ("wrong-places", "piece.number")),
        ({"piece_number": "Del {number af {count}"}, ("wrong-places", "piece.number")),
        ({"piece_number": "Del {number} af {count:>999999999}"}, ("wrong-places", "piece.number")),
        ({"piece_number": "Del {number} af {count.__class__}"}, ("wrong-places", "piece.number")),
        ({"piece_number": "Del {number} af {count!r}"}, ("wrong-places", "piece.number")),
    ],
)
def test_what_is_wrong_with_it_is_told_by_its_key(changes: dict[str, str | None], told: tuple[str, str]):
    assert faults(**changes) == [told]


def test_missing_keys_are_named_and_a_misspelled_one_is_set_right():
    texts = {key: text for key, text in DANISH.items() if key != "size.several"} | {"size.severel": "Størrelser"}
    missing, unknown = word_faults("da", texts)
    assert missing.message == "1 text is missing: size.several."
    assert unknown.remedy == 'Did you mean "size.several"?'


def test_a_file_that_is_all_wrong_is_told_in_few_findings():
    odd = {f"odd.key-{number}": "x" for number in range(10_000)}
    bad = dict.fromkeys(DANISH, "x" * 5_000)
    assert len(word_faults("da", {**odd, **bad})) <= 24


def test_findings_name_the_file_and_letters_that_the_font_lacks():
    (finding,) = text_findings(danish({**DANISH, "size.name": "Størrelse 夹"}))
    assert (finding.code, finding.severity) == ("no-letter", "block")
    assert (finding.file, finding.object) == ("words/da.toml", "size.name")
    (finding,) = text_findings(danish({**DANISH, "piece.fold": "fold {here}"}))
    assert (finding.code, finding.file, finding.object) == ("wrong-places", "words/da.toml", "piece.fold")


@pytest.mark.parametrize("language", ["de", "fr", "es", "nl", "sv"])
def test_every_text_of_ours_leaves_room_for_longer_languages(language: str):
    assert all(len(text) <= most_letters(key) / 2 for key, text in own_catalogue(language).items() if len(text) > 10)

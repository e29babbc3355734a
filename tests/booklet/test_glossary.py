"""The glossary explains the words that a text uses, and no others."""

import pytest

from pipeline.booklet.forms import listed_forms
from pipeline.booklet.glossary import glossary, terms
from pipeline.booklet.nodes import Grid
from pipeline.booklet.read import read_booklet
from pipeline.words import languages, own_catalogue, use_words


def told(written: str, language: str = "en", others: tuple[str, ...] = ("en", "de")) -> list[str]:
    """All columns but the last, which has the meaning."""
    text, _ = read_booklet(language, f"booklet/{language}.md", written.encode())
    grids = [node for node in glossary(text, others) if isinstance(node, Grid)]
    return ["|".join(cell.runs[0].text for cell in row[:-1]) for grid in grids for row in grid.rows]


def test_words_of_the_text_are_told_in_their_alphabet_with_those_of_the_other_languages() -> None:
    assert told("1. Topstitch the hem.\n\n   - Match the notches.\n") == ["notch|Knips", "topstitch|absteppen"]
    assert told("1. Absteppen, Knips auf Knips.", "de") == ["absteppen|topstitch", "Knips|notch"]


def test_a_noun_with_a_capital_is_no_verb_of_the_same_letters() -> None:
    assert told("1. Der Länge nach falten.", "de") == []
    assert told("1. Die Falte legen.", "de") == ["Falte|pleat"]


def test_a_pattern_of_one_language_tells_its_own_word_alone() -> None:
    assert told("Baste it.", others=("en",)) == ["baste"]


def test_a_term_that_is_referred_to_is_told_in_its_place() -> None:
    assert told("1. {{ term eased }} between the notches") == ["eased in|eingehalten", "notch|Knips"]
    assert told("1. {{ term shank }}", "de") == ["Fadenstiel|thread shank"]


def test_other_languages_head_their_column_by_the_names_that_they_have_for_themselves() -> None:
    text, _ = read_booklet("en", "booklet/en.md", b"Baste it.")
    (grid,) = [node for node in glossary(text, ("en", "de", "fr")) if isinstance(node, Grid)]
    assert [head.runs[0].text for head in grid.head] == ["Words", "Deutsch, français", "Meaning"]


def test_an_unknown_term_is_no_word_of_the_glossary() -> None:
    assert told("1. {{ term shanks }}") == []


@pytest.mark.parametrize("written", ["Sew it.", "A surtrim of {{ piece facing }}.", ""])
def test_words_that_are_not_written_are_not_told(written: str) -> None:
    assert told(written) == []


@pytest.mark.parametrize("language", languages())
@pytest.mark.parametrize("name", terms())
def test_every_language_has_a_word_and_its_meaning(language: str, name: str) -> None:
    word, colon, meaning = own_catalogue(language)[f"glossary.{name}"].partition(":")
    assert word.strip()
    assert colon
    assert meaning.strip().endswith(".")


@pytest.mark.parametrize(
    ("language", "written", "word"),
    [
        ("de", "Die Ärmelkante heftet man.", "heften"),
        ("de", "Saum von rechts abgesteppt lassen.", "absteppen"),
        ("de", "Steppen Sie die Kante knapp ab.", "absteppen"),
        ("de", "Die Nahtzugaben auseinanderbügeln.", "Nahtzugabe"),
        ("de", "Den Brustabnäher schließen.", "Abnäher"),
        ("de", "Den Halsbeleg verstürzen.", "Beleg"),
        ("de", "Die eingefassten Kanten bügeln.", "Einfassung"),
        ("fr", "Bâtissez la manche.", "bâtir"),
        ("fr", "Les marges de couture sont ouvertes.", "marge de couture"),
        ("fr", "Froncez la tête de manche.", "froncer"),
        ("fr", "Crantez l’arrondi.", "cranter"),
        ("fr", "La surpiqûre est à 5 mm.", "surpiquer"),
        ("es", "Hilvane la manga.", "hilvanar"),
        ("es", "Frunza la copa.", "fruncir"),
        ("es", "Abra los márgenes de costura.", "margen de costura"),
        ("es", "Un pespunte a 5 mm.", "pespuntear"),
        ("nl", "Rijg de mouw vast.", "rijgen"),
        ("nl", "De mouwkop is gerimpeld.", "rimpelen"),
        ("nl", "Sluit de figuurnaden.", "figuurnaad"),
        ("nl", "Stik de zijnaad smal door.", "doorstikken"),
        ("nl", "Knip de bocht in.", "inknippen"),
        ("sv", "Ärmen tråcklas fast.", "tråckla"),
        ("sv", "Sy bystinsnitten.", "insnitt"),
        ("sv", "Klipp sömsmånerna i kurvan in.", "klipp in"),
        ("sv", "Vik in halsinfodringen.", "infodring"),
    ],
)
def test_words_are_found_in_the_forms_that_sewists_write(language: str, written: str, word: str) -> None:
    assert word in {row.split("|")[0] for row in told(f"1. {written}", language, (language,))}


@pytest.mark.parametrize(
    ("language", "written"),
    [
        ("de", "Das Heft zur Seite legen."),
        ("de", "Ein Stück Band schneiden."),
        ("fr", "Plier sur la ligne."),
        ("fr", "Le bâtiment."),
        ("nl", "Stik door alle lagen heen."),
        ("nl", "Dit is de inhoud."),
        ("sv", "En vecka senare."),
    ],
)
def test_words_of_other_meanings_are_not(language: str, written: str) -> None:
    assert told(f"1. {written}", language, (language,)) == []


def test_a_word_that_a_designer_brings_instead_of_ours_is_found_as_it_is_written() -> None:
    use_words({"fr": {**own_catalogue("fr"), "glossary.baste": "faufiler : coudre à grands points."}})
    try:
        assert told("1. Faufiler la manche, bâtir non.", "fr", ("fr",)) == ["faufiler"]
    finally:
        use_words({})


def test_forms_are_of_words_that_there_are_and_find_the_word_itself() -> None:
    for language, forms in listed_forms().items():
        assert language in languages()
        assert set(forms) <= set(terms())
    for language in languages():
        for name in terms():
            word = own_catalogue(language)[f"glossary.{name}"].partition(":")[0].strip()
            assert word in {row.split("|")[0] for row in told(f"1. {word}.", language, (language,))}

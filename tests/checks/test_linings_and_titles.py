"""Pieces called linings and the cloth they are cut of; two pieces that one language calls alike."""

import pytest

from pipeline.model.findings import Finding
from pipeline.model.pattern import Pattern
from tests.checks.apron import TITLE, codes, counted, found, garment, pattern, replace


def called(**said: tuple[str, str]) -> dict:
    """The apron's band by other names: its title and what it is cut of."""
    band = pattern().pieces["band"]
    made = {
        name: replace(band, name=name, title={"en": title, "de": name}, cut=counted(material, 2))
        for name, (title, material) in said.items()
    }
    return {**pattern().pieces, **made}


def linings(**said: tuple[str, str]) -> list[tuple[str | None, str | None, str | None]]:
    return [(f.piece, f.found, f.allowed) for f in found("cut-linings", garment(pieces=called(**said)))]


FRONT, BACK = {"lining-front": ("Front", "lining")}, {"lining-back": ("Back", "lining")}


@pytest.mark.parametrize("name", ["lining-sleeve", "sleeve-lining", "sleeve-inside"])
def test_a_lining_that_is_cut_of_another_cloth_than_all_others_is_told(name):
    made = {**FRONT, **BACK, name: ("Sleeve lining", "shell")}
    assert linings(**made) == [(name, "shell", "lining, as all 2 other linings")]


def test_of_two_linings_the_one_that_is_cut_of_what_the_garment_is_cut_of_is_told():
    assert linings(**FRONT, **{"lining-back": ("Back", "shell")}) == [
        ("lining-back", "shell", "lining, as the one other lining")
    ]


def test_two_linings_are_let_be_where_their_cloth_does_not_say_which_is_the_slip():
    assert linings(**FRONT, **{"lining-back": ("Back", "contrast")}) == []
    assert linings(**FRONT, **{"lining-back": ("Back", "shell"), "pocket": ("Pocket", "lining")}) == []
    assert linings(**{"lining-front": ("Front", "shell"), "lining-back": ("Back", "shell")}) == []


def test_one_lining_or_others_that_differ_say_nothing():
    assert linings(sleeve=("Sleeve lining", "shell")) == []
    other = {"lining-sleeve": ("Sleeve", "contrast"), "lining-yoke": ("Yoke", "shell")}
    assert linings(**FRONT, **BACK, **other) == []
    assert linings(**FRONT, **BACK, sleeve=("Sleeve of liningette", "shell")) == []


def titled(one: dict[str, str], other: dict[str, str], /, **views: tuple[str, ...]) -> list[Finding]:
    made: Pattern = pattern()
    band = made.pieces["band"]
    pair = {"one": one, "other": other}
    pieces = {name: replace(band, name=name, title=title, views=views.get(name, ())) for name, title in pair.items()}
    return found("piece-titles", garment(pieces={**made.pieces, **pieces}))


def test_two_pieces_that_one_language_alone_calls_alike_are_told():
    (told,) = titled({"en": "Front facing", "de": "Beleg"}, {"en": "Back facing", "de": "beleg "})
    assert (told.code, told.severity, told.piece, told.object) == ("alike", "warn", "other", "pieces.other.title.de")
    assert "one and other have the same title in de" in told.message


def test_titles_that_are_alike_in_all_languages_or_in_views_that_never_meet_are_let_be():
    assert titled(TITLE, TITLE) == []
    apart = {"en": "Long", "de": "Bahn"}, {"en": "Short", "de": "Bahn"}
    assert titled(*apart, one=("long",), other=("short",)) == []
    assert codes("piece-titles", garment()) == []


def test_a_title_that_is_spelled_as_the_key_of_another_piece_is_told():
    (told,) = titled({"en": "Front", "de": "Vorn"}, {"en": "One", "de": "Hinten"})
    assert (told.code, told.severity, told.piece, told.object) == ("as-key", "warn", "other", "pieces.other.title.en")
    assert told.found == "One, as the key of pieces.one"
    assert [f.code for f in titled({"en": "One"}, {"en": "One"})] == ["as-key"]
    assert titled({"en": "One", "de": "Vorn"}, {"en": "Other", "de": "Hinten"}) == []
    assert titled({"en": "A"}, {"en": "One"}, one=("long",), other=("short",)) == []

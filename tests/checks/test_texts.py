"""Texts in every language, and one version everywhere."""

import pytest

from pipeline.checks.garment import Garment
from tests.checks.apron import CHANGES, codes, cuts, found, garment, pattern, piece, replace


def test_the_apron_has_every_text():
    assert codes("texts", garment()) == []
    assert codes("version", garment()) == []


@pytest.mark.parametrize(
    ("title", "code"),
    [
        ({"en": "Band"}, "missing"),
        ({"en": "Band", "de": ""}, "empty"),
        ({"en": "Band", "de": "  "}, "empty"),
        ({"en": "Band", "de": "TODO"}, "placeholder"),
        ({"en": "Band ???", "de": "Bund"}, "placeholder"),
        ({"en": "…", "de": "Bund"}, "placeholder"),
        ({"en": "...", "de": "Bund"}, "placeholder"),
    ],
)
def test_a_text_that_is_not_there_blocks_and_names_piece_and_language(title, code):
    (told,) = found("texts", garment(pieces=piece("band", title=title)))
    assert (told.code, told.severity, told.piece) == (code, "block", "band")
    assert told.object is not None
    assert told.object.startswith("pieces.band.title.")


def test_the_same_text_in_two_languages_is_only_noted():
    assert codes("texts", garment(pieces=piece("band", title={"en": "Band", "de": "Band"}))) == [
        ("alike", "info", None)
    ]
    assert codes("texts", garment(maker={"en": "Invented", "de": "Invented"})) == []


@pytest.mark.parametrize("mark", ["# proposed", "#proposed: grain", "# edges.a = { fold = true }  # proposed: a fold"])
def test_what_start_proposed_is_looked_at_before_anything_is_sold(mark):
    said = f'title = "Apron"\n{mark}\nmaker = "…"  # to write: who made it\n'
    (told,) = found("proposals", Garment(pattern(), cuts(), CHANGES, said))
    assert (told.code, told.severity, told.object, told.found) == ("left", "block", "line 2, 3", "2 lines")


@pytest.mark.parametrize("said", ["", 'title = "Apron"  # as we proposed it\n', "# what to write down later\n"])
def test_other_remarks_are_no_proposals(said):
    assert codes("proposals", Garment(pattern(), cuts(), CHANGES, said)) == []


def test_every_kind_of_text_is_looked_at():
    views = {"long": {"en": "", "de": "Lang"}}
    material = {"shell": replace(pattern().materials["shell"], title={"en": "cloth", "de": ""})}
    assert {f.where for f in found("texts", garment(materials=material))} == {"materials.shell"}
    assert {f.where for f in found("texts", garment(licence=views["long"]))} == {"pattern"}
    assert {f.where for f in found("texts", garment(size_titles={"s": views["long"]}))} == {"pattern"}


def test_a_size_may_be_called_the_same_in_every_language():
    assert codes("texts", garment(size_titles={"s": {"en": "S (36/38)", "de": "S (36/38)"}})) == []


@pytest.mark.parametrize("heading", ["# 1.0.0", "## 1.0.0", "## Version 1.0.0, first release", "### 1.0.0 "])
def test_changes_have_a_heading_with_the_version(heading):
    assert codes("version", garment(changes=f"# Apron\n\n{heading}\n\nFirst.\n")) == []


@pytest.mark.parametrize(
    ("changes", "code"),
    [
        (None, "no-changes"),
        ("", "no-heading"),
        ("1.0.0\n", "no-heading"),
        ("# 0.9.0\n", "no-heading"),
        ("# 11.0.0\n# 1.0.01\n", "no-heading"),
        ("# 1.1.0\n\n# 1.0.0\n", "not-newest"),
        ("# 1.0.0\n\n# 1.0.0\n", "twice"),
    ],
)
def test_changes_without_it_block(changes, code):
    assert codes("version", garment(changes=changes)) == [(code, "block", None)]


TWO = "# 1.0.0\n\nNow.\n\n# 0.9.0\n\nBefore.\n"


@pytest.mark.parametrize(
    ("changes_in", "told"),
    [
        ({}, []),
        ({"de": TWO}, []),
        ({"de": "# 0.9.0\n"}, [("no-heading", "block", "CHANGES.de.md")]),
        ({"de": "# 1.0.0\n"}, [("lacks", "warn", "CHANGES.de.md")]),
        ({"de": f"{TWO}# 0.8.0\n"}, [("lacks", "warn", "CHANGES.md")]),
        ({"de": f"{TWO}# 0.9.0\n"}, [("twice", "block", "CHANGES.de.md")]),
        ({"en": TWO, "de": TWO}, [("twice", "block", "CHANGES.en.md")]),
        ({"fr": "", "de": TWO}, [("parked", "info", "CHANGES.fr.md")]),
        ({"fr": ""}, [("parked", "info", "CHANGES.fr.md"), ("fallback", "info", "CHANGES.md")]),
    ],
)
def test_a_language_may_tell_of_versions_in_a_file_of_its_own(changes_in, told):
    findings = found("version", garment(changes=TWO, changes_in=changes_in))
    assert [(each.code, each.severity, each.file) for each in findings] == told


def test_an_old_version_in_a_text_blocks():
    (told,) = found("version", garment(title={"en": "Tea apron 0.9.2", "de": "Schürze"}))
    assert (told.code, told.found, told.allowed, told.where) == ("other-version", "0.9.2", "1.0.0", "pattern")


def test_all_that_a_language_lacks_is_one_finding():
    lost = {name: replace(piece, title={"en": piece.title["en"]}) for name, piece in pattern().pieces.items()}
    (told,) = found("texts", garment(pieces=lost, licence={"en": "Free"}))
    assert (told.code, told.severity, told.where) == ("missing", "block", "pattern")
    assert told.object == "de: pattern.licence, pieces.skirt.title, pieces.band.title"
    assert told.message.startswith("3 texts are missing in de")


def test_a_language_without_words_of_ours_is_not_told_again():
    assert codes("texts", garment(languages=("en", "de", "xx"))) == []


def test_texts_in_further_languages_may_be_parked():
    title = {"en": "Band", "de": "Bund", "fr": "Bande"}
    (told,) = found("texts", garment(pieces=piece("band", title=title)))
    assert (told.code, told.severity, told.found) == ("parked", "info", "1 of 7 texts in fr")
    assert "once pattern.title, pattern.maker" in told.remedy, "what is still to be written"


def test_a_parked_language_that_is_complete_can_be_sold():
    kept = pattern()
    own = {key: {**getattr(kept, key), "fr": "x"} for key in ("title", "maker", "contact", "licence")}
    pieces = {name: replace(one, title={**one.title, "fr": name}) for name, one in kept.pieces.items()}
    cloth = {name: replace(one, title={**one.title, "fr": name}) for name, one in kept.materials.items()}
    (told,) = found("texts", garment(**own, pieces=pieces, materials=cloth))
    assert told.remedy.startswith("name fr in pattern.languages to sell in it")

"""Texts that cannot be printed are told before anything is drawn."""

import msgspec

from pipeline.drawing.doubts import text_findings
from pipeline.drawing.pages.doubts import page_findings
from pipeline.words import languages
from tests.drawing.stack_factory import pattern_of

PATTERN = pattern_of("front")


def test_a_printable_pattern_leaves_no_doubt() -> None:
    assert text_findings(PATTERN) == ()


def test_a_letter_that_the_font_lacks_is_told_with_its_place() -> None:
    pattern = msgspec.structs.replace(PATTERN, title={**PATTERN.title, "en": "Jacket 夹"})
    (finding,) = text_findings(pattern)
    assert (finding.code, finding.severity, finding.object) == ("no-letter", "block", "title.en")
    assert "U+5939" in finding.found
    assert "Jacket 夹" in finding.message


def test_every_title_is_looked_at() -> None:
    piece = msgspec.structs.replace(PATTERN.pieces["front"], title={"en": "Front\u200b"})
    (finding,) = text_findings(msgspec.structs.replace(PATTERN, pieces={**PATTERN.pieces, "front": piece}))
    assert finding.object == "pieces.front.title.en"


def test_a_language_without_words_is_told() -> None:
    (finding,) = text_findings(msgspec.structs.replace(PATTERN, languages=(*PATTERN.languages, "xx")))
    assert (finding.code, finding.found) == ("no-words", "xx")
    assert finding.allowed == ", ".join(languages())
    assert "lacks" in finding.message
    assert "pieces.front.title" in finding.message


def test_a_parked_language_is_not_printed() -> None:
    parked = msgspec.structs.replace(PATTERN, title={**PATTERN.title, "ja": "\u5939"})
    assert text_findings(parked) == ()


def test_texts_that_no_start_page_or_strip_can_hold_are_told_for_each_paper() -> None:
    assert list(page_findings(PATTERN)) == []
    long = msgspec.structs.replace(PATTERN, licence={"en": "For your own sewing. " * 600})
    found = list(page_findings(long))
    assert [(finding.code, finding.severity) for finding in found] == [("no-room", "block")] * 4
    assert "A4" in found[0].message
    assert "Letter" in found[1].message
    assert [finding.message.split(" cannot")[0] for finding in found[2:]] == [
        "The strip across sheets of A0",
        "The strip across sheets of 36 in",
    ]


def test_languages_that_a_start_page_or_a_strip_leaves_out_are_told() -> None:
    several = msgspec.structs.replace(PATTERN, languages=("en", "de", "fr", "es", "nl", "sv"))
    many, *left = page_findings(several)
    assert many.code == "many-languages"
    found = {finding.message.split(" has no room")[0]: finding for finding in left}
    assert set(found) == {
        f"{page} of {paper}"
        for page, papers in (("The start page", ("A4", "Letter")), ("The strip across sheets", ("A0", "36 in")))
        for paper in papers
    }
    assert {(finding.code, finding.severity, finding.object) for finding in found.values()} == {
        ("left-out", "warn", "languages")
    }
    assert found["The start page of A4"].message.endswith("in es, nl, sv.")


def test_more_than_two_languages_are_to_have_files_of_their_own() -> None:
    three = msgspec.structs.replace(PATTERN, languages=("en", "de", "fr"))
    (told,) = page_findings(three)
    assert (told.code, told.severity, told.object) == ("many-languages", "warn", "languages")
    assert "languages_together = false" in told.remedy
    apart = msgspec.structs.replace(PATTERN.print, languages_together=False)
    assert list(page_findings(msgspec.structs.replace(three, print=apart))) == []


def test_with_overlaps_too_what_is_said_of_joining_is_looked_for() -> None:
    overlapping = msgspec.structs.replace(PATTERN, print=msgspec.structs.replace(PATTERN.print, overlap_mm=10.0))
    assert list(page_findings(overlapping)) == []


def test_words_that_a_designer_brings_are_held_against_ours_in_their_language() -> None:
    brought = {"da": {"size.name": "Størrelse {størrelse}"}}
    finding = text_findings(msgspec.structs.replace(PATTERN, words=brought))[0]
    assert (finding.severity, finding.file) == ("block", "words/da.toml")


def test_of_a_language_of_ours_only_what_is_said_otherwise_is_brought() -> None:
    assert text_findings(msgspec.structs.replace(PATTERN, words={"fr": {"size.name": "Taille"}})) == ()

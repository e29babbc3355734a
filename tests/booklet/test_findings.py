"""What is found in a booklet: each fault by its name, and nothing in one that is right."""

import msgspec
import pytest

from pipeline.checks.waivers import waive
from pipeline.model.findings import blocks
from pipeline.model.outputs import BookletSpec
from pipeline.model.pattern import Waiver
from tests.booklet.sample import GOOD, SVG, codes, files, findings, pattern


def test_nothing_is_found_in_a_booklet_that_is_right():
    assert findings(files()) == ()


def test_nothing_is_asked_of_a_pattern_without_a_booklet():
    assert findings({}) == ()


@pytest.mark.parametrize(
    ("more", "told"),
    [
        ("{{ piece skirts }}", ("unknown-piece", "block", "booklet/en.md, line 6")),
        ("{{ seam wiast }}", ("unknown-seam", "block", "booklet/en.md, line 6")),
        ("{{ strip ties }}", ("unknown-strip", "block", "booklet/en.md, line 6")),
        ("{{ notion zip }}", ("unknown-notion", "block", "booklet/en.md, line 6")),
        ("{{ material shel }}", ("unknown-material", "block", "booklet/en.md, line 6")),
        ("{{ allowance skirt.him }}", ("unknown-edge", "block", "booklet/en.md, line 6")),
        ("{{ skirt.waste }}", ("unknown-line", "block", "booklet/en.md, line 6")),
        ("{{ skirt.waist[mid-waits..side] }}", ("unknown-place", "block", "booklet/en.md, line 6")),
        ("{{ skirt.waste[mid-waist..side] }}", ("unknown-edge", "block", "booklet/en.md, line 6")),
        ("{{ body.waist }}", ("unknown-body", "block", "booklet/en.md, line 6")),
        ("{{ term bastes }}", ("unknown-term", "block", "booklet/en.md, line 6")),
        ("{{ table clothes }}", ("unknown-table", "block", "booklet/en.md, line 6")),
        ("{{ figure seam wiast }}", ("unknown-seam", "block", "booklet/en.md, line 6")),
        ("::: view short\na\n:::", ("unknown-view", "block", "booklet/en.md, line 6")),
    ],
)
def test_a_name_that_there_is_not(more, told):
    assert codes("booklet-references", files(f"{GOOD}\n{more}\n", None)) == [told]


def test_the_nearest_name_is_offered():
    (told,) = [
        one for one in findings(files(GOOD.replace("piece skirt", "piece skrit"))) if one.code == "unknown-piece"
    ]
    assert told.remedy == 'Did you mean "skirt"?'


def test_where_nothing_of_the_kind_is_declared_what_to_do_is_said():
    (told,) = [
        one
        for one in findings(files(f"{GOOD}\n{{{{ grown-on skirt.hem }}}}\n", None))
        if one.code == "unknown-grown-on"
    ]
    assert told.remedy == "None is declared: declare it, or take its name out."


def test_a_term_that_the_glossary_does_not_know_is_told_by_name_with_the_nearest():
    (told,) = [
        one for one in findings(files(f"{GOOD}\n{{{{ term intrefacing }}}}\n", None)) if one.code == "unknown-term"
    ]
    assert "intrefacing" in told.message
    assert told.remedy == 'Did you mean "interfacing"?'
    assert all(term in told.allowed for term in ("allowance", "baste", "shank")), "all that there are"


@pytest.mark.parametrize(
    ("typed", "code", "reference"),
    [
        ("4 cm", "typed", "allowance skirt.hem"),
        ("40 mm", "typed", "allowance skirt.hem"),
        ("1.58 in", "nearly", "allowance skirt.hem"),
        ("1 5/8 in", "nearly", "allowance skirt.hem"),
        ("70 cm", "typed", "table notions"),
        ("69,5 cm", "nearly", "table notions"),
    ],
)
def test_a_length_that_the_pattern_knows_is_not_typed_by_hand(typed, code, reference):
    text = GOOD.replace("{{ allowance skirt.hem }}", typed)
    (told,) = [one for one in findings(files(text, text)) if one.check == "booklet-numbers" and "en.md" in one.file]
    assert (told.code, told.severity, told.object) == (code, "warn", "line 4")
    assert told.found == typed
    assert told.allowed == f"{{{{ {reference} }}}}"


@pytest.mark.parametrize("typed", ["2 mm", "6 cm", "40", "4 cms", "version 4.0", "1/0 in"])
def test_other_numbers_are_left_alone(typed):
    assert codes("booklet-numbers", files(f"{GOOD}\nSew {typed} beside it.\n", None)) == []


@pytest.mark.parametrize(
    ("check", "without", "place"),
    [
        ("booklet-notions", " and {{ notion elastic }}", "notions.elastic"),
        ("booklet-seams", "{{ seam waist }} of ", None),
        ("booklet-strips", "{{ strip tie }}, ", None),
    ],
)
def test_what_no_step_tells_of(check, without, place):
    text = GOOD.replace(without, "")
    (told,) = [one for one in findings(files(text, text)) if one.check == check]
    if place:
        assert (told.code, told.severity, told.where) == ("not-named", "warn", place)
    else:
        assert (told.code, told.severity) == ("no-references", "info"), "its kind is named nowhere: told once"


def test_a_piece_that_is_cut_and_never_named():
    text = GOOD.replace("{{ seam waist }} of ", "").replace(" and {{ piece band }}", "")
    (told,) = [one for one in findings(files(text, text)) if one.check == "booklet-pieces"]
    assert (told.code, told.severity, told.piece) == ("not-named", "warn", "band")


def test_a_seam_names_its_pieces_and_so_do_words():
    assert codes("booklet-pieces", files(GOOD.replace(" of {{ piece skirt }} and {{ piece band }}", ""))) == []
    by_title = GOOD.replace("{{ seam waist }} of ", "").replace("{{ piece band }}", "the band")
    assert codes("booklet-pieces", files(by_title, None)) == []


@pytest.mark.parametrize(
    ("german", "told"),
    [
        (GOOD.replace("1. Join", "- Join"), ("steps", "block", "booklet/de.md, line 4")),
        (GOOD + "\n::: caution\nHot.\n:::\n", ("caution", "block", "booklet/en.md")),
        (GOOD + "\n::: view long\nHot.\n:::\n", ("view", "block", "booklet/en.md")),
        (GOOD + "\n{{ figure seam waist }}\n", ("figure", "block", "booklet/en.md")),
        (GOOD.replace("{{ strip tie }}", "das Band"), ("reference", "warn", "booklet/de.md, line 4")),
    ],
)
def test_what_one_language_lacks(german, told):
    assert codes("booklet-languages", files(GOOD, german)) == [told]


def test_one_language_may_name_a_thing_twice():
    assert codes("booklet-languages", files(GOOD, GOOD.replace("Press", "{{ allowance skirt.hem }} Press"))) == []


def test_a_language_without_a_text_and_a_text_without_a_language():
    assert codes("booklet-text", files(GOOD, None)) == [("no-file", "warn", "booklet/de.md")]
    parked = {**files(), "booklet/fr.md": b"# Coudre\n", "booklet/notes.txt": b"x"}
    assert codes("booklet-text", parked) == [
        ("not-read", "info", "booklet/fr.md"),
        ("not-read", "info", "booklet/notes.txt"),
    ]


def test_html_is_told():
    assert codes("booklet-text", files(GOOD + "\n<br>\n")) == [("raw-html", "block", "booklet/en.md, line 6")]


@pytest.mark.parametrize(
    ("shown", "told"),
    [
        ("![a tie](figures/tie.svg)", []),
        ("![](figures/tie.svg)", [("no-alternative", "block", "booklet/en.md, line 6")]),
        ("![tie.svg](figures/tie.svg)", [("no-alternative", "block", "booklet/en.md, line 6")]),
        ("![a tie](figures/tie.svg)\n\n![a tie](figures/tie.svg)", []),
        (
            "![a tie](figures/tie.svg)\n\n![a tie](figures/bow.svg)",
            [("same-alternative", "warn", "booklet/en.md, line 8")],
        ),
        (
            "![a tie](figures/tye.svg)",
            [("no-figure", "block", "booklet/en.md, line 6"), ("not-shown", "info", "booklet/figures/tie.svg")],
        ),
    ],
)
def test_figures_are_there_and_say_what_they_show(shown, told):
    other = {"figures__bow": SVG} if "bow" in shown else {}
    assert codes("booklet-alternatives", files(f"{GOOD}\n{shown}\n", None, figures__tie=SVG, **other)) == told


def test_a_sum_that_has_a_length_in_no_size():
    lost = files(f"{GOOD}\n{{{{ body.waist }}}}\n", None)
    assert codes("booklet-references", lost, pattern(body={})) == [
        ("unknown-body", "block", "booklet/en.md, line 6"),
    ]


def test_a_letter_that_the_font_lacks_is_told_once():
    told = codes("booklet-text", files(f"{GOOD}\nSew 夹 and 夹.\n\nAgain 夹.\n", GOOD))
    assert told == [("no-letter", "block", "booklet/en.md, line 6")]


@pytest.mark.parametrize(
    ("accent", "told"), [("#1f5a57", []), ("#6e6e6e", []), ("#757575", ["too-pale"]), ("#8fbf6a", ["too-pale"])]
)
def test_an_accent_can_be_read_on_white_and_on_the_darker_ground_of_notes(accent, told):
    made = pattern(booklet=BookletSpec(accent=accent))
    assert [one.code for one in findings({}, made) if one.check == "booklet-accent"] == told


def test_what_a_booklet_cannot_be_set_without_cannot_be_accepted():
    made = pattern(waivers=(Waiver(check="booklet-references", where="pattern", why="Later."),))
    (told,) = [one for one in waive(made, findings(files(f"{GOOD}\n{{{{ piece x }}}}\n", None), made)) if blocks(one)]
    assert (told.code, told.waived) == ("unknown-piece", None)


def test_a_language_that_cannot_be_said_is_told_of_the_pattern_and_not_of_its_booklet():
    made = pattern(languages=("en", "xx"))
    written = {"booklet/en.md": GOOD.encode(), "booklet/xx.md": b"# X\n"}
    assert {one.check for one in findings(written, made)} == {"booklet-languages"}
    assert findings(written, pattern(languages=("xx",))) == ()


@pytest.mark.parametrize("left", ["…", "...", "TODO"])
def test_a_step_that_is_still_a_place_holder_blocks(left):
    told = codes("booklet-text", files(f"{GOOD}\n9. {left}\n", GOOD))
    assert [(code, severity) for code, severity, _ in told] == [("placeholder", "block")]
    assert codes("booklet-text", files(f"{GOOD}\nPress … and go on.\n", GOOD)) == []


TWO_SEAMS = pattern(seams={**pattern().seams, "again": msgspec.structs.replace(pattern().seams["waist"], name="again")})


def alike(text: str) -> list[tuple[str, str, str | None]]:
    told = findings(files(text, text), TWO_SEAMS)
    return [
        (one.code, one.severity, one.object) for one in told if one.check == "booklet-alike" and "en.md" in one.file
    ]


def test_two_steps_that_read_alike_are_told_where_they_sew_two_seams():
    text = GOOD.replace("1. Join", "1. Sew {{ seam again }}.\n1. Sew {{ seam waist }}.\n1. Join")
    assert alike(text) == [("alike", "warn", "line 4")]


@pytest.mark.parametrize(
    "other", ["Sew {{ seam again }}.", "Sew the second one, {{ seam waist }}.", "Press {{ seam waist }}."]
)
def test_one_seam_sewn_twice_and_a_seam_that_words_tell_are_no_doubt(other):
    assert alike(GOOD.replace("1. Join", f"1. Sew {{{{ seam again }}}}.\n1. {other}\n1. Join")) == []

"""CommonMark, tables, references and boxes are read to values; all else is told with its line."""

import pytest

from pipeline.booklet.read import read_booklet
from pipeline.booklet.text import (
    AllowanceOf,
    Box,
    Bullets,
    FigureOf,
    GrownOnOf,
    Heading,
    Inserted,
    Named,
    Paragraph,
    Picture,
    Steps,
    Strong,
    SumOf,
    Table,
    TableOf,
    Value,
    Words,
)
from pipeline.booklet.walk import references_within, steps_of
from pipeline.masters.toml.sums import parse_sum


def read(text: str):
    booklet, faults = read_booklet("en", "booklet/en.md", text.encode())
    assert faults == ()
    return booklet.blocks


def faults(text: str | bytes) -> list[tuple[str, int]]:
    data = text if isinstance(text, bytes) else text.encode()
    return [(fault.code, fault.line) for fault in read_booklet("en", "booklet/en.md", data)[1]]


def test_headings_paragraphs_and_what_stands_out():
    heading, paragraph = read("## Cut\n\nCut *one* of **each**.\n")
    assert heading == Heading(2, (Words("Cut"),), 1)
    assert isinstance(paragraph, Paragraph)
    assert Strong((Words("one"),)) in paragraph.inside
    assert Strong((Words("each"),)) in paragraph.inside


def test_numbered_steps_run_on_through_headings_and_boxes():
    blocks = read("1. a\n2. b\n\n# Next\n\n1. c\n\n::: view long\n1. d\n:::\n")
    assert [step.line for step in steps_of(blocks)] == [1, 2, 6, 9]


def test_steps_hold_lists_figures_and_steps_of_their_own():
    (steps,) = read("1. a\n   - b\n\n   ![a pocket](figures/pocket.svg)\n   {{ figure seam waist }}\n\n   1. c\n")
    assert isinstance(steps, Steps)
    _, bullets, picture, figure, inner = steps.items[0].blocks
    assert isinstance(bullets, Bullets)
    assert picture == Picture("figures/pocket.svg", "a pocket", 4)
    assert figure == Inserted(FigureOf(("seam", "waist")), "figure seam waist", 5)
    assert isinstance(inner, Steps)
    assert len(list(steps_of([steps]))) == 1


def test_a_table_has_a_row_of_headings_and_alignment():
    (table,) = read("| a | b |\n| --- | --: |\n| {{ a.b }} | 2 |\n")
    assert isinstance(table, Table)
    assert [cell.align for cell in table.head] == ["left", "right"]
    assert table.rows[0][0].inside == (Value(SumOf(parse_sum("a.b")), "a.b", 3),)


def test_boxes_of_notes_cautions_and_views():
    boxes = read("::: note\na\n:::\n\n::: caution\nb\n:::\n\n::: view long\nc\n:::\n")
    assert [(box.kind, box.view) for box in boxes if isinstance(box, Box)] == [
        ("note", None),
        ("caution", None),
        ("view", "long"),
    ]


@pytest.mark.parametrize(
    ("written", "reference"),
    [
        ("2 x front.hem + 3 cm", SumOf(parse_sum("2 x front.hem + 3 cm"))),
        ("body.waist", SumOf(parse_sum("body.waist"))),
        ("piece front", Named("piece", "front")),
        ("seam side", Named("seam", "side")),
        ("strip tie", Named("strip", "tie")),
        ("notion zip", Named("notion", "zip")),
        ("material shell", Named("material", "shell")),
        ("allowance front.hem", AllowanceOf("front", "hem")),
        ("grown-on front.cf", GrownOnOf("front", "cf")),
        ("table cut-list", TableOf("cut-list")),
        ("figure place pocket on front", FigureOf(("place", "pocket", "on", "front"))),
    ],
)
def test_every_kind_of_reference_is_read_with_its_line(written, reference):
    (found,) = references_within(read(f"text\n\n{{{{ {written} }}}}\n"))
    assert (found.reference, found.written, found.line) == (reference, written, 3)


def test_lines_are_counted_within_paragraphs_and_steps():
    blocks = read("1. one\n   two {{ piece a }}\n   three **four\n   {{ piece b }}**\n")
    assert [(found.written, found.line) for found in references_within(blocks)] == [("piece a", 2), ("piece b", 4)]


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("a\n\n<b>c</b>", [("raw-html", 3), ("raw-html", 3)]),
        ("<div>\nx\n</div>", [("raw-html", 1)]),
        ("<!-- a remark -->", [("raw-html", 1)]),
        ("<script>alert(1)</script>", [("raw-html", 1)]),
        ("{{ frobnicate x y }}", [("bad-reference", 1)]),
        ("{{ front.hem + 3 }}", [("bad-reference", 1)]),
        ("{{ figure frill front }}", [("bad-reference", 1)]),
        ("{{ figure place pocket front }}", [("bad-reference", 1)]),
        ("{{ table }}", [("bad-reference", 1)]),
        ("{{ table sizes 40 }}", [("bad-reference", 1)]),
        ("{{ }}", [("bad-reference", 1)]),
        ("a {{ piece front", [("open-reference", 1)]),
        ("a {{ piece\nfront }}", [("open-reference", 1)]),
        ("see {{ table cloth }} here", [("figure-in-text", 1)]),
        ("see ![x](figures/x.svg) here", [("figure-in-text", 1)]),
        ("![x](../../x.svg)", [("bad-figure", 1)]),
        ("![x](https://example.org/x.svg)", [("bad-figure", 1)]),
        ("[x](other.md)", [("bad-link", 1)]),
        ("::: remark\na\n:::", [("unknown-box", 1)]),
        ("::: view\na\n:::", [("unknown-box", 1)]),
        ("::: note\na\n", [("open-box", 1)]),
        ("```\ncode\n```", [("unknown-block", 1)]),
        ("> quoted", [("unknown-block", 1)]),
        ("a\n\n##", [("empty-heading", 3)]),
        (b"a\n\xff\n", [("not-utf-8", 2)]),
    ],
)
def test_what_is_not_understood_is_told_with_its_line(text, told):
    assert faults(text) == told


def test_a_file_of_nothing_but_faults_is_told_in_few():
    assert len(faults("<b>\n\n" * 5_000)) <= 40


def test_deep_nesting_ends_in_a_finding_or_in_text_and_never_in_a_trace():
    read_booklet("en", "booklet/en.md", b"- " * 3_000 + b"x\n" + b">" * 5_000 + b"**_" * 5_000)


def test_a_byte_order_mark_is_no_text():
    assert read("\ufeff# Sew\n") == (Heading(1, (Words("Sew"),), 1),)

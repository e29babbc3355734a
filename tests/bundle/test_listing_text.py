"""The text of a listing: the same said as Markdown and as plain text, whole, and read back as it was meant."""

import re

import msgspec
import pytest
from markdown_it import MarkdownIt

from pipeline.booklet.nodes import Grid, Head, Run, Text, cell, plain
from pipeline.bundle.archives import sold_file
from pipeline.bundle.listing_text import buyers_files, listing_nodes, markdown, plain_text
from pipeline.masters.toml.load import load_pattern
from pipeline.model.pattern import Pattern
from pipeline.words import own_languages
from tests.by_steps import APRON

GRID = Grid(
    head=(cell("Size"), cell("110 cm wide"), cell("zip")),
    rows=((cell("S", bold=True), cell("60 cm\n5/8 yd"), cell("–")), (cell("M"), cell("70 cm"), cell("2*"))),
    shares=(1.0, 1.0, 1.0),
    above=(("", 1), ("cloth | lining", 1), ("", 1)),
)
TOLD = (Head(1, plain("What you need"), part=True), Text((Run("Read"), Run("_this_", ends=True), Run("first"))), GRID)


@pytest.fixture(scope="module")
def pattern() -> Pattern:
    found, findings = load_pattern(APRON)
    assert found is not None, findings
    return found


def nodes(pattern: Pattern, language: str) -> list:
    return listing_nodes(pattern, language, TOLD, buyers_files(pattern))


def read_back(text: str) -> list[str]:
    """The words of every block, as a reader of CommonMark with tables has them."""
    tokens = MarkdownIt("commonmark").enable("table").parse(text)
    return ["".join(inner.content for inner in token.children) for token in tokens if token.type == "inline"]


def test_it_says_what_it_is_its_sizes_what_to_buy_and_what_is_in_the_download(pattern):
    text = markdown(nodes(pattern, "en"))
    heads = [line for line in text.splitlines() if line.startswith("#")]
    assert heads == ["# Tea apron", "## What you need", "## In the download", "## About this pattern"]
    assert "Sizes: S, M · The pieces: 2" in text
    assert "For your own sewing" in text
    assert "tea-apron-1.0.0-a4.pdf" in text.replace("\\", "")


def test_every_file_that_buyers_have_is_named_and_no_other(pattern):
    files = buyers_files(pattern)
    assert "preview/sheet.png" not in files
    assert all(sold_file(pattern, path) for path in files)
    said = plain_text(nodes(pattern, "en"), "en")
    named = set(re.findall(r"tea-apron-1\.0\.0-([\w.*-]+?)(?=[,:])", said))
    assert {"a0.pdf", "a4.pdf", "cloth-and-lays.pdf", "instructions-de-large-print.pdf", "size-S-*"} <= named
    assert "letter.txt" not in said


def test_markdown_reads_back_as_it_was_meant(pattern):
    words = read_back(markdown(TOLD))
    assert words == [
        "What you need",
        "Read_this_ first",
        *("Size", "cloth | lining, 110 cm wide", "zip"),
        *("S", "60 cm (5/8 yd)", "–", "M", "70 cm", "2*"),
    ]


@pytest.mark.parametrize("text", ["1. no list", "- nor this", "# no heading", "<b>", "a\\b", "[x](y)", "2) no", "+ no"])
def test_nothing_that_a_designer_wrote_is_read_as_marks(text):
    assert read_back(markdown([Text(plain(text))])) == [text]


def test_plain_text_has_a_line_a_row():
    assert plain_text(TOLD, "en").splitlines() == [
        "WHAT YOU NEED",
        "",
        "Read_this_ first",
        "",
        "Size S: cloth | lining, 110 cm wide 60 cm (5/8 yd); zip –",
        "Size M: cloth | lining, 110 cm wide 70 cm; zip 2*",
    ]


@pytest.mark.parametrize("language", own_languages())
def test_every_language_has_it(pattern, language):
    text = plain_text(nodes(pattern, language), language)
    assert not re.search(r"[{}]", text)


def test_what_it_does_not_hold_is_a_type_error():
    with pytest.raises(TypeError, match="holds no str"):
        markdown(["text"])


def test_sizes_stand_in_the_designers_order(pattern: Pattern) -> None:
    sizes = ("6", "8", "10")
    files = buyers_files(msgspec.structs.replace(pattern, sizes=sizes))
    told = [
        path.removeprefix("print/by-size/").partition("-")[0] for path in files if path.startswith("print/by-size/")
    ]
    assert tuple(dict.fromkeys(told)) == sizes

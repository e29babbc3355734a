"""The demos' instructions: the same in both languages, of everything that the pattern has, with figures that can be
drawn and covers that pass the guard."""

import re
from pathlib import Path

import pytest

from pipeline.booklet.figures.own import read_own_figure
from tests.booklet.figures.demo_garments import DEMOS, figure, garment

SOURCE = Path(__file__).resolve().parents[3] / "source"
REFERENCE = re.compile(r"\{\{ (.*?) \}\}")


def text(name: str, language: str) -> str:
    return (SOURCE / name / "booklet" / f"{language}.md").read_text(encoding="utf-8")


def steps(written: str) -> list[list[str]]:
    """The references of each step, sorted: languages put words in different orders."""
    return [sorted(REFERENCE.findall(part)) for part in re.split(r"^\d+\. ", written, flags=re.MULTILINE)]


@pytest.mark.parametrize("name", DEMOS)
def test_both_languages_have_the_same_headings_steps_boxes_and_references(name):
    english, german = text(name, "en"), text(name, "de")
    for mark in (r"^#+ ", r"^\d+\. ", r"^ *::: ?\w* ?\w*$"):
        marks = [[found.strip() for found in re.findall(mark, each, re.MULTILINE)] for each in (english, german)]
        assert marks[0] == marks[1]
    assert steps(english) == steps(german)


@pytest.mark.parametrize("name", DEMOS)
def test_every_sewn_seam_strip_and_notion_is_named_where_it_is_used(name):
    pattern, named = garment(name).pattern, set(REFERENCE.findall(text(name, "en")))
    sewn = [seam for seam, spec in pattern.seams.items() if spec.kind == "sewn"]
    wanted = [f"seam {seam}" for seam in sewn]
    wanted += [f"{kind} {owner}" for kind in ("strip", "notion") for owner in getattr(pattern, f"{kind}s")]
    assert set(wanted) <= named


@pytest.mark.parametrize("name", DEMOS)
def test_no_length_is_typed_by_hand(name):
    for language in ("en", "de"):
        plain = REFERENCE.sub("", text(name, language))
        assert not re.search(r"(?<![\w.])\d+(?:[.,/]\d+)?\s?(?:mm|cm|m|in|inch|inches|yd|Zoll)\b", plain)


@pytest.mark.parametrize("name", DEMOS)
def test_every_figure_that_is_asked_for_is_drawn(name):
    asked = [words.removeprefix("figure ") for words in REFERENCE.findall(text(name, "en")) if words[:7] == "figure "]
    assert asked
    assert all(figure(name, words).alt for words in asked)


@pytest.mark.parametrize("name", DEMOS)
def test_the_cover_passes_the_guard(name):
    cover, findings = read_own_figure(SOURCE / name / "booklet/cover.svg", "booklet/cover.svg", name)
    assert cover is not None
    assert findings == ()

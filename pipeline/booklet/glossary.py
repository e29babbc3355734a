"""The words of the trade that a designer's text uses, each explained, with what the pattern's other languages say."""

from collections.abc import Sequence

from pipeline.booklet.forms import is_in
from pipeline.booklet.nodes import Cell, Grid, Head, Node, cell, plain
from pipeline.booklet.text import Booklet, Named
from pipeline.booklet.walk import blocks_within, plain_text, references_within, runs_of
from pipeline.drawing.fonts import text_width_mm
from pipeline.words import own_catalogue, say

_SECTION = "glossary."
_HEAD = f"{_SECTION}head"
_PAGE_EM, _LARGE_PAGE_EM = 52.0, 28.0
"""The column of text in sizes of a table's letters."""
_INSET_EM, _LEAST_EM = 1.1, 10.0
"""What stands beside a word, and the least that is left to meanings."""


def glossary(text: Booklet, languages: Sequence[str], large: bool = False) -> list[Node]:
    """A row a word that the text uses, in the order of its alphabet; nothing where it uses none.

    `languages` are the pattern's; that of the text need not be the first. `large` is for large print.
    """
    written = " ".join(plain_text(run) for block in blocks_within(text.blocks) for run, _ in runs_of(block))
    asked = {value.reference for value in references_within(text.blocks)}
    found = {name: _entry(text.language, name) for name in terms()}
    used = {
        name: entry
        for name, entry in found.items()
        if Named("term", name) in asked or is_in(text.language, name, entry[0], written)
    }
    if not used:
        return []
    others = tuple(language for language in languages if language != text.language)
    rows = tuple(
        (cell(word), *_elsewhere(", ".join(term_text(other, name) for other in others)), cell(meaning))
        for name, (word, meaning) in sorted(used.items(), key=lambda one: one[1][0].casefold())
    )
    heads = (
        say(text.language, _HEAD),
        *filter(None, (", ".join(say(other, "language.name") for other in others),)),
        say(text.language, "booklet.meaning"),
    )
    # no word is parted: those of another language would be by the rules of this one
    lines = [tuple(map(cell, heads)), *rows]
    words = [max(_widest_em(line[at]) for line in lines) for at in range(len(heads) - 1)]
    shares = (*words, max((_LARGE_PAGE_EM if large else _PAGE_EM) - sum(words), _LEAST_EM))
    return [Head(1, plain(say(text.language, _HEAD))), Grid(tuple(map(cell, heads)), rows, shares)]


def _widest_em(told: Cell) -> float:
    """What the widest word of a cell takes of its column, in sizes of its letters."""
    words = (word for run in told.runs for word in run.text.split(" "))
    return max((text_width_mm(word, 1.0, bold=True) for word in words), default=0.0) + _INSET_EM


def _elsewhere(words: str) -> tuple[Cell, ...]:
    return (cell(words),) if words else ()


def terms() -> tuple[str, ...]:
    """The names of all words that are explained, the same in every language, as `baste`."""
    return tuple(key.removeprefix(_SECTION) for key in own_catalogue("en") if key.startswith(_SECTION) and key != _HEAD)


def term_text(language: str, name: str) -> str:
    """The word of a name in a language, as the glossary has it. Raises KeyError."""
    return _entry(language, name)[0]


def _entry(language: str, name: str) -> tuple[str, str]:
    """A word, and what it means."""
    word, _, meaning = say(language, f"{_SECTION}{name}").partition(":")
    return word.strip(), meaning.strip()

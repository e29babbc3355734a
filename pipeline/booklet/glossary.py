"""The words of the trade that a designer's text uses, each explained, with what the pattern's other languages say."""

import re
from collections.abc import Sequence

from pipeline.booklet.nodes import Cell, Grid, Head, Node, cell, plain
from pipeline.booklet.text import Booklet
from pipeline.booklet.walk import blocks_within, plain_text, runs_of
from pipeline.words import own_catalogue, say

_SECTION = "glossary."
_HEAD = f"{_SECTION}head"


def glossary(text: Booklet, languages: Sequence[str]) -> list[Node]:
    """A row a word that the text uses, in the order of its alphabet; nothing where it uses none.

    `languages` are the pattern's; that of the text need not be the first.
    """
    written = " ".join(plain_text(run) for block in blocks_within(text.blocks) for run, _ in runs_of(block))
    found = {key: _entry(text.language, key) for key in terms()}
    used = {key: entry for key, entry in found.items() if _is_in(entry[0], written)}
    if not used:
        return []
    others = tuple(language for language in languages if language != text.language)
    rows = tuple(
        (cell(word), *_elsewhere(", ".join(_entry(other, key)[0] for other in others)), cell(meaning))
        for key, (word, meaning) in sorted(used.items(), key=lambda one: one[1][0].casefold())
    )
    heads = (say(text.language, _HEAD), *filter(None, (", ".join(others),)), say(text.language, "booklet.meaning"))
    shares = (1.0, 1.0, 3.4) if others else (1.0, 3.4)
    return [Head(1, plain(say(text.language, _HEAD))), Grid(tuple(map(cell, heads)), rows, shares)]


def _elsewhere(words: str) -> tuple[Cell, ...]:
    return (cell(words),) if words else ()


def terms() -> tuple[str, ...]:
    """The keys of all words that are explained."""
    return tuple(key for key in own_catalogue("en") if key.startswith(_SECTION) and key != _HEAD)


def _entry(language: str, key: str) -> tuple[str, str]:
    """A word, and what it means."""
    word, _, meaning = say(language, key).partition(":")
    return word.strip(), meaning.strip()


def _is_in(word: str, written: str) -> bool:
    """Whether a text has a word, also with an ending or as the first part of a longer word. A word that is always
    written with a capital, as a German noun, is no verb of the same letters."""
    ways = re.NOFLAG if word[0].isupper() else re.IGNORECASE
    return re.search(rf"\b{re.escape(word)}", written, ways) is not None

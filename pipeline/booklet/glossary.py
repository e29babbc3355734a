"""The words of the trade that a designer's text uses, each explained, with what the pattern's other languages say."""

import re
from collections.abc import Sequence

from pipeline.booklet.nodes import Grid, Head, Node, cell, plain
from pipeline.booklet.text import Booklet
from pipeline.booklet.walk import blocks_within, plain_text, runs_of
from pipeline.words import own_catalogue, say

_SECTION = "glossary."
_HEAD = f"{_SECTION}head"
_SHARES = (1.0, 2.6)


def glossary(text: Booklet, languages: Sequence[str]) -> list[Node]:
    """A row a word that the text uses, in the order of its alphabet; nothing where it uses none.

    `languages` are the pattern's; that of the text need not be the first.
    """
    written = " ".join(plain_text(run) for block in blocks_within(text.blocks) for run, _ in runs_of(block))
    found = {key: _entry(text.language, key) for key in terms()}
    used = {key: entry for key, entry in found.items() if _is_in(entry[0], written)}
    if not used:
        return []
    rows = tuple(
        (cell("\n".join(filter(None, (word, _others(key, text.language, languages))))), cell(meaning))
        for key, (word, meaning) in sorted(used.items(), key=lambda one: one[1][0].casefold())
    )
    heads = (cell(say(text.language, "glossary.head")), cell(say(text.language, "booklet.meaning")))
    return [Head(1, plain(say(text.language, _HEAD))), Grid(heads, rows, _SHARES)]


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


def _others(key: str, language: str, languages: Sequence[str]) -> str:
    return ", ".join(f"{other}: {_entry(other, key)[0]}" for other in languages if other != language)

"""In which forms a word of the glossary stands in a text: plurals, verbs, and the first or last part of longer words.

A word whose forms nobody has listed, as one that a designer brings, is found as it is written, also with an ending.
"""

import functools
import re
import tomllib
from pathlib import Path

from pipeline.words import own_catalogue

_FILE = Path(__file__).with_name("forms.toml")
_BETWEEN = "…"
_CLAUSE_ENDS = r"(?=\s*(?:[^\w\s]|$|und\b|en\b|och\b))"
"""A particle that is parted from its verb ends its clause: "stik de naad door", and not "stik door alle lagen"."""


def is_in(language: str, name: str, word: str, written: str) -> bool:
    """Whether a text has a word of the glossary, which calls it `word`, in any of its forms."""
    forms = listed_forms().get(language, {}).get(name)
    if not forms or not own_catalogue(language)[f"glossary.{name}"].startswith(word):
        return _stem(word, written)
    return any(_form(form).search(written) for form in (*forms, word))


@functools.cache
def listed_forms() -> dict[str, dict[str, tuple[str, ...]]]:
    """By language and name of a word."""
    tables = tomllib.loads(_FILE.read_text(encoding="utf-8"))
    return {language: {name: tuple(forms) for name, forms in table.items()} for language, table in tables.items()}


def _stem(word: str, written: str) -> bool:
    return re.search(rf"\b{re.escape(word)}", written, _letters(word)) is not None


@functools.cache
def _form(form: str) -> re.Pattern[str]:
    before, between, particle = form.partition(f" {_BETWEEN} ")
    pattern = rf"\b{_words(before)}\b"
    if between:
        pattern += rf"[^.:;!?\n]*?\b{_words(particle)}\b{_CLAUSE_ENDS}"
    return re.compile(pattern, _letters(form))


def _words(form: str) -> str:
    return r"\s+".join(map(_word, form.split(" ")))


def _word(word: str) -> str:
    first, last = (r"\w+" if word.startswith("-") else ""), (r"\w*" if word.endswith("-") else "")
    return f"{first}{re.escape(word.strip('-'))}{last}"


def _letters(word: str) -> re.RegexFlag:
    """A word that is always written with a capital, as a German noun, is no verb of the same letters."""
    return re.NOFLAG if word[0].isupper() else re.IGNORECASE

"""What a catalogue must be like that a designer brings: every key, every place, no text longer than pages have room."""

import re
import string
from collections.abc import Iterable, Mapping

import msgspec

from pipeline.masters.toml.faults import nearest, shown
from pipeline.masters.toml.leaf_types import LINE
from pipeline.words import own_catalogue, own_languages

_MOST_SHOWN = 12
_LIKE = "en"
"""The catalogue whose keys and places all others have."""


class WordFault(msgspec.Struct, frozen=True):
    """What is wrong with a catalogue; `message` names the keys."""

    code: str
    object: str
    found: str
    allowed: str
    message: str
    remedy: str


def usable(brought: Mapping[str, Mapping[str, str]]) -> dict[str, dict[str, str]]:
    """Those of the catalogues that were brought in which nothing is wrong, each with all keys."""
    return {
        language: completed(language, texts) for language, texts in brought.items() if not word_faults(language, texts)
    }


def completed(language: str, texts: Mapping[str, str]) -> dict[str, str]:
    """A catalogue that was brought; in a language of ours, our words where it has none."""
    return {**(own_catalogue(language) if language in own_languages() else {}), **texts}


def word_faults(language: str, texts: Mapping[str, str]) -> tuple[WordFault, ...]:
    """All that is wrong with the words that were brought for a language, by dotted key; nothing where they can be used.

    Whether the font has their letters is another matter.
    """
    known = own_catalogue(_LIKE)
    found = []
    if missing := [key for key in known if key not in completed(language, texts)]:
        message = f"{_count(missing)} missing: {_listed(missing)}."
        remedy = "Write them as pipeline/words/en.toml has them, in your language."
        found.append(WordFault("missing-words", "keys", _listed(missing), "every key of en.toml", message, remedy))
    for key in [key for key in texts if key not in known][:_MOST_SHOWN]:
        close = nearest(key, known)
        remedy = f'Did you mean "{close}"?' if close else "Take it out."
        message = f"{shown(key)} is no key of the catalogues."
        found.append(WordFault("unknown-words", key, key[:100], "a key of en.toml", message, remedy))
    for key, text in texts.items():
        if key in known and (fault := _text_fault(key, text)) is not None and len(found) < 2 * _MOST_SHOWN:
            found.append(fault)
    return tuple(found)


def most_letters(key: str) -> int:
    """How many letters a text may have: twice as many as the longest of ours, and ten for very short ones."""
    return 10 + 2 * max(len(own_catalogue(language)[key]) for language in own_languages())


def _text_fault(key: str, text: str) -> WordFault | None:
    """What is wrong with one text."""
    like = own_catalogue(_LIKE)[key]
    if not text.strip() or text != text.strip():
        found, allowed = shown(text), "a text without blanks at its ends"
        return WordFault("empty-words", key, found, allowed, f"{key} is empty or has blanks at its ends.", "Mend it.")
    if not re.fullmatch(LINE, text):
        message = f"{key} has a line break or a control character."
        return WordFault("bad-words", key, shown(text), "one line of text", message, "Take it out.")
    if len(text) > (most := most_letters(key)):
        message = f"{key} has {len(text):,} letters: more than pages have room for."
        remedy = f"Say it in at most {most}."
        return WordFault("long-words", key, f"{len(text):,} letters", f"at most {most}", message, remedy)
    own, wanted = _places(text), _places(like)
    if own != wanted:
        found = "braces that do not pair" if own is None else _braced(own)
        message = f"{key} has {found}, where the pipeline puts in {_braced(wanted or ())}."
        remedy = f"Write each of them as in {shown(like)}."
        return WordFault("wrong-places", key, found, _braced(wanted or ()), message, remedy)
    return None


def _places(text: str) -> tuple[str, ...] | None:
    """The {places} of a text in alphabetical order, with whatever is asked of their form; None: they do not pair."""
    try:
        parts = list(string.Formatter().parse(text))
    except ValueError:
        return None
    return tuple(
        sorted(
            {
                f"{name}{'!' + turned if turned else ''}{':' + form if form else ''}"
                for _, name, form, turned in parts
                if name is not None
            }
        )
    )


def _braced(places: Iterable[str]) -> str:
    return ", ".join(f"{{{place[:40]}}}" for place in places) or "no places"


def _count(keys: list[str]) -> str:
    return "1 text is" if len(keys) == 1 else f"{len(keys)} texts are"


def _listed(keys: list[str]) -> str:
    more = f" and {len(keys) - _MOST_SHOWN} more" if len(keys) > _MOST_SHOWN else ""
    return f"{', '.join(keys[:_MOST_SHOWN])}{more}"

"""The texts that the pipeline itself prints: a catalogue a language, `<language>.toml`, all with the same keys.

A designer may bring others: a process that prints a pattern says so first (`use_words`), and all that follows has them.
"""

import functools
import tomllib
from collections.abc import Mapping
from pathlib import Path

_FOLDER = Path(__file__).parent


_brought: dict[str, dict[str, str]] = {}
"""The catalogues of the designer whose pattern this process prints."""


def use_words(brought: Mapping[str, Mapping[str, str]]) -> None:
    """Say these languages in these words from now on, and no others that were brought before; all keys are there."""
    _brought.clear()
    _brought.update({language: dict(texts) for language, texts in brought.items()})


@functools.cache
def own_languages() -> tuple[str, ...]:
    """The languages that have a catalogue of ours, in alphabetical order."""
    return tuple(sorted(file.stem for file in _FOLDER.glob("*.toml")))


def languages() -> tuple[str, ...]:
    """The languages that can be said, in alphabetical order."""
    return tuple(sorted({*own_languages(), *_brought}))


def catalogue(language: str) -> dict[str, str]:
    """All texts of a language by dotted key ("piece.fold"). Raises ValueError for a language without a catalogue."""
    if language in _brought:
        return _brought[language]
    if language not in own_languages():
        raise ValueError(
            f"the pipeline has no words in the language {language!r}, only in {', '.join(languages())}: "
            f"bring words/{language}.toml beside the patterns, or take the language out of pattern.toml"
        )
    return own_catalogue(language)


@functools.cache
def own_catalogue(language: str) -> dict[str, str]:
    """The catalogue of ours in one of our languages."""
    file = _FOLDER / f"{language}.toml"
    tables = tomllib.loads(file.read_text(encoding="utf-8"))
    texts: dict[str, str] = {}
    for table, entries in tables.items():
        for key, text in entries.items():
            if not isinstance(text, str):
                raise ValueError(f"pipeline/words/{file.name}: {table}.{key} is not a text")
            texts[f"{table}.{key}"] = text
    return texts


def say(language: str, key: str, **values: object) -> str:
    """The text of a key in a language, its {places} filled. Raises ValueError for an unknown language, key or place."""
    texts = catalogue(language)
    if key not in texts:
        raise ValueError(f"words/{language}.toml has no key {key!r}")
    try:
        return texts[key].format(**values)
    except KeyError as place:
        raise ValueError(f"words/{language}.toml: {key!r} has an unknown place {{{place.args[0]}}}") from None


def say_all(wanted: tuple[str, ...], key: str, separator: str = " · ", **values: object) -> str:
    """The text in several languages, each once, in their order: "Size · Größe"."""
    texts = dict.fromkeys(say(language, key, **values) for language in wanted)
    return separator.join(texts)

"""The texts that the pipeline itself prints: a catalogue a language, `<language>.toml`, all with the same keys."""

import functools
import tomllib
from pathlib import Path

_FOLDER = Path(__file__).parent


@functools.cache
def languages() -> tuple[str, ...]:
    """The languages that have a catalogue, in alphabetical order."""
    return tuple(sorted(file.stem for file in _FOLDER.glob("*.toml")))


@functools.cache
def catalogue(language: str) -> dict[str, str]:
    """All texts of a language by dotted key ("piece.fold"). Raises ValueError for a language without a catalogue."""
    file = _FOLDER / f"{language}.toml"
    if language not in languages():
        raise ValueError(
            f"the pipeline has no words in the language {language!r}, only in {', '.join(languages())}: "
            f"add pipeline/words/{language}.toml with the keys of en.toml, or take the language out of pattern.toml"
        )
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
        raise ValueError(f"pipeline/words/{language}.toml has no key {key!r}")
    try:
        return texts[key].format(**values)
    except KeyError as place:
        raise ValueError(f"pipeline/words/{language}.toml: {key!r} has an unknown place {{{place.args[0]}}}") from None


def say_all(wanted: tuple[str, ...], key: str, separator: str = " · ", **values: object) -> str:
    """The text in several languages, each once, in their order: "Size · Größe"."""
    texts = dict.fromkeys(say(language, key, **values) for language in wanted)
    return separator.join(texts)

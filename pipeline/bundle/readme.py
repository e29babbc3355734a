"""The text that is read first: which file is for what, in every language of the pattern, one after the other."""

import textwrap
from collections.abc import Iterator, Sequence

from pipeline.bundle.archives import README, SoldFile, prefix, sold_file
from pipeline.drawing.panels.words import care_texts
from pipeline.model.pattern import Pattern, in_language
from pipeline.words import say

_WIDE = 76
_KINDS = (
    ("instructions-", "readme.instructions"),
    ("cloth-and-lays", "readme.cloth"),
    ("correction-", "readme.correction"),
    ("reprint-", "readme.correction"),
    ("changes", "readme.changes"),
    ("exchange", "readme.dxf"),
)
"""By the beginning of a name; of all others their use says it."""


def readme(pattern: Pattern, paths: Sequence[str], archives: int) -> str:
    """The text for these files of the bundle, which come in so many archives."""
    told = ["\n".join(_told(pattern, paths, archives, language)) for language in pattern.languages]
    return f"\n\n{'-' * _WIDE}\n\n".join(told) + "\n"


def _told(pattern: Pattern, paths: Sequence[str], archives: int, language: str) -> Iterator[str]:
    title = in_language(pattern.title, language)
    yield f"{title} · {say(language, 'readme.version', version=pattern.version)}"
    yield in_language(pattern.maker, language)
    yield ""
    yield say(language, "readme.head").upper()
    yield ""
    yield from _wrapped(say(language, "large.print"))
    if archives > 1:
        yield from ("", *_wrapped(say(language, "readme.parts", count=archives)))
    yield from ("", say(language, "readme.what"))
    for key, names in files_by_kind(pattern, paths).items():
        yield ""
        yield from (f"  {name}" for name in names)
        yield from _wrapped(say(language, key), "    ")
    for text in care_texts(pattern, language):
        yield from ("", *_wrapped(text))
    yield from ("", *_wrapped(in_language(pattern.licence, language)))
    yield from ("", *_wrapped(say(language, "readme.questions", contact=in_language(pattern.contact, language))))


def files_by_kind(pattern: Pattern, paths: Sequence[str]) -> dict[str, list[str]]:
    """The files of each kind, those of single sizes and views by one name with a star: they are many and alike."""
    found: dict[str, list[str]] = {}
    for path in paths:
        if (file := sold_file(pattern, path)) is not None and file.name != README:
            key = _key(file)
            name = prefix(pattern) + (f"{file.use}-{file.alone}-*" if file.alone else file.name)
            names = found.setdefault(key, [])
            names += [name] if name not in names else []
    return found


def _key(file: SoldFile) -> str:
    return next((key for start, key in _KINDS if file.name.startswith(start)), f"readme.{file.use}")


def _wrapped(text: str, indent: str = "") -> list[str]:
    return textwrap.wrap(text, _WIDE, initial_indent=indent, subsequent_indent=indent)

"""The letter to whoever bought the version before, as plain text in one language."""

import textwrap
from collections.abc import Iterator

from pipeline.bundle.archives import inner_name
from pipeline.correction import sentences
from pipeline.correction.sentences import Correction
from pipeline.model.pattern import in_language
from pipeline.words import say

_WIDE = 76
"""Letters in a line: mail breaks longer ones."""


def letter(correction: Correction, language: str, sheet: str) -> str:
    """The text; `sheet` is the correction sheet's place in the bundle, told by the name that it has in an archive."""
    parts = (textwrap.wrap(part, _WIDE, break_on_hyphens=False) for part in _parts(correction, language, sheet))
    return "\n\n".join(map("\n".join, parts)) + "\n"


def _parts(correction: Correction, language: str, sheet: str) -> Iterator[str]:
    pattern, changes = correction.pattern, correction.changes
    title, version = in_language(pattern.title, language), changes.version
    yield say(language, "correction.letter-subject", title=title, version=version)
    yield say(language, "correction.letter-open")
    yield say(language, "correction.letter-why", title=title, since=changes.since, version=version)
    yield from sentences.what_was_wrong(correction)
    if sizes := sentences.concerned(correction):
        yield sentences.concerned_said(correction, sizes, language)
    yield say(language, "correction.letter-get", file=inner_name(pattern, sheet))
    yield say(language, "correction.letter-ask", contact=in_language(pattern.contact, language))
    yield in_language(pattern.maker, language)

"""What of a pattern's texts, and of words that were brought for it, could not be printed: told before it is drawn."""

from collections.abc import Iterator, Mapping

import msgspec

from pipeline.checks.texts import lacking_keys
from pipeline.drawing.fonts import FAMILY, missing_glyphs
from pipeline.masters.toml.words_file import words_file
from pipeline.model.findings import Finding
from pipeline.model.pattern import Pattern
from pipeline.model.piece_specs import Texts
from pipeline.model.stages import Stage
from pipeline.model.texts import contact_lines, mark_titles, seam_titles
from pipeline.words import languages
from pipeline.words.brought import word_faults

STAGE = Stage(
    id="texts-drawable",
    title="Every text can be printed: its letters, its language and words, its room on start pages and large sheets",
    rationale="A box in place of a letter, or a page without its licence, cannot be sold.",
    severity="block",
)
CHECK = STAGE.id
_MOST_LETTERS, _LONGEST_SHOWN = 12, 200


def text_findings(pattern: Pattern) -> tuple[Finding, ...]:
    """A finding that blocks for each text with a letter that the font lacks, and each language without words."""
    known = {*languages(), *pattern.words}
    found = [_no_words(pattern, language) for language in pattern.languages if language not in known]
    for language, texts in pattern.words.items():
        found += _word_findings(pattern, language, texts)
    for place, text in _texts(pattern):
        if missing := missing_glyphs(text):
            found.append(_no_letter(pattern, "pattern.toml", place, text, missing))
    return tuple(found)


def _word_findings(pattern: Pattern, language: str, texts: Mapping[str, str]) -> Iterator[Finding]:
    """What is wrong with the words that were brought for a language."""
    for fault in word_faults(language, texts):
        yield Finding(
            check=CHECK,
            severity="block",
            pattern=pattern.name,
            file=words_file(language),
            **msgspec.structs.asdict(fault),
        )
    for key, text in texts.items():
        if missing := missing_glyphs(text):
            yield _no_letter(pattern, words_file(language), key, text, missing)


def _no_letter(pattern: Pattern, file: str, place: str, text: str, missing: set[str]) -> Finding:
    letters = ", ".join(f"{letter!r} (U+{ord(letter):04X})" for letter in sorted(missing)[:_MOST_LETTERS])
    more = f" and {len(missing) - _MOST_LETTERS} more" if len(missing) > _MOST_LETTERS else ""
    shown = text if len(text) <= _LONGEST_SHOWN else f"{text[:_LONGEST_SHOWN]}…"
    return Finding(
        check=CHECK,
        code="no-letter",
        severity="block",
        pattern=pattern.name,
        file=file,
        object=place,
        found=f"{letters}{more}",
        allowed=f"letters of {FAMILY}",
        message=f"{place}, {shown!r}: the font {FAMILY} that everything is printed in has no {letters}{more}.",
        remedy="Write the text without it.",
    )


def _no_words(pattern: Pattern, language: str) -> Finding:
    lacking = lacking_keys(pattern, language)
    also = f" It also lacks {len(lacking)} texts of yours: {', '.join(lacking)}." if lacking else ""
    file = words_file(language)
    return Finding(
        check=CHECK,
        code="no-words",
        severity="block",
        pattern=pattern.name,
        file="pattern.toml",
        object="languages",
        found=language,
        allowed=", ".join(languages()),
        message=f"There are no words of ours in the language {language!r}: pages cannot be written in it.{also}",
        remedy=f"Take {language!r} out of `languages`, where texts in it may wait, or bring {file} beside patterns.",
    )


def _texts(pattern: Pattern) -> Iterator[tuple[str, str]]:
    """Every text of a pattern that is printed, with its place in the file."""
    yield "version", pattern.version
    for size in pattern.sizes:
        yield "sizes", size
    for place, texts in _titles(pattern).items():
        yield from ((f"{place}.{language}", text) for language, text in texts.items() if language in pattern.languages)


def _titles(pattern: Pattern) -> dict[str, Texts]:
    return {
        "title": pattern.title,
        "maker": pattern.maker,
        "contact": pattern.contact,
        "licence": pattern.licence,
        **{f"views.{name}.title": view.title for name, view in pattern.views.items()},
        **{f"materials.{name}.title": material.title for name, material in pattern.materials.items()},
        **{f"pieces.{name}.title": piece.title for name, piece in pattern.pieces.items()},
        **{f"strips.{name}.title": strip.title for name, strip in pattern.strips.items()},
        **{f"body.{name}.title": measure.title for name, measure in pattern.body.items()},
        **{f"finished.{name}.title": measure.title for name, measure in pattern.finished.items()},
        **{f"notions.{name}.title": notion.title for name, notion in pattern.notions.items()},
        **contact_lines(pattern),
        **mark_titles(pattern),
        **seam_titles(pattern),
    }

"""What of a pattern's texts could not be printed, told before anything is drawn."""

from collections.abc import Iterator

from pipeline.checks.texts import lacking_keys
from pipeline.drawing.fonts import FAMILY, missing_glyphs
from pipeline.model.findings import Finding
from pipeline.model.pattern import Pattern, Texts, mark_titles
from pipeline.model.stages import Stage
from pipeline.words import languages

STAGE = Stage(
    id="texts-drawable",
    title="Every text can be printed: its letters, its language, its room on a start page",
    rationale="A box in place of a letter, or a page without its licence, cannot be sold.",
    severity="block",
)
CHECK = STAGE.id


def text_findings(pattern: Pattern) -> tuple[Finding, ...]:
    """A finding that blocks for each text with a letter that the font lacks, and each language without words."""
    known = languages()
    found = [_no_words(pattern, language) for language in pattern.languages if language not in known]
    for place, text in _texts(pattern):
        missing = sorted(missing_glyphs(text))
        if missing:
            letters = ", ".join(f"{letter!r} (U+{ord(letter):04X})" for letter in missing)
            found.append(
                Finding(
                    check=CHECK,
                    code="no-letter",
                    severity="block",
                    pattern=pattern.name,
                    file="pattern.toml",
                    object=place,
                    found=letters,
                    allowed=f"letters of {FAMILY}",
                    message=f"{place}, {text!r}: the font {FAMILY} that everything is printed in has no {letters}.",
                    remedy="Write the text without it.",
                )
            )
    return tuple(found)


def _no_words(pattern: Pattern, language: str) -> Finding:
    lacking = lacking_keys(pattern, language)
    also = f" It also lacks {len(lacking)} texts of yours: {', '.join(lacking)}." if lacking else ""
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
        remedy=f"Take {language!r} out of `languages`, or add a catalogue of words for it; texts in it may stay.",
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
        **mark_titles(pattern),
    }

"""What pages say of a pattern, in its languages: version, sizes, what to beware of."""

from collections.abc import Sequence

from pipeline.checks.cautions import cautions
from pipeline.drawing.lay_names import laid_names
from pipeline.drawing.wording import all_languages, size_range, told_of
from pipeline.model.pattern import Pattern
from pipeline.model.piece_specs import Texts
from pipeline.model.sizes import size_title
from pipeline.sheets.layout import PagePlan
from pipeline.words import say, say_all

SEPARATOR = " / "
Languages = tuple[str, ...]


def in_all(texts: Texts, languages: Languages) -> str:
    """As pages write it: "Jacket / Jacke"."""
    return all_languages(texts, languages, SEPARATOR)


def fewer(languages: Languages) -> list[Languages]:
    """All languages, then without the last, and so on: what is tried where room is scarce."""
    return [languages[:count] for count in range(len(languages), 0, -1)]


def version_words(pattern: Pattern, languages: Languages) -> str:
    """ "version 1.0.0" in several languages."""
    return say_all(languages, "page.version", SEPARATOR, version=pattern.version)


def size_words(sizes: Sequence[str], pattern: Pattern, languages: Languages) -> str:
    """ "Size 34" or "Sizes 34–44" in several languages."""
    name = "size.name" if len(sizes) == 1 else "size.several"
    return f"{say_all(languages, name, SEPARATOR)} {size_range(sizes, pattern)}"


def part_words(pattern: Pattern, plan: PagePlan, sizes: Sequence[str], languages: Languages) -> str:
    """What a file shows: its sizes, and its views where they are not all of the pattern's."""
    words = [size_words(sizes, pattern, languages)]
    if len(sizes) == 1 and pattern.size_titles:
        titles = {language: size_title(pattern, sizes[0], language) for language in languages}
        words = [f"{say_all(languages, 'size.name', SEPARATOR)} {in_all(titles, languages)}"]
    shown = {view for page in plan.pages for view in page.views}
    if shown != set(pattern.views):
        words += [in_all(view.title, languages) for name, view in pattern.views.items() if name in shown]
    return " · ".join(words)


def moved_words(pattern: Pattern, plan: PagePlan, languages: Languages, separator: str = SEPARATOR) -> str:
    """Which pieces lie elsewhere than in the version that was sold before, by their short names; "" where none does."""
    if not plan.moved:
        return ""
    names = laid_names(pattern, languages[0])
    short = [(names.get(piece) or names[f"strips.{piece}"]).short for piece in plan.moved]
    return say_all(languages, "start.moved", separator, version=plan.since, pieces=", ".join(short))


def care_texts(pattern: Pattern, language: str) -> tuple[str, ...]:
    """What to beware of: in sewing, then in what a child wears."""
    care = told_of(language, say(language, "start.care-head"), say(language, "start.care"))
    return care, *cautions(pattern, language)

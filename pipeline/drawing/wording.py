"""How lengths, sizes and texts of a pattern are written: in a language, in few words, in several languages."""

from collections.abc import Collection, Iterable, Sequence

from pipeline.model.lengths import both_units
from pipeline.model.pattern import Pattern, Units, in_language
from pipeline.model.piece_specs import Texts
from pipeline.model.sizes import size_runs, size_title
from pipeline.words import say

SEPARATOR = " · "
_BARS = frozenset("1IJijl|ıІі")
"""Letters of the font whose ink is no more than half as wide as high: alone in a line they read as a part of it."""


def length_words(language: str, length_mm: float, units: Units) -> str:
    """The length in both systems, the pattern's own first: "1.5 cm (5/8 in)", in German "1,5 cm (5/8 in)"."""
    return in_decimals(language, both_units(length_mm, units))


def in_decimals(language: str, numbers: str) -> str:
    """Numbers written with a decimal point, with the language's own sign."""
    return numbers.replace(".", say(language, "number.decimal"))


def told_of(language: str, head: str, told: str) -> str:
    """What is told of something, after its name: "Take care: hot irons burn", as the language sets its colon."""
    return say(language, "sentence.told", head=head, told=told)


def told_apart(language: str, parts: Iterable[str]) -> str:
    """Parts of a sentence, which may hold commas, with the language's own mark between them: in French " ; "."""
    return say(language, "sentence.apart", before="", after="").join(parts)


def size_range(sizes: Collection[str], pattern: Pattern, language: str | None = None) -> str:
    """Sizes in few words: "34", "34–44", "34–38, 42"; where there are axes, a value for all its sizes: "petite".

    Where several languages share a text, axes are parted as the first of the pattern's has it.
    """
    runs = size_runs(pattern, sizes)
    by_axis = len(runs) > 1 and runs == [list(values) for values in pattern.size_axes.values()]
    parts = (f"{run[0]}–{run[-1]}" if len(run) > 2 else ", ".join(run) for run in runs)
    return told_apart(language or pattern.languages[0], parts) if by_axis else ", ".join(parts)


def size_heading(sizes: Collection[str], pattern: Pattern, language: str) -> str:
    """Sizes where a buyer chooses one: as `size_range`, but a size or value that has a title by that."""
    runs = size_runs(pattern, sizes)
    return (
        size_title(pattern, runs[0][0], language)
        if len(runs) == len(runs[0]) == 1
        else size_range(sizes, pattern, language)
    )


def all_sizes(pattern: Pattern, language: str) -> str:
    """Every size by its title; where there are axes, the values of each: "36, 38, 40; petite, tall"."""
    ladders = list(pattern.size_axes.values()) or [pattern.sizes]
    return told_apart(language, (", ".join(size_title(pattern, name, language) for name in names) for names in ladders))


def size_label(sizes: Collection[str], pattern: Pattern) -> str:
    """Sizes as they are written at lines and marks: as `size_range`, but "(l)" for a name that reads as a stroke."""
    label = size_range(sizes, pattern)
    return f"({label})" if _BARS.issuperset(label) else label


def view_titles(views: Iterable[str], pattern: Pattern, language: str) -> str:
    """Views by their titles, which may hold commas: "A, long; B, short"."""
    return told_apart(language, (in_language(pattern.views[view].title, language) for view in dict.fromkeys(views)))


def all_languages(texts: Texts, languages: Sequence[str], separator: str = SEPARATOR) -> str:
    """A text of the pattern in several languages, each wording once: "Jacket · Jacke"."""
    return separator.join(dict.fromkeys(in_language(texts, language) for language in languages))

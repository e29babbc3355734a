"""How lengths, sizes and texts of a pattern are written: in a language, in few words, in several languages."""

from collections.abc import Sequence

from pipeline.model.lengths import both_units
from pipeline.model.pattern import Texts, Units, in_language
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


def size_range(sizes: Sequence[str], order: Sequence[str]) -> str:
    """Sizes in few words: "34", "34–44", "34–38, 42"."""
    places = {size: index for index, size in enumerate(order)}
    runs: list[list[str]] = []
    for size in sorted(sizes, key=places.__getitem__):
        if runs and places[size] == places[runs[-1][-1]] + 1:
            runs[-1].append(size)
        else:
            runs.append([size])
    parts: list[str] = []
    for run in runs:
        parts.extend([f"{run[0]}–{run[-1]}"] if len(run) > 2 else run)
    return ", ".join(parts)


def size_label(sizes: Sequence[str], order: Sequence[str]) -> str:
    """Sizes as they are written at lines and marks: as `size_range`, but "(l)" for a name that reads as a stroke."""
    label = size_range(sizes, order)
    return f"({label})" if _BARS.issuperset(label) else label


def all_languages(texts: Texts, languages: Sequence[str], separator: str = SEPARATOR) -> str:
    """A text of the pattern in several languages, each wording once: "Jacket · Jacke"."""
    return separator.join(dict.fromkeys(in_language(texts, language) for language in languages))

"""Lengths as they are printed in a language."""

from pipeline.model.lengths import both_units
from pipeline.model.pattern import Units
from pipeline.words import say


def length_words(language: str, length_mm: float, units: Units) -> str:
    """The length in both systems, the pattern's own first: "1.5 cm (5/8 in)", in German "1,5 cm (5/8 in)"."""
    return in_decimals(language, both_units(length_mm, units))


def in_decimals(language: str, numbers: str) -> str:
    """Numbers written with a decimal point, with the language's own sign."""
    return numbers.replace(".", say(language, "number.decimal"))

"""Which language the names in a drawing are of, where its words for sizes or main pieces tell (words from memory)."""

import re
from collections.abc import Iterable

from pipeline.masters.drawings.layers import words

UNTOLD = "en"
"""What is asked about where nothing tells."""

_OF_LANGUAGE = {
    "en": r"sizes?|fronts?|backs?|sleeves?|collars?|facings?|pockets?|waistband",
    "de": r"größen?|grössen?|groessen?|vorder.*|rücken.*|ruecken.*|rückenteil|hinter.*|ärmel|aermel|.*kragen"
    r"|besatz|.*tasche|.*bund",
    "fr": r"tailles?|devant|dos|manches?|col|parementure|poche|ceinture|empiècement|poignet",
    "es": r"tallas?|delantero|espalda|trasero|mangas?|cuello|vista|bolsillo|pretina|canesú|puño",
    "nl": r"maat|maten|voor(pand|kant|been)|achter(pand|kant|been)|rugpand|mouw|kraag|.*zak|tailleband",
    "sv": r"storlekar|storlek|framstycke|bakstycke|ärm|krage|.*ficka|linning|infodring",
}


def language_of(names: Iterable[str]) -> str | None:
    """The one language whose words are there; None where none is, or several are."""
    said = {word for name in names for word in words(name)}
    found = [language for language, meant in _OF_LANGUAGE.items() if any(re.fullmatch(meant, word) for word in said)]
    return found[0] if len(found) == 1 else None

"""Cautions of a child's or baby's pattern: what is dangerous in it, and the words that pages and booklet print of it.

The pipeline flags and shows; what is lawful the authorities and standards say.
"""

from pipeline.model.pattern import Pattern, in_language
from pipeline.model.piece_specs import Texts
from pipeline.words import say


def cords(pattern: Pattern) -> dict[str, Texts]:
    """Titles of all that is a cord, tie, drawstring or sash, by the place where a waiver names it."""
    found = {name: piece.title for name, piece in pattern.pieces.items() if piece.cord}
    found |= {f"strips.{name}": strip.title for name, strip in pattern.strips.items() if strip.cord}
    return found | {f"notions.{name}": notion.title for name, notion in pattern.notions.items() if notion.cord}


def small_parts(pattern: Pattern) -> dict[str, Texts]:
    """Titles of all notions that could be swallowed, by the place where a waiver names them."""
    return {f"notions.{name}": notion.title for name, notion in pattern.notions.items() if notion.small_part}


def cautions(pattern: Pattern, language: str) -> tuple[str, ...]:
    """What pages must say of a child's or baby's garment, a text a danger; none of an adult's.

    A waiver takes none of them away.
    """
    if pattern.wearer == "adult":
        return ()
    texts = []
    found = cords(pattern)
    drawn = {place: title for place, title in found.items() if place in pattern.pieces}
    told = {place: title for place, title in found.items() if place not in drawn}
    dangers = (("safety.cord", drawn), ("safety.cord-cut", told), ("safety.small-part", small_parts(pattern)))
    for key, titles in dangers:
        if titles:
            names = ", ".join(dict.fromkeys(in_language(title, language) for title in titles.values()))
            texts.append(say(language, key, names=names))
    if pattern.sleepwear:
        texts.append(say(language, "safety.sleepwear"))
    return tuple(texts)

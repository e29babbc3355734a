"""What pieces are called in figures and in what is said of them."""

from collections.abc import Sequence

from pipeline.drawing.wording import length_words
from pipeline.model.pattern import Pattern, in_language
from pipeline.model.pieces import CutEdge
from pipeline.words import say


def numbered(pattern: Pattern, piece: str, language: str) -> str:
    """A piece with its number: "3 Front facing"."""
    spec = pattern.pieces[piece]
    return f"{spec.number} {in_language(spec.title, language)}"


def and_list(names: Sequence[str], language: str) -> str:
    """Names in a sentence: "Front", "Front and Back", "Front, Back and Collar"."""
    if len(names) < 2:
        return names[0] if names else ""
    return say(language, "figure.and", first=", ".join(names[:-1]), last=names[-1])


def allowance_told(pattern: Pattern, edge: CutEdge, language: str) -> str:
    """The allowance of an edge, at both ends where it tapers; the smallest and the largest where it has parts."""
    wide, narrow = (
        length_words(language, allowance, pattern.units) for allowance in (edge.widest_mm, edge.narrowest_mm)
    )
    if wide == narrow:
        return wide
    return say(language, "piece.allowance-parts" if edge.allowance_between else "piece.taper", wide=wide, narrow=narrow)

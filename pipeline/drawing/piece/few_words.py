"""What is written on a piece that has no room for its whole block: in blocks apart, or shorter."""

from collections.abc import Mapping

import msgspec

from pipeline.drawing.labels.block_layouts import Words
from pipeline.drawing.piece.words import block_words, by_sizes, cut_sentences
from pipeline.model.pattern import Pattern
from pipeline.model.pieces import CutPiece


def shorter_words(
    pattern: Pattern, cuts: Mapping[str, CutPiece], plain: bool, whole: bool
) -> tuple[tuple[Words, ...], ...]:
    """What a piece too small for all of it says, the most first; always its one side, and that it lies off the grain.

    In all languages without allowances; in the first all of it; title, number, sizes and how it is cut; without how it
    is cut; title and sizes; the title. What is always said is said in all languages, where that has room.
    """
    languages = pattern.languages
    first = msgspec.structs.replace(pattern, languages=languages[:1])
    title, garment, number, sizes, *others = block_words(first, cuts, plain, whole)
    cut = by_sizes(first, {size: cut_sentences(first, own, whole) for size, own in cuts.items()})
    told = [line for line in others if line.vital]
    vital = [line for line in block_words(pattern, cuts, plain, whole) if line.vital]
    wordings = (
        (title, garment, number, sizes, *others),
        (title, number, sizes, *cut, *vital),
        (title, number, sizes, *vital),
        (title, sizes, *vital),
        (title, sizes, *told),
        (title, *told),
    )
    if len(languages) == 1:
        return wordings
    every_title, _, every_number, every_sizes, *_ = block_words(pattern, cuts, plain, whole)
    every_cut = by_sizes(pattern, {size: cut_sentences(pattern, own, whole) for size, own in cuts.items()})
    in_all = (every_title, every_number, every_sizes, *every_cut, *vital)
    return (in_all, *(wordings[1:] if told else wordings))


def words_apart(
    pattern: Pattern, cuts: Mapping[str, CutPiece], plain: bool, whole: bool
) -> tuple[tuple[tuple[Words, ...], ...], ...]:
    """The block a language: in the first all of it, in others what is not the same in every language; then without
    the garment and the allowances.

    Nothing where there is one language.
    """
    if len(pattern.languages) == 1:
        return ()
    every: list[tuple[Words, ...]] = []
    least: list[tuple[Words, ...]] = []
    for language in pattern.languages:
        speaking = msgspec.structs.replace(pattern, languages=(language,))
        title, garment, number, sizes, *others = block_words(speaking, cuts, plain, whole)
        cut = by_sizes(pattern, {size: cut_sentences(speaking, own, whole) for size, own in cuts.items()})
        vital = [line for line in others if line.vital]
        every.append((title, *others) if every else (title, garment, number, sizes, *others))
        least.append((title, *cut, *vital) if least else (title, number, sizes, *cut, *vital))
    return tuple(every), tuple(least)

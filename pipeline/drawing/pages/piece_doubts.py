"""What a piece cannot show: told once it is drawn, of each language that finds no room on it."""

from collections.abc import Iterable, Iterator, Mapping

import msgspec

from pipeline.drawing.doubts import CHECK
from pipeline.drawing.drawing import Drawing
from pipeline.drawing.labels.block_layouts import NO_BREAK
from pipeline.drawing.pages.doubts import APART
from pipeline.drawing.piece.words import cut_sentences
from pipeline.drawing.scene import Text
from pipeline.masters.toml.toml_file import PATTERN_FILE
from pipeline.model.findings import Finding
from pipeline.model.pattern import Pattern
from pipeline.model.pieces import CutPiece


def piece_findings(
    pattern: Pattern, cuts: Mapping[str, Mapping[str, CutPiece]], drawings: Iterable[Drawing]
) -> Iterator[Finding]:
    """A finding for each language that pieces leave out; nothing of a pattern whose files speak one."""
    said: dict[str, list[str]] = {}
    for drawing in drawings if len(pattern.languages) > 1 else ():
        said.setdefault(drawing.piece, []).extend(shape.content for shape in drawing.shapes if isinstance(shape, Text))
    for language in pattern.languages:
        speaking = msgspec.structs.replace(pattern, languages=(language,))
        left = [piece for piece, texts in said.items() if _leaves_out(speaking, cuts[piece].values(), " ".join(texts))]
        if left:
            yield _left_out(pattern, language, left)


def _leaves_out(pattern: Pattern, cuts: Iterable[CutPiece], said: str) -> bool:
    return any(sentence.replace(NO_BREAK, " ") not in said for cut in cuts for sentence in cut_sentences(pattern, cut))


def _left_out(pattern: Pattern, language: str, pieces: Iterable[str]) -> Finding:
    named = ", ".join(pieces)
    return _told(
        pattern,
        "languages",
        "left-out-on-pieces",
        named,
        "what is cut of a piece in every language",
        f"Too small to say in {language} how they are cut: {named}. The booklet and the cut list tell it.",
        f"For a file a language, {APART}; a shorter title or name of the material may do.",
    )


def _told(pattern: Pattern, object: str, code: str, found: str, allowed: str, message: str, remedy: str) -> Finding:
    return Finding(
        check=CHECK,
        code=code,
        severity="info",
        pattern=pattern.name,
        file=PATTERN_FILE,
        object=object,
        found=found,
        allowed=allowed,
        message=message,
        remedy=remedy,
    )

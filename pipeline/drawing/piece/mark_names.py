"""What inside lines and points are called on the pieces: by the designer, by the piece that is sewn on, or as usual.

The usual names are common practice, in German, too; they stand in the catalogues of words under `mark`. One is given
where the id of the mark is that name and nothing else but where it lies ("waist", "waist-line", "pocket-upper",
"button-3"), so that no mark is called what it is not.
"""

import re
from collections.abc import Iterator, Mapping, Sequence

import msgspec

from pipeline.drawing.nest.opened import CENTRE, MIRRORED
from pipeline.drawing.piece.edge_names import edge_word
from pipeline.drawing.wording import told_of
from pipeline.model.pattern import Pattern, in_language
from pipeline.model.piece_specs import LineKind, MarkSpec, PieceSpec
from pipeline.model.questions import Turn, drawn_piece, mark_spec, turn_of
from pipeline.model.topstitching import row_of
from pipeline.words import catalogue, say

_BESIDES = re.compile(
    "lines?|mark|point|upper|lower|inner|outer|top|bottom|low|high|front|back|left|right|side|cent(re|er)|middle|"
    "end|start|inside|outside|under|over|leg|[a-f]|[0-9]+"
)
"""What an id says besides the name of the mark."""
_SPELLED = {
    "center-front": "cf",
    "centre-front": "cf",
    "front-centre": "cf",
    "center-back": "cb",
    "centre-back": "cb",
    "back-centre": "cb",
    "bicep": "biceps",
    "dart-end": "dart-tip",
    "dart-point": "dart-tip",
    "hips": "hip",
    "pleat-fold": "pleat",
    "pleat-place": "pleat",
    "fly-stitch": "fly",
    "zipper": "zip",
    "roll-line": "roll",
    "button-hole": "buttonhole",
}
_FASTENERS = ("button", "buttonhole", "snap", "hook", "eyelet")
"""Whose name an id begins with, whatever follows: "button-waist"."""
_ACTED: frozenset[LineKind] = frozenset({"fold", "cut", "match"})
"""Kinds that say what is done, whatever the line is called."""
_CENTRES = ("cf", "cb")
_FIXED: frozenset[LineKind] = frozenset({"adjust"})


def line_words(pattern: Pattern, piece: str, key: str, kind: LineKind) -> tuple[str, ...]:
    """What is written at an inside line, in every language, each wording once; nothing where there is no more to say
    than that it marks a place."""
    if key == CENTRE:
        return tuple(dict.fromkeys(_centre_word(pattern, piece, language) for language in pattern.languages))
    spec = mark_spec(pattern, piece, key.removesuffix(MIRRORED), "lines")
    if (turn := turn_of(pattern, piece, key.removesuffix(MIRRORED))) is not None:
        return tuple(dict.fromkeys(_turn_words(turn, language) for language in pattern.languages))
    if row_of(pattern, piece, key.removesuffix(MIRRORED)) is not None:
        told = ((language, say(language, "mark.topstitch")) for language in pattern.languages)
        return tuple(dict.fromkeys(_with_side(text, language, spec) for language, text in told))
    found, acted = [], kind in _ACTED and not _says_kind(pattern, spec, kind)
    for language in pattern.languages:
        name = _name(pattern, piece, key, language, spec, placed=kind == "place", usual=kind not in _FIXED)
        plain = say(language, f"line.{kind}") if kind != "place" else ""
        text = told_of(language, name, plain) if name and acted else name or plain
        found.append(_with_side(text, language, spec))
    return tuple(dict.fromkeys(text for text in found if text))


def _says_kind(pattern: Pattern, spec: MarkSpec, kind: LineKind) -> bool:
    """Whether the designer's own title says what is done, in one of its languages at least: so all of them do."""
    if not spec.title:
        return False
    told = ((in_language(spec.title, language), say(language, f"line.{kind}")) for language in pattern.languages)
    return any(plain.casefold() in re.findall(r"\w+", title.casefold()) for title, plain in told)


def _centre_word(pattern: Pattern, piece: str, language: str) -> str:
    """Where a piece is folded: as its edge there is called where that is a centre, or else its centre."""
    drawn = drawn_piece(pattern, piece)
    centres = [say(language, f"edge.{name}") for name in _CENTRES]
    words = [edge_word(language, name) for name, edge in drawn.edges.items() if edge.fold] if drawn is not None else []
    return next((word for word in words if word in centres), say(language, "line.centre"))


def _turn_words(turn: Turn, language: str) -> str:
    """ "hem: fold 2": of which edge it is, where its name has words, and its number from the seam line."""
    edge = edge_word(language, "turn-up" if turn.turn_up else turn.edge)
    numbered = say(language, "piece.turn", number=turn.number) if turn.number else say(language, "line.fold")
    return told_of(language, edge, numbered) if edge else numbered


def point_words(pattern: Pattern, piece: str, key: str) -> tuple[str, ...]:
    """What is written at a point, in every language, each wording once; nothing where it has no name."""
    spec = mark_spec(pattern, piece, key.removesuffix(MIRRORED), "points")
    found = [
        _with_side(_name(pattern, piece, key, language, spec, placed=True, usual=True), language, spec)
        for language in pattern.languages
    ]
    return tuple(dict.fromkeys(text for text in found if text))


def one_sided_marks(pattern: Pattern, piece: str, language: str) -> tuple[str, ...]:
    """What only one side of the wearer has of a piece, after the side: "wearer's left only: Pocket, buttonhole"."""
    own = pattern.pieces.get(piece)
    if own is None:
        return ()
    found: dict[str, list[str]] = {}
    for side, words in _sided(msgspec.structs.replace(pattern, languages=(language,)), own):
        found.setdefault(side, []).extend(words)
    told = ((say(language, f"mark-side.{side}"), ", ".join(dict.fromkeys(names))) for side, names in found.items())
    return tuple(told_of(language, side, names) for side, names in told if names)


def _sided(pattern: Pattern, piece: PieceSpec) -> Iterator[tuple[str, tuple[str, ...]]]:
    """The side of each mark that only one has, and what the mark is called without it."""
    plain = msgspec.structs.replace(
        piece, line_marks=_of_both_sides(piece.line_marks), point_marks=_of_both_sides(piece.point_marks)
    )
    told = msgspec.structs.replace(pattern, pieces={**pattern.pieces, piece.name: plain})
    for key, spec in piece.line_marks.items():
        if spec.side:
            yield spec.side, line_words(told, piece.name, key, "place")
    for key, spec in piece.point_marks.items():
        if spec.side:
            yield spec.side, point_words(told, piece.name, key)


def _of_both_sides(marks: Mapping[str, MarkSpec]) -> dict[str, MarkSpec]:
    return {key: msgspec.structs.replace(spec, side=None) for key, spec in marks.items()}


def _with_side(text: str, language: str, spec: MarkSpec) -> str:
    side = say(language, f"mark-side.{spec.side}") if spec.side else ""
    return ", ".join(part for part in (text, side) if part)


def _name(pattern: Pattern, piece: str, key: str, language: str, spec: MarkSpec, placed: bool, usual: bool) -> str:
    """The designer's title; of what marks a place, the title of the piece or strip that its id begins with; or the
    usual name."""
    if spec.title:
        return in_language(spec.title, language)
    words = _words(key)
    if placed and (title := _of_piece(pattern, piece, words, language)):
        return title
    return _usual(words, language) if usual else ""


def _words(key: str) -> list[str]:
    return [word for word in re.split(r"[-_]", key.removesuffix(MIRRORED).lower()) if word]


def _of_piece(pattern: Pattern, piece: str, words: Sequence[str], language: str) -> str:
    titles = {name: strip.title for name, strip in pattern.strips.items()}
    titles |= {name: spec.title for name, spec in pattern.pieces.items() if name != piece}
    for count in range(len(words), 0, -1):
        name = "-".join(words[:count])
        if name in titles and all(_BESIDES.fullmatch(word) for word in words[count:]):
            return in_language(titles[name], language)
    return ""


def _usual(words: Sequence[str], language: str) -> str:
    known = catalogue(language)
    kept = [word for word in words if not word.isdigit()]
    begins = kept[:1] if kept[:1] and kept[0] in _FASTENERS else []
    for some in (kept, [word for word in kept if not _BESIDES.fullmatch(word)], begins):
        name = "-".join(some)
        if (found := known.get(f"mark.{_SPELLED.get(name, name)}")) is not None:
            return found
    return ""

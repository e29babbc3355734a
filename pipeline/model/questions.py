"""What many rooms ask of a pattern: which view shows something, how often it is cut, whether its cloth has a nap."""

from collections.abc import Collection, Iterable
from typing import Literal, NamedTuple

import msgspec

from pipeline.model.pattern import Material, Nap, Pattern, Strip
from pipeline.model.piece_specs import Cut, EdgeSpec, MarkSpec, PieceSpec, Side
from pipeline.model.topstitching import row_of
from pipeline.model.turns import turn_names


class Copies(NamedTuple):
    """How often something is cut, and how many of these are mirror images."""

    copies: int
    mirrored: int

    @property
    def as_drawn(self) -> int:
        return self.copies - self.mirrored


class Turn(NamedTuple):
    """A line on which the hem `edge` is folded again, or what is grown onto it is folded: `number` counts them from the
    seam line; None where there is no other."""

    edge: str
    number: int | None
    turn_up: bool


def shown_views(pattern: Pattern) -> tuple[str | None, ...]:
    """The views that tables and lays tell apart; a pattern without views has one that has no name."""
    return tuple(pattern.views) or (None,)


def in_view(views: Collection[str], view: str | None) -> bool:
    """Whether what names these views belongs to one of `shown_views`: what names none belongs to all."""
    return view is None or not views or view in views


def spoken(pattern: Pattern) -> dict[str, Pattern]:
    """The pattern as its files on paper and for projectors speak it, by what ends their names: all languages in one
    file, or each in files of its own, "-en"."""
    if pattern.print.languages_together:
        return {"": pattern}
    return {f"-{language}": msgspec.structs.replace(pattern, languages=(language,)) for language in pattern.languages}


def ending_of(pattern: Pattern, language: str) -> str:
    """What ends the names of the files that speak a language."""
    return "" if pattern.print.languages_together else f"-{language}"


def ending_in(pattern: Pattern, path: str) -> str:
    """What ends the name of a file on paper or for projectors, for the languages that it speaks."""
    name = path.removesuffix(".pdf")
    return next((ending for ending in spoken(pattern) if name.endswith(ending)), "")


def share_a_view(one: Collection[str], other: Collection[str]) -> bool:
    """Whether some view has both of what name these views."""
    return not one or not other or not set(one).isdisjoint(other)


def owner_of(pattern: Pattern, name: str) -> PieceSpec | Strip:
    """What is said of a piece, or of a strip that is drawn. Raises KeyError."""
    return pattern.pieces.get(name) or pattern.strips[name]


def drawn_piece(pattern: Pattern, piece: str) -> PieceSpec | None:
    """The piece that has the masters of a piece: itself, or the one whose outline it takes."""
    own = pattern.pieces.get(piece)
    return pattern.pieces.get(own.source) if own is not None and own.source else own


def edge_spec(pattern: Pattern, piece: str, edge: str) -> EdgeSpec:
    """What is said of an edge; a derived piece's edges are its source's."""
    spec = drawn_piece(pattern, piece)
    return spec.edges.get(edge, EdgeSpec()) if spec is not None else EdgeSpec()


def copies_of(entry: Cut, size: str) -> Copies:
    """How often one entry is cut in a size; never in one that it does not name."""
    return Copies(entry.count.get(size, 0), entry.mirrored.get(size, 0))


def copies(entries: Iterable[Cut], size: str, material: str | None = None) -> Copies:
    """How often something is cut in a size, of one material or of all: entries add up."""
    found = [copies_of(entry, size) for entry in entries if material in (None, entry.material)]
    return Copies(sum(one.copies for one in found), sum(one.mirrored for one in found))


def worn_of(entry: Cut, size: str) -> Copies:
    """How often one entry is there when it is sewn: layers that lie on each other count once."""
    count, mirrored = copies_of(entry, size)
    worn = count // entry.layers
    return Copies(worn, 0 if entry.side else min(worn, mirrored // entry.layers))


def side_of(entries: Iterable[Cut]) -> Side | None:
    """The one side of the wearer that has all that is cut; None where both have some, or nothing is said."""
    sides = {entry.side for entry in entries}
    return next(iter(sides)) if len(sides) == 1 else None


def mark_spec(pattern: Pattern, piece: str, name: str, group: Literal["lines", "points"]) -> MarkSpec:
    """What is said of a line or point by its piece, else by the piece whose outline that takes."""
    own = pattern.pieces.get(piece)
    while own is not None:
        marks = own.line_marks if group == "lines" else own.point_marks
        if name in marks:
            return marks[name]
        own = pattern.pieces.get(own.source) if own.source else None
    rows = row_of(pattern, piece, name) if group == "lines" else None
    return MarkSpec(side=rows.side) if rows is not None else MarkSpec()


def turn_of(pattern: Pattern, piece: str, line: str) -> Turn | None:
    """What an inside line is on which a hem is folded again, or what is grown on is folded; None for any other."""
    drawn = drawn_piece(pattern, piece)
    for edge, spec in drawn.edges.items() if drawn is not None else ():
        grown = sum(part.fold_count for part in spec.grown_on)
        names = turn_names(edge, len(spec.folds_mm) + grown)
        if line in names:
            return Turn(edge, None if grown == 1 else names.index(line) + 1, spec.turn_up)
    return None


def grown_edges(pattern: Pattern, piece: str) -> tuple[str, ...]:
    """The edges of a piece, or of the one whose outline it takes, onto which something is grown."""
    drawn = drawn_piece(pattern, piece)
    return tuple(name for name, edge in drawn.edges.items() if edge.grown_on) if drawn is not None else ()


def match_lines(pattern: Pattern, piece: str) -> tuple[str, ...]:
    """The lines of a piece, or of the one whose outline it takes, that lie on one place of the cloth's repeat."""
    drawn, own = drawn_piece(pattern, piece), pattern.pieces.get(piece)
    kinds = drawn.lines | own.lines if drawn is not None and own is not None else {}
    return tuple(line for line, kind in kinds.items() if kind == "match")


def drawn_half(pattern: Pattern, piece: str) -> Side | None:
    """Which half of the wearer a piece on the fold is drawn of; None where that is not said, or there is no fold."""
    drawn = drawn_piece(pattern, piece)
    halves = (edge.half for edge in drawn.edges.values() if edge.fold) if drawn is not None else ()
    return next(iter(halves), None)


def is_cut_of(entries: Iterable[Cut], material: str) -> bool:
    """Whether something is cut of a material, in whatever size."""
    return any(entry.material == material for entry in entries)


def nap_of(pattern: Pattern, name: str) -> Nap:
    """How the cloths of a piece or strip tell up from down: the strictest of them. Raises KeyError."""
    naps = {pattern.materials[entry.material].nap for entry in owner_of(pattern, name).cut}
    return "one-way" if "one-way" in naps else "either" if "either" in naps else "none"


def stretches_most(material: Material) -> Literal["across", "along"] | None:
    """In which direction a cloth gives most; None where nothing is said of it, or it gives alike in both."""
    across, along = material.stretch_width or 0.0, material.stretch_length or 0.0
    return None if across == along else "across" if across > along else "along"


def turns_freely(material: Material) -> bool:
    """Whether pieces may lie at any angle: never on a cloth that gives more in one direction."""
    return material.turn == "free" and stretches_most(material) is None


def may_have_nap(pattern: Pattern, material: str) -> bool:
    """Whether a cloth may tell up from down: where one arrangement must do for all, its pieces point one way."""
    return pattern.materials[material].nap != "none"

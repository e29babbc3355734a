"""One entry to all figures that are drawn from the pattern: the words of a reference in, a figure out."""

from collections.abc import Callable, Iterable, Mapping
from typing import NamedTuple

from pipeline.booklet.figures.allowances import allowances_figure
from pipeline.booklet.figures.dart import dart_figure
from pipeline.booklet.figures.figure import USUAL, Figure, FigureError, Letters
from pipeline.booklet.figures.key import key_figure
from pipeline.booklet.figures.pieces import pieces_figure
from pipeline.booklet.figures.place import place_figure
from pipeline.booklet.figures.seam import seam_figure
from pipeline.booklet.figures.strip import hem_figure, strip_figure
from pipeline.checks.garment import Garment
from pipeline.masters.toml.faults import did_you_mean
from pipeline.model.pieces import CutPiece
from pipeline.model.questions import is_cut_of

_Drawer = Callable[[tuple[str, ...], Garment, str, Letters], Figure]


class _Kind(NamedTuple):
    """A kind of figure: how it is asked for, and what draws it from the words after the first."""

    form: str
    draw: _Drawer


def draw_figure(words: tuple[str, ...], garment: Garment, language: str, letters: Letters = USUAL) -> Figure:
    """The figure that words ask for, as ("seam", "armhole"), ("place", "pocket", "on", "front"), ("key",).

    It is drawn of the base size, or the first of the garment's sizes that has all its parts; the garment may hold the
    cut pieces of one size only. In mm, no wider than `letters` say and no text smaller. Raises FigureError, with what
    to tell a designer, for words that name nothing that can be drawn, and PatternFaultError for a title with a letter
    that the font lacks.
    """
    kind = words[0] if words else ""
    if kind not in _KINDS:
        raise FigureError(
            "unknown-figure",
            f'There is no figure "{kind}".' if kind else "The figure says nothing to draw.",
            did_you_mean(kind, _KINDS),
            " ".join(words),
            ", ".join(known.form for known in _KINDS.values()),
        )
    form = _KINDS[kind].form.split()
    fixed = all(asked == word for asked, word in zip(form, words, strict=False) if asked.islower())
    if len(words) != len(form) or not fixed:
        raise FigureError(
            "figure-form",
            f'"figure {" ".join(words)}" is not how a figure of this kind is asked for.',
            f"Write figure {_KINDS[kind].form}.",
            " ".join(words),
            _KINDS[kind].form,
        )
    return _KINDS[kind].draw(words[1:], garment, language, letters)


def _seam(words: tuple[str, ...], garment: Garment, language: str, letters: Letters) -> Figure:
    _known(words[0], garment.pattern.seams, "seam")
    return seam_figure(garment, words[0], language, letters)


def _strip(words: tuple[str, ...], garment: Garment, language: str, letters: Letters) -> Figure:
    _known(words[0], garment.pattern.strips, "strip")
    return strip_figure(garment, words[0], language, letters)


def _hem(words: tuple[str, ...], garment: Garment, language: str, letters: Letters) -> Figure:
    cut, edge = _edge(words[0], garment)
    if cut.edge(edge).widest_mm <= 0:
        with_some = [found.name for found in cut.edges if found.widest_mm > 0]
        raise FigureError(
            "no-hem",
            f"{words[0]} has no allowance that could be turned up.",
            f"Name an edge that has one: {', '.join(with_some)}." if with_some else "Take the figure out.",
            words[0],
            "an edge with an allowance",
        )
    return hem_figure(garment, cut, edge, language, letters)


def _dart(words: tuple[str, ...], garment: Garment, language: str, letters: Letters) -> Figure:
    return dart_figure(garment, *_edge(words[0], garment), language, letters)


def _place(words: tuple[str, ...], garment: Garment, language: str, letters: Letters) -> Figure:
    return place_figure(garment, _piece(words[2], garment), words[0], language, letters)


def _pieces(words: tuple[str, ...], garment: Garment, language: str, letters: Letters) -> Figure:
    material = words[0]
    _known(material, garment.pattern.materials, "material")
    cuts = [_piece(name, garment) for name, piece in garment.pattern.pieces.items() if is_cut_of(piece.cut, material)]
    if not cuts:
        raise FigureError(
            "no-pieces",
            f"No piece is cut of {material}, so there are none to show.",
            "Name another material, or take the figure out.",
            material,
            "a material that a piece is cut of",
        )
    cuts.sort(key=lambda cut: garment.pattern.pieces[cut.piece].number)
    return pieces_figure(garment, cuts, material, language, letters)


def _key(words: tuple[str, ...], garment: Garment, language: str, letters: Letters) -> Figure:
    return key_figure(garment, language, letters)


def _allowances(words: tuple[str, ...], garment: Garment, language: str, letters: Letters) -> Figure:
    return allowances_figure(garment, language, letters)


_KINDS: Mapping[str, _Kind] = {
    "seam": _Kind("seam NAME", _seam),
    "strip": _Kind("strip NAME", _strip),
    "hem": _Kind("hem PIECE.EDGE", _hem),
    "place": _Kind("place MARK on PIECE", _place),
    "dart": _Kind("dart PIECE.EDGE", _dart),
    "pieces": _Kind("pieces MATERIAL", _pieces),
    "allowances": _Kind("allowances", _allowances),
    "key": _Kind("key", _key),
}


def _known(name: str, names: Iterable[str], kind: str) -> None:
    known = list(names)
    if name not in known:
        message = f'The pattern has no {kind} "{name}".'
        raise FigureError(f"unknown-{kind}", message, did_you_mean(name, known), name, ", ".join(known) or "none")


def _piece(name: str, garment: Garment) -> CutPiece:
    """A piece of the base size, else of the first size that has it."""
    _known(name, garment.pattern.pieces, "piece")
    by_size = garment.cuts.get(name, {})
    found = by_size.get(garment.pattern.base) or next(iter(by_size.values()), None)
    if found is None:
        message = f"No size has the piece {name}, so it cannot be drawn."
        raise FigureError("piece-not-cut", message, "Mend what is told of its masters.", name, "a piece that was read")
    return found


def _edge(name: str, garment: Garment) -> tuple[CutPiece, str]:
    piece, _, edge = name.partition(".")
    cut = _piece(piece, garment)
    known = [found.name for found in cut.edges]
    if edge not in known:
        message = f'{piece} has no edge "{edge}".' if edge else f'"{name}" names no edge: write PIECE.EDGE.'
        raise FigureError("unknown-edge", message, did_you_mean(edge, known), name, ", ".join(known))
    return cut, edge

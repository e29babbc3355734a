"""Buttons: as many as the pieces have places for, and each on the other side than its buttonhole."""

import re
from collections.abc import Collection, Iterator

from pipeline.checks.catalogue import CHECKS
from pipeline.checks.garment import Garment
from pipeline.checks.notions import notion_outcome
from pipeline.checks.registry import Outcome
from pipeline.model.pattern import Notion
from pipeline.model.piece_specs import Side
from pipeline.model.pieces import CutPiece, MarkPoint
from pipeline.model.questions import in_view, mark_spec, notion_count, shown_views

_BUTTON = re.compile(r"buttons?(-.+)?")
_HOLE = re.compile(r"buttonholes?(-.+)?")
_WORD = re.compile(r"buttons?")
_ROW = 3
"""So many buttonholes on a piece are a row, each with a button; of two, one can be there to set a tab with."""


@CHECKS.register(
    id="buttons",
    title="There are as many buttons as the pieces have places for",
    rationale="One button too few is found when the garment is done and the shop has no more of them.",
    remedy='correct the notion\'s count, or have it counted: count = "marks front.button"; or take marks away',
    severity="warn",
    source="one button for each marked place, and for each buttonhole of a row of three or more: common practice",
    needs=("notions",),
)
def buttons(garment: Garment) -> Iterator[Outcome]:
    """In each size and view, the buttons that belong to a piece against the places on it, each counted once.

    So the least that can be meant is told: a piece is cut twice, and both can have buttons.
    """
    told: set[tuple[str, str]] = set()
    for view in shown_views(garment.pattern):
        bought = [
            notion
            for notion in garment.pattern.notions.values()
            if notion.count is not None and _WORD.search(notion.name) and in_view(notion.views, view)
        ]
        for size in garment.pattern.sizes:
            for piece in _pieces(garment, size, view) if bought else ():
                own = _of_piece(bought, piece.piece)
                there = sum(notion_count(notion, size) or 0 for notion in own)
                places, what = _places(piece)
                key = own[0].name, size
                if there < places and key not in told:
                    told.add(key)
                    text = f"{piece.piece} has {places} {what}, and it is bought {there} times"
                    yield notion_outcome(own[0], "too-few", size, str(there), f"at least {places}", text)


@CHECKS.register(
    id="button-sides",
    title="Buttons are on the other side than their buttonholes",
    rationale="A front with buttons and buttonholes on the same side cannot be closed.",
    remedy="correct the side of the buttons or of the buttonholes",
    severity="warn",
    source="one side laps over the other: common practice",
)
def button_sides(garment: Garment) -> Iterator[Outcome]:
    """On a piece whose buttons and buttonholes of the same names all say one side."""
    for name, by_size in garment.cuts.items():
        for size, cut in by_size.items():
            buttons, holes = (_sides(garment, name, _named(cut, kind)) for kind in (_BUTTON, _HOLE))
            sides = {found[number] for number in buttons.keys() & holes.keys() for found in (buttons, holes)}
            if len(sides) == 1 and (side := next(iter(sides))) is not None:
                yield Outcome(
                    code="same-side",
                    size=size,
                    piece=name,
                    file="pattern.toml",
                    object=f"pieces.{name}.points",
                    found=f"both on the wearer's {side}",
                    allowed="one side each",
                    message="its buttons and its buttonholes are on the same side",
                )


def _pieces(garment: Garment, size: str, view: str | None) -> Iterator[CutPiece]:
    """Those of a view, the ones with the most places first."""
    there = (garment.cut(name, size) for name, spec in garment.pattern.pieces.items() if in_view(spec.views, view))
    return iter(sorted((cut for cut in there if cut is not None), key=lambda cut: -_places(cut)[0]))


def _places(cut: CutPiece) -> tuple[int, str]:
    """The places for buttons on a piece as it is drawn, and what they are."""
    buttons, holes = (len({point.name or point.place for point in _named(cut, kind)}) for kind in (_BUTTON, _HOLE))
    if holes > buttons and holes >= _ROW:
        return holes, "buttonholes"
    return buttons, "places for a button" if buttons == 1 else "places for buttons"


def _named(cut: CutPiece, name: re.Pattern[str]) -> list[MarkPoint]:
    return [point for point in cut.drawn.points if name.fullmatch(point.name or "")]


def _sides(garment: Garment, piece: str, points: list[MarkPoint]) -> dict[str, Side | None]:
    """Whose half each is on, by what stands after its kind in its name."""
    names = [point.name or "" for point in points]
    return {name.partition("-")[2]: mark_spec(garment.pattern, piece, name, "points").side for name in names}


def _of_piece(bought: Collection[Notion], piece: str) -> list[Notion]:
    """The buttons that are for a piece: those that say so in their name, else those that say nothing, else all."""
    own = {notion.name: _else_said(notion.name) for notion in bought}
    words = piece.split("-")
    named = [notion for notion in bought if any(_akin(said, word) for said in own[notion.name] for word in words)]
    return named or [notion for notion in bought if not own[notion.name]] or list(bought)


def _else_said(name: str) -> list[str]:
    return [word for word in name.split("-") if not _WORD.fullmatch(word) and len(word) > 1]


def _akin(said: str, word: str) -> bool:
    return said.startswith(word) or word.startswith(said)

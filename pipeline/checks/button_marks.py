"""Buttons and buttonholes that are marked on pieces.

They are known by their names, as those that are written on pieces are: "button-2", "buttonhole-waist". A mark that has
a title of its own is what that says.
"""

import re
from collections.abc import Iterable
from typing import Literal, NamedTuple

from pipeline.checks.garment import Garment
from pipeline.checks.interfacing import is_fused
from pipeline.geometry.points import Point
from pipeline.model.piece_specs import PieceSpec, Side
from pipeline.model.pieces import CutPiece
from pipeline.model.questions import mark_spec, side_of

Kind = Literal["button", "buttonhole"]
_OTHER: dict[Kind, Kind] = {"button": "buttonhole", "buttonhole": "button"}
_NAME = re.compile(r"(?:(.*)-)?(button-?holes?|buttons?)(?:-(.*))?")
_NO_BUTTON = frozenset({"loop", "loops", "elastic", "cover", "covered", "thread", "placket", "stand"})
"""What makes another thing of a button, as a loop that takes it."""


class ButtonMark(NamedTuple):
    """A mark: what else its name says in order, a number among it; its place; the side of the wearer that has it."""

    piece: str
    name: str
    kind: Kind
    rest: tuple[str, ...]
    place: Point
    slit: tuple[Point, Point] | None
    side: Side | None

    @property
    def number(self) -> int | None:
        """Which of a row it is; None of one that stands alone."""
        return int(self.rest[-1]) if self.rest and self.rest[-1].isdecimal() else None

    @property
    def partner(self) -> Kind:
        """What closes it."""
        return _OTHER[self.kind]


def button_kind(name: str) -> tuple[Kind, tuple[str, ...]] | None:
    """Whether a name is that of a button or buttonhole, and what else it says; None where it is of neither."""
    match = _NAME.fullmatch(name.lower().replace("_", "-"))
    if match is None:
        return None
    rest = tuple(word for part in (match[1], match[3]) if part for word in part.split("-"))
    return None if _NO_BUTTON & set(rest) else ("buttonhole" if "hole" in match[2] else "button", rest)


def button_marks(garment: Garment, size: str) -> tuple[ButtonMark, ...]:
    """All of a size, on pieces that are drawn and no interfacing."""
    return garment.once(("button marks", size), lambda: tuple(_marks(garment, size)))


def _marks(garment: Garment, size: str) -> Iterable[ButtonMark]:
    for name, spec in garment.pattern.pieces.items():
        cut = garment.cut(name, size)
        if cut is not None and spec.source is None and not is_fused(garment, spec):
            yield from marks_on(garment, spec, cut)


def marks_on(garment: Garment, spec: PieceSpec, cut: CutPiece) -> Iterable[ButtonMark]:
    """Those of one piece."""
    for point in cut.drawn.points:
        found = button_kind(point.name or "")
        said = mark_spec(garment.pattern, spec.name, point.name or "", "points")
        if found is not None and not said.title:
            side = said.side or side_of(spec.cut)
            yield ButtonMark(spec.name, point.name or "", *found, point.place, point.slit, side)

"""Buttons and buttonholes that are marked on pieces, and how many buttons they ask for at least.

They are known by their names, as those that are written on pieces are: "button-2", "buttonhole-waist". A mark that has
a title of its own is what that says.
"""

import re
from collections.abc import Iterable, Sequence
from itertools import pairwise
from typing import Literal, NamedTuple

from pipeline.checks.garment import Garment
from pipeline.checks.interfacing import is_fused
from pipeline.geometry.points import Point
from pipeline.model.piece_specs import PieceSpec, Side
from pipeline.model.pieces import CutPiece
from pipeline.model.questions import in_view, mark_spec, side_of, worn_of

Kind = Literal["button", "buttonhole"]
_OTHER: dict[Kind, Kind] = {"button": "buttonhole", "buttonhole": "button"}
_NAME = re.compile(r"(?:(.*)-)?(button-?holes?|buttons?)(?:-(.*))?")
_NO_BUTTON = frozenset({"loop", "loops", "elastic", "cover", "covered", "thread", "placket", "stand"})
"""What makes another thing of a button, as a loop that takes it."""
_FACING = "facing"
_APART_MM = 60.0
"""A button that far from its buttonhole closes its own piece, as a cuff's; nearer, two halves lie on each other."""
_ALIKE_MM = 2.0


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


def least_buttons(garment: Garment, marks: Sequence[ButtonMark], size: str, view: str | None) -> dict[str, int]:
    """How many buttons these marks of a view ask for at least, by the first piece that has them.

    Of a button and the buttonhole of its name one is needed, whichever pieces have them. Halves that lap over each
    other are drawn alike and have one between them; a piece of a pair that closes itself has one each.
    """
    shown = [mark for mark in marks if in_view(garment.pattern.pieces[mark.piece].views, view)]
    needed: dict[tuple[str, ...], dict[Kind, dict[str, int]]] = {}
    for kind in ("button", "buttonhole"):
        for mark in _unfaced([mark for mark in shown if mark.kind == kind]):
            times = needed.setdefault(mark.rest, {}).setdefault(mark.kind, {})
            times[mark.piece] = times.get(mark.piece, 0) + _times(garment, mark, shown, size)
    found: dict[str, int] = {}
    for of in needed.values():
        for piece, count in max(of.values(), key=lambda pieces: sum(pieces.values())).items():
            found[piece] = found.get(piece, 0) + count
    return found


def _times(garment: Garment, mark: ButtonMark, shown: Iterable[ButtonMark], size: str) -> int:
    there = [worn_of(entry, size) for entry in garment.pattern.pieces[mark.piece].cut]
    paired = any(of.as_drawn for of in there) and any(of.mirrored for of in there)
    beside = [other for other in shown if other.piece == mark.piece and other != mark]
    alone = [other.kind for other in beside if not other.rest] == [_OTHER[mark.kind]] and not mark.rest
    closes = alone and mark.side is None and all(mark.place.distance(other.place) > _APART_MM for other in beside)
    return 2 if paired and closes else 1


def _unfaced(marks: Sequence[ButtonMark]) -> list[ButtonMark]:
    """Marks without those of a piece that lies on another, as a facing: the same names, as far apart as there."""
    by_piece: dict[str, list[ButtonMark]] = {}
    for mark in marks:
        by_piece.setdefault(mark.piece, []).append(mark)
    kept: list[list[ButtonMark]] = []
    for own in sorted(by_piece.values(), key=len, reverse=True):
        if not any(_lies_on(own, other) for other in kept):
            kept.append(own)
    return [mark for own in kept for mark in own]


def _lies_on(one: Sequence[ButtonMark], other: Sequence[ButtonMark]) -> bool:
    places = {mark.rest: mark.place for mark in other}
    names, facing = {mark.rest for mark in one}, _FACING in one[0].piece.split("-")
    if not names <= set(places) or (len(names) < len(places) and not facing):
        return False
    steps = ((a.place.distance(b.place), places[a.rest].distance(places[b.rest])) for a, b in pairwise(one))
    return all(abs(mine - theirs) <= _ALIKE_MM for mine, theirs in steps)

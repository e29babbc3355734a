"""What was found of each size of a piece before, by a digest of what that was made from: only what changed is solved.

Nothing is kept that a finding was told of, since findings name objects and lines of the drawing as it is now.
"""

from collections.abc import Callable, Mapping, Sequence
from typing import TypeVar

import msgspec

from pipeline.geometry.points import Point
from pipeline.masters.drawings.correspond import Answer
from pipeline.masters.drawings.naming import Named, carried, named_base
from pipeline.masters.drawings.notch_names import NotchNames, notch_names
from pipeline.masters.drawings.outline import Outline
from pipeline.masters.drawings.pieces import Shown, reading_of, show
from pipeline.masters.drawings.result import PieceFound
from pipeline.masters.drawings.sorted_objects import Drawn
from pipeline.masters.svg.known_groups import KnownGroups, Strokes
from pipeline.masters.svg.words import Words
from pipeline.model.pattern import Pattern
from pipeline.model.piece_specs import PieceSpec
from pipeline.work.cache import Answers
from pipeline.work.code import digest

T = TypeVar("T")


class _Outline(msgspec.Struct, frozen=True, array_like=True):
    """What `show` finds of a piece in a size, as `Shown` holds it."""

    nameless: bool
    outline: Outline | None
    names: tuple[str, ...]
    notches_mm: tuple[float, ...]
    start: Point | None


class _Corners(msgspec.Struct, frozen=True, array_like=True):
    """The corners of a size and what the parts after them are called; `code` as `Answer` has it."""

    corners: tuple[int, ...]
    names: tuple[str, ...]
    code: str = ""


class Master(msgspec.Struct, frozen=True, array_like=True):
    """A piece in a size as it is written."""

    svg: str
    found: PieceFound


class Kept(KnownGroups):
    """Asks what is known before it solves. Without `answers` everything is solved."""

    def __init__(self, answers: Answers | None) -> None:
        self.answers = answers

    def group(self, made_from: object) -> tuple[Strokes, ...] | None:
        return self._known(("group", made_from), tuple[Strokes, ...])

    def keep_group(self, made_from: object, strokes: tuple[Strokes, ...]) -> None:
        self._keep(("group", made_from), strokes)

    def shown(self, pattern: Pattern, spec: PieceSpec, drawn: Drawn) -> Shown:
        """The outline of a piece in one size."""
        objects = [(role, [(s.name, s.tag, s.strokes) for s in shapes]) for role, shapes in drawn.shapes.items()]
        made_from = digest([spec.name, spec.start, spec.corners, objects])
        known = self._known(("outline", made_from), _Outline)
        if known is not None:
            reading = reading_of(pattern, spec, drawn)
            return Shown(drawn, reading, made_from=made_from, **msgspec.structs.asdict(known))
        shown = show(pattern, spec, drawn)
        shown.made_from = made_from
        kept = _Outline(shown.nameless, shown.outline, shown.names, shown.notches_mm, shown.start)
        self._keep(("outline", made_from), kept, shown)
        return shown

    def beside(self, text: Words, near: Mapping[str, Shown], find: Callable[[], str | None]) -> str | None:
        """The piece that a text stands nearest to."""
        asked = ("beside", text.place, sorted((name, shown.made_from) for name, shown in near.items()))
        known = self._known(asked, str)
        if known is None and (known := find()) is not None:
            self._keep(asked, known)
        return known

    def named_base(self, spec: PieceSpec, shown: Shown, texts: Sequence[Words]) -> Named | None:
        """The base size's edges by what is said of them."""
        asked = ("base", shown.made_from, spec.around, [(text.said, text.place) for text in texts])
        known = self._known(asked, _Corners)
        if known is not None and shown.outline is not None:
            return Named(shown.outline, known.corners, known.names)
        named = named_base(spec, shown, texts)
        if named is not None:
            self._keep(asked, _Corners(named.corners, named.names), shown)
        return named

    def carried(self, beside: tuple[Shown, Named], shown: Shown) -> tuple[Named | None, Answer]:
        """The names of the size beside it, carried over."""
        size, named = beside
        asked = ("carried", size.made_from, named.corners, named.names, shown.made_from)
        known = self._known(asked, _Corners)
        if known is not None and shown.outline is not None:
            return Named(shown.outline, known.corners, known.names), Answer(known.corners, known.code)
        found, answer = carried(named, size.notches_mm, shown)
        if found is not None:
            self._keep(asked, _Corners(found.corners, found.names, answer.code))
        return found, answer

    def notch_names(self, spec: PieceSpec, shown: Shown, named: Named) -> NotchNames:
        """What the notches of the base size are called, by edge in walking order."""
        asked = ("notches", shown.made_from, named.corners, named.names)
        known = self._known(asked, NotchNames)
        if known is None:
            known = notch_names(spec, shown, named.edges())
            self._keep(asked, known)
        return known

    def master(
        self, shown: Shown, named: Named | None, notches: NotchNames, make: Callable[[], Master | None]
    ) -> Master | None:
        """A piece in a size as it is written, its notches called as those of the base size."""
        of = shown.drawn
        corners = (named.corners, named.names) if named is not None else None
        asked = ("master", shown.made_from, of.size, of.file, of.way, corners, notches)
        known = self._known(asked, Master) if shown.reading.silent else None  # what is told may keep it from being cut
        if known is None and (known := make()) is not None:
            self._keep(asked, known, shown)
        return known

    def _known(self, asked: object, kind: type[T]) -> T | None:
        return self.answers.known(asked, kind) if self.answers is not None else None

    def _keep(self, asked: object, found: object, shown: Shown | None = None) -> None:
        if self.answers is not None and (shown is None or shown.reading.silent):
            self.answers.keep(asked, found)

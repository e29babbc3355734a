"""Buttons: as many to buy as are marked, a button for each buttonhole, and the two on different halves."""

from collections.abc import Iterable, Iterator, Mapping, Sequence

from pipeline.checks.button_marks import ButtonMark, button_kind, button_marks, least_buttons
from pipeline.checks.catalogue import CHECKS
from pipeline.checks.garment import Garment
from pipeline.checks.notions import notion_outcome
from pipeline.checks.registry import Outcome
from pipeline.model.pattern import Notion
from pipeline.model.questions import in_view, notion_count, shown_views

_LEAST_PAIRS = 3
_LEAST_ROW = 4
_LAP_MM = 40.0
_WORD = 3
"""Letters of what may be the name of a piece: fewer are that of a view."""


@CHECKS.register(
    id="button-counts",
    title="There are as many buttons to buy as are marked, and a button for each buttonhole",
    rationale="Who bought five buttons for six buttonholes finds out at the last one, and the shop has no more.",
    remedy="correct the count, or take out the mark; give a mark that is for something else a title",
    severity="warn",
    source="a button for each buttonhole, spare ones beside: common practice",
)
def button_counts(garment: Garment) -> Iterator[Outcome]:
    """Notions that are called button against marks of that name, in every view; a notion and marks that share a word
    of their names, as `button-waist`, belong together. Of numbered marks, those without a partner where others have
    one."""
    for size in garment.pattern.sizes:
        told: set[str] = set()
        for view in shown_views(garment.pattern):
            for notions, marks in _matched(garment, size, view):
                needed = least_buttons(garment, marks, size, view)
                bought = sum(notion_count(notion, size) or 0 for notion in notions)
                if 0 < bought < sum(needed.values()) and notions[0].name not in told:
                    told.add(notions[0].name)
                    yield _too_few(notions, size, bought, needed)
    yield from _without_partner(garment)


def _matched(garment: Garment, size: str, view: str | None) -> list[tuple[list[Notion], list[ButtonMark]]]:
    """Notions of a view with the marks that they are for; all of both together where it is not known which is for
    which."""
    marks = [mark for mark in button_marks(garment, size) if in_view(garment.pattern.pieces[mark.piece].views, view)]
    words: dict[str, frozenset[str]] = {}
    for notion in garment.pattern.notions.values():
        found = button_kind(notion.name)
        if notion.count and in_view(notion.views, view) and found is not None and found[0] == "button":
            words[notion.name] = frozenset(found[1])
    own = {name: _named(garment, marks, of) for name, of in words.items() if of}
    notions = garment.pattern.notions
    if len(words) == 1 or None in own.values():
        (only,) = own.values() if len(own) == 1 else (None,)
        return [([notions[name] for name in words], marks if only is None else only)] if words else []
    taken = [mark for of in own.values() for mark in of or ()]
    own |= {name: [mark for mark in marks if mark not in taken] for name in words if name not in own}
    return [([notions[name]], of or []) for name, of in own.items()]


def _named(garment: Garment, marks: Sequence[ButtonMark], words: frozenset[str]) -> list[ButtonMark] | None:
    """The marks that share a word with a notion, by their own names, else by that of the one piece that has them; none
    where something else is called so; None where nobody knows."""
    if found := [mark for mark in marks if words & set(mark.rest)]:
        return found
    words = frozenset(word for word in words if len(word) >= _WORD)
    on = [mark for mark in marks if words & set(mark.piece.split("-"))]
    if len({mark.piece for mark in on}) == 1:
        return on
    return None if on or not words & _words_beside(garment) else []


def _words_beside(garment: Garment) -> set[str]:
    """What pieces, strips and points are called."""
    pattern = garment.pattern
    points = {point.name or "" for _, cut in garment.each() for point in cut.drawn.points}
    return {word for name in (*pattern.pieces, *pattern.strips, *points) for word in name.split("-")}


def _too_few(notions: Sequence[Notion], size: str, bought: int, needed: Mapping[str, int]) -> Outcome:
    at_least, names = sum(needed.values()), " and ".join(notion.name for notion in notions)
    on = " and ".join(f"{times} on {piece}" for piece, times in needed.items())
    text = f"there are {bought} of {names}, fewer than the {at_least} that are marked: {on}"
    return notion_outcome(notions[0], "too-few", size, f"{bought}", f"at least {at_least}", text, "warn")


def _without_partner(garment: Garment) -> Iterator[Outcome]:
    """Numbered marks of one kind on a piece where others have both, told where no size and no other piece has it."""
    marks = {mark[:4]: mark for size in garment.pattern.sizes for mark in button_marks(garment, size)}.values()
    there = {(mark.kind, mark.rest) for mark in marks}
    for piece, own in _by_piece(marks).items():
        numbered = {(mark.kind, mark.rest) for mark in own if mark.number is not None}
        both = {rest for _, rest in numbered if {("button", rest), ("buttonhole", rest)} <= numbered}
        for mark in own if len(both) >= _LEAST_PAIRS else ():
            if mark.number is not None and (mark.partner, mark.rest) not in there:
                text = f"{mark.name} has no {mark.partner}, {len(both)} others of {piece} have one"
                yield _told(garment, mark, "no-partner", "none", f"a {mark.partner} of its number", text)


@CHECKS.register(
    id="button-sides",
    title="A button and its buttonhole are on different sides of the wearer",
    rationale="A button beneath its own buttonhole closes nothing, and the other half has neither.",
    remedy="correct the side of one of them",
    severity="warn",
    source=f"a button and a buttonhole within {_LAP_MM:g} mm lap over each other: common practice, limit from memory",
)
def button_sides(garment: Garment) -> Iterator[Outcome]:
    """Marks whose sides are said: a button and a buttonhole of one name on a piece; and one of a row of four or more
    that has another side than all others, or none."""
    for size in garment.pattern.sizes:
        for piece, own in _by_piece(button_marks(garment, size)).items():
            yield from _on_one_side(garment, piece, own, size)
            yield from _out_of_row(garment, own, size)


def _by_piece(marks: Iterable[ButtonMark]) -> dict[str, list[ButtonMark]]:
    found: dict[str, list[ButtonMark]] = {}
    for mark in marks:
        found.setdefault(mark.piece, []).append(mark)
    return found


def _on_one_side(garment: Garment, piece: str, own: Sequence[ButtonMark], size: str) -> Iterator[Outcome]:
    holes = {mark.rest: mark for mark in own if mark.kind == "buttonhole"}
    for mark in own:
        hole = holes.get(mark.rest) if mark.kind == "button" else None
        if hole is not None and mark.side and mark.side == hole.side and _lap(mark, hole):
            text = f"{mark.name} and {hole.name} of {piece} are both on the {mark.side}"
            yield _told(garment, mark, "one-side", mark.side, "the other side of the two", text, size)


def _lap(mark: ButtonMark, hole: ButtonMark) -> bool:
    return min(mark.place.distance(end) for end in (hole.place, *(hole.slit or ()))) <= _LAP_MM


def _out_of_row(garment: Garment, own: Sequence[ButtonMark], size: str) -> Iterator[Outcome]:
    rows: dict[tuple[str, ...], list[ButtonMark]] = {}
    for mark in own:
        if mark.number is not None:
            rows.setdefault((mark.kind, *mark.rest[:-1]), []).append(mark)
    for row in rows.values():
        for mark in row if len(row) >= _LEAST_ROW else ():
            others = {other.side for other in row if other != mark}
            (usual, *more) = others
            if not more and usual is not None and mark.side != usual:
                found = f"the {mark.side}" if mark.side else "both sides"
                text = f"{mark.name} of {mark.piece} is on {found}, all others of its row on the {usual}"
                yield _told(garment, mark, "out-of-row", mark.side or "no side", usual, text, size)


def _told(
    garment: Garment, mark: ButtonMark, code: str, found: str, allowed: str, text: str, size: str | None = None
) -> Outcome:
    """Told of what pattern.toml says of a mark in a size, or of its drawing in all."""
    drawn = next(iter(garment.cuts[mark.piece].values())).drawn
    return Outcome(
        code=code,
        size=size,
        piece=mark.piece,
        where=f"points.{mark.name}",
        file="pattern.toml" if size else drawn.file,
        object=f"pieces.{mark.piece}.points.{mark.name}" if size else mark.name,
        found=found,
        allowed=allowed,
        message=text,
    )

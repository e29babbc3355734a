"""Numbered buttons and buttonholes: each has its partner where the others do, and the side that the others have."""

from collections.abc import Iterable, Iterator, Sequence

from pipeline.checks.button_marks import ButtonMark, button_marks
from pipeline.checks.catalogue import CHECKS
from pipeline.checks.garment import Garment
from pipeline.checks.registry import Outcome

_LEAST_PAIRS = 3
_LEAST_ROW = 4


@CHECKS.register(
    id="button-rows",
    title="Of a row of buttons each has its buttonhole, and all are on one side of the wearer",
    rationale="A buttonhole without a button, or on both fronts where the others are on one, is cut for nothing.",
    remedy="put the mark back, or take out its partner; give it the side that the others have",
    severity="warn",
    source=f"{_LEAST_PAIRS} others that have both; {_LEAST_ROW} and more in a row, all but one alike: common practice",
)
def button_rows(garment: Garment) -> Iterator[Outcome]:
    """Numbered points of one name on a piece: a buttonhole without a button, a button without a buttonhole, and one
    whose side is not that of all others."""
    for size in garment.pattern.sizes:
        for own in _by_piece(button_marks(garment, size)).values():
            yield from _out_of_row(garment, own, size)
    yield from _without_partner(garment)


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


def _by_piece(marks: Iterable[ButtonMark]) -> dict[str, list[ButtonMark]]:
    found: dict[str, list[ButtonMark]] = {}
    for mark in marks:
        found.setdefault(mark.piece, []).append(mark)
    return found


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

"""How many of a notion a garment takes: as typed, or as many as there are marks for it."""

from collections.abc import Mapping, Sequence

from pipeline.geometry.points import Point
from pipeline.model.mark_sums import is_called
from pipeline.model.pattern import Notion, Pattern
from pipeline.model.piece_specs import Cut, Side
from pipeline.model.pieces import CutPiece, MarkPoint
from pipeline.model.questions import in_view, mark_spec, worn_of

_ON_FOLD_MM = 1.0


def notion_count(
    pattern: Pattern, notion: Notion, view: str | None, size: str, cuts: Mapping[str, CutPiece]
) -> int | None:
    """How many of a notion a size takes in a view; None where it takes none, or where lengths are measured. `cuts` are
    the pieces of that size by name."""
    if notion.marks is None:
        return None if notion.count is None else notion.count.get(size)
    total = 0
    for term in notion.marks.terms:
        if term.piece is None:
            total += term.factor
        elif term.piece in cuts and in_view(pattern.pieces[term.piece].views, view):
            total += term.factor * marks_worn(pattern, cuts[term.piece], term.name)
    return total


def marks_worn(pattern: Pattern, cut: CutPiece, name: str) -> int:
    """How often the points of a name, numbered ones too, are there on all of a piece that one garment has."""
    there = (point for point in cut.drawn.points if is_called(point.name, name))
    return sum(_worn(pattern, cut, point) for point in there)


def lies_on_fold(cut: CutPiece, place: Point) -> bool:
    """Whether a place lies on the fold of a piece, and so is there once where the piece is opened."""
    if cut.fold is None:
        return False
    start, end = cut.fold
    along = start.to(end).unit()
    return abs(along.cross(start.to(place))) <= _ON_FOLD_MM


def _worn(pattern: Pattern, cut: CutPiece, point: MarkPoint) -> int:
    """How often one point is there: on both of a pair and both halves of a piece on the fold, or on the side that has
    it; once for layers and for further materials, which lie on what has it already."""
    side = mark_spec(pattern, cut.piece, point.name or "", "points").side
    halves = 1 if cut.fold is None or side is not None or lies_on_fold(cut, point.place) else 2
    of_pair = side is not None and cut.fold is None
    by_material: dict[str, list[Cut]] = {}
    for entry in pattern.pieces[cut.piece].cut:
        by_material.setdefault(entry.material, []).append(entry)
    both, one = 0, {"left": 0, "right": 0}
    for entries in by_material.values():
        sides = {entry.side for entry in entries}
        count = _on_side(entries, cut.size, side, of_pair)
        if len(sides) == 1 and (own := entries[0].side) is not None:
            one[own] = max(one[own], count)
        else:
            both = max(both, count)
    return halves * max(both, sum(one.values()))


def _on_side(entries: Sequence[Cut], size: str, side: Side | None, of_pair: bool) -> int:
    """How many pieces of one material have a mark of a side: of a pair half, of those of the other side none."""
    count = 0
    for entry in entries:
        worn = worn_of(entry, size).copies
        if side is None or entry.side == side:
            count += worn
        elif entry.side is None:
            count += -(-worn // 2) if of_pair else worn
    return count

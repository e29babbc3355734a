"""Roles by what is drawn, for drawings whose layers say size and piece only, where the designer says that it is so.

The largest closed outline of a piece in a size is its seam line; one straight line inside it that is clear of the
outline, and more upright than level, called so or alone, its grain; small things on the outline are its notches. Where
two outlines may be meant, nothing is guessed.
"""

from collections.abc import Iterator, Sequence

import msgspec

from pipeline.geometry.curves import flattened, nearest_on_path, path_area_mm2
from pipeline.geometry.points import Point
from pipeline.masters.drawings.layers import words
from pipeline.masters.marks import SMALL_MM, box_round, straight_ends
from pipeline.masters.notches import NOTCH_MM
from pipeline.masters.outline import CHAIN_MM
from pipeline.masters.svg.walk import Shape

LEAST_OUTLINE_MM = 30.0
"""A closed line whose box has no longer side is a mark: the smallest pieces, as loops and tabs, are larger."""
ALIKE = 0.5
"""A second outline with more than this share of the first one's area may be the seam line as well: of a cut line a
seam line has most of the area, the place of a pocket less."""
WIDEST_MM = 50.0
"""So may one that lies within this of it on all four sides: hems of 40 mm and 50 mm are common practice."""


_GRAIN = "grain"
UNCLEAR = "unclear"
"""The role of outlines that were not told apart."""


class Loose(msgspec.Struct, frozen=True):
    """An object in a layer that says its size, perhaps its piece, and no role. `name` is the object's own."""

    size: str
    piece: str | None
    shape: Shape


class _Outline(msgspec.Struct):
    """A seam line by its shape, and what lies in and on it."""

    loose: Loose
    piece: str
    places: tuple[Point, ...]
    grains: list[Shape]
    notches: list[Shape]


class Placed(msgspec.Struct, frozen=True):
    """What a shape was taken for."""

    size: str
    piece: str
    role: str
    shape: Shape


def is_outline(shape: Shape) -> bool:
    """Whether a shape may be the seam line of a piece: one closed stroke, and no mark."""
    if len(shape.strokes) != 1 or not shape.strokes[0].segments or box_round(shape).side < LEAST_OUTLINE_MM:
        return False
    stroke = shape.strokes[0]
    return stroke.closed or stroke.segments[0].start.distance(stroke.segments[-1].end) <= CHAIN_MM


def by_shape(loose: Sequence[Loose]) -> tuple[list[Placed], list[Loose]]:
    """What each object is, and the objects that nothing can be told of.

    Two lines, either of which may be the seam line, have the role UNCLEAR.
    """
    placed: list[Placed] = []
    known: set[int] = set()
    for size in dict.fromkeys(each.size for each in loose):
        here = [each for each in loose if each.size == size]
        outlines = []
        for piece in dict.fromkeys(each.piece for each in here if each.piece):
            own = [each for each in here if each.piece == piece]
            closed = [each for each in own if is_outline(each.shape)]
            closed.sort(key=lambda each: -_area_mm2(each.shape))
            if (rival := _rival(closed, own)) is not None:
                placed += [Placed(size, piece, UNCLEAR, each.shape) for each in (closed[0], rival)]
                known |= {id(closed[0]), id(rival)}
            elif closed:
                places = flattened(closed[0].shape.strokes[0].segments, 0.2)
                outlines.append(_Outline(closed[0], piece, places, [], []))
        known |= _gather(outlines, here)
        placed += [each for outline in outlines for each in _placed(size, outline)]
        known |= {id(outline.loose) for outline in outlines}
    return placed, [each for each in loose if id(each) not in known]


def _placed(size: str, outline: _Outline) -> Iterator[Placed]:
    yield Placed(size, outline.piece, "seam", outline.loose.shape)
    yield from (Placed(size, outline.piece, "notches", shape) for shape in outline.notches)
    yield from (Placed(size, outline.piece, "grain", shape) for shape in outline.grains)


def _gather(outlines: list[_Outline], here: list[Loose]) -> set[int]:
    """Give each outline its notches and grain; which objects that were. What two pieces may have belongs to none."""
    taken: set[int] = set()
    lines: list[tuple[_Outline, Loose]] = []
    for each in here:
        of = [outline for outline in outlines if each is not outline.loose and each.piece in (None, outline.piece)]
        on = [outline for outline in of if _is_notch(each.shape, outline)]
        within = [outline for outline in of if _is_clear_line(each.shape, outline)]
        if len(on) == 1:
            on[0].notches.append(each.shape)
            taken.add(id(each))
        elif len(within) == 1:
            lines.append((within[0], each))
    for outline in outlines:
        others = [each for each in here if each is not outline.loose and id(each) not in taken]
        if (grain := _grain([each for of, each in lines if of is outline], outline, others)) is not None:
            outline.grains.append(grain.shape)
            taken.add(id(grain))
    return taken


def _grain(lines: Sequence[Loose], outline: _Outline, others: Sequence[Loose]) -> Loose | None:
    """The grain among straight lines that are clear of the outline: the one that is called so, else the upright one.

    A level line may be where something is set on. It is the grain where nothing else lies in a piece that is wider
    than high, as cuffs, waistbands and collars are, whose grain runs along them.
    """
    called = [line for line in lines if _GRAIN in words(line.shape.name or "")]
    upright = [line for line in lines if _is_upright(line.shape)]
    for found in (called, upright):
        if found:
            return found[0] if len(found) == 1 else None
    box = box_round(outline.loose.shape)
    wide = box.right - box.left > box.bottom - box.top
    inside = [each for each in others if each.shape.strokes and _inside(box_round(each.shape).centre, outline.places)]
    return lines[0] if lines and wide and inside == [lines[0]] else None


def _is_upright(shape: Shape) -> bool:
    ends = straight_ends(shape)
    return ends is not None and abs(ends[0].y - ends[1].y) > abs(ends[0].x - ends[1].x)


def _is_notch(shape: Shape, outline: _Outline) -> bool:
    if not shape.strokes or box_round(shape).side > SMALL_MM:
        return False
    path = outline.loose.shape.strokes[0].segments
    ends = [end for s in shape.strokes if s.segments for end in (s.segments[0].start, s.segments[-1].end)]
    return any(nearest_on_path(path, place)[0] <= NOTCH_MM for place in (box_round(shape).centre, *ends))


def _is_clear_line(shape: Shape, outline: _Outline) -> bool:
    """Whether a shape is a straight line inside that touches the outline nowhere."""
    ends = straight_ends(shape)
    if ends is None or box_round(shape).side <= SMALL_MM:
        return False
    path = outline.loose.shape.strokes[0].segments
    clear = all(nearest_on_path(path, end)[0] > NOTCH_MM for end in ends)
    return clear and all(_inside(end, outline.places) for end in ends)


def _rival(closed: Sequence[Loose], own: Sequence[Loose]) -> Loose | None:
    """What of a piece may be its seam line as well as the largest closed outline.

    That is one that is nearly as large, or whatever lies outside it: a seam line perhaps that is not closed.
    """
    if not closed:
        return None
    box = box_round(closed[0].shape)
    for each in closed[1:]:
        other = box_round(each.shape)
        sides = other.left - box.left, other.top - box.top, box.right - other.right, box.bottom - other.bottom
        if max(sides) <= WIDEST_MM or _area_mm2(each.shape) > ALIKE * _area_mm2(closed[0].shape):
            return each
    for each in own:
        other = box_round(each.shape) if each.shape.strokes else box
        past = max(box.left - other.left, box.top - other.top, other.right - box.right, other.bottom - box.bottom)
        if past > SMALL_MM:
            return each
    return None


def _area_mm2(shape: Shape) -> float:
    return abs(path_area_mm2(shape.strokes[0].segments))


def _inside(place: Point, ring: Sequence[Point]) -> bool:
    """Whether a point lies within a closed line: a ray from it to the right crosses the line an odd number of times."""
    inside = False
    for a, b in zip(ring, (*ring[1:], ring[0]), strict=True):
        if (a.y > place.y) != (b.y > place.y) and place.x < a.x + (place.y - a.y) * (b.x - a.x) / (b.y - a.y):
            inside = not inside
    return inside

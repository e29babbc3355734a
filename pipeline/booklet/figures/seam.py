"""The figure of a seam: both sides along their seam line, what meets joined by fine lines, each piece named."""

from collections.abc import Iterator
from typing import NamedTuple

import shapely

from pipeline.booklet.figures.figure import Figure, FigureError, Letters
from pipeline.booklet.figures.ink import (
    ACCENT,
    FINE_MM,
    FOLD_DASH_MM,
    MEET_DASH_MM,
    NOTCH_MM,
    OUTLINE_MM,
    SEAM_DASH_MM,
    SEAM_MM,
    break_lines,
    lines_at,
    lines_of,
    whole_scene,
)
from pipeline.booklet.figures.looks import filled, surface_of
from pipeline.booklet.figures.naming import and_list, numbered
from pipeline.booklet.figures.room import Room
from pipeline.booklet.figures.seam_names import named, named_below
from pipeline.booklet.figures.seam_notes import rows_shown, seam_notes
from pipeline.booklet.figures.seam_sides import SeamSides, ShownPiece, Side, joined, scaled, seam_sides, side_line
from pipeline.booklet.figures.seam_steps import Spot
from pipeline.checks.garment import Garment
from pipeline.checks.notch_match import ease_mm
from pipeline.checks.seam_walk import is_complete, length_mm
from pipeline.checks.seam_way import decided_direction
from pipeline.drawing import scene
from pipeline.drawing.scene import Shape
from pipeline.drawing.styles import BLACK
from pipeline.drawing.wording import told_of
from pipeline.geometry.points import Affine, Point, Vector
from pipeline.model.pattern import Seam, SideEdge, in_language
from pipeline.model.pieces import CutPiece, Notch
from pipeline.words import say

LARGEST_SCALE = 0.8
_COMPACT = 1.5
"""A figure that is less wide than this, for its height, may be higher, or its pieces would be too small to name."""
_GAP_SHARE = 0.09
"""How far apart sides lie that face each other, as a share of the seam's length."""
_MARGIN_MM, _TEXT_ROOM_MM = 4.0, 18.0
_SAME_MM = 0.2
_STROKES_MM = 1.3
"""Between the strokes of a double notch."""
_EASES_MM = 2.0
"""A side that is this much longer, of which it is told that it is eased in."""
_ALT = {"sewn": "alt-seam", "lining": "alt-seam-lining", "bagged": "alt-seam-bagged"}
_GATHERS = 1.08
"""Of the shorter side: what is longer is gathered, or the other stretched to it (common practice)."""
_NEAR_MM = 60.0
"""The strokes of a notch lie within this of it: two notches of an edge may have one name."""
_TURN_OFF = Vector(5.0, -5.0)
"""How far a piece that lies on another is moved off it, so that both are seen, on paper."""


def seam_figure(garment: Garment, name: str, language: str, letters: Letters) -> Figure:
    """The figure of a seam that the pattern declares. Raises FigureError where no size has all its edges."""
    seam = garment.pattern.seams[name]
    way = decided_direction(garment, seam)
    sizes = [size for size in (garment.pattern.base, *garment.pattern.sizes) if is_complete(garment, seam, size)]
    if way is None or not sizes:
        raise FigureError(
            "no-such-seam",
            f"No size has all edges of the seam {name}, so it cannot be drawn.",
            "Name another seam, or mend the seam in pattern.toml.",
            name,
            "a seam with all its edges",
        )
    sides = garment.once(("laid out", name), lambda: seam_sides(garment, seam, way, sizes[0], _GAP_SHARE))
    laid = garment.once(("drawn", name, letters), lambda: _laid(garment, sides, seam, sizes[0], letters))
    shapes = _drawn(garment, seam, sides, laid, sizes[0], language, letters)
    return Figure(whole_scene(shapes), _alt(garment, seam, sides, sizes[0], language))


def seam_scale(sides: SeamSides, letters: Letters) -> float:
    """mm on paper of a mm of cloth."""
    left, top, right, bottom = shapely.total_bounds([shown.area for shown in (*sides.a, *sides.b)])
    off = _TURN_OFF if sides.turned else Vector(0.0, 0.0)
    wide = (letters.width_mm - _MARGIN_MM - abs(off.dx)) / (right - left)
    compact = right - left < _COMPACT * (bottom - top)
    most = (letters.compact_mm if compact else letters.height_mm) - _TEXT_ROOM_MM * letters.grown
    high = (most - abs(off.dy)) / (bottom - top)
    return float(min(wide, high, LARGEST_SCALE))


class _Laid(NamedTuple):
    """All of a figure that is the same in every language: the sides on paper, above and below, what is drawn of each,
    the room in its pieces, and the lines between what meets."""

    sides: tuple[Side, Side]
    drawn: tuple[tuple[Shape, ...], tuple[Shape, ...]]
    rooms: tuple[tuple[Room, ...], tuple[Room, ...]]
    meetings: tuple[Shape, ...]


def _laid(garment: Garment, sides: SeamSides, seam: Seam, size: str, letters: Letters) -> _Laid:
    scale = seam_scale(sides, letters)
    a = scaled(sides.a, Affine(a=scale, d=scale))
    off = _TURN_OFF if sides.turned else Vector(0.0, 0.0)
    b = scaled(sides.b, Affine(a=scale, d=scale, e=off.dx, f=off.dy))

    def drawn(side: Side) -> tuple[Shape, ...]:
        dash = FOLD_DASH_MM if seam.kind == "bagged" and side is b else SEAM_DASH_MM
        pieces = [shape for shown in side for shape in _piece(garment, shown, side, size, dash)]
        rows = [shape for shown in side for shape in rows_shown(garment, shown, seam.name, size)]
        return (*pieces, *rows, *(shape for shown in side for shape in _notches(garment, shown, size)))

    def rooms(side: Side) -> tuple[Room, ...]:
        return tuple(Room(shown.area, [shown.line, *_dart_lines(garment, shown, size)]) for shown in side)

    meetings = [
        scene.line(one, other, ACCENT, 0.25, MEET_DASH_MM)
        for one, other in _meeting_places(garment, sides, a, b, size)
        if one.distance(other) > 0.5
    ]
    return _Laid((a, b), (drawn(a), drawn(b)), (rooms(a), rooms(b)), tuple(meetings))


def _drawn(
    garment: Garment, seam: Seam, sides: SeamSides, laid: _Laid, size: str, language: str, letters: Letters
) -> list[Shape]:
    shapes: list[Shape] = []
    under: dict[str, None] = {}
    for side, drawn, rooms, above in zip(laid.sides, laid.drawn, laid.rooms, (True, False), strict=True):
        shapes += drawn
        for shown, room in () if sides.turned and above else zip(side, rooms, strict=True):
            block, told = named(garment, shown, room, language, letters)
            shapes += block
            under |= {told: None} if told else {}
    if sides.turned:
        a, b = laid.sides
        shapes += named_below(garment, a, joined(shown.area for shown in b), language, letters)
    shapes += laid.meetings
    title = in_language(seam.title, language) if seam.title else ""
    notes = seam_notes(garment, seam, size, language)
    for told in (title, ", ".join(under), _ease(garment, seam, sides, size, language), *notes):
        if told:
            whole = whole_scene(shapes, 0.0)
            middle = Point(whole.left_mm + whole.width_mm / 2, whole.top_mm + whole.height_mm + 1.0)
            shapes += lines_at(middle, told, letters.width_mm - 4, letters.small_mm, anchor="middle")[0]
    return shapes


def _piece(garment: Garment, shown: ShownPiece, side: Side, size: str, dash_mm: tuple[float, float]) -> Iterator[Shape]:
    surface = surface_of(garment.pattern, shown.piece, shown.right)
    yield from filled(shown.area, surface)
    rim = shown.area.boundary
    broken = rim.difference(shown.outline.buffer(0.12)).difference(shown.fold.buffer(0.12))
    others = joined(other.area for other in side if other is not shown).buffer(0.15)
    yield from lines_of(broken.intersection(others), FINE_MM * 1.5)
    yield from break_lines(broken.difference(others))
    yield from lines_of(shown.outline, OUTLINE_MM)
    yield from lines_of(shown.fold, OUTLINE_MM, FOLD_DASH_MM)
    yield scene.polyline([Point(*place) for place in shown.line.coords], BLACK, SEAM_MM, dash_mm)
    for line in _dart_lines(garment, shown, size):
        yield from lines_of(line, FINE_MM * 1.5, (1.0, 0.7))


def _dart_lines(garment: Garment, shown: ShownPiece, size: str) -> list[shapely.Geometry]:
    """The stitching lines of what the shown edges take up, on paper."""
    found = []
    for line in garment.cuts[shown.piece][size].drawn.inside:
        if line.kind == "stitch" and _of_take(garment, shown, line.path[0].start, line.path[-1].end, size):
            corners = [shown.move.point(place) for segment in line.path for place in (segment.start, segment.end)]
            found.append(shapely.LineString(corners).intersection(shown.area))
    return found


def _of_take(garment: Garment, shown: ShownPiece, start: Point, end: Point, size: str) -> bool:
    cut = garment.cuts[shown.piece][size]
    names = {
        n
        for name in shown.edges
        for take in garment.takes(shown.piece, name)
        for n in (take.start_notch, take.end_notch)
    }
    places = [notch.place for notch in cut.drawn.notches if notch.edge in shown.edges and notch.name in names]
    return any(place.distance(end_) <= 1.5 for place in places for end_ in (start, end))


def _notches(garment: Garment, shown: ShownPiece, size: str) -> Iterator[Shape]:
    """Strokes across the allowance, two for a double notch, at right angles to the seam line."""
    cut = garment.cuts[shown.piece][size]
    for notch in cut.drawn.notches:
        if notch.edge not in shown.edges:
            continue
        place, outer = _notch_ends(cut, shown, notch)
        if shown.line.distance(shapely.Point(place)) > 0.1:
            continue  # on the other part of an edge that is shown in two
        count = {"single": 1, "double": 2, "triple": 3}[notch.style]
        if place.distance(outer) < 0.3:
            continue
        aside = place.to(outer).unit().left()
        for k in range(count):
            off = aside.scaled((k - (count - 1) / 2) * _STROKES_MM)
            yield scene.line(place.plus(off), outer.plus(off), BLACK, NOTCH_MM)


def _notch_ends(cut: CutPiece, shown: ShownPiece, notch: Notch) -> tuple[Point, Point]:
    """A notch's place on the seam line, and on the cut line, on paper."""
    own = [slit.outer for slit in cut.slits if (slit.edge, slit.notch) == (notch.edge, notch.name)]
    outers = [outer for outer in own if outer.distance(notch.place) < _NEAR_MM]
    place = shown.move.point(notch.place)
    if not outers:
        return place, place
    middle = Point(sum(p.x for p in outers) / len(outers), sum(p.y for p in outers) / len(outers))
    return place, shown.move.point(middle)


def _meeting_places(garment: Garment, sides: SeamSides, a: Side, b: Side, size: str) -> list[tuple[Point, Point]]:
    """Both ends of each line that joins two places that meet: at the cut line by a notch, else at the seam line."""
    one, other = side_line(a), side_line(b)
    found = [(one[0], other[0]), (one[-1], other[-1])]
    for meeting in sides.meetings:
        at_a, at_b = side_place(a, meeting.a), side_place(b, meeting.b)
        # a ring is opened where two places meet, so that these are at both ends
        if not (_is_end(one, at_a) and _is_end(other, at_b)):
            found.append((_on_paper(garment, a, meeting.a, size), _on_paper(garment, b, meeting.b, size)))
    return found


def _is_end(line: list[Point], place: Point) -> bool:
    return min(place.distance(line[0]), place.distance(line[-1])) < _SAME_MM


def _on_paper(garment: Garment, side: Side, spot: Spot, size: str) -> Point:
    shown = _shown_at(side, spot)
    if spot.notch is None:
        return shown.move.point(spot.place)
    return _notch_ends(garment.cuts[spot.piece][size], shown, spot.notch)[1]


def side_place(side: Side, spot: Spot) -> Point:
    """Where a spot lies on the seam line."""
    return _shown_at(side, spot).move.point(spot.place)


def _shown_at(side: Side, spot: Spot) -> ShownPiece:
    """The part of a side on which a spot lies: a split edge is in two."""
    having = [shown for shown in side if shown.piece == spot.piece and spot.step in shown.steps]
    return min(having, key=lambda shown: round(shown.line.distance(shapely.Point(shown.move.point(spot.place))), 3))


def _ease(garment: Garment, seam: Seam, sides: SeamSides, size: str, language: str) -> str:
    """What is done with the longer side."""
    lengths = [_length_mm(garment, side, size) for side in (seam.a, seam.b)]
    low, high = ease_mm(seam.ease, lengths[1])
    if seam.kind != "sewn" or abs(lengths[0] - lengths[1]) < _EASES_MM or not (low or high):
        return ""
    longer = sides.a if lengths[0] > lengths[1] else sides.b
    shorter_mm = min(lengths)
    key = "gather" if max(lengths) > _GATHERS * shorter_mm else "ease"
    return say(language, f"figure.{key}", pieces=and_list(_names(garment, longer, language), language))


def _length_mm(garment: Garment, side: tuple[SideEdge, ...], size: str) -> float:
    return sum(length_mm(garment, step, size) for step in side)


def _names(garment: Garment, side: Side, language: str) -> list[str]:
    return list(dict.fromkeys(numbered(garment.pattern, shown.piece, language) for shown in side))


def _alt(garment: Garment, seam: Seam, sides: SeamSides, size: str, language: str) -> str:
    a, b = (and_list(_names(garment, side, language), language) for side in (sides.a, sides.b))
    key = "alt-seam-turned" if sides.turned else _ALT[seam.kind]
    parts = [say(language, f"figure.{key}", a=a, b=b)]
    if sides.meetings:
        counted = "alt-meet-one" if len(sides.meetings) == 1 else "alt-meet"
        parts.append(say(language, f"figure.{counted}", count=len(sides.meetings)))
    if told := _ease(garment, seam, sides, size, language):
        parts.append(told)
    told = " ".join((*parts, *seam_notes(garment, seam, size, language)))
    return told_of(language, in_language(seam.title, language), told) if seam.title else told

"""The figure of a seam: both sides along their seam line, what meets joined by fine lines, each piece named."""

from collections.abc import Iterator

import shapely

from pipeline.booklet.figures.figure import Figure, FigureError, Letters
from pipeline.booklet.figures.ink import (
    ACCENT,
    FINE_MM,
    FOLD_DASH_MM,
    LEADING,
    MEET_DASH_MM,
    NOTCH_MM,
    OUTLINE_MM,
    SEAM_DASH_MM,
    SEAM_MM,
    break_lines,
    label_inside,
    lines_at,
    lines_of,
    whole_scene,
)
from pipeline.booklet.figures.looks import filled, polygons, surface_of
from pipeline.booklet.figures.naming import and_list, numbered
from pipeline.booklet.figures.seam_sides import SeamSides, ShownPiece, Side, joined, scaled, seam_sides, side_line
from pipeline.booklet.figures.seam_steps import Spot
from pipeline.checks.garment import Garment
from pipeline.checks.notch_match import ease_mm
from pipeline.checks.seam_walk import is_complete, length_mm
from pipeline.checks.seam_way import decided_direction
from pipeline.drawing import scene
from pipeline.drawing.fonts import text_width_mm
from pipeline.drawing.scene import Shape
from pipeline.drawing.styles import BLACK
from pipeline.drawing.text_lines import wrapped
from pipeline.geometry.points import Affine, Point, Vector
from pipeline.model.pattern import Seam, SideEdge
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
    shapes = _drawn(garment, seam, sides, sizes[0], language, letters)
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


def _drawn(garment: Garment, seam: Seam, sides: SeamSides, size: str, language: str, letters: Letters) -> list[Shape]:
    scale = seam_scale(sides, letters)
    a = scaled(sides.a, Affine(a=scale, d=scale))
    off = _TURN_OFF if sides.turned else Vector(0.0, 0.0)
    b = scaled(sides.b, Affine(a=scale, d=scale, e=off.dx, f=off.dy))
    meetings = _meeting_places(garment, sides, a, b, size)
    shapes: list[Shape] = []
    under: dict[str, None] = {}
    for side, above in ((a, True), (b, False)):
        for shown in side:
            shapes += _piece(garment, shown, side, size)
        for shown in side:
            shapes += _notches(garment, shown, size)
        for shown in () if sides.turned and above else side:
            block, told = _named(garment, shown, size, language, letters)
            shapes += block
            under |= {told: None} if told else {}
    if sides.turned:
        shapes += _named_below(garment, a, joined(shown.area for shown in b), language, letters)
    for one, other in meetings:
        if one.distance(other) > 0.5:
            shapes.append(scene.line(one, other, ACCENT, 0.25, MEET_DASH_MM))
    for told in (", ".join(under), _ease(garment, seam, sides, size, language)):
        if told:
            whole = whole_scene(shapes, 0.0)
            middle = Point(whole.left_mm + whole.width_mm / 2, whole.top_mm + whole.height_mm + 1.0)
            shapes += lines_at(middle, told, letters.width_mm - 4, letters.small_mm, anchor="middle")[0]
    return shapes


def _piece(garment: Garment, shown: ShownPiece, side: Side, size: str) -> Iterator[Shape]:
    surface = surface_of(garment.pattern, shown.piece, shown.right)
    yield from filled(shown.area, surface)
    rim = shown.area.boundary
    broken = rim.difference(shown.outline.buffer(0.12)).difference(shown.fold.buffer(0.12))
    others = joined(other.area for other in side if other is not shown).buffer(0.15)
    yield from lines_of(broken.intersection(others), FINE_MM * 1.5)
    yield from break_lines(broken.difference(others))
    yield from lines_of(shown.outline, OUTLINE_MM)
    yield from lines_of(shown.fold, OUTLINE_MM, FOLD_DASH_MM)
    yield scene.polyline([Point(*place) for place in shown.line.coords], BLACK, SEAM_MM, SEAM_DASH_MM)
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


def _named(garment: Garment, shown: ShownPiece, size: str, language: str, letters: Letters) -> tuple[list[Shape], str]:
    """(a piece's number and title, and which side of the cloth is up; what is told under the figure where only its
    number finds room in it)."""
    surface = surface_of(garment.pattern, shown.piece, shown.right)
    name = numbered(garment.pattern, shown.piece, language)
    more = say(language, "figure.right-side" if shown.right else "figure.wrong-side")
    lines = [shown.line, *_dart_lines(garment, shown, size)]
    if (block := label_inside(shown.area, name, more, surface.tone, letters, lines)) is not None:
        return block, ""
    number = str(garment.pattern.pieces[shown.piece].number)
    return label_inside(shown.area, number, "", surface.tone, letters, lines) or [], name


def _named_below(
    garment: Garment, side: Side, hidden: shapely.Geometry, language: str, letters: Letters
) -> list[Shape]:
    """Names of pieces that another lies on, under all of it, each with a line to what is seen of it: a piece that is
    shown in two places near each other is named once."""
    left, _, right, bottom = shapely.total_bounds([hidden, *(shown.area for shown in side)])
    size, room = letters.text_mm, letters.width_mm - 2
    shapes: list[Shape] = []
    named: list[tuple[str, list[float]]] = []
    for shown in side:
        seen = max(polygons(shown.area.difference(hidden)), key=lambda part: part.area, default=shown.area)
        middle = shown.area.centroid.x
        foot = seen.intersection(shapely.LineString([(middle, seen.bounds[1]), (middle, bottom)]))
        at = Point(middle, bottom - 0.5) if foot.is_empty else Point(middle, foot.bounds[3] - 0.8)
        more = say(language, "figure.right-side" if shown.right else "figure.wrong-side")
        shapes.append(scene.line(at, Point(middle, bottom + 1.6), BLACK, FINE_MM))
        name = f"{numbered(garment.pattern, shown.piece, language)}, {more}"
        reach = text_width_mm(name, size, bold=True) + 2.0
        near = next((places for told, places in named if told == name and abs(places[-1] - middle) < reach), None)
        if near is None:
            named.append((name, [middle]))
        else:
            near.append(middle)
    boxes: list[shapely.Polygon] = []
    for name, places in named:
        rows = wrapped(name, size, room, bold=True)
        half = max(text_width_mm(row, size, bold=True) for row in rows) / 2
        middle = (left + right) / 2
        x = min(max(sum(places) / len(places), middle - room / 2 + half), middle + room / 2 - half)
        y = bottom + 1.8
        while taken := [box for box in boxes if box.intersects(shapely.box(x - half - 1, y, x + half + 1, y + 0.1))]:
            y = max(box.bounds[3] for box in taken) + 0.1
        for k, row in enumerate(rows):
            shapes.append(scene.text(Point(x, y + (1 + k * LEADING) * size), row, size, "middle", bold=True))
        boxes.append(shapely.box(x - half, y, x + half, y + len(rows) * LEADING * size))
    return shapes


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
    key = "alt-seam-turned" if sides.turned else "alt-seam-lining" if seam.kind == "lining" else "alt-seam"
    parts = [say(language, f"figure.{key}", a=a, b=b)]
    if sides.meetings:
        counted = "alt-meet-one" if len(sides.meetings) == 1 else "alt-meet"
        parts.append(say(language, f"figure.{counted}", count=len(sides.meetings)))
    if told := _ease(garment, seam, sides, size, language):
        parts.append(told)
    return " ".join(parts)

"""A piece of one size as the entities of a block: its lines, marks and texts, each on its layer.

A piece on the fold is half of what is cut, with its mirror line: so it is drawn in `sizes/` and so the layer is meant.
A whole boundary beside a mirror line could be mirrored again, and a cut piece of twice the cloth be lost.
"""

import math
from collections.abc import Iterator
from typing import Literal

from pipeline.exchange.chords import thinned, thinned_line
from pipeline.exchange.group_codes import TEXT_MM, line, point, polyline, text
from pipeline.geometry.curves import flattened
from pipeline.geometry.points import Point, bounds
from pipeline.model import d6673 as standard
from pipeline.model.d6673 import ascii_text
from pipeline.model.pattern import Pattern, in_language
from pipeline.model.piece_specs import Cut, Side
from pipeline.model.pieces import CutPiece, InsideLine, Polyline, Slit
from pipeline.model.questions import copies_of, mark_spec, owner_of

_FLAT_MM = standard.CHORD_MM * 0.2
_NAME_MM = 2.0
_SAME_MM = 0.01
_LINE_MM = 1.6 * TEXT_MM
"""From a line of text to the next."""


def upward(place: Point) -> Point:
    """A place of a master, whose y grows down the page, as in DXF, whose y grows up."""
    return Point(place.x, -place.y)


def entities(pattern: Pattern, cut: CutPiece) -> Iterator[str]:
    """Every entity of a piece, in the coordinates of its master with y turned."""
    ends = [edge.path[0].start for edge in cut.drawn.edges if edge.path]
    yield from _outline(standard.BOUNDARY, cut.cut_drawn, [])
    yield from _outline(standard.SEW, cut.seam_drawn, ends)
    for slit in cut.slits:
        yield _notch(slit) if slit.cut else line(standard.INSIDE, upward(slit.outer), upward(slit.inner))
    if cut.fold:
        yield line(standard.MIRROR, *map(upward, cut.fold))
    yield line(standard.GRAIN, upward(cut.drawn.grain.bottom), upward(cut.drawn.grain.top))
    for inside in cut.inside:
        yield _inside(inside)
    for mark in cut.drawn.points:
        if mark.slit:
            yield line(standard.INSIDE, *map(upward, mark.slit))
        else:
            yield point(standard.DRILL, upward(mark.place))
    yield from _texts(pattern, cut)
    yield from _mark_names(cut)


def _outline(layer: str, outline: Polyline, corners: list[Point]) -> Iterator[str]:
    """The line, and upon each of its vertices a turn point or a curve point."""
    vertices = [(upward(place), corner) for place, corner in thinned(outline, corners)]
    yield polyline(layer, (place for place, _ in vertices), closed=True)
    for place, corner in vertices:
        yield point(standard.TURN if corner else standard.CURVE, place)


def _notch(slit: Slit) -> str:
    outer, inner = upward(slit.outer), upward(slit.inner)
    angle = math.degrees(math.atan2(inner.y - outer.y, inner.x - outer.x)) % 360
    return point(standard.NOTCH, outer, thickness=outer.distance(inner), angle_deg=angle)


def _inside(inside: InsideLine) -> str:
    layer = standard.CUTOUT if inside.kind == "cut" else standard.INSIDE
    places = thinned_line(flattened(inside.path, _FLAT_MM))
    if len(places) == 2 and not inside.closed:
        return line(layer, *map(upward, places))
    ring = places[:-1] if inside.closed and places[0].distance(places[-1]) < _FLAT_MM else places
    return polyline(layer, map(upward, ring), inside.closed)


def _mark_names(cut: CutPiece) -> Iterator[str]:
    """What marks are called, each text at its mark. A notch at a corner is one, on whichever edge it stands first."""
    marks: dict[tuple[str, Point], None] = {}
    for notch in cut.drawn.notches:
        strokes = sum(slit.cut for slit in cut.slits if (slit.notch, slit.edge) == (notch.name, notch.edge))
        there = any(notch.name == slit.notch and slit.cut for slit in cut.slits)
        if notch.name and there and not any(place.distance(notch.place) < _SAME_MM for _, place in marks):
            count = f", {strokes}" if strokes > 1 else ""
            marks[f"{standard.MARK_NOTCH}: {notch.name}{count}", notch.place] = None
    for mark in cut.drawn.points:
        if mark.name:
            marks[f"{standard.MARK_POINT}: {mark.name}", mark.place] = None
    for inside in cut.inside:
        if inside.name:
            marks[f"{standard.MARK_LINE}: {inside.name}", inside.path[0].start] = None
    for said, place in marks:
        yield text(standard.TEXT, said, upward(place), _NAME_MM)


def _texts(pattern: Pattern, cut: CutPiece) -> Iterator[str]:
    """What readers pick apart on the layer of the boundary, what people read on that of texts."""
    for row, (layer, said) in enumerate(_said(pattern, cut)):
        yield text(layer, said, _text_place(cut, row))


def _said(pattern: Pattern, cut: CutPiece) -> Iterator[tuple[str, str]]:
    owner = owner_of(pattern, cut.piece)
    yield standard.BOUNDARY, f"{standard.PIECE_NAME}: {cut.piece}"
    yield standard.BOUNDARY, f"{standard.SIZE}: {cut.size}"
    there = [entry for entry in owner.cut if copies_of(entry, cut.size).copies]
    for entry in there:
        yield standard.BOUNDARY, f"{standard.MATERIAL}: {entry.material}"
        yield standard.BOUNDARY, f"{standard.QUANTITY}: {copies_of(entry, cut.size).copies}"
    title = ascii_text(in_language(owner.title, pattern.languages[0]))
    if title:
        yield standard.TEXT, title
    for entry in there:
        yield standard.TEXT, _cut_words(pattern, entry, cut)
    for kind, group, name in _marks(cut):
        if name and (side := mark_spec(pattern, cut.piece, name, group).side):
            yield standard.TEXT, f"{kind} {name}, {_only(side)}"


def _marks(cut: CutPiece) -> Iterator[tuple[str, Literal["lines", "points"], str | None]]:
    yield from ((standard.MARK_LINE, "lines", inside.name) for inside in cut.inside)
    yield from ((standard.MARK_POINT, "points", mark.name) for mark in cut.drawn.points)


def _only(side: Side) -> str:
    """The standard has no word for it (from memory): so people read it."""
    return f"WEARER'S {side.upper()} ONLY"


def _cut_words(pattern: Pattern, entry: Cut, cut: CutPiece) -> str:
    cloth = pattern.materials.get(entry.material)
    title = ascii_text(in_language(cloth.title, pattern.languages[0])) if cloth else ""
    count, mirrored = copies_of(entry, cut.size)
    how = "ON FOLD" if cut.fold else f"{mirrored} MIRRORED" if mirrored else ""
    told = [how, _only(entry.side) if entry.side else ""]
    return ", ".join((f"CUT {count} {title or entry.material}", *filter(None, told)))


def _text_place(cut: CutPiece, row: int) -> Point:
    """Under each other from the middle of the drawn half, or of the rectangle for texts."""
    left, top, right, bottom = bounds(cut.drawn.label or cut.seam_drawn)
    start = Point(left + (right - left) / 4, top + (bottom - top) / 4) if cut.drawn.label is None else Point(left, top)
    return upward(Point(start.x, start.y + row * _LINE_MM))

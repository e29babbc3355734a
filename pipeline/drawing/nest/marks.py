"""The marks of a piece: grain, fold sign, notches, places, buttonholes, each once for its sizes."""

import math
from collections.abc import Callable, Mapping, Sequence
from typing import Literal, NamedTuple, TypeVar

import shapely

from pipeline.drawing import scene
from pipeline.drawing.ink import Ink, stroke_ink
from pipeline.drawing.nest.one_size import NestPiece, NestPoint
from pipeline.drawing.scene import Run
from pipeline.drawing.styles import LineStyle, Look, SizeCodes
from pipeline.geometry.points import Point, Vector

HEAD_MM = 6.0
_HEAD_HALF = 0.27
"""Half a head's width against its length."""
BRACKET_INSET_MM = 6.0
_BRACKET_SHARE = 0.36
_BRACKET_HALF_MAX_MM = 110.0
_PARALLEL = 0.001
"""Sine of the angle up to which the grain lines of several sizes are one: 0.06 degrees."""
POINT_RADIUS_MM = 1.8
_CROSS = 1.45
"""Half a cross against the radius of its circle."""
_APART = 2 * _CROSS
"""How far apart places with circles must be, in radii."""
_LEAST_ARM_MM = 0.6
"""Half a cross where sizes crowd together, at the least."""
_BAR_MM = 1.6
_UPRIGHT = Vector(1.0, 0.0)

Mark = TypeVar("Mark")
Heads = Literal["one", "two", "open"]


def by_sizes(
    marks: Mapping[str, Sequence[Mark]], places: Callable[[Mark], tuple[Point, ...]], alike_mm: float
) -> list[tuple[Mark, tuple[str, ...]]]:
    """Each different mark once, with the sizes that have it within `alike_mm`."""
    cell_mm = max(1.0, alike_mm)
    found: list[tuple[Mark, list[str]]] = []
    cells: dict[tuple[int, int], list[int]] = {}
    for size, own in marks.items():
        for mark in own:
            spots = places(mark)
            column, row = round(spots[0].x / cell_mm), round(spots[0].y / cell_mm)
            near = [k for dx in (-1, 0, 1) for dy in (-1, 0, 1) for k in cells.get((column + dx, row + dy), ())]
            for k in near:
                other = places(found[k][0])
                if len(other) == len(spots) and all(
                    a.distance(b) <= alike_mm for a, b in zip(other, spots, strict=True)
                ):
                    if size not in found[k][1]:
                        found[k][1].append(size)
                    break
            else:
                cells.setdefault((column, row), []).append(len(found))
                found.append((mark, [size]))
    return [(mark, tuple(sizes)) for mark, sizes in found]


def notch_inks(pieces: Mapping[str, NestPiece], codes: SizeCodes, look: Look) -> list[Ink]:
    """Notches: short strokes from the cut line inward, or across the seam line."""
    found = by_sizes(
        {size: piece.notches for size, piece in pieces.items()},
        lambda stroke: (stroke.outer, stroke.inner),
        look.alike_mm,
    )
    groups: dict[tuple[tuple[str, ...], str], list[Run]] = {}
    for stroke, sizes in found:
        sign = "notch" if stroke.cut else "notch-on-seam"
        groups.setdefault((sizes, sign), []).append(Run((stroke.outer, stroke.inner)))
    return [
        stroke_ink(sizes, lines, LineStyle(look.colour(sizes, codes), look.mark_mm))._replace(sign=sign)
        for (sizes, sign), lines in groups.items()
    ]


class Spot(NamedTuple):
    """A place or buttonhole as drawn; `key` is the same in all sizes."""

    ink: Ink
    key: str
    place: Point
    colour: str

    def reach_mm(self, way: Vector) -> float:
        """How far its strokes reach from its middle in a direction."""
        return max(way.dot(self.place.to(end)) for stroke in self.ink.strokes for end in stroke)


def point_inks(points: Mapping[str, tuple[NestPoint, ...]], codes: SizeCodes, look: Look) -> list[Spot]:
    """Places (a cross in a circle, or a small cross where sizes crowd) and buttonholes (a slit between two bars)."""
    found = by_sizes(points, _spots, look.alike_mm)
    marks = [mark for mark, _ in found]
    slits = [mark.slit for mark in marks if mark.slit]
    spots = []
    for mark, sizes in found:
        # a slit has no circle that another could touch
        beside = [other for other in marks if other is not mark and (mark.slit or not other.slit)]
        nearest = min((mark.place.distance(other.place) for other in beside), default=math.inf)
        colour = look.colour(sizes, codes)
        if mark.slit:
            bar_mm = min(look.marks * _BAR_MM, max(look.marks * _LEAST_ARM_MM, nearest / 2))
            ink = slit_ink(mark.slit, sizes, LineStyle(colour, look.mark_mm), bar_mm)
        else:
            ink = place_ink(mark.place, nearest, sizes, colour, look, _off_slits(mark.place, slits, look))
        spots.append(Spot(ink, mark.key, mark.place, colour))
    return spots


def _spots(mark: NestPoint) -> tuple[Point, ...]:
    return (mark.place, *mark.slit) if mark.slit else (mark.place,)


def _off_slits(place: Point, slits: Sequence[tuple[Point, Point]], look: Look) -> Vector:
    """Which way an arm of a place's cross points: half way between the slit and the bars of a buttonhole that it lies
    on, in whose strokes an upright cross would vanish."""
    for start, end in slits:
        if shapely.LineString((start, end)).distance(shapely.Point(place)) <= _BAR_MM * look.marks:
            along = start.to(end).unit()
            out = along.left()
            return Vector(along.dx + out.dx, along.dy + out.dy).unit()
    return _UPRIGHT


def slit_ink(slit: tuple[Point, Point], sizes: tuple[str, ...], style: LineStyle, bar_mm: float) -> Ink:
    """A buttonhole: its slit between two bars."""
    start, end = slit
    across = start.to(end).unit().left().scaled(bar_mm)
    bars = [Run((p.plus(across), p.plus(across.scaled(-1)))) for p in (start, end)]
    return stroke_ink(sizes, [Run((start, end)), *bars], style)._replace(sign="buttonhole")


def place_ink(
    place: Point, nearest_mm: float, sizes: tuple[str, ...], colour: str, look: Look, way: Vector = _UPRIGHT
) -> Ink:
    """A cross in a circle, or a small thin cross where the next place is so near that two circles would touch.

    `way` is that of one of its arms.
    """
    radius = POINT_RADIUS_MM * look.marks
    crowded = nearest_mm < _APART * radius
    arm = max(_LEAST_ARM_MM * look.marks, min(radius, nearest_mm / 2)) if crowded else _CROSS * radius
    style = LineStyle(colour, max(look.clip_mm, min(look.mark_mm, arm / 4)))
    arms = [along.scaled(arm) for along in (way, way.left().scaled(-1))]
    cross = [Run((place.plus(along.scaled(-1)), place.plus(along))) for along in arms]
    ink = stroke_ink(sizes, cross, style)
    if crowded:
        return ink._replace(sign="point-small")
    return ink._replace(sign="point", shapes=(*ink.shapes, scene.circle(place, radius, style.colour, style.width_mm)))


def common_grain(pieces: Mapping[str, NestPiece], ground: shapely.Geometry) -> tuple[Point, Point] | None:
    """One grain line (bottom, top) for all sizes, where all are parallel: the first that lies in every size."""
    lines = [piece.grain for piece in pieces.values()]
    first = lines[0][0].to(lines[0][1]).unit()
    for bottom, top in lines:
        along = bottom.to(top).unit()
        if abs(first.cross(along)) > _PARALLEL or first.dot(along) < 0:
            return None
    inner = ground.buffer(-2.0)
    for bottom, top in lines:
        if inner.contains(shapely.LineString((bottom, top))):
            return bottom, top
    return lines[0]


def grain_ink(sizes: tuple[str, ...], grain: tuple[Point, Point], heads: Heads, style: LineStyle, head: float) -> Ink:
    """The grain line with heads `head` mm long.

    "one" at the top alone: one way. "two": either way. "open": either way, and the full head is up where there is nap.
    """
    bottom, top = grain
    along = bottom.to(top).unit()
    start = bottom if heads == "one" else bottom.plus(along.scaled(head))
    line = stroke_ink(sizes, [Run((start, top.plus(along.scaled(-head))))], style)
    shapes = [*line.shapes, scene.polygon(arrow_head(top, along, head), style.colour)]
    lower = arrow_head(bottom, along.scaled(-1), head)
    if heads == "two":
        shapes.append(scene.polygon(lower, style.colour))
    elif heads == "open":
        shapes.append(scene.path([Run(lower, closed=True)], style))
    left, top_y, right, bottom_y = shapely.LineString(grain).buffer(head * _HEAD_HALF + style.width_mm).bounds
    bases = tuple(arrow_head(tip, way, head)[1:] for tip, way in ((top, along), (bottom, along.scaled(-1))))
    return Ink(sizes, tuple(shapes), (left, top_y, right, bottom_y), ((bottom, top), *bases), sign=f"grain-{heads}")


def between_heads(grain: tuple[Point, Point], head: float) -> tuple[Point, Point]:
    """The grain line less its heads: what a text beside it may use."""
    bottom, top = grain
    step = bottom.to(top).unit().scaled(head)
    return bottom.plus(step), top.plus(step.scaled(-1))


def head_mm(grain: tuple[Point, Point], look: Look) -> float:
    """Length of a head of the grain line: shorter on a short line."""
    return min(HEAD_MM * look.marks, grain[0].distance(grain[1]) / 4)


def arrow_head(tip: Point, along: Vector, length_mm: float) -> tuple[Point, Point, Point]:
    """The three corners of a head that points along a direction, its tip first."""
    base = tip.plus(along.scaled(-length_mm))
    side = along.left().scaled(length_mm * _HEAD_HALF)
    return tip, base.plus(side), base.plus(side.scaled(-1))


def fold_bracket(fold: tuple[Point, Point]) -> tuple[Point, Point, Point, Point]:
    """The bracket along a fold edge: foot, corner, corner, foot; the piece lies to the right of the fold's walk."""
    start, end = fold
    along = start.to(end).unit()
    inward = along.left().scaled(-1)
    length = start.distance(end)
    half = min(_BRACKET_SHARE * length, _BRACKET_HALF_MAX_MM)
    inset = min(BRACKET_INSET_MM, length / 6)
    middle = Point((start.x + end.x) / 2, (start.y + end.y) / 2)
    feet = middle.plus(along.scaled(-half)), middle.plus(along.scaled(half))
    corners = [foot.plus(inward.scaled(inset)) for foot in feet]
    return feet[0], corners[0], corners[1], feet[1]


def fold_ink(sizes: tuple[str, ...], bracket: tuple[Point, Point, Point, Point], style: LineStyle) -> Ink:
    """The fold sign: a bracket whose two feet are arrow heads that touch the fold."""
    head = min(HEAD_MM / 2, bracket[0].distance(bracket[1]) * 0.6)
    outward = bracket[1].to(bracket[0]).unit()
    feet = [foot.plus(outward.scaled(-head)) for foot in (bracket[0], bracket[3])]
    line = stroke_ink(sizes, [Run((feet[0], bracket[1], bracket[2], feet[1]))], style)
    heads = [scene.polygon(arrow_head(foot, outward, head), style.colour) for foot in (bracket[0], bracket[3])]
    left, top, right, bottom = shapely.LineString(bracket).buffer(1.0).bounds
    return line._replace(shapes=(*line.shapes, *heads), extent=(left, top, right, bottom), sign="fold")

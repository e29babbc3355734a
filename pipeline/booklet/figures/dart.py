"""The figure of darts and pleats: their legs or folds, their point, and which way they are laid."""

from collections.abc import Iterator, Sequence
from typing import NamedTuple

import shapely

from pipeline.booklet.figures.figure import Figure, FigureError, Letters
from pipeline.booklet.figures.ink import (
    ACCENT,
    FINE_MM,
    FOLD_DASH_MM,
    NOTCH_MM,
    OUTLINE_MM,
    SEAM_DASH_MM,
    SEAM_MM,
    arrow,
    break_lines,
    lines_at,
    lines_of,
    whole_scene,
)
from pipeline.booklet.figures.looks import Surface, filled, surface_of
from pipeline.booklet.figures.naming import numbered
from pipeline.booklet.figures.on_piece import PieceView, drawn_piece, mapped, piece_view
from pipeline.checks.garment import Garment
from pipeline.cutting.dart_legs import legs_of
from pipeline.drawing import scene
from pipeline.drawing.scene import Shape
from pipeline.drawing.styles import BLACK
from pipeline.geometry.points import Affine, Point
from pipeline.model.piece_specs import Take
from pipeline.model.pieces import CutPiece
from pipeline.words import say

_HIGH_MM, _LARGEST_SCALE = 44.0, 0.7
_LEAST_AROUND_MM, _AROUND = 30.0, 0.45
_GAP_MM = 8.0
_TOLD_MM, _TOLD_SHARE = 45.0, 0.47
"""Room for what is told of a step, and how much of the width it may take."""
_TIP_MM = 0.9


class _Taken(NamedTuple):
    """What is sewn away: between which places of the edge, and of a dart its legs and point, in the piece's own mm."""

    take: Take
    start: Point
    end: Point
    legs: tuple[shapely.LineString, shapely.LineString] | None
    tip: Point | None


def dart_figure(garment: Garment, cut: CutPiece, edge: str, language: str, letters: Letters) -> Figure:
    """What an edge has of darts and pleats, flat, and of its first dart as it is folded to be sewn.

    Raises FigureError where nothing of the edge is sewn away.
    """
    taken = list(_all_taken(garment, cut, edge))
    if not taken:
        having = _edges_with_takes(garment)
        raise FigureError(
            "no-dart",
            f"{cut.piece}.{edge} has no dart or pleat, so no figure of one can be drawn.",
            f"Name an edge that has one: {', '.join(having)}." if having else "Take the figure out: no edge has one.",
            f"{cut.piece}.{edge}",
            ", ".join(having) or "none",
        )
    part = _around(taken)
    dart = next((one for one in taken if one.legs is not None and one.tip is not None), None)
    view = piece_view(cut, (letters.width_mm - _GAP_MM) / (2 if dart else 1) - 4, _HIGH_MM, _LARGEST_SCALE, part)
    surface = surface_of(garment.pattern, cut.piece)
    shapes = [*drawn_piece(view, surface), *_notches(cut, edge, view)]
    for one in taken:
        shapes += _flat(view, one)
    room = min(_TOLD_MM * letters.grown, _TOLD_SHARE * letters.width_mm)
    right = max(view.area.bounds[2], room - _GAP_MM / 2 if dart else 0.0)
    told = say(language, "figure.dart-flat" if dart else "figure.pleat-flat")
    steps = [(0.0, right, told)]
    if dart is not None:
        shift = Affine(e=right + _GAP_MM)
        folded, shown = _folded(view, dart, surface, shift)
        shapes += folded
        left, _, end, _ = shown.bounds
        steps.append((left, max(end, left + room), say(language, "figure.dart-folded")))
    lowest = whole_scene(shapes, 0.0)
    under = lowest.top_mm + lowest.height_mm + 1.5
    for k, (left, end, text) in enumerate(steps):
        content = f"{k + 1}  {text}" if len(steps) > 1 else text
        shapes += lines_at(Point(left, under), content, max(end - left, room), letters.small_mm)[0]
    key = "alt-dart" if dart is not None else "alt-pleat"
    return Figure(
        whole_scene(shapes), say(language, f"figure.{key}", piece=numbered(garment.pattern, cut.piece, language))
    )


def _edges_with_takes(garment: Garment) -> list[str]:
    return [
        f"{name}.{edge}"
        for name, piece in garment.pattern.pieces.items()
        for edge, spec in piece.edges.items()
        if spec.takes
    ]


def _all_taken(garment: Garment, cut: CutPiece, edge: str) -> Iterator[_Taken]:
    places = {notch.name: notch.place for notch in cut.drawn.notches if notch.edge == edge}
    for take in garment.takes(cut.piece, edge):
        if take.start_notch not in places or take.end_notch not in places:
            continue
        start, end = places[take.start_notch], places[take.end_notch]
        legs = legs_of(cut.drawn.inside, start, end) if take.kind == "dart" else None
        tip = legs[0][-1].end if legs is not None else None
        lines = None
        if legs is not None:
            one, other = (
                shapely.LineString([leg[0].start, *(segment.at(k / 8) for segment in leg for k in range(1, 9))])
                for leg in legs
            )
            lines = one, other
        yield _Taken(take, start, end, lines, tip)


def _around(taken: Sequence[_Taken]) -> shapely.Geometry:
    places = [place for one in taken for place in (one.start, one.end, one.tip) if place is not None]
    left, top, right, bottom = shapely.MultiPoint(places).bounds
    around = max(_LEAST_AROUND_MM, _AROUND * max(right - left, bottom - top))
    return shapely.box(left - around, top - around, right + around, bottom + around)


def _notches(cut: CutPiece, edge: str, view: PieceView) -> Iterator[Shape]:
    for slit in cut.slits:
        outer, inner = view.point(slit.outer), view.point(slit.inner)
        if slit.edge == edge and view.area.distance(shapely.Point(outer)) < 0.1:
            yield scene.line(outer, inner, BLACK, NOTCH_MM)


def _flat(view: PieceView, one: _Taken) -> Iterator[Shape]:
    start, end = view.point(one.start), view.point(one.end)
    middle = Point((start.x + end.x) / 2, (start.y + end.y) / 2)
    if one.legs is not None and one.tip is not None:
        tip = view.point(one.tip)
        for leg in one.legs:
            yield from lines_of(mapped(leg, view.to_paper), SEAM_MM, SEAM_DASH_MM)
        yield scene.line(middle, tip, BLACK, FINE_MM * 1.5, FOLD_DASH_MM)
        yield scene.circle(tip, _TIP_MM, ACCENT, 0.3)
    inward = view.area.centroid
    toward = middle.to(Point(inward.x, inward.y)).unit() if one.tip is None else middle.to(view.point(one.tip)).unit()
    off = toward.scaled(min(5.0, 0.4 * start.distance(end) + 2.0))
    if start.distance(end) > 3.0:
        yield from arrow(start.plus(off), end.plus(off), ACCENT)


def _folded(view: PieceView, dart: _Taken, surface: Surface, shift: Affine) -> tuple[list[Shape], shapely.Geometry]:
    """The piece folded through the dart, right sides together: the half at the first notch lies on the other."""
    assert dart.tip is not None
    assert dart.legs is not None
    start, end, tip = view.point(dart.start), view.point(dart.end), view.point(dart.tip)
    middle = Point((start.x + end.x) / 2, (start.y + end.y) / 2)
    along = middle.to(tip).unit()
    far = along.scaled(1000.0)
    aside = along.left().scaled(1000.0 if along.cross(middle.to(start)) < 0 else -1000.0)
    axis = middle.plus(far.scaled(-1)), middle.plus(far)
    half = shapely.Polygon([*axis, axis[1].plus(aside), axis[0].plus(aside)])
    moving, staying = view.area.intersection(half), view.area.difference(half)
    a, b = 2 * along.dx * along.dx - 1, 2 * along.dx * along.dy
    mirror = Affine(a, b, b, -a, middle.x - a * middle.x - b * middle.y, middle.y - b * middle.x + a * middle.y)
    shapes: list[Shape] = []
    upper = mapped(moving, mirror)
    broken = view.area.boundary.difference(view.outline.buffer(0.1)).difference(view.fold.buffer(0.1))
    left = min(staying.bounds[0], upper.bounds[0])
    place = Affine(e=shift.e - left)
    for area, side, by in ((staying, surface, Affine()), (moving, surface.other, mirror)):
        onto = place.after(by)
        shapes += filled(mapped(area, onto), side)
        near = area.buffer(0.01)
        shapes += break_lines(mapped(broken.intersection(near), onto))
        shapes += lines_of(mapped(view.outline.intersection(near), onto), OUTLINE_MM)
        shapes += lines_of(mapped(view.fold.intersection(near), onto), OUTLINE_MM, FOLD_DASH_MM)
    crease = shapely.LineString(axis).intersection(view.area)
    shapes += lines_of(mapped(crease, place), OUTLINE_MM)
    leg = _to_the_edge(mapped(dart.legs[1], view.to_paper), view.area)
    shapes += lines_of(mapped(leg, place), SEAM_MM, SEAM_DASH_MM)
    shapes.append(scene.circle(place.point(tip), _TIP_MM, ACCENT, 0.3))
    return shapes, mapped(staying.union(upper), place)


def _to_the_edge(leg: shapely.LineString, area: shapely.Geometry) -> shapely.Geometry:
    """A leg run on from the seam line to the cut line, where its stitching begins."""
    points = [Point(*place) for place in leg.coords]
    if area.boundary.distance(shapely.Point(points[0])) > area.boundary.distance(shapely.Point(points[-1])):
        points.reverse()
    out = points[1].to(points[0]).unit().scaled(40.0)
    run_on = shapely.LineString([points[0].plus(out), *points]).intersection(area)
    return max(shapely.get_parts(run_on), key=lambda part: part.length)

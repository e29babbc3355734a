"""A cut piece moved to nest coordinates and taken apart into the lines that are drawn."""

import msgspec
import numpy as np
import shapely

from pipeline.drawing.nest.opened import BOTH_HALVES, ON_FOLD_MM, OneHalf, opened, opened_takes
from pipeline.drawing.nest.stretches import Chain, points_of, thinned
from pipeline.drawing.nest.takes import NOTHING_TAKEN, TakeMarks
from pipeline.geometry.chains import coordinates
from pipeline.geometry.curves import flattened
from pipeline.geometry.points import Affine, Point, Vector
from pipeline.model.piece_specs import LineKind
from pipeline.model.pieces import CutPiece, InsideLine, Polyline
from pipeline.sheets.layout import nest_affine

INSIDE_ERROR_MM = 0.01


_BEYOND_MM = 0.1
"""What lies so far outside the cut line lies on it."""


class NotchStroke(msgspec.Struct, frozen=True):
    """One stroke of a notch, from the cut line inward, or (`cut` is false) across the seam line."""

    outer: Point
    inner: Point
    cut: bool = True


class NestLine(msgspec.Struct, frozen=True):
    """An inside line; `key` is its name, or its place among the unnamed ones."""

    key: str
    kind: LineKind
    chain: Chain


class NestPoint(msgspec.Struct, frozen=True):
    """A place to mark, or a buttonhole's slit; `key` is its name, or its place among the unnamed ones."""

    key: str
    place: Point
    slit: tuple[Point, Point] | None


class NestPiece(msgspec.Struct, frozen=True, kw_only=True):
    """One size in nest coordinates.

    `cut`, `seam` and `fold_edge` are the parts of the outlines, `ground` and `cut_ground` the whole polygons.
    """

    size: str
    cut: tuple[Chain, ...]
    seam: tuple[Chain, ...]
    fold_edge: tuple[Chain, ...]
    fold: tuple[Point, Point] | None
    ground: Polyline
    cut_ground: Polyline
    notches: tuple[NotchStroke, ...]
    clips: tuple[tuple[Point, Point], ...]
    grain: tuple[Point, Point]
    inside: tuple[NestLine, ...]
    points: tuple[NestPoint, ...]
    label: Polyline | None
    arrows: tuple[tuple[Point, Point], ...] = ()
    tips: tuple[Point, ...] = ()


def in_nest(
    cut: CutPiece,
    quarter_turns: int,
    whole: bool = False,
    takes: TakeMarks = NOTHING_TAKEN,
    one_half: OneHalf = BOTH_HALVES,
) -> NestPiece:
    """One size of a piece as drawn, its anchor on (0, 0), turned; `whole`: with its fold opened."""
    if whole and cut.fold is not None:
        takes = opened_takes(takes, cut.fold)
        cut = opened(cut, cut.fold, one_half)
    affine = nest_affine(cut.drawn.anchor, quarter_turns)
    fold = _pair(affine, *cut.fold) if cut.fold else None
    seam = _all_moved(affine, thinned(cut.seam_drawn, closed=True))
    outline = _all_moved(affine, thinned(cut.cut_drawn, closed=True))
    drawn = cut.drawn
    return NestPiece(
        size=cut.size,
        cut=_parts(outline, fold, on_fold=False),
        seam=_inside(_parts(seam, fold, on_fold=False), outline),
        fold_edge=_parts(outline, fold, on_fold=True) if fold else (),
        fold=fold,
        ground=seam,
        cut_ground=outline,
        notches=tuple(NotchStroke(*_pair(affine, stroke.outer, stroke.inner), stroke.cut) for stroke in cut.slits),
        clips=tuple(_pair(affine, a, b) for a, b in cut.clips),
        grain=_pair(affine, drawn.grain.bottom, drawn.grain.top),
        inside=tuple(
            NestLine(line.name or f"#{index}", line.kind, _inside_chain(line, affine))
            for index, line in enumerate(cut.inside)
        ),
        points=_points(cut, affine),
        label=_all_moved(affine, drawn.label) if drawn.label else None,
        arrows=tuple(_pair(affine, *arrow) for arrow in takes.arrows),
        tips=_all_moved(affine, takes.tips) if takes.tips else (),
    )


def nest_points(cut: CutPiece) -> tuple[NestPoint, ...]:
    """The points of one size alone, as `in_nest` gives them upright and closed."""
    return _points(cut, nest_affine(cut.drawn.anchor, 0))


def _points(cut: CutPiece, affine: Affine) -> tuple[NestPoint, ...]:
    return tuple(
        NestPoint(
            mark.name or f"#{index}",
            _all_moved(affine, (mark.place,))[0],
            _pair(affine, *mark.slit) if mark.slit else None,
        )
        for index, mark in enumerate(cut.drawn.points)
    )


def _all_moved(affine: Affine, places: tuple[Point, ...]) -> tuple[Point, ...]:
    """Rounded to 0.1 µm, so that sizes with one outline and different anchors stay the same numbers."""
    a, b, c, d, e, f = affine
    moved = coordinates(places) @ np.array(((a, b), (c, d))) + (e, f)
    return points_of(np.round(moved, 4) + 0.0)


def _pair(affine: Affine, first: Point, second: Point) -> tuple[Point, Point]:
    a, b = _all_moved(affine, (first, second))
    return a, b


def _inside_chain(line: InsideLine, affine: Affine) -> Chain:
    points = _all_moved(affine, flattened(line.path, INSIDE_ERROR_MM))
    return Chain(points[:-1] if line.closed else points, line.closed)


def _parts(ring: Polyline, fold: tuple[Point, Point] | None, on_fold: bool) -> tuple[Chain, ...]:
    """The runs of a closed outline that lie on the fold's line beside the fold, or all the others."""
    if fold is None:
        return (Chain(ring, True),)
    run = fold[0].to(fold[1])
    along = run.unit()
    near = [abs(along.cross(fold[0].to(place))) <= ON_FOLD_MM for place in ring]
    flags = [
        (near[k - 1] and near[k] and _beside(ring[k - 1], ring[k], fold[0], run)) == on_fold for k in range(len(ring))
    ]
    flags = flags[1:] + flags[:1]
    if all(flags):
        return (Chain(ring, True),)
    start = next(k for k in range(len(ring)) if flags[k] and not flags[k - 1]) if any(flags) else 0
    runs: list[list[Point]] = []
    for step in range(len(ring)):
        k = (start + step) % len(ring)
        if flags[k]:
            if step == 0 or not flags[k - 1]:
                runs.append([ring[k]])
            runs[-1].append(ring[(k + 1) % len(ring)])
    return tuple(Chain(tuple(run), False) for run in runs)


def _inside(lines: tuple[Chain, ...], outline: Polyline) -> tuple[Chain, ...]:
    """Lines less what lies outside an outline: the seam of a piece that is cut smaller than another is not on it there.

    Lines that are inside or on it come back as they are.
    """
    area = shapely.buffer(shapely.make_valid(shapely.Polygon(outline)), _BEYOND_MM)
    shapes = [shapely.linestrings(coordinates(line.ring)) for line in lines]
    if all(area.covers(shape) for shape in shapes):
        return lines
    parts = [
        part for shape in shapes for part in shapely.get_parts(shapely.line_merge(shapely.intersection(shape, area)))
    ]
    return tuple(Chain(points_of(shapely.get_coordinates(part)), False) for part in parts if part.length > _BEYOND_MM)


def _beside(a: Point, b: Point, start: Point, run: Vector) -> bool:
    """Whether a segment on the fold's line runs along the fold, within one fold length of it."""
    middle = (run.dot(start.to(a)) + run.dot(start.to(b))) / (2 * run.length)
    return -run.length <= middle <= 2 * run.length and a.to(b).dot(run) > 0

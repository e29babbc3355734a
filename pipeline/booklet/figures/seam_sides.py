"""Both sides of a seam as a sewer lays them out: which way up each piece lies, what of it is shown, what meets.

Lengths are mm of cloth. A piece that is walked clockwise lies below an edge that runs to the right; mirrored, or walked
from the edge's other end, above it.
"""

import math
from collections.abc import Iterable, Sequence
from itertools import pairwise
from typing import NamedTuple

import numpy as np
import shapely
import shapely.affinity

from pipeline.booklet.figures.looks import polygons
from pipeline.booklet.figures.seam_steps import (
    Meeting,
    Step,
    Steps,
    closes,
    from_end,
    meetings_of,
    opened,
    steps_of,
)
from pipeline.checks.garment import Garment
from pipeline.checks.seam_walk import Direction
from pipeline.drawing.piece.own_image import is_own_image
from pipeline.geometry.curves import Line
from pipeline.geometry.points import Affine, Point
from pipeline.model.pattern import Seam
from pipeline.model.pieces import CutPiece
from pipeline.model.questions import copies
from pipeline.proof.laid_sides import moves

_CHORD_MM = 0.02
_APART, _ALIKE = 0.22, 0.12
"""Of a seam's length. Sides whose distance varies by more than the first where they face each other, and that lie
within the second where one is turned onto the other, are shown turned."""
_RING = 0.25
"""A side whose ends are nearer to each other than this share of its length is laid by the direction of its middle."""
_LEAST_DEEP_MM, _DEEPEST_MM, _DEEP_ALONE, _DEEP = 34.0, 140.0, 0.25, 0.16
"""How much of a piece is shown beside its edge: shares of the seam's length, the first for a side of one piece."""
_WHOLE = 1.7
"""A piece that reaches at most this much farther than is shown is shown whole."""
_WELL = 0.45
"""A ring that lies worse than this is opened elsewhere than where the seam is said to begin: armholes from underarm to
underarm come to 0.3, said from elsewhere to 0.6 and more (measured)."""
_SAMPLES = 24


class ShownPiece(NamedTuple):
    """Edges of one piece that follow each other in a side: their seam line, what is shown of the piece, the cut line in
    it, and the part of it that is on a fold.

    `right`: the right side of the cloth is up. `move` takes the piece's own coordinates to where it lies.
    """

    piece: str
    steps: tuple[int, ...]
    edges: tuple[str, ...]
    line: shapely.LineString
    area: shapely.Geometry
    outline: shapely.Geometry
    fold: shapely.Geometry
    right: bool
    move: Affine


Side = tuple[ShownPiece, ...]


class SeamSides(NamedTuple):
    """Side a lies above side b; or b is turned onto a, right sides together (`turned`). `meetings` are those between
    the ends of the seam."""

    a: Side
    b: Side
    turned: bool
    meetings: tuple[Meeting, ...]


def seam_sides(garment: Garment, seam: Seam, way: Direction, size: str, gap_share: float) -> SeamSides:
    """Both sides of a seam in a size, `gap_share` of its length apart.

    A seam that closes in a ring is opened where its sides lie best. Raises KeyError where the size lacks an edge.
    """
    a, b = steps_of(garment, seam.a, way.a, size), steps_of(garment, seam.b, way.b, size)
    meetings = meetings_of(garment, seam, way, size)
    best = _sides(garment, seam, size, a, b, gap_share)
    if best[0] > _WELL and closes(garment, seam, a) and closes(garment, seam, b):
        others = [_sides(garment, seam, size, opened(a, m.a), opened(b, m.b), gap_share) for m in meetings]
        best = min([best, *others], key=lambda found: found[0])
    _, upper, lower, turned = best
    return SeamSides(upper, lower, turned, meetings)


def _sides(
    garment: Garment, seam: Seam, size: str, a: Steps, b: Steps, gap_share: float
) -> tuple[float, Side, Side, bool]:
    """(how badly it lies, side a, side b, whether b is turned onto a), walked from the end from which fewer pieces lie
    wrong side up or mirrored. It lies badly where pieces hide each other, and what is sewn together is far apart."""
    ends = []
    for back in (False, True):
        upper, lower = (from_end(steps) if back else steps for steps in (a, b))
        flips = tuple(not step.reverse for step in upper), tuple(step.reverse for step in lower)
        wrong = [
            flip and not _has_image(garment, step.piece, size)
            for steps, side in zip((upper, lower), flips, strict=True)
            for step, flip in zip(steps, side, strict=True)
        ]
        ends.append((sum(wrong), sum(map(sum, flips)), back, upper, lower, flips))
    _, _, _, a, b, flips = min(ends, key=lambda end: end[:3])
    length_mm = sum(shapely.LineString(step.points).length for step in a)
    upper_hidden, upper_side = _laid_out(garment, a, flips[0], size, length_mm, turned=False)
    lower_hidden, lower_side = _laid_out(garment, b, flips[1], size, length_mm, turned=False)
    lower_side = _moved(lower_side, Affine(f=_drop_mm(upper_side, lower_side, gap_share * length_mm)))
    turned = False
    facing = _distances_mm(upper_side, lower_side)
    if seam.facing or (seam.kind == "sewn" and max(facing) - min(facing) > _APART * length_mm):
        other = tuple(not flip for flip in flips[1])
        _, onto = _laid_out(garment, b, other, size, length_mm, turned=True)
        if seam.facing or max(_distances_mm(upper_side, onto)) <= _ALIKE * length_mm:
            lower_side, turned = onto, True
    badly = upper_hidden + lower_hidden + max(facing) / length_mm
    return badly, upper_side, lower_side, turned


def _has_image(garment: Garment, piece: str, size: str) -> bool:
    """Whether a piece is cut mirrored too, or is its own mirror image, as one on a fold is."""
    spec, cut = garment.pattern.pieces.get(piece), garment.cuts[piece][size]
    cuts = spec.cut if spec is not None else ()
    return cut.fold is not None or copies(cuts, size).mirrored > 0 or is_own_image(cut)


class _Run(NamedTuple):
    """Edges of one piece that follow each other, as one line."""

    piece: str
    steps: tuple[Step, ...]
    points: tuple[Point, ...]
    flip: bool


def _runs(steps: Steps, flips: tuple[bool, ...]) -> list[_Run]:
    runs: list[_Run] = []
    for step, flip in zip(steps, flips, strict=True):
        last = runs[-1] if runs else None
        if last and (last.piece, last.flip) == (step.piece, flip) and last.points[-1].distance(step.points[0]) < 0.5:
            runs[-1] = _Run(step.piece, (*last.steps, step), (*last.points, *step.points[1:]), flip)
        else:
            runs.append(_Run(step.piece, (step,), step.points, flip))
    return runs


def _laid_out(
    garment: Garment, steps: Steps, flips: tuple[bool, ...], size: str, length_mm: float, turned: bool
) -> tuple[float, Side]:
    """(the share of its pieces that others hide, the side, its ends level)."""
    runs = _runs(steps, flips)
    depth_mm = _depth_mm(length_mm, len(runs))
    paths = [tuple(Line(a, b) for a, b in pairwise(run.points)) for run in runs]
    shown = []
    for k, (run, move) in enumerate(zip(runs, moves(paths, [run.flip for run in runs]), strict=True)):
        right = (run.flip == turned or _has_image(garment, run.piece, size)) != turned
        free = k == 0, k == len(runs) - 1
        piece = _shown(garment.cuts[run.piece][size], run, depth_mm, free, whole=len(runs) == 1)
        shown.append(_moved((piece._replace(right=right),), move)[0])
    hidden = 1 - joined(piece.area for piece in shown).area / sum(piece.area.area for piece in shown)
    return hidden, _straightened(_parted(shown))


def joined(areas: Iterable[shapely.Geometry]) -> shapely.Geometry:
    """All areas as one, to a micrometre: moved areas may touch themselves by a hair."""
    return shapely.union_all(list(areas), grid_size=1e-3)


def _parted(shown: Sequence[ShownPiece]) -> Side:
    """The pieces of a side without what they would hide of each other; the shorter ones go before."""
    taken: shapely.Geometry = shapely.Polygon()
    parted: dict[int, ShownPiece] = {}
    for k in sorted(range(len(shown)), key=lambda k: shown[k].line.length):
        seen = polygons(shown[k].area.difference(taken))
        area = max(seen, key=lambda part: part.area, default=shown[k].area)
        parted[k] = shown[k]._replace(area=area, outline=shown[k].outline.intersection(area.buffer(0.01)))
        taken = joined((taken, shown[k].area))
    return tuple(parted[k] for k in range(len(shown)))


def _depth_mm(length_mm: float, pieces: int) -> float:
    return min(_DEEPEST_MM, max(_LEAST_DEEP_MM, (_DEEP_ALONE if pieces == 1 else _DEEP) * length_mm))


def _shown(cut: CutPiece, run: _Run, depth_mm: float, free: tuple[bool, bool], whole: bool) -> ShownPiece:
    points = run.points
    line = shapely.LineString(points)
    ground = shapely.Polygon(np.array(cut.cut_drawn)).simplify(_CHORD_MM).buffer(0)
    area = ground
    if not (whole and shapely.hausdorff_distance(ground.exterior, line) <= _WHOLE * depth_mm):
        beside = ground.intersection(_longer(points, 0.55 * depth_mm, free).buffer(depth_mm, cap_style="flat"))
        beside = max(shapely.get_parts(beside), key=lambda part: part.area)
        # a piece that narrows away from its edge is shown as far as a straight line across
        area = max(shapely.get_parts(ground.intersection(beside.convex_hull)), key=lambda part: part.area)
    outline = ground.exterior.intersection(area.buffer(0.05))
    fold: shapely.Geometry = shapely.LineString()
    if cut.fold is not None:
        near = shapely.LineString(cut.fold).buffer(0.2)
        outline, fold = outline.difference(near), outline.intersection(near)
    indices, edges = tuple(step.order for step in run.steps), tuple(step.edge for step in run.steps)
    return ShownPiece(run.piece, indices, edges, line, area, outline, fold, True, Affine())


def _longer(points: Sequence[Point], past_mm: float, free: tuple[bool, bool]) -> shapely.LineString:
    """A line that runs on past its free ends."""
    longer = list(points)
    if free[0]:
        longer.insert(0, points[0].plus(points[1].to(points[0]).unit().scaled(past_mm)))
    if free[1]:
        longer.append(points[-1].plus(points[-2].to(points[-1]).unit().scaled(past_mm)))
    return shapely.LineString(longer)


def side_line(side: Side) -> list[Point]:
    """The seam line of a side from end to end."""
    return [Point(*place) for edge in side for place in edge.line.coords]


def _straightened(side: Side) -> Side:
    """The side turned so that its ends lie level, the middle between them above or below the origin."""
    line = side_line(side)
    run = line[0].to(line[-1])
    length = shapely.LineString(line).length
    if run.length < _RING * length:
        whole = shapely.LineString(line)
        near = [Point(*whole.interpolate(share, normalized=True).coords[0]) for share in (0.45, 0.55)]
        run = near[0].to(near[1])
    angle = -math.atan2(run.dy, run.dx)
    turn = Affine(math.cos(angle), math.sin(angle), -math.sin(angle), math.cos(angle))
    start, end = turn.point(line[0]), turn.point(line[-1])
    shift = Affine(e=-(start.x + end.x) / 2, f=-(start.y + end.y) / 2)
    return _moved(side, shift.after(turn))


def _moved(side: Side, by: Affine) -> Side:
    return tuple(
        edge._replace(
            line=_mapped(edge.line, by),
            area=_mapped(edge.area, by),
            outline=_mapped(edge.outline, by),
            fold=_mapped(edge.fold, by),
            move=by.after(edge.move),
        )
        for edge in side
    )


def _mapped(shape: shapely.Geometry, by: Affine) -> shapely.Geometry:
    return shapely.affinity.affine_transform(shape, (by.a, by.c, by.b, by.d, by.e, by.f))


def scaled(side: Side, by: Affine) -> Side:
    """A side on paper."""
    return _moved(side, by)


def _drop_mm(upper: Side, lower: Side, gap_mm: float) -> float:
    """How far down the lower side goes so that nothing of it is nearer than a gap to anything above."""
    above = joined(shown.area.simplify(0.2) for shown in upper)
    below = joined(shown.area.simplify(0.2) for shown in lower)
    reach = above.bounds[3] - below.bounds[1] + gap_mm
    low, high = min(0.0, reach) - above.length, reach
    for _ in range(40):
        middle = (low + high) / 2
        if _clear(above, shapely.affinity.translate(below, 0.0, middle), gap_mm):
            high = middle
        else:
            low = middle
    return high


def _clear(above: shapely.Geometry, below: shapely.Geometry, gap_mm: float) -> bool:
    """Whether one lies wholly under the other, a gap apart: not beside it nor through it."""
    return above.distance(below) >= gap_mm and below.centroid.y > above.centroid.y


def _distances_mm(upper: Side, lower: Side) -> list[float]:
    """How far apart places of both sides lie that are sewn together, from end to end."""
    one, other = shapely.LineString(side_line(upper)), shapely.LineString(side_line(lower))
    shares = [k / _SAMPLES for k in range(_SAMPLES + 1)]
    return [one.interpolate(s, normalized=True).distance(other.interpolate(s, normalized=True)) for s in shares]

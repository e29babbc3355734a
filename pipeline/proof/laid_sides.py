"""Both sides of a seam laid on each other as lines, the way a sewer walks one pattern piece along the other."""

import math
from collections.abc import Sequence

import msgspec

from pipeline.checks.garment import Garment
from pipeline.checks.seam_parts import known_reach_mm, path_of
from pipeline.checks.seam_walk import is_complete, walk_side
from pipeline.checks.seam_way import decided_direction
from pipeline.geometry.curves import Path, flattened, point_along, reversed_path
from pipeline.geometry.points import Affine, Point, Vector
from pipeline.model.pattern import Seam, SideEdge
from pipeline.model.pieces import Polyline

CHORD_MM = 0.1


class LaidSide(msgspec.Struct, frozen=True):
    """A side from the common start, beginning along +x: its line, its notches by name, its length."""

    line: Polyline
    notches: tuple[tuple[str, Point], ...]
    length_mm: float


def laid_sides(garment: Garment, seam: Seam, size: str) -> tuple[LaidSide, LaidSide] | None:
    """Both sides of a seam in a size, one mirrored if they are sewn right sides together.

    None for a seam without way, and where the size lacks one of its pieces or edges.

    Edges of several pieces are joined tangent to tangent. What darts take up is not closed in the picture.
    """
    way = decided_direction(garment, seam)
    if way is None or not is_complete(garment, seam, size):
        return None
    a = _laid(garment, seam.a, way.a, size)
    b = min((_laid(garment, seam.b, way.b, size, flip) for flip in (False, True)), key=lambda side: _apart(a, side))
    return a, b


def moves(paths: Sequence[Path], flips: Sequence[bool]) -> tuple[Affine, ...]:
    """What lays paths one after the other, tangent to tangent, the first from the origin along +x; `flips` says which
    of them are mirrored."""
    end, heading = Point(0.0, 0.0), Vector(1.0, 0.0)
    found = []
    for path, flip in zip(paths, flips, strict=True):
        mirror = Affine(d=-1.0) if flip else Affine()
        start, leaving = point_along(path, 0.0)
        found.append(_onto(mirror.point(start), mirror.vector(leaving), end, heading).after(mirror))
        last, arriving = point_along(path, math.inf)
        end, heading = found[-1].point(last), found[-1].vector(arriving)
    return tuple(found)


def walked_path(garment: Garment, step: SideEdge, turned: bool, size: str) -> Path:
    """The path of an edge, or of the part of it, as it is walked. Raises KeyError where the size lacks it."""
    path = path_of(garment.cuts[step.piece][size], step)
    return reversed_path(path) if turned else path


def _laid(
    garment: Garment, side: tuple[SideEdge, ...], reverse: tuple[bool, ...], size: str, flip: bool = False
) -> LaidSide:
    line: list[Point] = [Point(0.0, 0.0)]
    notches: list[tuple[str, Point]] = []
    paths = [walked_path(garment, step, turned, size) for step, turned in zip(side, reverse, strict=True)]
    for step, path, move in zip(side, paths, moves(paths, [flip] * len(paths)), strict=True):
        line.extend(move.point(place) for place in flattened(path, CHORD_MM)[1:])
        cut = garment.cuts[step.piece][size]
        low, high = known_reach_mm(cut, step)
        marks = (n for n in cut.drawn.notches if n.edge == step.edge and (not step.part or low <= n.at_mm <= high))
        notches.extend((notch.name or "", move.point(notch.place)) for notch in marks)
    return LaidSide(tuple(line), tuple(notches), walk_side(garment, side, reverse, size).length_mm)


def _onto(start: Point, leaving: Vector, place: Point, heading: Vector) -> Affine:
    """The rigid motion that takes a start and its direction onto a place and a heading."""
    cosine, sine = leaving.dot(heading), leaving.cross(heading)
    turn = Affine(cosine, sine, -sine, cosine)
    moved = turn.point(start)
    return Affine(*turn[:4], place.x - moved.x, place.y - moved.y)


def _apart(a: LaidSide, b: LaidSide) -> float:
    return sum(min(place.distance(other) for other in a.line[::5]) for place in b.line[:: max(1, len(b.line) // 20)])

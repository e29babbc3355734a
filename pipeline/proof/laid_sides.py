"""Both sides of a seam laid on each other as lines, the way a sewer walks one pattern piece along the other."""

import math

import msgspec

from pipeline.checks.garment import Garment
from pipeline.checks.seam_walk import is_complete, walk_side
from pipeline.checks.seam_way import settled
from pipeline.model.curves import flattened, point_along, reversed_path
from pipeline.model.pattern import Seam, SideEdge
from pipeline.model.pieces import Polyline
from pipeline.model.points import Affine, Point, Vector

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
    way = settled(garment, seam)
    if way is None or not is_complete(garment, seam, size):
        return None
    a = _laid(garment, seam.a, way.a, size)
    b = min((_laid(garment, seam.b, way.b, size, flip) for flip in (False, True)), key=lambda side: _apart(a, side))
    return a, b


def _laid(
    garment: Garment, side: tuple[SideEdge, ...], reverse: tuple[bool, ...], size: str, flip: bool = False
) -> LaidSide:
    end, heading = Point(0.0, 0.0), Vector(1.0, 0.0)
    line: list[Point] = [end]
    notches: list[tuple[str, Point]] = []
    mirror = Affine(d=-1.0) if flip else Affine()
    for step, turned in zip(side, reverse, strict=True):
        drawn = garment.cuts[step.piece][size].drawn
        path = drawn.edge(step.edge).path
        path = reversed_path(path) if turned else path
        start, leaving = point_along(path, 0.0)
        move = _onto(mirror.point(start), mirror.vector(leaving), end, heading).after(mirror)
        line.extend(move.point(place) for place in flattened(path, CHORD_MM)[1:])
        marks = (notch for notch in drawn.notches if notch.edge == step.edge)
        notches.extend((notch.name or "", move.point(notch.place)) for notch in marks)
        last, arriving = point_along(path, math.inf)
        end, heading = move.point(last), move.vector(arriving)
    return LaidSide(tuple(line), tuple(notches), walk_side(garment, side, reverse, size).length_mm)


def _onto(start: Point, leaving: Vector, place: Point, heading: Vector) -> Affine:
    """The rigid motion that takes a start and its direction onto a place and a heading."""
    cosine, sine = leaving.dot(heading), leaving.cross(heading)
    turn = Affine(cosine, sine, -sine, cosine)
    moved = turn.point(start)
    return Affine(*turn[:4], place.x - moved.x, place.y - moved.y)


def _apart(a: LaidSide, b: LaidSide) -> float:
    return sum(min(place.distance(other) for other in a.line[::5]) for place in b.line[:: max(1, len(b.line) // 20)])

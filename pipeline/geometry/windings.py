"""Which area rings bound, by either rule of filling (SVG 1.1, 11.3, fill-rule)."""

from collections.abc import Sequence
from itertools import pairwise

import shapely
from shapely.geometry.polygon import orient

from pipeline.geometry.points import Point

Ring = tuple[Point, ...]


def filled_area(rings: Sequence[Ring], even_odd: bool) -> shapely.Geometry:
    """The area of rings that are filled in one go, each closed by a chord; they may cross themselves and others."""
    closed = [[*ring, ring[0]] for ring in rings if len(ring) > 2]
    if not closed:
        return shapely.Polygon()
    faces = shapely.get_parts(shapely.polygonize([shapely.unary_union([shapely.LineString(ring) for ring in closed])]))
    kept = []
    for face in faces:
        inside = face.representative_point()
        turns = sum(_winding(ring, Point(inside.x, inside.y)) for ring in closed)
        if turns % 2 if even_odd else turns:
            kept.append(face)
    return shapely.unary_union(kept)


def _winding(ring: Sequence[Point], place: Point) -> int:
    """How often a closed ring goes round a place: crossings of the ray to the right, upward ones less downward ones."""
    turns = 0
    for start, end in pairwise(ring):
        if (start.y > place.y) != (end.y > place.y):
            x = start.x + (place.y - start.y) * (end.x - start.x) / (end.y - start.y)
            if x > place.x:
                turns += 1 if end.y > start.y else -1
    return turns


def oriented_rings(area: shapely.Geometry) -> tuple[Ring, ...]:
    """The rings of an area, holes walked the other way round, so that both rules of filling agree."""
    rings = []
    for part in shapely.get_parts(area):
        if isinstance(part, shapely.Polygon) and not part.is_empty:
            turned = orient(part)
            rings += [tuple(Point(*at) for at in ring.coords[:-1]) for ring in (turned.exterior, *turned.interiors)]
    return tuple(rings)

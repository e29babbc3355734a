"""The proof of a lay on the true outlines, apart from the engine that found it. What fails is never published."""

from collections import Counter

import numpy as np
import shapely

from pipeline.lays.items import LayItem, LayRequest, allowed_angles
from pipeline.lays.lay import Lay, Placed, Shapes
from pipeline.lays.zones import Zone, deepest_fold_mm, zone_of, zones

TOLERANCE_MM = 0.05
"""How far two pieces may overlap, or leave the width or the fold."""
ANGLE_TOLERANCE_DEG = 0.001


def faults(request: LayRequest, lay: Lay) -> tuple[str, ...]:
    """What is wrong with a lay, a sentence each; nothing where it is proven.

    Every piece is there as often as asked and no other; at allowed angles, with the side up that is asked for; inside
    the length and the width, and there inside one zone that has its layers; what lies on a fold touches it, and where
    there are two zones what is cut on the fold lies on one; no two outlines overlap by more than 0.05 mm, and the gap
    is kept to the same 0.05 mm.
    """
    if lay.way != request.way:
        return (f"the lay is laid {lay.way}, and {request.way} was asked for",)
    if request.way == "partial-fold" and not 0 <= lay.doubled_mm <= deepest_fold_mm(request) + TOLERANCE_MM:
        return (f"{lay.doubled_mm:g} mm of the cloth are folded in, of at most {deepest_fold_mm(request):g}",)
    known = {item.name for item in request.items}
    if strange := sorted({place.item for place in lay.placed} - known):
        return tuple(f"{name} is not to be cut" for name in strange)
    found = [*_missing(request, lay), *_wrong_angles(request, lay)]
    shapes = Shapes(request)
    outlines = [shapes.placed(place) for place in lay.placed]
    if lost := [
        place.item for place, points in zip(lay.placed, outlines, strict=True) if not np.isfinite(points).all()
    ]:
        return tuple(f"{name} lies nowhere" for name in lost)
    there = zones(request, lay.doubled_mm)
    for place, points in zip(lay.placed, outlines, strict=True):
        found += _outside(request, lay, there, place, points)
    polygons = np.array([shapely.Polygon(points) for points in outlines], dtype=object)
    found += [
        f"the outline of {place.item} crosses itself"
        for place, valid in zip(lay.placed, shapely.is_valid(polygons), strict=True)
        if not valid
    ]
    if not found:
        found += _too_close(request, lay, polygons)
    return tuple(found)


def _missing(request: LayRequest, lay: Lay) -> list[str]:
    there = Counter((place.item, image) for place in lay.placed for image in place.yields())
    found = []
    for item in request.items:
        plain, images = there[item.name, False], there[item.name, True]
        if item.symmetric:
            plain, images = plain + images, 0
        wanted_images = 0 if item.symmetric else item.mirrored
        if (plain, images) != (item.count - wanted_images, wanted_images):
            found.append(
                f"{item.name} is to be cut {item.count} times, {wanted_images} of them mirrored:"
                f" the lay has {plain + images}, {images} of them mirrored"
            )
    return found


def _wrong_angles(request: LayRequest, lay: Lay) -> list[str]:
    found = []
    for place in lay.placed:
        item = request.item(place.item)
        allowed = allowed_angles(item.grain, request.one_way, request.free_turn)
        angle = -place.angle_deg if place.mirrored else place.angle_deg
        if allowed is not None and all(_apart_deg(angle, each) > ANGLE_TOLERANCE_DEG for each in allowed):
            found.append(f"{place.item} lies at {place.angle_deg:g} degrees")
        turned_over = place.layers in ("pair", "lower", "upper") and place.mirrored == (item.face == "up")
        if item.face is not None and turned_over:
            found.append(f"{place.item} lies with its printed side {'down' if place.mirrored else 'up'}")
    return found


def _apart_deg(a: float, b: float) -> float:
    apart = abs(a - b) % 360
    return min(apart, 360 - apart)


def _outside(request: LayRequest, lay: Lay, there: tuple[Zone, ...], place: Placed, points: np.ndarray) -> list[str]:
    found = []
    (left, top), (right, bottom) = points.min(axis=0), points.max(axis=0)
    zone = zone_of(there, place, (top, bottom))
    if zone is None:
        return [f"{place.item} is cut from layers that are not there"]
    if top < zone.top_mm - TOLERANCE_MM or bottom > zone.bottom_mm + TOLERANCE_MM:
        found.append(f"{place.item} leaves the width by {max(zone.top_mm - top, bottom - zone.bottom_mm):.3f} mm")
    if left < -TOLERANCE_MM or right > lay.length_mm + TOLERANCE_MM:
        found.append(f"{place.item} leaves the length by {max(-left, right - lay.length_mm):.3f} mm")
    item = request.item(place.item)
    if item.on_fold and place.layers != "fold" and request.way in ("two-folds", "partial-fold"):
        found.append(f"{place.item} lies beside the fold")
    if place.layers == "fold":
        found += _off_fold(item, zone, place, points)
    return found


def _off_fold(item: LayItem, zone: Zone, place: Placed, half: np.ndarray) -> list[str]:
    if not (item.on_fold and item.symmetric):
        return [f"{item.name} is no piece to lie on the fold"]
    if place.angle_deg not in (0.0, 180.0) or place.mirrored != zone.turned:
        return [f"{item.name} lies askew on the fold"]
    doubled = shapely.Polygon(half).area * 2
    whole = shapely.Polygon(item.points).area
    if abs(place.y_mm - zone.fold_mm) > TOLERANCE_MM or abs(doubled - whole) > TOLERANCE_MM * np.ptp(half[:, 0]):
        return [f"{item.name} does not lie with its middle on the fold"]
    return []


def _too_close(request: LayRequest, lay: Lay, polygons: np.ndarray) -> list[str]:
    shapely.prepare(polygons)
    reach = max(0.0, request.gap_mm - TOLERANCE_MM)
    found = []
    for a, b in shapely.STRtree(polygons).query(polygons, predicate="dwithin", distance=reach).T:
        if a < b and (message := close(polygons[a], polygons[b], request.gap_mm, TOLERANCE_MM)):
            found.append(f"{lay.placed[a].item} and {lay.placed[b].item} {message}")
    return found


def close(a: shapely.Polygon, b: shapely.Polygon, gap_mm: float, tolerance_mm: float) -> str:
    """What is wrong between two placed outlines; empty where they keep the gap within the tolerance."""
    short = shortfall_mm(a, b, gap_mm)
    if short <= tolerance_mm:
        return ""
    if short > gap_mm:
        return f"overlap by {short - gap_mm:.3f} mm"
    return f"are {gap_mm - short:.3f} mm apart, not {gap_mm:g}"


def shortfall_mm(a: shapely.Polygon, b: shapely.Polygon, gap_mm: float) -> float:
    """How much two outlines are nearer than the gap: 0 where they keep it, more than the gap where they overlap."""
    apart = float(shapely.distance(a, b))
    if apart > 0:
        return max(0.0, gap_mm - apart)
    return gap_mm + overlap_mm(a, b)


def overlap_mm(a: shapely.Polygon, b: shapely.Polygon) -> float:
    """How deep two outlines lie in each other.

    That is the farthest that a corner of what they share lies from either outline, or the half width of the broadest
    place of it where that is more.
    """
    deepest = 0.0
    for part in shapely.get_parts(shapely.intersection(a, b)):
        if part.geom_type != "Polygon" or part.is_empty:
            continue
        corners = shapely.points(part.exterior.coords)
        for whole in (a, b):
            deepest = max(deepest, float(shapely.distance(corners, whole.exterior).max()))
        inscribed = shapely.maximum_inscribed_circle(part, tolerance=0.01)
        deepest = max(deepest, 2 * float(shapely.length(inscribed)))
    return deepest

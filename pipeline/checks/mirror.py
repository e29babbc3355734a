"""Whether an outline is its own mirror image, about whatever axis."""

import math
from functools import lru_cache

import numpy as np
import shapely

from pipeline.geometry.chains import arc_lengths, closed, places_along
from pipeline.model.pieces import Polyline

SYMMETRIC_MM = 1.0
_SAMPLES = 96
_ROUND = 1e-3


@lru_cache(maxsize=1024)  # drawings, counts and words all ask it of the same few pieces
def is_symmetric(outline: Polyline) -> bool:
    """Whether some mirror axis through the area's centroid maps the outline onto itself, within 1 mm.

    An axis of symmetry is a principal axis of the area (second moments); where both moments are equal, as in a square,
    eight axes are tried.
    """
    ring = np.asarray(outline, dtype=float)
    ring = ring - centroid(ring)
    xx, xy, yy = second_moments(ring)
    spread = math.hypot(xx - yy, 2 * xy)
    first = 0.5 * math.atan2(2 * xy, xx - yy)
    parts = 2 if spread > _ROUND * (xx + yy) else 8
    return any(_off_its_image_mm(ring, first + math.pi * k / parts) <= SYMMETRIC_MM for k in range(parts))


def asymmetry_mm(outline: Polyline, axis_rad: float) -> float:
    """How far an outline is from its image in a mirror through the area's centroid that runs in a given direction."""
    ring = np.asarray(outline, dtype=float)
    return _off_its_image_mm(ring - centroid(ring), axis_rad)


def centroid(ring: np.ndarray) -> np.ndarray:
    """The centroid of the area within a ring, shape (2,), in mm."""
    following = np.roll(ring, -1, axis=0)
    cross = ring[:, 0] * following[:, 1] - following[:, 0] * ring[:, 1]
    centroid: np.ndarray = ((ring + following) * cross[:, None]).sum(axis=0) / (3 * cross.sum())
    return centroid


def second_moments(ring: np.ndarray) -> tuple[float, float, float]:
    """Second moments of the area within a ring about (0, 0), in mm⁴: of x, of x and y, of y."""
    x, y = ring.T
    u, v = np.roll(ring, -1, axis=0).T
    cross = x * v - u * y
    sign = math.copysign(1.0, cross.sum())
    xx = sign * ((x * x + x * u + u * u) * cross).sum() / 12
    yy = sign * ((y * y + y * v + v * v) * cross).sum() / 12
    xy = sign * ((x * v + 2 * x * y + 2 * u * v + u * y) * cross).sum() / 24
    return float(xx), float(xy), float(yy)


def _off_its_image_mm(ring: np.ndarray, axis: float) -> float:
    cosine, sine = math.cos(2 * axis), math.sin(2 * axis)
    mirror = np.array([[cosine, sine], [sine, -cosine]])
    return float(_distances(_sampled(ring) @ mirror.T, ring).max())


def _sampled(ring: np.ndarray) -> np.ndarray:
    """The corners that stand out most and points at equal distances along the ring."""
    line = closed(ring)
    along = arc_lengths(line)
    return places_along(line, along, np.linspace(0.0, along[-1], _SAMPLES, endpoint=False))


def _distances(places: np.ndarray, ring: np.ndarray) -> np.ndarray:
    """From each place to the nearest point of the ring."""
    line = shapely.LinearRing(ring)
    shapely.prepare(line)
    apart: np.ndarray = shapely.distance(shapely.points(places), line)
    return apart

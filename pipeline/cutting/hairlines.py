"""Cracks and spikes that rounding leaves where two parts of a region just miss each other."""

import math

import numpy as np
import shapely

_HAIRLINE_MM = 1e-4
_BACK_COSINE = -math.cos(math.radians(0.5))


def without_hairlines(region: shapely.Geometry) -> shapely.Geometry:
    """The region with cracks and spikes under 0.0002 mm closed: rounding leaves them where two parts just miss."""
    for polygon in shapely.get_parts(region):
        ring = shapely.get_coordinates(shapely.get_exterior_ring(polygon))[:-1]
        before, after = ring - np.roll(ring, 1, axis=0), np.roll(ring, -1, axis=0) - ring
        lengths = np.hypot(*before.T) * np.hypot(*after.T)
        if (np.einsum("ij,ij->i", before, after) < _BACK_COSINE * lengths).any():
            for by_mm in (_HAIRLINE_MM, -2 * _HAIRLINE_MM, _HAIRLINE_MM):
                region = shapely.buffer(region, by_mm, join_style="mitre", mitre_limit=10.0)
            return region
    return region

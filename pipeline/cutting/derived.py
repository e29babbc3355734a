"""A derived piece that is trimmed: the source's cut line moved inward by one distance, never at a fold."""

from itertools import pairwise

import numpy as np
import shapely

from pipeline.cutting.folds import Fold, unfolded
from pipeline.cutting.outline import FOLD, CutLine, label, largest, rotated
from pipeline.cutting.runs import GRID_MM


def trimmed(line: CutLine, fold: Fold | None, trim_mm: float) -> tuple[shapely.Geometry, CutLine | None]:
    """The region inside the moved cut line, and its largest part's ring; None where nothing is left."""
    whole = line.ring if fold is None else unfolded(fold, line.ring)
    if whole is None:
        return shapely.polygons([]), None
    region = shapely.buffer(shapely.polygons(whole), -trim_mm, join_style="mitre", mitre_limit=2.0)
    if fold is not None:
        size = float(np.ptp(whole, axis=0).max()) * 3 + 10
        region = shapely.intersection(region, fold.half_plane(size), grid_size=GRID_MM)
    if shapely.is_empty(region):
        return region, None
    ring = shapely.get_coordinates(shapely.get_exterior_ring(largest(region)))[:-1]
    if fold is not None:
        ring = fold.snapped(ring)
    edges = label(ring, _by_edge(line), trim_mm + 0.01)
    if fold is not None:
        on = np.abs(fold.beyond_mm(ring)) < 1e-4
        edges[on & np.roll(on, -1)] = FOLD
    return region, rotated(ring, edges)


def _by_edge(line: CutLine) -> list[tuple[int, np.ndarray]]:
    closed = np.vstack((line.ring, line.ring[:1]))
    changes = np.flatnonzero(np.diff(line.edges)) + 1
    bounds = [0, *changes.tolist(), len(line.edges)]
    return [
        (int(line.edges[start]), closed[start : stop + 1])
        for start, stop in pairwise(bounds)
        if line.edges[start] != FOLD
    ]

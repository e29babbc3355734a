"""The strip that an allowance adds along one run of the seam line."""

import numpy as np
import shapely

from pipeline.cutting.runs import GRID_MM, Run
from pipeline.geometry.chains import Array


def offset_points(run: Run, width_mm: float | Array) -> Array:
    """The raw mitred offset: one point a point of the run, `width_mm` outside of it, ends at right angles to it.

    `width_mm` is one width, or one a point of the run, shape (n,).
    """
    before, after = run.normals[:-1], run.normals[1:]
    cosine = np.einsum("ij,ij->i", before, after)
    inner = (before + after) / np.maximum(1 + cosine, 1e-3)[:, None]
    shifts = np.vstack((run.normals[:1], inner, run.normals[-1:]))
    return np.asarray(run.points + shifts * np.broadcast_to(width_mm, len(run.points))[:, None])


def band(run: Run, offset: Array, width_mm: float | Array) -> shapely.Geometry:
    """Region between a run and its offset: one ring where that is simple, else one quad a chord and the wedges."""
    ring = shapely.polygons(np.vstack((run.points, offset[::-1])))
    if shapely.is_valid(ring) and not turned_back(run, offset).any():
        return ring
    widths = np.broadcast_to(width_mm, len(run.points))
    parts = quads(run, float(widths[0])) if (widths == widths[0]).all() else cells(run, offset, widths)
    return shapely.union_all(parts, grid_size=GRID_MM)


def turned_back(run: Run, offset: Array) -> np.ndarray:
    """Which chords' offsets run backwards, since the run bends inward with a radius below the width; shape (n - 1,)."""
    forward = np.einsum("ij,ij->i", np.diff(run.points, axis=0), np.diff(offset, axis=0))
    return np.asarray(forward < 0)


def quads(run: Run, width_mm: float) -> list[shapely.Geometry]:
    """One rectangle a chord, and one wedge (a mitre) a vertex where the run bends outward."""
    points, shift = run.points, run.normals * width_mm
    rings = np.stack((points[:-1], points[1:], points[1:] + shift, points[:-1] + shift), axis=1)
    before, after = run.normals[:-1], run.normals[1:]
    outward = before[:, 0] * after[:, 1] - before[:, 1] * after[:, 0] > 0
    middle = points[1:-1]
    tip = middle + (before + after) / np.maximum(1 + np.einsum("ij,ij->i", before, after), 1e-3)[:, None] * width_mm
    wedges = np.stack((middle, middle + before * width_mm, tip, middle + after * width_mm), axis=1)[outward]
    return [*shapely.polygons(rings), *shapely.polygons(wedges)]


def cells(run: Run, offset: Array, widths: Array) -> list[shapely.Geometry]:
    """What lies between each chord and its part of a tapering offset; where that runs backwards, out from the chord."""
    rings = np.stack((run.points[:-1], run.points[1:], offset[1:], offset[:-1]), axis=1)
    back = turned_back(run, offset)
    rings[back, 2] = (run.points[1:] + run.normals * widths[1:, None])[back]
    rings[back, 3] = (run.points[:-1] + run.normals * widths[:-1, None])[back]
    return list(shapely.polygons(rings))

"""A piece that is drawn half: what lies beyond its fold is cut off, and the whole is its mirror image beside it."""

import msgspec
import numpy as np
import shapely

from pipeline.cutting.runs import GRID_MM
from pipeline.geometry.chains import Array

ON_FOLD_MM = 1e-5


class Fold(msgspec.Struct, frozen=True):
    """The fold's line through `start`, along the unit vector `along` in walking order; the piece lies to its right."""

    start: Array
    end: Array
    along: Array

    def beyond_mm(self, points: Array) -> Array:
        """How far points lie outside the half that is drawn, shape (n,); negative within it."""
        offset = points - self.start
        return np.asarray(offset[:, 0] * self.along[1] - offset[:, 1] * self.along[0])

    def mirrored(self, points: Array) -> Array:
        """Points on the other side of the fold."""
        outward = np.array([self.along[1], -self.along[0]])
        return np.asarray(points - 2 * self.beyond_mm(points)[:, None] * outward)

    def half_plane(self, size_mm: float) -> shapely.Geometry:
        """The side of the piece, `size_mm` far from the fold's start in every direction."""
        outward = np.array([self.along[1], -self.along[0]])
        near, far = self.start - self.along * size_mm, self.start + self.along * size_mm
        return shapely.polygons(np.array([near, far, far - outward * size_mm, near - outward * size_mm]))

    def snapped(self, points: Array) -> Array:
        """Points with those that lie on the fold put exactly on it."""
        beyond = self.beyond_mm(points)
        outward = np.array([self.along[1], -self.along[0]])
        near = np.abs(beyond) < ON_FOLD_MM
        return np.where(near[:, None], points - beyond[:, None] * outward, points)


def make_fold(start: Array, end: Array) -> Fold:
    """The fold between two different points."""
    run = end - start
    return Fold(start, end, run / np.hypot(*run))


def unfolded(fold: Fold, ring: Array) -> Array | None:
    """The whole outline of a half that touches its fold in one stretch; None where it does not.

    `ring` is walked clockwise without repeating its first point, and so is the answer.
    """
    on = np.abs(fold.beyond_mm(ring)) < ON_FOLD_MM * 2
    leaves = np.flatnonzero(on & ~np.roll(on, -1))
    if len(leaves) != 1 or on.sum() < 2:
        return None
    half = np.roll(ring, -int(leaves[0]), axis=0)
    last = int(np.flatnonzero(np.abs(fold.beyond_mm(half[1:])) < ON_FOLD_MM * 2)[0]) + 1
    half = half[: last + 1]
    whole = np.vstack((half, fold.mirrored(half[1:-1])[::-1]))
    return _without_straight_ends(whole, last)


def _without_straight_ends(whole: Array, last: int) -> Array:
    """Without the two points on the fold, where the outline runs straight across it."""
    keep = np.ones(len(whole), dtype=bool)
    for index in (0, last):
        before, here, after = whole[index - 1], whole[index], whole[(index + 1) % len(whole)]
        one, two = here - before, after - here
        area = abs(one[0] * two[1] - one[1] * two[0])
        keep[index] = area > GRID_MM * max(np.hypot(*one), np.hypot(*two)) or one @ two < 0
    return whole[keep] if keep.sum() > 2 else whole

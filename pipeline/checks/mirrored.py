"""A piece that fits one side only and is drawn as its mirror image in one size: its edges may still be in order."""

from collections.abc import Iterator, Sequence
from statistics import median

import numpy as np
import shapely

from pipeline.checks.catalogue import CHECKS
from pipeline.checks.counts import symmetric
from pipeline.checks.garment import Garment
from pipeline.checks.hands_of_pairs import hand
from pipeline.checks.mirror import centroid, second_moments
from pipeline.checks.registry import Outcome
from pipeline.checks.size_rows import Row, rows
from pipeline.geometry.chains import Array, coordinates
from pipeline.model.pieces import CutPiece

_LEAST_SIZES = 3
_SAME_SHARE = 0.35
"""How far from what most sizes have, or from its mirror image, a skewness may lie, as a share of it."""


@CHECKS.register(
    id="size-mirrored",
    title="A piece that is cut one way only is drawn the same way round in every size",
    rationale="A pocket that is the mirror image of the others slopes the wrong way, and every length of it is right.",
    remedy="turn that size over in its drawing",
    severity="block",
    source="how its area lies to the grain has the sign that it has in the other sizes (calc)",
)
def size_mirrored(garment: Garment) -> Iterator[Outcome]:
    """Pieces that are no mirror images of themselves. Of a pair both hands are cut, whichever is drawn."""
    for row in rows(garment):
        if len(row.cuts) < _LEAST_SIZES or not hand(garment, row.piece) or _is_symmetric(garment, row):
            continue
        turned = _turned([_skewness(cut) for cut in row.cuts])
        if turned is not None:
            cut, other = row.cuts[turned], row.cuts[turned - 1 if turned else 1]
            yield Outcome(
                code="mirrored",
                size=cut.size,
                piece=row.piece,
                file=cut.drawn.file,
                found=f"the mirror image of size {other.size}",
                allowed="the same way round in every size",
                message=f"{row.piece}: size {cut.size} is drawn as the mirror image of the other sizes",
            )


def _is_symmetric(garment: Garment, row: Row) -> bool:
    return any(symmetric(garment, cut) for cut in row.cuts)


def _turned(skews: Sequence[Array]) -> int | None:
    """The one place whose skewness is that of the others with its sign turned, in all that they agree in."""
    for place, own in enumerate(skews):
        others = np.array([skew for i, skew in enumerate(skews) if i != place])
        usual = np.array([median(column) for column in others.T])
        tells = (np.abs(others - usual) <= _SAME_SHARE * np.abs(usual)).all(axis=0) & (usual != 0)
        if tells.any() and (np.abs(own + usual)[tells] <= _SAME_SHARE * np.abs(usual)[tells]).all():
            return place
    return None


def _skewness(cut: CutPiece) -> Array:
    """What changes its sign in a mirror along the grain, shape (2,): the mixed second moment of the area, as a share of
    the area squared, and how far the centroid is from the middle of the width, as a share of that."""
    up = cut.drawn.grain.bottom.to(cut.drawn.grain.top).unit()
    ring = coordinates(cut.seam_outline) @ np.array(((-up.dy, up.dx), (up.dx, up.dy)))
    middle = centroid(ring)
    _, mixed, _ = second_moments(ring - middle)
    left, right = ring[:, 0].min(), ring[:, 0].max()
    area = shapely.Polygon(ring).area
    return np.array((mixed / area**2, (2 * middle[0] - left - right) / (right - left)))

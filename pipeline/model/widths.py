"""A width that changes along a line: through the widths given at some places, smoothly, and without overshooting them.

Between two places it is the cubic with the slopes that are chosen at both (Hermite). A slope is 0 where the width stays
on one side, or turns from growing to shrinking; else the harmonic mean of the slopes on both sides, weighted by
lengths, so that each stretch rises or falls throughout (F. N. Fritsch and J. Butland, SIAM J. Sci. Stat. Comput. 5,
1984; cited from memory). At both ends of the line it is that of the straight line to the next place. So what lies
between stretches of even width is w0 + (w1 - w0) (3 t² - 2 t³), whose slope is at most 1.5 times that of the straight
line.
"""

from collections.abc import Sequence
from itertools import pairwise

Knots = Sequence[tuple[float, float]]
"""Places in rising order, each with the width there; two or more."""


def width_at(knots: Knots, place: float) -> float:
    """The width at a place; beyond the ends, that of the line's end run on."""
    index = next((i for i in range(len(knots) - 2) if place <= knots[i + 1][0]), len(knots) - 2)
    (start, start_mm), (end, end_mm) = knots[index], knots[index + 1]
    run = end - start
    t = (place - start) / run
    if len(knots) == 2 or start_mm == end_mm:
        return start_mm if start_mm == end_mm else start_mm * (1 - t) + end_mm * t
    leaving, arriving = (_slope(knots, i) * run for i in (index, index + 1))
    rise = end_mm - start_mm
    return start_mm + t * (leaving + t * (3 * rise - 2 * leaving - arriving + t * (leaving + arriving - 2 * rise)))


def _slope(knots: Knots, index: int) -> float:
    """How fast the width grows at one of the places given."""
    near = knots[max(index - 1, 0) : index + 2]
    runs = [two[0] - one[0] for one, two in pairwise(near)]
    slopes = [(two[1] - one[1]) / run for (one, two), run in zip(pairwise(near), runs, strict=True)]
    if len(slopes) == 1:
        return slopes[0]
    before, after = slopes
    if before * after <= 0:
        return 0.0
    weights = 2 * runs[1] + runs[0], runs[1] + 2 * runs[0]
    return sum(weights) / (weights[0] / before + weights[1] / after)

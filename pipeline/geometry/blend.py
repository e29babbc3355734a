"""A line that leaves one line and runs smoothly into another, always between both."""

import numpy as np

from pipeline.geometry.chains import Array, arc_lengths, places_along

_LEAST_STEPS = 240
"""So many chords that the first and the last turn from the lines that they leave by less than a degree, where the lines
are no farther apart than they are long."""
_STEP_MM = 2.0
_SHARE_DIGITS = 9
"""Shares that are one but for rounding are one: a chord as short has no direction."""


def blended(one: Array, other: Array) -> Array:
    """The chain from the first point of one chain to the last point of another, shape (n, 2); in mm.

    Its place at a share s of the way is (1 - w) one(s) + w other(s), both by their lengths, with w = 3 s² - 2 s³ (the
    cubic that rises from 0 to 1 and is level at both ends): so it is tangent to both lines where it meets them. Each
    chain has a length above 0.
    """
    along = [arc_lengths(chain) for chain in (one, other)]
    shares = [lengths / lengths[-1] for lengths in along]
    count = max(_LEAST_STEPS, int(max(lengths[-1] for lengths in along) / _STEP_MM))
    at = np.unique(np.round(np.concatenate((*shares, np.linspace(0.0, 1.0, count + 1))), _SHARE_DIGITS))
    first, second = (
        places_along(chain, lengths, at * lengths[-1]) for chain, lengths in zip((one, other), along, strict=True)
    )
    weight = (at * at * (3.0 - 2.0 * at))[:, None]
    return np.asarray((1.0 - weight) * first + weight * second)

"""How an allowance lies that is folded more than once: turned up at the seam line, then folded back on each further
line."""

from itertools import pairwise

NIL_MM = 1e-6

Turns = tuple[tuple[float, float], ...]
"""Knots across an allowance, from the seam line to the raw edge: how far out each lies as cut, and how high above the
seam line once all is folded."""


def turns_of(folds_mm: tuple[float, ...], depth_mm: float) -> Turns:
    """The knots of an allowance of a depth with further folds so far from the seam line, in order.

    Every band mirrors the one before it about their fold: between the k-th fold, at f, and the next, what lies s out
    comes to lie h(f) + (-1)^k (s - f) high.
    """
    knots = [(0.0, 0.0)]
    for count, (start, end) in enumerate(pairwise((0.0, *folds_mm, depth_mm))):
        rise = end - start if count % 2 == 0 else start - end
        height = knots[-1][1] + rise
        knots.append((end, 0.0 if abs(height) < NIL_MM else height))
    return tuple(knots)


def highest_mm(turns: Turns) -> float:
    """How deep the piece beside the seam line must be for an allowance to lie on it."""
    return max(height for _, height in turns)


def turn_names(edge: str, count: int) -> tuple[str, ...]:
    """What the lines are called on which the allowance of an edge is folded again, or what is grown on is folded: from
    the seam line outward, of one part of the edge after the other."""
    return tuple(f"{edge}-fold-{number}" for number in range(1, count + 1))

"""Which pieces are their own mirror image, so that it is the same which side of them is up."""

import math

import numpy as np

from pipeline.checks.mirror import SYMMETRIC_MM, asymmetry_mm
from pipeline.model.pieces import CutPiece


def is_own_image(cut: CutPiece) -> bool:
    """Whether a piece, mirrored about its grain, is itself: its cut line, and its notches and places to mark."""
    run = cut.drawn.grain.bottom.to(cut.drawn.grain.top)
    angle = math.atan2(run.dy, run.dx)
    if asymmetry_mm(cut.cut_outline, angle) > SYMMETRIC_MM:
        return False
    marks = [notch.place for notch in cut.drawn.notches] + [point.place for point in cut.drawn.points]
    if not marks:
        return True
    places = np.array(marks, dtype=float) - _centre(cut)
    mirror = np.array([[math.cos(2 * angle), math.sin(2 * angle)], [math.sin(2 * angle), -math.cos(2 * angle)]])
    apart = np.linalg.norm(places[:, None] - (places @ mirror.T)[None], axis=2)
    return bool((apart.min(axis=0) <= 2 * SYMMETRIC_MM).all())


def _centre(cut: CutPiece) -> np.ndarray:
    """A point on the axis: halfway across the grain, which of a piece that is its own image is enough."""
    run = cut.drawn.grain.bottom.to(cut.drawn.grain.top).unit()
    across = np.array([-run.dy, run.dx])
    reach = np.array(cut.cut_outline, dtype=float) @ across
    return across * float(reach.max() + reach.min()) / 2

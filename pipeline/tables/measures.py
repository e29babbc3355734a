"""Measures as tables tell them: whole and half centimetres, and eighths of an inch (common practice)."""

from pipeline.model.lengths import MM_PER_INCH, whole_steps

HALF_CM_MM = 5.0
EIGHTH_MM = MM_PER_INCH / 8


def half_cm(length_mm: float) -> float:
    """The nearest half centimetre, in mm."""
    return whole_steps(length_mm, HALF_CM_MM)


def cm_text(length_mm: float) -> str:
    """ "104 cm", "74.5 cm": always in cm, at most one decimal."""
    return f"{round(length_mm / 10, 1):g} cm"

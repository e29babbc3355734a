"""Measures as tables tell them.

What is measured on pieces in whole and half centimetres and eighths of an inch (common practice); what a designer
wrote, as it was written.
"""

from collections.abc import Collection

from pipeline.model.lengths import MM_PER_INCH, imperial_text, whole_steps

HALF_CM_MM = 5.0
EIGHTH_MM = MM_PER_INCH / 8
_SIXTEENTH_MM = MM_PER_INCH / 16
_LEAST_WRITTEN_MM = 0.1
"""The last digit of centimetres with two decimals."""


def half_cm(length_mm: float) -> float:
    """The nearest half centimetre, in mm."""
    return whole_steps(length_mm, HALF_CM_MM)


def written_in_inches(lengths_mm: Collection[float]) -> bool:
    """Whether the lengths of a measure, those of all its sizes, were written in inches: some are no whole mm, and all
    are sixteenths of an inch, or some have more digits than centimetres are written with."""
    if not all(_whole(length_mm, _LEAST_WRITTEN_MM) for length_mm in lengths_mm):
        return True
    sixteenths = all(_whole(length_mm, _SIXTEENTH_MM) for length_mm in lengths_mm)
    return sixteenths and not all(_whole(length_mm, 1.0) for length_mm in lengths_mm)


def written_cm_text(length_mm: float, in_inches: bool) -> str:
    """A length that was written, in cm: as it was, or the nearest half centimetre of what was written in inches."""
    return cm_text(half_cm(length_mm)) if in_inches else f"{round(length_mm / 10, 2):g} cm"


def written_inches_text(length_mm: float) -> str:
    """The same in eighths of an inch, in sixteenths where it was written in them."""
    sixteenths = _whole(length_mm, _SIXTEENTH_MM) and not _whole(length_mm, EIGHTH_MM)
    return imperial_text(length_mm, 16 if sixteenths else 8)


def _whole(length_mm: float, step_mm: float) -> bool:
    """Whether a length is so many steps, but for the arithmetic of units."""
    return abs(length_mm / step_mm - round(length_mm / step_mm)) < 1e-6


def cm_text(length_mm: float) -> str:
    """ "104 cm", "74.5 cm": always in cm, at most one decimal."""
    return f"{round(length_mm / 10, 1):g} cm"

"""From the length of a lay to a length to ask for in a shop."""

import math

from pipeline.model.lengths import MM_PER_YARD, metric_text, mixed_fraction
from pipeline.model.pattern import Material

METRIC_STEP_MM = 50.0
"""Cloth is sold by 5 or 10 cm (common practice): the finer step."""
IMPERIAL_STEP_MM = MM_PER_YARD / 8
"""Cloth is sold by 1/8 yd (common practice): 114.3 mm exactly."""
NOTHING_MM = 0.1
"""What is this little over a step is the arithmetic of a lay or a sum, and no reason to take another step."""


def needed_mm(lay_length_mm: float, material: Material) -> float:
    """What must be bought before rounding: the cloth that shrinks to the lay's length, and the spare; never less than
    shops sell of it.

    Shrinkage divides: 1.62 m at 5 % is 1.705 m (calculated).
    """
    return max(material.least_mm, lay_length_mm / (1 - material.shrinkage_length) * (1 + material.spare))


def steps_up(length_mm: float, step_mm: float) -> int:
    """How many whole steps hold a length, but for `NOTHING_MM`: at least one."""
    return max(1, math.ceil((length_mm - NOTHING_MM) / step_mm))


def metric_steps(length_mm: float) -> int:
    """How many times 5 cm are bought."""
    return steps_up(length_mm, METRIC_STEP_MM)


def imperial_steps(length_mm: float) -> int:
    """How many times 1/8 yd are bought."""
    return steps_up(length_mm, IMPERIAL_STEP_MM)


def metric_length_mm(length_mm: float) -> float:
    """The next 5 cm."""
    return metric_steps(length_mm) * METRIC_STEP_MM


def metric_length(length_mm: float) -> str:
    """The next 5 cm: "1.75 m", "85 cm"."""
    return metric_text(metric_length_mm(length_mm))


def imperial_length(length_mm: float) -> str:
    """The next 1/8 yd of the same millimetres: "1 7/8 yd"."""
    return f"{mixed_fraction(imperial_steps(length_mm) / 8, 8)} yd"

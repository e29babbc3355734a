"""Lengths as designers write them, and as both unit systems print them.

One inch is exactly 25.4 mm and one yard 0.9144 m (Federal Register, 1 July 1959, "Refinement of Values for the Yard
and the Pound").
"""

import math
import re
from collections.abc import Sequence
from fractions import Fraction

MM_PER_INCH = 25.4
MM_PER_YARD = 914.4
MM_PER_POINT = MM_PER_INCH / 72
ALMOST_MM = 0.1
"""What is this little over a step is the arithmetic of a sum, and no reason to take another step."""

_MM_PER_UNIT = {"mm": 1.0, "cm": 10.0, "m": 1000.0, "in": MM_PER_INCH, "yd": MM_PER_YARD}
_LENGTH = re.compile(
    r"(?P<sign>-?)\s*(?:(?P<decimal>[0-9]+(?:\.[0-9]+)?)|(?P<whole>[0-9]+)\s+(?P<num2>[0-9]+)/(?P<den2>[0-9]+)"
    r"|(?P<num>[0-9]+)/(?P<den>[0-9]+))\s*(?P<unit>mm|cm|m|in|yd)"
)
LENGTH_PATTERN = r"^\s*-?\s*([0-9]+(\.[0-9]+)?|([0-9]+\s+)?[0-9]+/[1-9][0-9]*)\s*(mm|cm|m|in|yd)\s*$"
LENGTH_HINT = 'a length with its unit, as "1 cm", "6 mm", "5/8 in" or "1 1/2 in"'


def parse_length(text: str) -> float:
    """Millimetres of a length written with its unit. Raises ValueError for anything else."""
    match = _LENGTH.fullmatch(text.strip())
    if match is None:
        raise ValueError(f"{text!r} is not {LENGTH_HINT}")
    if match["decimal"] is not None:
        number = float(match["decimal"])
    else:
        denominator = int(match["den2"] or match["den"])
        if denominator == 0:
            raise ValueError(f"{text!r} divides by zero")
        number = int(match["whole"] or 0) + float(Fraction(int(match["num2"] or match["num"]), denominator))
    sign = -1.0 if match["sign"] else 1.0
    return sign * number * _MM_PER_UNIT[match["unit"]]


def metric_text(length_mm: float) -> str:
    """ "1 cm", "6 mm", "1.75 m": below 1 cm in mm, from 1 m on in m; at most one decimal below a metre."""
    if abs(length_mm) < 10:
        return f"{_plain(length_mm, 1)} mm"
    if abs(length_mm) < 1000:
        return f"{_plain(length_mm / 10, 1)} cm"
    return f"{_plain(length_mm / 1000, 2)} m"


def imperial_text(length_mm: float, denominator: int = 16) -> str:
    """Nearest 1/16 in (or 1/denominator), as "5/8 in" or "1 1/2 in"; common practice."""
    return f"{mixed_fraction(length_mm / MM_PER_INCH, denominator)} in"


def mixed_fraction(number: float, denominator: int) -> str:
    """A number to the nearest 1/denominator as a whole and a reduced fraction: 1.875 in eighths is "1 7/8"."""
    parts = round(abs(number) * denominator)
    whole, rest = divmod(parts, denominator)
    sign = "-" if number < 0 and parts else ""
    if not rest:
        return f"{sign}{whole}"
    fraction = Fraction(rest, denominator)
    return f"{sign}{whole} {fraction}" if whole else f"{sign}{fraction}"


def nearest_mm(length_mm: float, among_mm: Sequence[float]) -> float:
    """The one nearest to a length, of two as near the longer: a zip can be made shorter (common practice)."""
    return min(among_mm, key=lambda one: (round(abs(one - length_mm), 3), -one))


def whole_steps(length_mm: float, step_mm: float) -> float:
    """The nearest multiple of a step, half a step up."""
    return math.floor(length_mm / step_mm + 0.5) * step_mm


def next_mm(length_mm: float, step_mm: float) -> float:
    """The next multiple of a step, at least one; what is up to `ALMOST_MM` more than a multiple is that multiple."""
    return max(1, math.ceil((length_mm - ALMOST_MM) / step_mm)) * step_mm


def both_units(length_mm: float, first: str) -> str:
    """The length in both systems, the pattern's own first: "1 cm (3/8 in)" or "3/8 in (1 cm)"."""
    metric, imperial = metric_text(length_mm), imperial_text(length_mm)
    return f"{metric} ({imperial})" if first == "metric" else f"{imperial} ({metric})"


def _plain(number: float, decimals: int) -> str:
    text = f"{number:.{decimals}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def least_inches_text(width_mm: float) -> str:
    """What a cloth must measure at least, to the next quarter of an inch: 90 cm is "35 1/2 in"."""
    return imperial_text(next_mm(width_mm, MM_PER_INCH / 4), 4)


def least_cm_text(width_mm: float) -> str:
    """The same to the next whole centimetre: 45 in is "115 cm"."""
    return f"{next_mm(width_mm, 10.0) / 10:.0f} cm"


def cloth_width(width_mm: float, first: str) -> str:
    """A cloth's width as shops tell it, the pattern's own units first: "140 cm (55 1/4 in)", "45 in (115 cm)".

    What is converted is what a buyer needs at least: never narrower than it is.
    """
    if first == "metric":
        return f"{width_mm / 10:g} cm ({least_inches_text(width_mm)})"
    return f"{imperial_text(width_mm)} ({least_cm_text(width_mm)})"

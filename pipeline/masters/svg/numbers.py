"""Numbers, lengths and lists of numbers as SVG writes them. Anything else is a fault, never a guess."""

import math
import re

from pipeline.masters.svg.fault import SvgFault, excerpt
from pipeline.model.lengths import MM_PER_INCH, MM_PER_POINT

NUMBER = r"[+-]?(?>[0-9]++(?:\.[0-9]*+)?+|\.[0-9]++)(?>[eE][+-]?[0-9]++)?+"
SPACE = r"[ \t\r\n\f]"
COMMA = rf"{SPACE}*+(?:,{SPACE}*+)?+"
LIST = rf"{SPACE}*+(?:{NUMBER}(?:{COMMA}{NUMBER})*+)?+{SPACE}*+"

PIXELS_PER_INCH = 96.0
"""User units to the inch inside a drawing whose own size is known: CSS Values and Units 3, absolute lengths."""

UNIT_MM = {
    "mm": 1.0,
    "cm": 10.0,
    "in": MM_PER_INCH,
    "pt": MM_PER_POINT,
    "pc": 12 * MM_PER_POINT,
}
LARGEST_MM = 100_000.0
"""No coordinate lies farther out than 100 m."""

MOST_SEGMENTS = 50_000
"""Segments of one path, and of one file with every `use` written out."""

_NUMBER = re.compile(NUMBER)
_LIST = re.compile(LIST)
_LENGTH = re.compile(rf"{SPACE}*+({NUMBER}){SPACE}*+(%|[a-zA-Z]*+){SPACE}*+")
_NOT_FINITE = re.compile(r"(?i)^\s*[+-]?(nan|inf(inity)?)\b")


def finite(text: str, what: str) -> float:
    """The number. Raises SvgFault where it is not finite."""
    number = float(text)
    if not math.isfinite(number):
        raise not_finite(text, what)
    return number


def not_finite(text: str, what: str) -> SvgFault:
    """The fault of a number that is no number."""
    return SvgFault(
        "not-finite",
        f"{what} holds {excerpt(text, 30)!r}, which is not a finite number.",
        "Draw the object again, or delete it.",
        found=text,
        allowed="finite numbers",
    )


def number_list(text: str, what: str) -> list[float]:
    """The numbers of a list separated by spaces or commas."""
    match = _LIST.match(text)
    if match is None or match.end() != len(text):
        position = match.end() if match else 0
        rest = text[position:]
        if _NOT_FINITE.match(rest.lstrip(" ,")):
            raise not_finite(rest.strip(" ,").split()[0], what)
        raise SvgFault(
            "bad-number",
            f"{what} cannot be read from character {position + 1} on: {excerpt(rest, 30)!r}.",
            "Draw the object again, or correct the number.",
            found=text,
            allowed="numbers separated by spaces or commas",
        )
    numbers = _NUMBER.findall(text)
    if len(numbers) > 2 * MOST_SEGMENTS:
        raise too_many_segments(len(numbers) // 2)
    return [finite(number, what) for number in numbers]


def too_many_segments(count: int, most: int = MOST_SEGMENTS) -> SvgFault:
    """The fault of a path, or a file, that is longer than any master."""
    return SvgFault(
        "too-many-points",
        f"There are {count:,} or more segments; at most {most:,} are read.",
        "Draw the object with fewer points: an edge is a few curves.",
        f"{count} or more",
        str(most),
    )


def split_length(text: str, what: str) -> tuple[float, str]:
    """The number and the unit ("" for none) of a length."""
    match = _LENGTH.fullmatch(text)
    if match is None:
        if _NOT_FINITE.match(text):
            raise not_finite(text, what)
        raise SvgFault(
            "bad-number",
            f"{what} is {excerpt(text, 30)!r}, which is not a length.",
            "Draw the object again, or correct the number.",
            found=text,
            allowed='a number with or without a unit, as "12.5" or "3 mm"',
        )
    return finite(match[1], what), match[2].lower()


def user_length(text: str, what: str, whole: float, pixels_per_inch: float) -> float:
    """User units of a length inside the drawing; a percentage is of `whole`."""
    number, unit = split_length(text, what)
    if unit in ("", "px"):
        return number
    if unit == "%":
        return number / 100 * whole
    if unit in UNIT_MM:
        return number * UNIT_MM[unit] / MM_PER_INCH * pixels_per_inch
    raise SvgFault(
        "bad-unit",
        f"{what} is {excerpt(text, 30)!r}, in a unit that is not read.",
        "Write the length in mm, cm, in, pt, pc, px, % or without a unit.",
        found=text,
        allowed="mm, cm, in, pt, pc, px, %",
    )

"""The attribute `transform`: all six functions of SVG 1.1, by a strict grammar."""

import math
import re
from collections.abc import Callable

from pipeline.geometry.points import Affine
from pipeline.masters.svg.fault import SvgFault, excerpt
from pipeline.masters.svg.numbers import COMMA, SPACE, number_list
from pipeline.masters.svg.placing import Placing, placing

_FUNCTION = re.compile(rf"{SPACE}*([a-zA-Z0-9-]+){SPACE}*\(([^()]*)\)")
_BETWEEN = re.compile(COMMA)
MOST_FUNCTIONS = 1_000
SINGULAR = 1e-12
"""A map whose determinant is smaller than this share of its largest entry squared flattens the drawing."""


def _rotate(angle: float, x: float = 0.0, y: float = 0.0) -> Placing:
    turn = math.remainder(angle, 360.0)
    # Quarter turns are exact, so that a rotated page keeps straight lines straight to the last digit.
    cos, sin = _QUARTERS.get(turn) or (math.cos(math.radians(turn)), math.sin(math.radians(turn)))
    there, back = placing(Affine(e=x, f=y)), placing(Affine(e=-x, f=-y))
    return there.after(placing(Affine(cos, sin, -sin, cos))).after(back)


def _matrix(*entries: float) -> Placing:
    return placing(Affine(*entries))


def _scale(x: float, y: float | None = None) -> Placing:
    return placing(Affine(a=x, d=x if y is None else y))


def _skew_x(angle: float) -> Placing:
    return placing(Affine(c=math.tan(math.radians(angle))))


def _skew_y(angle: float) -> Placing:
    return placing(Affine(b=math.tan(math.radians(angle))))


def _translate(x: float, y: float = 0.0) -> Placing:
    return placing(Affine(e=x, f=y))


_QUARTERS = {0.0: (1.0, 0.0), 90.0: (0.0, 1.0), -90.0: (0.0, -1.0), 180.0: (-1.0, 0.0), -180.0: (-1.0, 0.0)}
_FUNCTIONS: dict[str, tuple[tuple[int, ...], Callable[..., Placing]]] = {
    "matrix": ((6,), _matrix),
    "translate": ((1, 2), _translate),
    "scale": ((1, 2), _scale),
    "rotate": ((1, 3), _rotate),
    "skewX": ((1,), _skew_x),
    "skewY": ((1,), _skew_y),
}


def parse_transform(text: str) -> Placing:
    """The map of a transform list, the first function outermost. Raises SvgFault."""
    whole = Placing()
    position = 0
    end = len(text.rstrip())
    count = 0
    while position < end:
        if position:
            between = _BETWEEN.match(text, position)
            position = between.end() if between else position
        match = _FUNCTION.match(text, position)
        count += 1
        if count > MOST_FUNCTIONS:
            raise _bad(text, f"has more than {MOST_FUNCTIONS} functions")
        if match is None:
            raise _bad(text, f"cannot be read from character {position + 1} on")
        whole = whole.after(_function(match[1], match[2], text))
        position = match.end()
    if not all(math.isfinite(entry) for entry in whole.map):
        raise SvgFault(
            "not-finite", f"The transform {excerpt(text, 40)!r} grows beyond all numbers.", _REMEDY, text, "finite"
        )
    largest = max(abs(entry) for entry in whole.map[:4])
    if abs(whole.map.determinant) <= SINGULAR * largest * largest:
        raise SvgFault(
            "singular-transform",
            f"The transform {excerpt(text, 40)!r} flattens the object to a line or a point.",
            "Remove the transform, or draw the object again at its true size.",
            text,
            "a transform that can be undone",
        )
    return whole


def _function(name: str, arguments: str, text: str) -> Placing:
    if name not in _FUNCTIONS:
        raise _bad(text, f"uses {excerpt(name, 20)!r}, which is not a function of SVG 1.1")
    counts, build = _FUNCTIONS[name]
    numbers = number_list(arguments, f"The transform {excerpt(text, 40)!r}")
    if len(numbers) not in counts:
        wanted = " or ".join(map(str, counts))
        raise _bad(text, f"gives {name} {len(numbers)} numbers instead of {wanted}")
    return build(*numbers)


_REMEDY = "Apply the transform in the drawing program, or write it as matrix, translate, scale, rotate, skewX or skewY."


def _bad(text: str, why: str) -> SvgFault:
    return SvgFault(
        "bad-transform",
        f"The transform {excerpt(text, 40)!r} {why}.",
        _REMEDY,
        text,
        "matrix, translate, scale, rotate, skewX, skewY",
    )

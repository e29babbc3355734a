"""Shapes made small: lines in steps of 0.01 mm, compressed to one line of ASCII text."""

import base64
import hashlib
import zlib
from itertools import accumulate

import msgspec

STEP_MM = 0.01
"""Finer differences are arithmetic: no knife follows them."""
_STEPS = 100
"""In a millimetre: a division gives the decimal nearest to the place, without rounding it again."""
_LARGEST = 50_000_000
"""Bytes of a shape as unpacked: a text of few letters may not fill the memory."""

Line = tuple[tuple[float, float], ...]
"""Places in mm, in the master's coordinates."""


class Shape(msgspec.Struct, frozen=True):
    """A piece in one size: parts of the cut line by edge, in walking order; notches by edge and name; marks by name.

    A notch or point is a line of one place.
    """

    edges: dict[str, tuple[Line, ...]]
    notches: dict[str, dict[str, tuple[Line, ...]]] = {}
    marks: dict[str, tuple[Line, ...]] = {}


def packed(shape: Shape) -> str:
    """The shape as text; equal shapes give equal text. Lines are told as steps from place to place."""
    steps = [
        {name: _steps(lines) for name, lines in shape.edges.items()},
        {edge: {name: _steps(lines) for name, lines in on.items()} for edge, on in shape.notches.items()},
        {name: _steps(lines) for name, lines in shape.marks.items()},
    ]
    return base64.b85encode(zlib.compress(msgspec.json.encode(steps), 9)).decode()


def unpacked(text: str) -> Shape:
    """The shape of a text. Raises ValueError where it is none."""
    try:
        edges, notches, marks = msgspec.json.decode(inflated(text), type=tuple[_Lines, dict[str, _Lines], _Lines])
    except (msgspec.MsgspecError, RecursionError) as fault:
        raise ValueError(str(fault)) from None
    return Shape(
        edges={name: _lines(each) for name, each in edges.items()},
        notches={edge: {name: _lines(each) for name, each in on.items()} for edge, on in notches.items()},
        marks={name: _lines(each) for name, each in marks.items()},
    )


def inflated(text: str) -> bytes:
    """The bytes of a compressed text. Raises ValueError where it is none."""
    try:
        engine = zlib.decompressobj()
        data = engine.decompress(base64.b85decode(text), _LARGEST)
    except zlib.error as fault:
        raise ValueError(str(fault)) from None
    if not engine.eof:
        raise ValueError("cut off or too large")
    return data


def shape_digest(text: str) -> str:
    """The name of a packed shape: by what it draws, so that another version of zlib makes no other shape of it."""
    return hashlib.sha256(msgspec.json.encode(unpacked(text))).hexdigest()[:24]


_Lines = dict[str, list[list[int]]]


def _steps(lines: tuple[Line, ...]) -> list[list[int]]:
    return [_differences(line) for line in lines]


def _differences(line: Line) -> list[int]:
    """x and y in turn, each less the one before it."""
    found, before = [], (0, 0)
    for place in line:
        now = round(place[0] / STEP_MM), round(place[1] / STEP_MM)
        found += [now[0] - before[0], now[1] - before[1]]
        before = now
    return found


def _lines(steps: list[list[int]]) -> tuple[Line, ...]:
    return tuple(_summed(line) for line in steps)


def _summed(steps: list[int]) -> Line:
    x, y = (accumulate(steps[start::2]) for start in (0, 1))
    return tuple([(a / _STEPS, b / _STEPS) for a, b in zip(x, y, strict=True)])

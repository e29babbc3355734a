"""What a page or form of our own print files shows, read from its operators: no rendering.

Only what cairo writes is understood: one flip at the start, then coordinates in points from the top left corner. Any
matrix that scales or turns is reported, so that a page that somebody else has touched is told, not misread.
"""

import re
from collections.abc import Iterable, Iterator, Mapping
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

# A number that does not start within another, and is never tried shorter: a page has thousands of them.
_NUMBER = rb"(?<![-\d.])[-\d.]++"
_POINT = re.compile(rb"(%s)\s++(%s)\s++[mlh]\b" % (_NUMBER, _NUMBER))
_LINE = re.compile(rb"(%s)\s++(%s)\s++([ml])(?=\s)|(?<=\s)h(?=\s)" % (_NUMBER, _NUMBER))
_TEXTS = re.compile(rb"(?<=\s)BT\n.*?\nET(?=\s)", re.DOTALL)
_STRING = rb"\((?:[^()\\]|\\.)*+\)"
_TEXT = re.compile(
    rb"(?P<matrix>(?:%s\s++){6})Tm\b|(?P<move>(?:%s\s++){2})Td\b|(?P<font>/\S++)\s++%s\s++Tf\b"
    rb"|(?P<many>\[(?:[^\[\]()]|%s)*+\])\s*+TJ|(?P<one>%s)\s*+Tj" % (_NUMBER, _NUMBER, _NUMBER, _STRING, _STRING),
    re.DOTALL,
)
_NO_MOVE = re.compile(rb"(?<![-\d.])1 0 0 1 0 0 cm\b")
_TEXT_START, _TEXT_END = b"BT\n", b"\nET"
_PART = re.compile(rb"(%s)|(%s)" % (_STRING, _NUMBER), re.DOTALL)
_ESCAPE = re.compile(rb"\\(\r?\n|[0-7]{1,3}|.)", re.DOTALL)
_WORD_SPACE = -150.0
_ASCENT, _DESCENT = 0.72, 0.22
_UNIT = 1e-6

Widths = Mapping[int, float]
"""Widths of a font's letters by code, in thousandths of the text size."""


class Box(NamedTuple):
    """Extents in points."""

    left: float
    top: float
    right: float
    bottom: float

    def joined(self, other: "Box") -> "Box":
        """The smallest box around both."""
        return Box(
            min(self.left, other.left),
            min(self.top, other.top),
            max(self.right, other.right),
            max(self.bottom, other.bottom),
        )

    @property
    def width(self) -> float:
        return self.right - self.left

    @property
    def height(self) -> float:
        return self.bottom - self.top


class Run(NamedTuple):
    """One piece of text, and where it stands."""

    text: str
    box: Box


def odd_matrix(data: bytes, flips: bool = False) -> str | None:
    """The first matrix that scales or turns, as its four numbers; None where all only move, or flip top and bottom."""
    for a, b, c, d, _, _ in _operands(_NO_MOVE.sub(b"", data), b"cm", 6):
        if max(abs(a - 1), abs((abs(d) if flips else d) - 1), abs(b), abs(c)) > _UNIT:
            return f"{a:g} {b:g} {c:g} {d:g}"
    return None


def _operands(data: bytes, operator: bytes, count: int) -> Iterator[tuple[float, ...]]:
    """The numbers before each use of an operator."""
    for found in re.finditer(rb"(?<=\s)%s(?=\s|$)" % operator, data):
        words = data[max(0, found.start() - 24 * count) : found.start()].split()[-count:]
        try:
            numbers = tuple(map(float, words))
        except ValueError:
            continue  # a word of a text
        if len(numbers) == count:
            yield numbers


def line_extents(data: bytes) -> Box | None:
    """The box around all straight lines: cut lines are drawn as chords."""
    places = [(float(x), float(y)) for x, y in _POINT.findall(data)]
    if not places:
        return None
    across, down = zip(*places, strict=True)
    return Box(min(across), min(down), max(across), max(down))


def polylines(data: bytes) -> list[NDArray[np.float64]]:
    """All lines of straight parts, rows of x and y in points; closed ones repeat their first point."""
    found: list[list[tuple[float, float]]] = []
    for x, y, what in _LINE.findall(without_texts(data)):
        if what == b"m":
            found.append([(float(x), float(y))])
        elif found:
            found[-1].append((float(x), float(y)) if what else found[-1][0])
    return [np.array(line) for line in found if len(line) > 1]


def without_texts(data: bytes) -> bytes:
    """The operators of all that is no text."""
    return _TEXTS.sub(b"", data)


def text_blocks(data: bytes) -> list[bytes]:
    """The operators of each text object."""
    return [part.partition(_TEXT_END)[0] for part in data.split(_TEXT_START)[1:]]


def rectangles(data: bytes) -> list[Box]:
    """All rectangles that are drawn as such."""
    found = []
    for x, y, width, height in _operands(data, b"re", 4):
        found.append(Box(min(x, x + width), min(y, y + height), max(x, x + width), max(y, y + height)))
    return found


def ink(data: bytes, runs: Iterable[Run]) -> Box | None:
    """The box around all lines, curves, rectangles, and the texts that `text_runs` found."""
    boxes = [*rectangles(data), *(run.box for run in runs)]
    if (lines := line_extents(data)) is not None:
        boxes.append(lines)
    for numbers in _operands(data, b"c", 6):
        boxes.append(Box(min(numbers[::2]), min(numbers[1::2]), max(numbers[::2]), max(numbers[1::2])))
    total = boxes[0] if boxes else None
    for box in boxes[1:]:
        assert total is not None
        total = total.joined(box)
    return total


def text_runs(data: bytes, fonts: Mapping[str, Widths]) -> Iterator[Run]:
    """All texts in the order in which they are written; `fonts` by resource name."""
    matrix = [1.0, 0.0, 0.0, 1.0, 0.0, 0.0]
    widths: Widths = {}
    for found in (found for block in text_blocks(data) for found in _TEXT.finditer(block)):
        if found["matrix"]:
            matrix = [float(number) for number in found["matrix"].split()]
        elif found["move"]:
            x, y = map(float, found["move"].split())
            matrix[4] += matrix[0] * x + matrix[2] * y
            matrix[5] += matrix[1] * x + matrix[3] * y
        elif found["font"]:
            widths = fonts.get(found["font"].decode("latin-1"), {})
        else:
            text, width = _set(found["many"] or found["one"], widths)
            yield Run(text, _text_box(matrix, width))


def texts_written(data: bytes) -> Iterator[str]:
    """All texts, without where they stand."""
    return (run.text for run in text_runs(data, {}))


def _set(operand: bytes, widths: Widths) -> tuple[str, float]:
    """The letters of a text operand, and their width in text sizes; a wide gap between two parts is a space."""
    text, width = "", 0.0
    for string, number in _PART.findall(operand):
        if string:
            codes = _ESCAPE.sub(_unescaped, string[1:-1])
            text += codes.decode("cp1252", errors="replace")
            width += sum(widths.get(code, 600.0) for code in codes)
        else:
            text += " " if float(number) < _WORD_SPACE else ""
            width -= float(number)
    return text, width / 1000


def _unescaped(match: re.Match[bytes]) -> bytes:
    code = match[1]
    if code[:1] in b"\r\n":
        return b""
    return bytes([int(code, 8) & 255]) if code[:1].isdigit() else code


def _text_box(matrix: list[float], width: float) -> Box:
    a, b, c, d, e, f = matrix
    corners = [(e + a * x + c * y, f + b * x + d * y) for x in (0.0, width) for y in (-_DESCENT, _ASCENT)]
    across, down = zip(*corners, strict=True)
    return Box(min(across), min(down), max(across), max(down))

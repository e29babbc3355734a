"""Where the texts of a booklet's page stand, read from its operators: no rendering.

Only what typst writes is understood: fonts with codes of two bytes, a matrix before each text. What is marked as an
artifact, as heads and feet of pages are, is left out.
"""

import re
from collections.abc import Iterator, Mapping
from typing import NamedTuple

import numpy as np
import pikepdf

from pipeline.booklet.nodes import margins_of
from pipeline.bundle.pdf_content import Box, Widths
from pipeline.model.lengths import MM_PER_POINT

_NUMBER = rb"[-+]?[\d.]++"
_STRING = rb"\((?:[^()\\]|\\.)*+\)"
_STEP = re.compile(
    rb"(?=[-+.\d/(\[EqQB])"  # what no step begins with is passed by at once: most of a page is lines of figures
    rb"(?:(?<![-+.\d])(?P<six>(?:%s\s++){6})(?P<matrix>cm|Tm)(?!\w)|(?P<font>/\w++)\s++(?P<size>%s)\s++Tf(?!\w)"
    rb"|(?P<many>\[(?:[^\[\]()]|%s)*+\])\s*+TJ|(?P<one>%s)\s*+Tj|(?P<string>%s)"
    rb"|(?P<marks>/\w++)\s*+(?:<<[^()]*?>>)?\s*+B(?:DC|MC)(?!\w)|(?P<word>(?<![\w/])(?:EMC|q|Q|BT)(?!\w)))"
    % (_NUMBER, _NUMBER, _STRING, _STRING, _STRING),
    re.DOTALL,
)
_PART = re.compile(rb"(%s)|(%s)" % (_STRING, _NUMBER), re.DOTALL)
_ESCAPE = re.compile(rb"\\(\r?\n|[0-7]{1,3}|.)", re.DOTALL)
_NAMED = {b"n": b"\n", b"r": b"\r", b"t": b"\t", b"b": b"\b", b"f": b"\f"}
_BLANK = 260.0
"""The width of a space, which no letter of the fonts has."""
_LOW, _HIGH = 0.1, 0.6
"""What of a line's height surely has ink, as shares of the text size: lines that are set closer lie on each other."""
_WITHIN_PT = 1.0
_KERNED = 0.25
"""How far parts of a word may reach into each other, as a share of the text size: kerned letters do."""
Matrix = tuple[float, float, float, float, float, float]


def outside(boxes: list[Box], width_pt: float, height_pt: float, large: bool) -> list[Box]:
    """The texts that reach out of a page's area of text."""
    margins = margins_of(large)
    beside, above, below = (side / MM_PER_POINT for side in (margins.beside, margins.above, margins.below))
    return [
        box
        for box in boxes
        if box.left < beside - _WITHIN_PT
        or box.right > width_pt - beside + _WITHIN_PT
        or box.top < below - _WITHIN_PT
        or box.bottom > height_pt - above + _WITHIN_PT
    ]


def overprinted(boxes: list[Box]) -> int:
    """How many pairs of texts lie on one another."""
    if len(boxes) < 2:
        return 0
    left, top, right, bottom = np.array(boxes).T
    sizes = (bottom - top) / (_HIGH - _LOW)
    near = np.maximum(_WITHIN_PT, _KERNED * np.minimum(sizes[:, None], sizes))
    across = np.minimum(right[:, None], right) - np.maximum(left[:, None], left) > near
    down = np.minimum(bottom[:, None], bottom) - np.maximum(top[:, None], top) > _WITHIN_PT
    return int(np.triu(across & down, 1).sum())


def text_boxes(data: bytes, fonts: Mapping[str, Widths]) -> list[Box]:
    """The extents of all texts that are no artifacts, in points from the lower left corner."""
    return list(_boxes(data, fonts))


class _State(NamedTuple):
    matrix: Matrix
    widths: Widths
    size: float


def _boxes(data: bytes, fonts: Mapping[str, Widths]) -> Iterator[Box]:
    state, text = _State((1, 0, 0, 1, 0, 0), {}, 1.0), (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)
    kept: list[_State] = []
    marks: list[bool] = []
    for found in _STEP.finditer(data):
        if found["matrix"] == b"cm":
            state = state._replace(matrix=_after(_numbers(found["six"]), state.matrix))
        elif found["matrix"]:
            text = _numbers(found["six"])
        elif found["font"]:
            state = state._replace(widths=fonts.get(found["font"].decode(), {}), size=float(found["size"]))
        elif found["marks"]:
            marks.append(found["marks"] == b"/Artifact")
        elif found["word"]:
            if found["word"] == b"q":
                kept.append(state)
            elif found["word"] == b"Q" and kept:
                state = kept.pop()
            elif found["word"] == b"EMC" and marks:
                marks.pop()
        elif (shown := found["many"] or found["one"]) and not any(marks):
            width = _width(shown, state.widths)
            if width > 0:
                yield _box(_after(text, state.matrix), width * state.size, state.size)


def _numbers(text: bytes) -> Matrix:
    a, b, c, d, e, f = map(float, text.split())
    return a, b, c, d, e, f


def _after(inner: Matrix, outer: Matrix) -> Matrix:
    (a, b, c, d, e, f), (k, m, n, o, p, q) = inner, outer
    return a * k + b * n, a * m + b * o, c * k + d * n, c * m + d * o, e * k + f * n + p, e * m + f * o + q


def _width(shown: bytes, widths: Widths) -> float:
    """In text sizes, without blanks at the end: a line may have them past its edge."""
    width = inked = 0.0
    for string, number in _PART.findall(shown):
        if number:
            width -= float(number)
            continue
        codes = _ESCAPE.sub(_unescaped, string[1:-1])
        for high, low in zip(codes[::2], codes[1::2], strict=False):
            own = widths.get(256 * high + low, 0.0)
            width += own
            inked = inked if own == _BLANK else width
    return inked / 1000


def _unescaped(match: re.Match[bytes]) -> bytes:
    code = match[1]
    if code[:1].isdigit():
        return bytes([int(code, 8) & 255])
    return b"" if code[:1] in b"\r\n" else _NAMED.get(code, code)


def _box(matrix: Matrix, width: float, size: float) -> Box:
    a, b, c, d, e, f = matrix
    corners = [(e + a * x + c * y, f + b * x + d * y) for x in (0.0, width) for y in (_LOW * size, _HIGH * size)]
    across, down = zip(*corners, strict=True)
    return Box(min(across), min(down), max(across), max(down))


def code_widths(font: pikepdf.Object) -> Widths:
    """Widths of a font with codes of two bytes (ISO 32000-1, 9.7.4.3), by code; none of any other font."""
    if "/DescendantFonts" not in font:
        return {}
    listed = list(font["/DescendantFonts"][0].get("/W", []))
    found: dict[int, float] = {}
    while listed:
        first, second = int(listed.pop(0)), listed.pop(0)
        if isinstance(second, pikepdf.Array):
            found |= {first + at: float(width) for at, width in enumerate(second)}
        else:
            width = float(listed.pop(0))
            found |= dict.fromkeys(range(first, int(second) + 1), width)
    return found

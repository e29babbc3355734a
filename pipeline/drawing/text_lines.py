"""Lines of text that fit where they stand."""

import re
from collections.abc import Iterator, Sequence

from pipeline.drawing.fonts import printable, text_width_mm

ELLIPSIS = "…"
_BREAK = re.compile(r"(?<!\d) | (?!\d+/\d)")
"""A space, but for that of 1 1/4: on two lines it would be read as two numbers."""


def wrapped(content: str, size_mm: float, width_mm: float, bold: bool = False) -> list[str]:
    """The text in lines no wider than `width_mm`, broken at spaces; a word too long by itself is broken anywhere.

    A whole number and its fraction are one word.
    """
    lines: list[str] = []
    used_mm, space_mm = 0.0, text_width_mm(" ", size_mm, bold)
    for word in _words(printable(content), size_mm, width_mm, bold):
        word_mm = text_width_mm(word, size_mm, bold)
        if lines and used_mm + space_mm + word_mm <= width_mm:
            lines[-1] = f"{lines[-1]} {word}"
            used_mm += space_mm + word_mm
            continue
        while word_mm > width_mm and len(word) > 1:
            count = next(n for n in range(len(word), 0, -1) if n == 1 or _fits(word[:n], size_mm, width_mm, bold))
            lines.append(word[:count])
            word = word[count:]
            word_mm = text_width_mm(word, size_mm, bold)
        lines.append(word)
        used_mm = word_mm
    return lines


def unbroken(content: str) -> list[str]:
    """The words of a text, each of which stands on one line where it has room."""
    return _BREAK.split(printable(content))


def _words(content: str, size_mm: float, width_mm: float, bold: bool) -> Iterator[str]:
    """What is not broken where there is room for it."""
    for word in _BREAK.split(content):
        yield from [word] if _fits(word, size_mm, width_mm, bold) else word.split(" ")


def _fits(content: str, size_mm: float, width_mm: float, bold: bool) -> bool:
    return text_width_mm(content, size_mm, bold) <= width_mm


def fitted(
    candidates: Sequence[str], width_mm: float, size_mm: float, least_mm: float, bold: bool = False
) -> tuple[str, float]:
    """(text, size) for one line: the first candidate that fits, else the last made smaller, else cut off with …"""
    for candidate in candidates:
        if _fits(candidate, size_mm, width_mm, bold):
            return candidate, size_mm
    last = candidates[-1]
    smaller = size_mm * width_mm / text_width_mm(last, size_mm, bold)
    if smaller >= least_mm:
        return last, smaller
    while last and not _fits(last + ELLIPSIS, least_mm, width_mm, bold):
        last = last[:-1]
    return last.rstrip() + ELLIPSIS, least_mm

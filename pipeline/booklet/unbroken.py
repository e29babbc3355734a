"""Where a line of a booklet may not end: within a mixed number, and between a number and its unit."""

import re

from pipeline.drawing.fonts import text_width_mm
from pipeline.drawing.text_lines import wrapped

NO_BREAK = "\N{NO-BREAK SPACE}"
_WITHIN = re.compile(r"(?<=[0-9]) (?=[0-9]+/[0-9]|(?:mm|cm|m|in|yd|%)(?!\w))")
"""The space in "12 mm" and both in "1 1/4 in"; a line that ends there is read as another length, or as a count."""


def unbroken(text: str) -> str:
    """The text with spaces at which no line ends in all its lengths, whoever wrote them."""
    return _WITHIN.sub(NO_BREAK, text)


def unbroken_lines(content: str, size_mm: float, width_mm: float, bold: bool = False) -> list[str]:
    """The text of a figure in lines no wider than `width_mm`, each length on one line where any line holds it."""
    kept = unbroken(content)
    fits = all(text_width_mm(word, size_mm, bold) <= width_mm for word in kept.split(" ") if NO_BREAK in word)
    return [line.replace(NO_BREAK, " ") for line in wrapped(kept if fits else content, size_mm, width_mm, bold)]

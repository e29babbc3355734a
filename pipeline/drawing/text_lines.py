"""Lines of text that fit where they stand."""

from collections.abc import Sequence

from pipeline.drawing.fonts import printable, text_width_mm

ELLIPSIS = "…"


def wrapped(content: str, size_mm: float, width_mm: float, bold: bool = False) -> list[str]:
    """The text in lines no wider than `width_mm`, broken at spaces; a word too long by itself is broken anywhere."""
    lines: list[str] = []
    used_mm, space_mm = 0.0, text_width_mm(" ", size_mm, bold)
    for word in printable(content).split(" "):
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

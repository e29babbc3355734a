"""How large a designer's SVG is drawn."""

import re

from pipeline.model.lengths import MM_PER_INCH

_BOX = re.compile(rb"<svg[^>]*?\sviewBox\s*=\s*[\"']\s*[-0-9.eE]+[\s,]+[-0-9.eE]+[\s,]+([0-9.eE]+)[\s,]+([0-9.eE]+)")
_MM = {b"mm": 1.0, b"cm": 10.0, b"in": MM_PER_INCH, b"pt": MM_PER_INCH / 72, b"pc": MM_PER_INCH / 6}
_PIXEL_MM = MM_PER_INCH / 96
"""A CSS pixel (CSS Values 4, 6.2)."""
_UNKNOWN_MM = (160.0, 120.0)


def svg_size_mm(data: bytes) -> tuple[float, float]:
    """Width and height in mm: as its root says, else of its viewBox in pixels."""
    head = data[: data.find(b">", data.find(b"<svg")) + 1]
    sides = {}
    for name in (b"width", b"height"):
        found = re.search(rb"\s" + name + rb"\s*=\s*[\"']\s*([0-9.]+)\s*(mm|cm|in|pt|pc|px)?\s*[\"']", head)
        if found:
            sides[name] = float(found[1]) * _MM.get(found[2], _PIXEL_MM)
    if len(sides) == 2:
        return sides[b"width"], sides[b"height"]
    box = _BOX.search(head)
    return (float(box[1]) * _PIXEL_MM, float(box[2]) * _PIXEL_MM) if box else _UNKNOWN_MM

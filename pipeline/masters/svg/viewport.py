"""The physical size of a master, and how `viewBox` and `preserveAspectRatio` fit a drawing into it."""

import math
import re
from typing import NamedTuple

from pipeline.geometry.points import Affine
from pipeline.masters.svg.fault import SvgFault, excerpt
from pipeline.masters.svg.numbers import LARGEST_MM, PIXELS_PER_INCH, UNIT_MM, number_list, split_length
from pipeline.masters.svg.placing import Placing, placing
from pipeline.masters.svg.tree import Node
from pipeline.model.lengths import MM_PER_INCH


class Viewport(NamedTuple):
    """Width and height, in user units, that percentages are of."""

    width: float
    height: float

    @property
    def diagonal(self) -> float:
        """What a percentage of a radius is of (SVG 1.1, 7.10)."""
        return math.hypot(self.width, self.height) / math.sqrt(2)


_ALIGN = re.compile(r"\s*(?:defer\s+)?(none|x(Min|Mid|Max)Y(Min|Mid|Max))(?:\s+(meet|slice))?\s*")
_SHARE = {"Min": 0.0, "Mid": 0.5, "Max": 1.0}


def fitted(node: Node, x: float, y: float, width: float, height: float) -> tuple[Placing, Viewport]:
    """The map from an element's content into the place it is given, and the viewport inside. Raises SvgFault."""
    aspect = node.attributes.get("preserveAspectRatio", "xMidYMid meet")
    match = _ALIGN.fullmatch(aspect)
    if match is None:
        raise SvgFault(
            "bad-aspect",
            f"preserveAspectRatio is {excerpt(aspect, 30)!r}, which SVG does not know.",
            "Remove the attribute, or write xMidYMid meet.",
            aspect,
            "none, or xMinYMin … xMaxYMax with meet or slice",
        )
    if "viewBox" not in node.attributes:
        return placing(Affine(e=x, f=y)), Viewport(width, height)
    left, top, wide, high = _view_box(node.attributes["viewBox"])
    across, down = width / wide, height / high
    if match[1] == "none":
        return _shown(Affine(a=across, d=down, e=x, f=y), left, top), Viewport(wide, high)
    scale = max(across, down) if match[4] == "slice" else min(across, down)
    x += (width - wide * scale) * _SHARE[match[2]]
    y += (height - high * scale) * _SHARE[match[3]]
    return _shown(Affine(a=scale, d=scale, e=x, f=y), left, top), Viewport(wide, high)


def _shown(place: Affine, left: float, top: float) -> Placing:
    """The map of a viewBox whose top left corner comes to a place."""
    return placing(place).after(placing(Affine(e=-left, f=-top)))


def _view_box(text: str) -> tuple[float, float, float, float]:
    numbers = number_list(text, "viewBox")
    if len(numbers) != 4:
        raise SvgFault(
            "bad-viewbox",
            f"viewBox has {len(numbers)} numbers instead of 4.",
            "Write viewBox as left, top, width and height, or remove it.",
            text,
            "4 numbers",
        )
    left, top, width, height = numbers
    if width <= 0 or height <= 0:
        raise SvgFault(
            "bad-viewbox",
            f"viewBox is {width:g} wide and {height:g} high: nothing can be shown in it.",
            "Write viewBox as left, top, width and height, or remove it.",
            text,
            "width and height above 0",
        )
    return left, top, width, height


def root_size_mm(root: Node, key: str, pixels_per_inch: float | None) -> float:
    """The root's `width` or `height` in mm. Raises SvgFault where it is missing or left to guess."""
    text = root.attributes.get(key, "").strip()
    allowed = "a length above 0 in mm, cm, in, pt or pc"
    remedy = f'Give the page its size in the document settings, as {key}="210mm".'
    if not text or text == "auto":
        raise SvgFault("size-missing", f"The root <svg> has no {key}.", remedy, text, allowed)
    number, unit = split_length(text, f"{key} of the root <svg>")
    if unit == "%":
        raise SvgFault("size-percent", f"The root's {key} is {excerpt(text, 30)}: no true size.", remedy, text, allowed)
    if unit in ("", "px"):
        if pixels_per_inch is None:
            raise SvgFault(
                "size-pixels",
                f"The root's {key} is {excerpt(text, 30)!r} in pixels, whose size editors disagree about.",
                f"{remedy} Or say in pattern.toml how many pixels make an inch: [masters] pixels_per_inch = 96.",
                text,
                allowed,
            )
        size = number * MM_PER_INCH / pixels_per_inch
    elif unit in UNIT_MM:
        size = number * UNIT_MM[unit]
    else:
        raise SvgFault("size-unit", f"The root's {key} has the unit {unit!r}.", remedy, text, allowed)
    if size <= 0:
        raise SvgFault("size-not-positive", f"The root's {key} is {excerpt(text, 30)}.", remedy, text, allowed)
    if size > LARGEST_MM:
        raise SvgFault("too-far", f"The root's {key} is {excerpt(text, 30)}: over 100 m.", remedy, text, "up to 100 m")
    return size


def root_viewport(root: Node, pixels_per_inch: float | None) -> tuple[Placing, Viewport]:
    """The map from the root's user units to mm, and its viewport. Raises SvgFault."""
    width, height = root_size_mm(root, "width", pixels_per_inch), root_size_mm(root, "height", pixels_per_inch)
    if "viewBox" in root.attributes:
        return fitted(root, 0.0, 0.0, width, height)
    mm = MM_PER_INCH / (pixels_per_inch or PIXELS_PER_INCH)
    return placing(Affine(a=mm, d=mm)), Viewport(width / mm, height / mm)

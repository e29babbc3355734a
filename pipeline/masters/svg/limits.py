"""How far a drawing may reach."""

import math
from collections.abc import Iterable

from pipeline.geometry.curves import Arc, Cubic, Segment
from pipeline.geometry.points import Point
from pipeline.masters.svg.fault import SvgFault, excerpt
from pipeline.masters.svg.numbers import LARGEST_MM, not_finite, number_list
from pipeline.masters.svg.path_data import Subpath
from pipeline.masters.svg.tree import Node

_PLACED = ("x", "y", "width", "height", "dx", "dy")


def check_placed(node: Node) -> None:
    """Numbers of text and images, which are not read otherwise, must be finite and near too."""
    for key in _PLACED:
        text = node.attributes.get(key, "")
        numbers: list[float] = []
        try:
            numbers = number_list(text, f"{key} of the <{node.tag}>")
        except SvgFault as fault:
            if fault.code != "bad-number":  # units and percentages of text are not read
                raise
        if any(abs(number) > LARGEST_MM * 100 for number in numbers):
            raise _too_far(text)


def check_reach(strokes: Iterable[Subpath]) -> None:
    """Refuses strokes, in mm, that leave the plane or reach farther out than 100 m."""
    for place in (p for s in strokes for p in (s.start, *(p for segment in s.segments for p in corners(segment)))):
        # Written so that a value that is not a number fails it too.
        if not (abs(place.x) <= LARGEST_MM and abs(place.y) <= LARGEST_MM):
            if not (math.isfinite(place.x) and math.isfinite(place.y)):
                raise not_finite(f"{place.x:g}, {place.y:g}", "The object")
            raise _too_far(f"{place.x:g} mm, {place.y:g} mm")


def corners(segment: Segment) -> tuple[Point, ...]:
    """The end of a segment and what else says how far it reaches."""
    if isinstance(segment, Cubic):
        return segment.control1, segment.control2, segment.end
    if isinstance(segment, Arc):
        return segment.centre.plus(segment.u), segment.centre.plus(segment.v), segment.end
    return (segment.end,)


def _too_far(found: str) -> SvgFault:
    return SvgFault(
        "too-far",
        f"The object reaches to {excerpt(found, 40)}: farther out than 100 m.",
        "Delete the object or draw it on the page; check the units and transforms of its groups.",
        found,
        "coordinates within ±100 m",
    )

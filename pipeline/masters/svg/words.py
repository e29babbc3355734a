"""Texts of a drawing: what they say and where, for those that name what lies beside them. No font is needed."""

import msgspec

from pipeline.geometry.points import Point
from pipeline.masters.svg.numbers import number_list
from pipeline.masters.svg.placing import Placing
from pipeline.masters.svg.tree import Node


class Words(msgspec.Struct, frozen=True):
    """A text that is drawn: what it says, and where it is anchored, in mm. `within` are its ancestors."""

    node: Node
    said: str
    place: Point
    within: tuple[Node, ...]


def words_of(node: Node, to_mm: Placing, within: tuple[Node, ...]) -> Words | None:
    """What a <text> says, its lines joined, at the first place that it or a line of it names. Raises SvgFault."""
    parts = [part for part in node.walk() if part.tag in ("text", "tspan")]
    said = " ".join(" ".join(part.text for part in parts).split())
    at = [next((number_list(p.attributes[key], key) for p in parts if key in p.attributes), []) for key in ("x", "y")]
    x, y = (numbers[0] if numbers else 0.0 for numbers in at)
    return Words(node, said, to_mm.map.point(Point(x, y)), within) if said else None

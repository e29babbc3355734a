"""A closed outline and its corners: where it turns, where the drawing marks it, where its designer split it."""

import math
from collections.abc import Iterable, Sequence

import msgspec

from pipeline.geometry.curves import (
    Path,
    Segment,
    arc_lengths_mm,
    flattened,
    nearest_on_path,
    turn_between_rad,
)
from pipeline.geometry.parts import split_segment
from pipeline.geometry.points import Point, bounds
from pipeline.masters.svg.path_ends import DUST_MM
from pipeline.model.pieces import Edge

CORNER_DEG = 20.0
"""An outline that turns by more than this at a node has a corner there. Common practice: the flattest corner between
two edges, as between a cap and a sleeve's seam, turns by 30° and more; nodes in a curve that is drawn smooth, or
traced by short chords, by a few."""
FAINT_DEG = 10.0
"""Half of it: what turns by less than this is no corner in any size of a piece that has one there."""
MARK_MM = 1.0
"""How far a mark may lie from the outline."""
NODE_MM = 0.5
"""A mark this near to a node means the node."""


class Node(msgspec.Struct, frozen=True):
    """A point where two segments meet: how far along the outline, and by how much it turns, clockwise positive."""

    at_mm: float
    place: Point
    turn_deg: float
    marked: bool = False
    split: bool = False

    @property
    def sharp(self) -> bool:
        """Whether the outline has a corner here that everybody sees."""
        return abs(self.turn_deg) > CORNER_DEG

    @property
    def corner(self) -> bool:
        """Whether an edge may end here."""
        return self.sharp or self.marked or self.split


class Outline(msgspec.Struct, frozen=True):
    """A closed path, clockwise on the page, and its nodes: node i is where segment i begins."""

    path: Path
    nodes: tuple[Node, ...]
    length_mm: float

    def part(self, first: int, last: int) -> Path:
        """The path from one node on to another, at least one segment."""
        segments = self.path[first:last] if first < last else (*self.path[first:], *self.path[:last])
        return tuple(segments)

    def drawn(self, error_mm: float = 0.2) -> tuple[Point, ...]:
        """Points round it, for pictures and distances."""
        return flattened(self.path, error_mm)[:-1]

    def box(self) -> tuple[float, float, float, float]:
        """(left, top, right, bottom)."""
        return bounds(self.drawn())


def outline_of(edges: Sequence[Edge], marks: Iterable[Point] = (), splits: bool = False) -> Outline:
    """The outline that edges chain into; `splits` says that their ends are edges' ends. Marks lie on the outline."""
    path: Path = tuple(segment for edge in edges for segment in edge.path)
    joints = [edge.path[0].start for edge in edges] if splits else []
    marked: list[Point] = []
    for mark in marks:
        path, place = _with_node(path, mark)
        marked.append(place)
    at = arc_lengths_mm(path)
    nodes = tuple(
        Node(
            at_mm=at[i],
            place=segment.start,
            turn_deg=turn_deg(path[i - 1], segment),
            marked=any(segment.start.distance(place) < DUST_MM for place in marked),
            split=any(segment.start.distance(place) < DUST_MM for place in joints),
        )
        for i, segment in enumerate(path)
    )
    return Outline(path, nodes, at[-1])


def turn_deg(before: Segment, after: Segment) -> float:
    """By how much the direction turns from one segment to the next; clockwise on the page is positive."""
    return math.degrees(turn_between_rad(before, after))


def off_outline_mm(path: Path, mark: Point) -> float:
    """How far a mark lies from the outline; from a node, if it lies at one."""
    node_mm = min(mark.distance(segment.start) for segment in path)
    return node_mm if node_mm <= NODE_MM else nearest_on_path(path, mark)[0]


def _with_node(path: Path, mark: Point) -> tuple[Path, Point]:
    """The path with a node where the mark is: the nearest one, or a new one in the segment that it lies on."""
    node = min((segment.start for segment in path), key=mark.distance)
    if mark.distance(node) <= NODE_MM:
        return path, node
    index = min(range(len(path)), key=lambda i: nearest_on_path((path[i],), mark)[0])
    segment = path[index]
    _, place, at_mm = nearest_on_path((segment,), mark)
    if min(place.distance(segment.start), place.distance(segment.end)) <= NODE_MM:
        ends = (segment.start, segment.end)
        return path, min(ends, key=place.distance)
    halves = split_segment(segment, at_mm)
    return (*path[:index], *halves, *path[index + 1 :]), halves[1].start

"""The seam line: edges in any order and direction, chained into one closed outline that is walked clockwise."""

import math
from itertools import pairwise

import msgspec

from pipeline.geometry.curves import Path, chords_needed, flattened, nearest_on_path, path_area_mm2, reversed_path
from pipeline.geometry.points import Point
from pipeline.masters.groups import GROUPS, NAME_RULE, mark_name
from pipeline.masters.svg.path_ends import between, with_ends, without_dust
from pipeline.masters.svg.reading import Reading
from pipeline.masters.svg.tree import Node
from pipeline.masters.svg.walk import Shape
from pipeline.model.pieces import Edge

CHAIN_MM = 0.1
"""How far apart the ends of two edges may lie that follow each other."""
MOST_EDGES = 200
MOST_CHORDS = 10_000
MOST_CORNERS = 1_000
"""Turns of more than 30 degrees: allowances are mitred at each. A hem of 200 scallops has 400."""
CROSSING_ERROR_MM = 0.01
_TOLD_APART = 6
"""Digits of a millimetre: an outline that comes nearer to itself touches itself."""
WHOLE = "outline"


class DrawnEdge(msgspec.Struct, frozen=True):
    """One path of the seam group, before it is chained."""

    name: str
    path: Path
    closed: bool
    node: Node

    def end(self, last: bool) -> Point:
        """Where it ends, or begins."""
        return self.path[-1].end if last else self.path[0].start


def outline_edges(shapes: list[Shape], reading: Reading) -> tuple[Edge, ...]:
    """The edges in clockwise walking order from the file's first; empty where no outline comes of them (told)."""
    drawn = [edge for edge in (_drawn_edge(shape, reading) for shape in shapes) if edge is not None]
    if len(drawn) < len(shapes) or not drawn:
        return ()
    if len(drawn) > MOST_EDGES:
        reading.tell(
            "too-many-edges",
            f"The group seam holds {len(drawn)} paths; at most {MOST_EDGES} are read.",
            "Join the pieces of each edge into one path.",
            found=str(len(drawn)),
            allowed=str(MOST_EDGES),
        )
        return ()
    if len(drawn) == 1 and drawn[0].closed:
        start = drawn[0].path[0].start
        chained: tuple[Edge, ...] | None = (Edge(WHOLE, with_ends(drawn[0].path, start, start)),)
    else:
        chained = _chained(drawn, reading)
    if chained is None or not _named_well(drawn, reading) or not _simple(chained, reading):
        return ()
    return _clockwise(chained)


def _drawn_edge(shape: Shape, reading: Reading) -> DrawnEdge | None:
    strokes = [stroke for stroke in shape.strokes if stroke.segments]
    if len(strokes) != 1 or len(shape.strokes) != 1:
        found = f"{len(strokes)} strokes"
        if strokes:
            message, remedy = "An edge is made of several strokes.", "Break the path apart: one path an edge, named."
        else:
            message, remedy = "An object of the seam has no length.", "Delete it, or draw the edge again."
        code = "edge-in-parts" if strokes else "edge-empty"
        reading.tell(code, message, remedy, node=shape.node, found=found, allowed="one stroke")
        return None
    stroke = strokes[0]
    path = without_dust(stroke.segments)
    closed = stroke.closed or path[0].start.distance(path[-1].end) <= CHAIN_MM
    # One closed path is the outline whatever it is called; a name is held against the rules only where it counts.
    name = (shape.name or "") if closed else (mark_name(shape, reading) or "")
    return DrawnEdge(name, path, closed, shape.node)


def _named_well(drawn: list[DrawnEdge], reading: Reading) -> bool:
    if len(drawn) == 1 and drawn[0].closed:
        return True
    first: dict[str, DrawnEdge] = {}
    well = True
    for edge in drawn:
        if not edge.name:
            well = False
            if not edge.node.name or edge.node.name.lower() in GROUPS:
                reading.tell(
                    "edge-unnamed",
                    "An edge of the seam has no name.",
                    "Give the path a name in the drawing program (its label or id), as side, hem or armhole.",
                    node=edge.node,
                    found="no name",
                    allowed=NAME_RULE,
                )
        elif edge.name in first:
            well = False
            reading.tell(
                "duplicate-edge",
                f'Two edges are called "{edge.name}": {first[edge.name].node.described} and {edge.node.described}.',
                "Rename one of them, or join both into one path.",
                node=edge.node,
                where=edge.name,
                found=edge.name,
                allowed="every edge name once",
            )
        else:
            first[edge.name] = edge
    return well


def _chained(drawn: list[DrawnEdge], reading: Reading) -> tuple[Edge, ...] | None:
    """The edges head to tail, their ends moved exactly together."""
    closed = [edge for edge in drawn if edge.closed]
    for edge in closed:
        reading.tell(
            "closed-edge",
            "The seam holds a closed path beside other paths.",
            "Keep one closed path alone, or open paths, one an edge.",
            node=edge.node,
            where=edge.name or None,
            found=f"{len(closed)} closed of {len(drawn)} paths",
            allowed="one closed path, or open paths only",
        )
    partners = None if closed else _partners(drawn, reading)
    if partners is None:
        return None
    walk: list[tuple[int, bool]] = []
    index, turned = 0, False
    while not walk or index != 0:
        walk.append((index, turned))
        index, last = partners[(index, not turned)]
        turned = last
    if len(walk) < len(drawn):
        left_out = next(edge for i, edge in enumerate(drawn) if i not in {index for index, _ in walk})
        reading.tell(
            "several-outlines",
            f"The edges close into more than one outline: {left_out.node.described} belongs to a second one.",
            "Keep one piece in the file; what lies inside belongs into the group inside.",
            node=left_out.node,
            where=left_out.name or None,
            found="2 or more outlines",
            allowed="one",
        )
        return None
    paths = [reversed_path(drawn[i].path) if turned else drawn[i].path for i, turned in walk]
    neighbours = zip([paths[-1], *paths[:-1]], paths, strict=True)
    corners = [between(before[-1].end, after[0].start) for before, after in neighbours]
    ends = [*corners[1:], corners[0]]
    return tuple(
        Edge(drawn[i].name, with_ends(path, start, end))
        for (i, _), path, start, end in zip(walk, paths, corners, ends, strict=True)
    )


def _partners(drawn: list[DrawnEdge], reading: Reading) -> dict[tuple[int, bool], tuple[int, bool]] | None:
    """For every end (edge, whether it is the last) the one end of another edge that it meets."""
    ends = [(i, last) for i in range(len(drawn)) for last in (False, True)]
    place = {end: drawn[end[0]].end(end[1]) for end in ends}
    partners: dict[tuple[int, bool], tuple[int, bool]] = {}
    for end in ends:
        others = sorted((place[end].distance(place[other]), other) for other in ends if other[0] != end[0])
        near = [other for distance, other in others if distance <= CHAIN_MM]
        if len(near) == 1:
            partners[end] = near[0]
            continue
        edge, at = drawn[end[0]], place[end]
        label = f'"{edge.name}"' if edge.name else edge.node.described
        if near:
            if end > near[0]:  # a corner is told once, by the first edge that meets there
                continue
            names = ", ".join(f'"{drawn[other[0]].name}"' for other in near)
            reading.tell(
                "outline-branches",
                f"Edge {label} meets {len(near)} other ends at {_shown(at)}: {names}.",
                "Let exactly two edges meet at each corner; delete what lies double.",
                node=edge.node,
                where=edge.name or None,
                found=f"{len(near)} ends within {CHAIN_MM} mm",
                allowed="1",
            )
        else:
            gap = f"the nearest is {others[0][0]:.2f} mm away" if others else "there is no other edge"
            reading.tell(
                "outline-open",
                f"Edge {label} ends at {_shown(at)} where no other edge begins: {gap}"
                + (f' (of "{drawn[others[0][1][0]].name}").' if others else "."),
                "Move the ends together (snap to the point), or close the path if it is the whole outline.",
                node=edge.node,
                where=edge.name or None,
                found=f"{others[0][0]:.3f} mm" if others else "no other edge",
                allowed=f"within {CHAIN_MM} mm",
            )
    return partners if len(partners) == len(ends) else None


def chords_of(path: Path) -> float:
    """About how many straight lines a path is drawn by."""
    return sum(chords_needed(segment, CROSSING_ERROR_MM) for segment in path)


def _simple(edges: tuple[Edge, ...], reading: Reading) -> bool:
    """Whether the outline bounds one area without crossing or touching itself; told where not."""
    chords = sum(chords_of(edge.path) for edge in edges)
    if chords > MOST_CHORDS:
        reading.tell(
            "too-many-points",
            f"The outline needs {chords:,.0f} chords; at most {MOST_CHORDS:,} are read.",
            "Draw the edges with fewer points, and check the size of the piece.",
            found=f"{chords:.0f}",
            allowed=str(MOST_CHORDS),
        )
        return False
    import shapely  # a tenth of a second: only once there is an outline to hold against itself

    places = [place for edge in edges for place in flattened(edge.path, CROSSING_ERROR_MM)[1:]]
    if (corners := _corners(places)) > MOST_CORNERS:
        reading.tell(
            "too-many-points",
            f"The outline turns sharply {corners:,} times; at most {MOST_CORNERS:,} corners are read.",
            "Draw the edges as smooth curves: a traced picture has to be smoothed first.",
            found=f"{corners}",
            allowed=str(MOST_CORNERS),
        )
        return False
    near = [(round(place.x, _TOLD_APART), round(place.y, _TOLD_APART)) for place in places]
    shape = shapely.Polygon(near) if len(near) > 2 else None
    area = shape.convex_hull.area if shape is not None else 0.0  # lobes of a crossed outline cancel, its hull does not
    if shape is not None and area > CHAIN_MM and shape.is_valid:
        return True
    if shape is None or area <= CHAIN_MM:
        reading.tell(
            "outline-no-area",
            "The outline bounds no area.",
            "Draw the seam line around the piece.",
            found=f"{area:.3f} mm²",
            allowed=f"above {CHAIN_MM} mm²",
        )
        return False
    reason = shapely.is_valid_reason(shape)
    x, y = (float(number) for number in reason.partition("[")[2].rstrip("]").split()[:2])
    at = Point(x, y)
    names = [edge.name for edge in edges if nearest_on_path(edge.path, at)[0] <= CHAIN_MM]
    reading.tell(
        "outline-crosses",
        f"The outline crosses or touches itself at {_shown(at)}, on {' and '.join(names)}.",
        "Move the points there until the outline goes round the piece once.",
        where=names[0] if names else None,
        object=f"seam at {_shown(at)}",
        found=reason,
        allowed="an outline that does not meet itself",
    )
    return False


def _corners(places: list[Point]) -> int:
    """At how many points a closed line turns by more than 30 degrees."""
    steps = [a.to(b) for a, b in pairwise([*places, places[0]]) if a != b]
    turns = pairwise([*steps, steps[0]]) if steps else ()
    return sum(abs(one.turn_rad(two)) > math.pi / 6 for one, two in turns)


def _clockwise(edges: tuple[Edge, ...]) -> tuple[Edge, ...]:
    if path_area_mm2(tuple(segment for edge in edges for segment in edge.path)) > 0:
        return edges
    backwards = [Edge(edge.name, reversed_path(edge.path)) for edge in edges]
    return (backwards[0], *reversed(backwards[1:]))


def _shown(place: Point) -> str:
    return f"({place.x:.2f}, {place.y:.2f}) mm"

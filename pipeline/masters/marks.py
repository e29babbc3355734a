"""What lies in the outline: grain, inside lines, points, the label's place, the anchor."""

from itertools import pairwise

from pipeline.geometry.curves import Arc, Line, Path, path_length_mm
from pipeline.geometry.points import Point
from pipeline.masters.groups import mark_name
from pipeline.masters.outline import CHAIN_MM, chords_of
from pipeline.masters.svg.boxes import Box, box_of, extremes, hull
from pipeline.masters.svg.path_ends import DUST_MM
from pipeline.masters.svg.reading import Reading
from pipeline.masters.svg.walk import Shape
from pipeline.model.piece_specs import PieceSpec
from pipeline.model.pieces import Edge, GrainLine, InsideLine, MarkPoint

SMALL_MM = 20.0
"""The box that a mark may fill: its centre is meant, and of a larger object hardly."""
BUTTONHOLE_MM = 50.0
STRAIGHT_MM = 0.1
MOST_MARKS = 300
"""Points, or strokes of inside lines, in one piece."""
MOST_CHORDS = 10_000
"""Straight lines that all inside lines of a piece are drawn by."""
MOST_STRAIGHT = 100
"""A stroke of more segments is no line that somebody drew straight."""


def box_round(shape: Shape) -> Box:
    """The box round all strokes of a shape, exactly."""
    return box_of(
        [s.start for s in shape.strokes] + [p for s in shape.strokes for seg in s.segments for p in extremes(seg)]
    )


def small_centre(shape: Shape, what: str, reading: Reading) -> Point | None:
    """The centre of something small."""
    if not shape.strokes:
        reading.tell("mark-empty", f"A {what} has no geometry.", "Draw it again.", node=shape.node)
        return None
    box = box_round(shape)
    if box.side <= SMALL_MM:
        return box.centre
    reading.tell(
        "mark-too-large",
        f"A {what} is drawn {box.side:.1f} mm large, so that its centre is hardly meant.",
        f"Draw it within {SMALL_MM:g} mm, centred on its place.",
        node=shape.node,
        found=f"{box.side:.1f} mm",
        allowed=f"up to {SMALL_MM:g} mm",
    )
    return None


def too_many_marks(group: str, count: int, most: int, reading: Reading) -> bool:
    """Tell of more objects than a piece has."""
    if count <= most:
        return False
    reading.tell(
        "too-many-marks",
        f"The group {group} holds {count:,} objects; at most {most:,} are read.",
        "Keep one object for each mark.",
        found=str(count),
        allowed=str(most),
    )
    return True


def read_grain(shapes: list[Shape], edges: tuple[Edge, ...], reading: Reading) -> GrainLine | None:
    """The grain, or the page's vertical through the piece where none is drawn; None where it cannot be read (told)."""
    if not shapes:
        reading.tell(
            "grain-missing",
            "No grain line is drawn; the page's vertical is taken.",
            "Draw one straight line in a group called grain.",
            severity="warn",
            found="no line",
            allowed="one straight line",
        )
        box = box_of([place for edge in edges for segment in edge.path for place in extremes(segment)])
        length = (box.bottom - box.top) / 2
        x, y = box.centre
        return GrainLine(Point(x, y + length / 2), Point(x, y - length / 2), drawn=False)
    ends = straight_ends(shapes[0])
    if len(shapes) > 1 or ends is None:
        reading.tell(
            "grain-not-one-line",
            "The group grain holds something else than one straight line.",
            "Keep one straight line with two points in it; arrow heads are drawn by the pipeline.",
            node=shapes[-1].node,
            found=f"{len(shapes)} objects" if len(shapes) > 1 else "an object that is not a straight line",
            allowed="one straight line",
        )
        return None
    first, last = ends
    if abs(first.y - last.y) <= STRAIGHT_MM:
        reading.tell(
            "grain-level",
            "The grain line lies level, so neither end is higher; its right end is taken as the top.",
            "Where the cloth has a direction, turn the piece so that the end towards the garment's top is higher.",
            node=shapes[0].node,
            severity="info",
            found=f"{abs(first.y - last.y):.2f} mm between the heights of its ends",
            allowed=f"more than {STRAIGHT_MM} mm",
        )
        first, last = sorted((first, last))
    elif first.y < last.y:
        first, last = last, first
    return GrainLine(first, last)


def straight_ends(shape: Shape) -> tuple[Point, Point] | None:
    """The two ends of an open stroke that is straight within 0.1 mm and does not turn back, or None."""
    if len(shape.strokes) != 1 or shape.strokes[0].closed or not shape.strokes[0].segments:
        return None
    path = shape.strokes[0].segments
    if len(path) > MOST_STRAIGHT or any(isinstance(segment, Arc) for segment in path):
        return None
    start, end = path[0].start, path[-1].end
    run = start.to(end)
    if run.length <= STRAIGHT_MM or bend_mm(path) > STRAIGHT_MM:
        return None
    along = [start.to(place).dot(run) / run.length for segment in path for place in hull(segment)]
    rises = all(b >= a - STRAIGHT_MM for a, b in pairwise(along))
    return (start, end) if rises else None


def bend_mm(path: Path) -> float:
    """How far a path strays from the straight line between its ends, or from its start where they meet."""
    start = path[0].start
    run = start.to(path[-1].end)
    samples = [s.at(i / 32) for s in path for i in range(33 if not isinstance(s, Line) else 2)]
    if run.length <= CHAIN_MM:
        return max(start.distance(place) for place in samples)
    return max(abs(run.cross(start.to(place))) / run.length for place in samples)


def read_inside(
    shapes: list[Shape], edges: tuple[Edge, ...], spec: PieceSpec, reading: Reading
) -> tuple[InsideLine, ...]:
    """The lines to mark on the cloth, in the order of the file."""
    if too_many_marks("inside", sum(len(shape.strokes) for shape in shapes), MOST_MARKS, reading):
        return ()
    chords = sum(chords_of(stroke.segments) for shape in shapes for stroke in shape.strokes)
    if chords > MOST_CHORDS:
        reading.tell(
            "too-many-points",
            f"The inside lines need {chords:,.0f} chords; at most {MOST_CHORDS:,} are read.",
            "Draw them with fewer points.",
            found=f"{chords:.0f}",
            allowed=str(MOST_CHORDS),
        )
        return ()
    lines: list[InsideLine] = []
    taken = {edge.name: "an edge" for edge in edges}
    for shape in shapes:
        name = mark_name(shape, reading)
        strokes = [stroke for stroke in shape.strokes if path_length_mm(stroke.segments) > DUST_MM]
        if not strokes:
            reading.tell("line-empty", "An inside line has no length.", "Delete it or draw it again.", node=shape.node)
        if name in taken:
            reading.tell(
                "duplicate-line",
                f'An inside line is called "{name}" as {taken[name]} is.',
                "Rename one of them: both are measured by their names.",
                node=shape.node,
                where=name,
                found=name,
                allowed="every name of an edge or inside line once",
            )
        if name is not None:
            taken.setdefault(name, "another inside line")
        if len(strokes) > 1 and name is not None:
            reading.tell(
                "line-in-parts",
                f'The inside line "{name}" is made of {len(strokes)} strokes: all are marked, none has its name.',
                "Nothing, unless its length is to be measured: then break the path apart and name each part.",
                node=shape.node,
                severity="block" if name in spec.lines else "info",
                where=name,
                found=f"{len(strokes)} strokes",
                allowed="one stroke",
            )
        kind = spec.lines.get(name or "", "place")
        own = name if len(strokes) == 1 else None  # a length that is asked for is never that of one stroke of several
        lines += [InsideLine(own, stroke.segments, stroke.closed, kind) for stroke in strokes]
    return tuple(lines)


def read_points(shapes: list[Shape], reading: Reading) -> tuple[MarkPoint, ...]:
    """The places to mark; a short straight line is a buttonhole."""
    if too_many_marks("points", len(shapes), MOST_MARKS, reading):
        return ()
    points: list[MarkPoint] = []
    for shape in shapes:
        name = mark_name(shape, reading)
        slit = straight_ends(shape)
        if slit is not None and slit[0].distance(slit[1]) <= BUTTONHOLE_MM:
            middle = Point((slit[0].x + slit[1].x) / 2, (slit[0].y + slit[1].y) / 2)
            points.append(MarkPoint(name, middle, slit))
            continue
        centre = small_centre(shape, "point", reading)
        if centre is not None:
            points.append(MarkPoint(name, centre))
    return tuple(points)


def read_label(shapes: list[Shape], reading: Reading) -> tuple[Point, Point, Point, Point] | None:
    """The corners of the label's rectangle clockwise on the page, the text's top left corner first."""
    if not shapes:
        return None
    corners = _rectangle(shapes[0])
    if len(shapes) > 1 or corners is None:
        reading.tell(
            "label-not-one-rectangle",
            "The group label holds something else than one rectangle.",
            "Keep one rectangle in it, or nothing: then the place is computed.",
            node=shapes[-1].node,
            found=f"{len(shapes)} objects" if len(shapes) > 1 else "an object that is not a rectangle",
            allowed="one rectangle",
        )
        return None
    return corners


def _rectangle(shape: Shape) -> tuple[Point, Point, Point, Point] | None:
    if len(shape.strokes) != 1:
        return None
    stroke = shape.strokes[0]
    path = stroke.segments
    if len(path) != 4 or not all(isinstance(segment, Line) for segment in path):
        return None
    a, b, c, d = (segment.start for segment in path)
    if path[3].end.distance(a) > CHAIN_MM or a.plus(b.to(c)).distance(d) > CHAIN_MM or abs(a.to(b).cross(a.to(d))) < 1:
        return None
    if a.to(b).cross(a.to(d)) < 0:  # mirrored: walked the other way, so that text stays readable
        a, b, c, d = b, a, d, c
    if shape.tag != "rect":
        corners = [a, b, c, d]
        first = max(range(4), key=lambda i: corners[i].to(corners[(i + 1) % 4]).unit().dx)
        a, b, c, d = corners[first:] + corners[:first]
    return a, b, c, d


def read_anchor(
    shapes: list[Shape], edges: tuple[Edge, ...], spec: PieceSpec, grain: GrainLine, reading: Reading
) -> Point | None:
    """Where sizes are aligned: the point drawn, else the middle of the fold edge, else the grain's upper end."""
    if len(shapes) > 1:
        reading.tell(
            "anchor-not-one-point",
            f"The group anchor holds {len(shapes)} objects.",
            "Keep one point in it.",
            node=shapes[-1].node,
            found=str(len(shapes)),
            allowed="one point",
        )
        return None
    if shapes:
        return small_centre(shapes[0], "anchor", reading)
    for edge in edges:
        if edge.name in spec.edges and spec.edges[edge.name].fold:
            start, end = edge.path[0].start, edge.path[-1].end
            return Point((start.x + end.x) / 2, (start.y + end.y) / 2)
    return grain.top

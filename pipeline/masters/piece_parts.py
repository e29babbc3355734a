"""A part of a piece: cut off along inside lines that cross it from edge to edge."""

from typing import NamedTuple

import msgspec

from pipeline.geometry.curves import (
    Cubic,
    Line,
    Path,
    Segment,
    nearest_on_path,
    path_length_mm,
    point_along,
    reversed_path,
)
from pipeline.geometry.parts import part_of
from pipeline.geometry.points import Point
from pipeline.masters.part_marks import apart, crosses, marks_of, nearer, runs_outside_mm
from pipeline.masters.stages import REFERENCES
from pipeline.masters.toml.faults import did_you_mean
from pipeline.model.findings import Finding
from pipeline.model.pattern import Pattern
from pipeline.model.piece_specs import PiecePart, PieceSpec
from pipeline.model.pieces import DrawnPiece, Edge, InsideLine

REACH_MM = 1.0
"""So near to an edge a line must end: as near as a notch must lie."""
_CORNER_MM = 0.1
"""A line that ends so near to a corner ends at it: as near as ends of edges must meet."""

Edges = tuple[Edge, ...]


class PartError(Exception):
    """Why a part cannot be cut off."""

    def __init__(self, code: str, where: str, message: str, remedy: str, found: str = "", allowed: str = "") -> None:
        super().__init__(message)
        self.code, self.where, self.message, self.remedy = code, where, message, remedy
        self.found, self.allowed = found, allowed


class _Place(NamedTuple):
    """A place on the outline: which edge, how far along it, and the point."""

    edge: int
    at_mm: float
    point: Point


def cut_part(
    pattern: Pattern, spec: PieceSpec, part: PiecePart, drawn: DrawnPiece
) -> tuple[DrawnPiece | None, tuple[Finding, ...]]:
    """The part of a drawn piece that a derived one takes: its edges, the new ones along the lines, and the marks that
    lie on it; None where the lines do not say one, with a finding that blocks."""
    try:
        return _part(spec, part, drawn, _folds(pattern, spec)), ()
    except PartError as fault:
        finding = Finding(
            check=REFERENCES.id,
            code=fault.code,
            severity="block",
            pattern=pattern.name,
            size=drawn.size,
            piece=spec.name,
            where=fault.where,
            file=drawn.file,
            object=fault.where,
            found=fault.found,
            allowed=fault.allowed,
            message=f"{spec.name} cannot be cut off {spec.source}: {fault.message}",
            remedy=fault.remedy,
        )
        return None, (finding,)


def _folds(pattern: Pattern, spec: PieceSpec) -> set[str]:
    source = pattern.pieces[spec.source or spec.name]
    return {name for name, edge in source.edges.items() if edge.fold}


def _part(spec: PieceSpec, part: PiecePart, drawn: DrawnPiece, folds: set[str]) -> DrawnPiece:
    lines = {name: _line(drawn, name) for name in part.lines}
    if part.keep is None and crosses(*lines.values()):
        raise PartError(
            "lines-cross",
            part.lines[1],
            f"the lines {' and '.join(part.lines)} cross.",
            "Name two lines that do not cross; what lies between them is taken.",
        )
    kept = drawn
    for name, path in lines.items():
        one, other = _sides(kept, name, path)
        if not _is_kept(part, name, lines, one, other):
            one, other = other, one
        kept = _less(kept, name, one, other)
    own_fold = next((edge for edge in kept.edges if edge.name in folds), None)
    if folds & {edge.name for edge in drawn.edges} and own_fold is None:
        raise PartError(
            "part-off-fold",
            part.lines[0],
            "the part does not reach the fold on which that is cut.",
            "Keep the side that has a part of the fold, or draw this piece by itself.",
        )
    return marks_of(kept, own_fold, next(edge for edge in kept.edges if edge.name == part.lines[0]))


def _line(drawn: DrawnPiece, name: str) -> Path:
    found = [line for line in drawn.inside if line.name == name]
    known = sorted(line.name for line in drawn.inside if line.name)
    if len(found) != 1 or found[0].closed:
        there = f"{len(found)} lines are called {name}" if found else f"it has no inside line {name}"
        raise PartError(
            "unknown-line" if not found else "no-one-line",
            name,
            f"{there if len(found) != 1 else f'{name} is a closed line'}.",
            did_you_mean(name, known) if not found else "Draw one open line of that name, from edge to edge.",
            name,
            ", ".join(known) or "none is drawn",
        )
    if name in {edge.name for edge in drawn.edges}:
        raise PartError(
            "line-called-as-edge",
            name,
            f"an edge and a line are both called {name}, and the part would have two edges of that name.",
            "Give the line another name.",
        )
    return found[0].path


def _sides(drawn: DrawnPiece, name: str, path: Path) -> tuple[Edges, Edges]:
    """Both sides of a line, each clockwise from the first of its edges, the new one among them."""
    start, end = (_place(drawn, name, place) for place in (path[0].start, path[-1].end))
    if (start.edge, start.at_mm) == (end.edge, end.at_mm):
        raise PartError("line-short", name, f"{name} begins and ends at one place.", "Draw it from edge to edge.")
    line = _from_to(path, start.point, end.point)
    if (outside := runs_outside_mm(drawn.edges, line)) > REACH_MM:
        raise PartError(
            "line-outside",
            name,
            f"{name} crosses the seam line between its ends.",
            "Draw it so that it meets the seam line at its two ends alone.",
            f"{outside:.1f} mm of it outside",
            "within the piece",
        )
    one = (*_walk(drawn.edges, start, end), Edge(name, reversed_path(line)))
    other = (*_walk(drawn.edges, end, start), Edge(name, line))
    order = [edge.name for edge in drawn.edges]
    return _in_order(one, order), _in_order(other, order)


def _place(drawn: DrawnPiece, name: str, place: Point) -> _Place:
    found = [nearest_on_path(edge.path, place) for edge in drawn.edges]
    nearest = min(range(len(found)), key=lambda k: found[k][0])
    distance, _, at_mm = found[nearest]
    if distance > REACH_MM:
        raise PartError(
            "line-short",
            name,
            f"{name} ends {distance:.1f} mm from the seam line, near its edge {drawn.edges[nearest].name}.",
            f"Draw {name} from edge to edge; it is not run on for you.",
            f"{distance:.1f} mm",
            f"within {REACH_MM:g} mm of an edge",
        )
    length_mm = path_length_mm(drawn.edges[nearest].path)
    if at_mm > length_mm - _CORNER_MM:
        after = (nearest + 1) % len(drawn.edges)
        return _Place(after, 0.0, drawn.edges[after].path[0].start)
    if at_mm < _CORNER_MM:
        return _Place(nearest, 0.0, drawn.edges[nearest].path[0].start)
    return _Place(nearest, at_mm, point_along(drawn.edges[nearest].path, at_mm)[0])


def _from_to(path: Path, start: Point, end: Point) -> Path:
    """A line whose ends, which lie as near as nothing, are moved onto the seam line."""
    first = _begun_at(path[0], start)
    rest = (*first[1:], *path[1:])
    last = _begun_at((rest[-1] if rest else first[0]).reversed(), end)
    ended = tuple(segment.reversed() for segment in reversed(last))
    return (*first[:1], *rest[:-1], *ended) if rest else ended


def _begun_at(segment: Segment, start: Point) -> tuple[Segment, ...]:
    if isinstance(segment, Line):
        return (Line(start, segment.end),)
    if isinstance(segment, Cubic):
        return (Cubic(start, segment.control1, segment.control2, segment.end),)
    return (Line(start, segment.start), segment) if start.distance(segment.start) > 0 else (segment,)


def _walk(edges: Edges, start: _Place, end: _Place) -> Edges:
    """The outline from one place on, clockwise, to another."""
    count = len(edges)
    steps = (end.edge - start.edge) % count
    if steps == 0 and end.at_mm <= start.at_mm:
        steps = count
    found = []
    for step in range(steps + 1):
        edge = edges[(start.edge + step) % count]
        low = start.at_mm if step == 0 else 0.0
        high = end.at_mm if step == steps else path_length_mm(edge.path)
        if high - low > 0:
            whole = low == 0.0 and step != steps
            path = edge.path if whole else part_of(edge.path, low, high)
            found.append(
                Edge(edge.name, _closed_on(path, start if step == 0 else None, end if step == steps else None))
            )
    return tuple(found)


def _closed_on(path: Path, start: _Place | None, end: _Place | None) -> Path:
    """A part of an edge that begins and ends exactly where the line does."""
    if start is not None and isinstance(path[0], Line):
        path = (Line(start.point, path[0].end), *path[1:])
    if end is not None and isinstance(path[-1], Line):
        path = (*path[:-1], Line(path[-1].start, end.point))
    return path


def _in_order(edges: Edges, order: list[str]) -> Edges:
    """From the edge that comes first in the whole piece, so that every size begins with the same."""
    ranks = [order.index(edge.name) if edge.name in order else len(order) for edge in edges]
    first = ranks.index(min(ranks))
    return (*edges[first:], *edges[:first])


def _is_kept(part: PiecePart, name: str, lines: dict[str, Path], one: Edges, other: Edges) -> bool:
    """Whether the first of two sides is the part."""
    sides = [{edge.name for edge in side} for side in (one, other)]
    if part.keep is not None:
        having = [part.keep in names for names in sides]
        if having[0] == having[1]:
            both = f"{part.keep} lies on both sides of {name}" if having[0] else f"it has no edge {part.keep}"
            known = sorted((sides[0] ^ sides[1]) - {name})
            raise PartError(
                "keep-on-both-sides" if having[0] else "unknown-edge",
                name,
                f"{both}, so that it does not say which part is kept.",
                f"Let keep name an edge that lies on one side: {', '.join(known)}."
                if having[0]
                else did_you_mean(part.keep, known),
                part.keep,
                ", ".join(known),
            )
        return having[0]
    before = part.lines[0]
    if name != before:
        return before in sides[0]
    return nearer(lines[part.lines[1]], one, other)


def _less(drawn: DrawnPiece, name: str, kept: Edges, other: Edges) -> DrawnPiece:
    """A piece without what lies on the other side of a line."""
    names = [edge.name for edge in kept]
    for twice in dict.fromkeys(edge for edge in names if names.count(edge) > 1):
        raise PartError(
            "edge-in-two",
            name,
            f"{name} would leave two stretches of {twice}.",
            f"Draw {twice} as two edges with a corner between, or keep the other side.",
        )
    notches = []
    for edge in kept:
        if edge.name == name:
            continue
        whole = drawn.edge(edge.name).path
        low = nearest_on_path(whole, edge.path[0].start)[2] if edge.path != whole else 0.0
        high = low + path_length_mm(edge.path)
        for notch in drawn.notches:
            if notch.edge == edge.name and low - _CORNER_MM <= notch.at_mm <= high + _CORNER_MM:
                at_mm = min(max(notch.at_mm - low, 0.0), high - low)
                notches.append(msgspec.structs.replace(notch, at_mm=at_mm))
    inside: list[InsideLine] = [part for line in drawn.inside if line.name != name for part in apart(line, kept, other)]
    points = tuple(mark for mark in drawn.points if nearer((Line(mark.place, mark.place),), kept, other))
    return msgspec.structs.replace(drawn, edges=kept, notches=tuple(notches), inside=tuple(inside), points=points)

"""Masters drawn anew: a piece as read, changed, and written as SVG again."""

import math
from collections.abc import Callable, Iterable
from itertools import pairwise

import msgspec

from pipeline.geometry.curves import Arc, Cubic, Line, Path, Segment, mapped_path, path_length_mm, point_along
from pipeline.geometry.points import Affine, Point, Vector
from pipeline.model.pieces import DrawnPiece, Edge, GrainLine, InsideLine, MarkPoint, Notch

replace = msgspec.structs.replace
_ARC_PARTS = 16
_PAPER_MM = 3000
_AS_IT_IS = Affine()


def master_text(drawn: DrawnPiece, wrapped: Affine = _AS_IT_IS, name: str = "data-name") -> str:
    """The SVG of a piece; `wrapped` is a transform around everything, `name` the attribute for names."""
    placed = dict.fromkeys((notch.name, notch.place) for notch in drawn.notches)
    points = [
        _path(point.name, (Line(*point.slit),), name) if point.slit else _dot(point.name, point.place, 2, name)
        for point in drawn.points
    ]
    groups: dict[str, Iterable[str]] = {
        "seam": [_path(edge.name, edge.path, name) for edge in drawn.edges],
        "notches": [_dot(of, place, 1, name) for of, place in placed],
        "grain": [_path("grain", (Line(drawn.grain.bottom, drawn.grain.top),), name)],
        "inside": [_path(line.name, line.path, name) for line in drawn.inside],
        "points": points,
        "anchor": [_dot("anchor", drawn.anchor, 1, name)],
    }
    matrix = " ".join(f"{value:.9g}" for value in wrapped)
    body = "\n".join(f'<g id="{group}">{"".join(objects)}</g>' for group, objects in groups.items())
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{_PAPER_MM}mm" height="{_PAPER_MM}mm" '
        f'viewBox="0 0 {_PAPER_MM} {_PAPER_MM}">\n<g transform="matrix({matrix})">\n{body}\n</g>\n</svg>\n'
    )


def _path(of: str | None, path: Path, name: str) -> str:
    words = [f"M{_place(path[0].start)}", *map(_command, path)]
    return f'<path{_named(of, name)} d="{" ".join(words)}"/>'


def _dot(of: str | None, centre: Point, radius: float, name: str) -> str:
    return f'<circle{_named(of, name)} cx="{centre.x:.4f}" cy="{centre.y:.4f}" r="{radius:g}"/>'


def _named(of: str | None, name: str) -> str:
    return f' {name}="{of}"' if of else ""


def _place(point: Point) -> str:
    return f"{point.x:.4f},{point.y:.4f}"


def _command(segment: Segment) -> str:
    if isinstance(segment, Line):
        return f"L{_place(segment.end)}"
    if isinstance(segment, Cubic):
        return f"C{_place(segment.control1)} {_place(segment.control2)} {_place(segment.end)}"
    radius, turn = segment.u.length, segment.sweep_rad * segment.u.cross(segment.v)
    flags = f"{int(abs(segment.sweep_rad) > math.pi)} {int(turn > 0)}"
    return f"A{radius:.4f},{radius:.4f} 0 {flags} {_place(segment.end)}"


def mapped(drawn: DrawnPiece, affine: Affine) -> DrawnPiece:
    """The piece moved, turned, mirrored or scaled as a whole."""

    def mark(point: MarkPoint) -> MarkPoint:
        slit = None if point.slit is None else (affine.point(point.slit[0]), affine.point(point.slit[1]))
        return replace(point, place=affine.point(point.place), slit=slit)

    return replace(
        drawn,
        edges=tuple(Edge(edge.name, mapped_path(edge.path, affine)) for edge in drawn.edges),
        notches=tuple(replace(notch, place=affine.point(notch.place)) for notch in drawn.notches),
        grain=GrainLine(affine.point(drawn.grain.bottom), affine.point(drawn.grain.top)),
        inside=tuple(replace(line, path=mapped_path(line.path, affine)) for line in drawn.inside),
        points=tuple(map(mark, drawn.points)),
        anchor=affine.point(drawn.anchor),
    )


def split(cubic: Cubic, t: float) -> tuple[Cubic, Cubic]:
    """Both parts of a cubic, by de Casteljau's construction."""

    def between(a: Point, b: Point) -> Point:
        return a.plus(a.to(b).scaled(t))

    a, b = between(cubic.start, cubic.control1), between(cubic.control1, cubic.control2)
    c = between(cubic.control2, cubic.end)
    d, e = between(a, b), between(b, c)
    middle = between(d, e)
    return Cubic(cubic.start, a, d, middle), Cubic(middle, e, c, cubic.end)


def as_cubics(path: Path) -> tuple[Cubic, ...]:
    """The same path in cubics: a line exactly, an arc in parts within 1e-6 mm."""
    return tuple(cubic for segment in path for cubic in _cubics(segment))


def _cubics(segment: Segment) -> tuple[Cubic, ...]:
    if isinstance(segment, Cubic):
        return (segment,)
    if isinstance(segment, Line):
        return (Cubic(segment.start, segment.at(1 / 3), segment.at(2 / 3), segment.end),)
    handle = 4 / 3 * math.tan(segment.sweep_rad / _ARC_PARTS / 4) / segment.sweep_rad
    steps = [i / _ARC_PARTS for i in range(_ARC_PARTS + 1)]
    return tuple(
        Cubic(
            segment.at(s),
            segment.at(s).plus(segment.derivative(s).scaled(handle)),
            segment.at(t).plus(segment.derivative(t).scaled(-handle)),
            segment.at(t),
        )
        for s, t in pairwise(steps)
    )


def with_path(drawn: DrawnPiece, name: str, path: Path) -> DrawnPiece:
    """The piece with another path for one edge; its notches stay at their shares of it."""
    edge = drawn.edge(name)
    before, after = path_length_mm(edge.path), path_length_mm(path)

    def notch(mark: Notch) -> Notch:
        if mark.edge != name:
            return mark
        at_mm = mark.at_mm * after / before
        return replace(mark, at_mm=at_mm, place=point_along(path, at_mm)[0])

    return replace(
        drawn,
        edges=tuple(Edge(name, path) if e.name == name else e for e in drawn.edges),
        notches=tuple(map(notch, drawn.notches)),
    )


def with_corner(drawn: DrawnPiece, index: int, by: Vector) -> DrawnPiece:
    """The corner at the end of an edge moved; both edges there follow with their handles."""
    before, after = drawn.edges[index], drawn.edges[(index + 1) % len(drawn.edges)]
    first, second = _curved(before.path), _curved(after.path)
    last, start = first[-1], second[0]
    if isinstance(last, Line):
        moved_last: Segment = Line(last.start, last.end.plus(by))
    else:
        moved_last = Cubic(last.start, last.control1, last.control2.plus(by), last.end.plus(by))
    if isinstance(start, Line):
        moved_start: Segment = Line(start.start.plus(by), start.end)
    else:
        moved_start = Cubic(start.start.plus(by), start.control1.plus(by), start.control2, start.end)
    moved = with_path(drawn, before.name, (*first[:-1], moved_last))
    return with_path(moved, after.name, (moved_start, *second[1:]))


def _curved(path: Path) -> tuple[Line | Cubic, ...]:
    """Lines and cubics as they are, arcs as cubics."""
    return tuple(part for s in path for part in (_cubics(s) if isinstance(s, Arc) else (s,)))


def bulged(path: Path, height_mm: float) -> Path:
    """The path pushed sideways in its middle, ends and corners kept: by height · sin² of the share of its chord."""
    start, chord = path[0].start, path[0].start.to(path[-1].end)
    away = chord.unit().left()

    def moved(place: Point) -> Point:
        share = min(1.0, max(0.0, start.to(place).dot(chord) / chord.dot(chord)))
        return place.plus(away.scaled(height_mm * math.sin(math.pi * share) ** 2))

    cubics = [part for cubic in as_cubics(path) for half in split(cubic, 0.5) for part in split(half, 0.5)]
    return tuple(Cubic(*map(moved, (c.start, c.control1, c.control2, c.end))) for c in cubics)


def lengthened(path: Path, by_mm: float) -> Path:
    """The path bulged until it is so much longer (or shorter). Raises ValueError where that takes more than 80 mm."""
    wanted = path_length_mm(path) + by_mm
    for side in (1.0, -1.0):
        low, high = 0.0, side * 80.0

        def excess(height: float) -> float:
            return path_length_mm(bulged(path, height)) - wanted

        if (excess(low) > 0) == (excess(high) > 0):
            continue
        for _ in range(40):
            middle = (low + high) / 2
            low, high = (low, middle) if (excess(middle) > 0) == (excess(high) > 0) else (middle, high)
        return bulged(path, high)
    raise ValueError(f"no bulge makes it {by_mm:+g} mm")


def turned_about(angle_deg: float, centre: Point) -> Affine:
    """A turn about a place, clockwise on the page."""
    cosine, sine = math.cos(math.radians(angle_deg)), math.sin(math.radians(angle_deg))
    x, y = centre
    return Affine(cosine, sine, -sine, cosine, x - cosine * x + sine * y, y - sine * x - cosine * y)


def with_line(drawn: DrawnPiece, name: str, change: Callable[[InsideLine], InsideLine]) -> DrawnPiece:
    """The piece with one inside line changed."""
    return replace(drawn, inside=tuple(change(line) if line.name == name else line for line in drawn.inside))

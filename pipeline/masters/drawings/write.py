"""A master as SVG, cut out of a drawing: in mm, by its content alone, each object with what it is in the drawing.

Nothing of it depends on what else the drawing holds, as line numbers would: a change of one size leaves the masters of
the others as they are, to the byte.
"""

import math
import re
from collections.abc import Iterable, Mapping

import msgspec

from pipeline.geometry.curves import Arc, Cubic, Line, Path, Segment
from pipeline.geometry.points import Point, Vector
from pipeline.masters.svg.path_data import Subpath
from pipeline.masters.svg.tree import CUT_FROM

_DECIMALS = 6
_HEAD = re.compile(rb"<!-- cut out of (\[.*?\]) -->\n")
_PAGE_MM = 1000
_ESCAPED = str.maketrans({"&": "&amp;", "<": "&lt;", ">": "&gt;", "\n": "&#10;", "\r": "&#13;", "\t": "&#9;"})


class Origin(msgspec.Struct, frozen=True, array_like=True):
    """Where a master was cut out: the drawing, relative to the pattern's folder, and the layers of the piece."""

    file: str
    way: str


class Written(msgspec.Struct, frozen=True):
    """One object of a master: its name, what it is in the drawing, and its strokes, or a rectangle's four corners."""

    name: str | None
    cut_from: str
    strokes: tuple[Subpath, ...]
    rectangle: bool = False


def master_svg(origin: Origin, groups: Mapping[str, Iterable[Written]]) -> bytes:
    """The text of a master."""
    lines = [
        f"<!-- cut out of {_comment(origin)} -->",
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{_PAGE_MM}mm" height="{_PAGE_MM}mm"'
        f' viewBox="0 0 {_PAGE_MM} {_PAGE_MM}">',
    ]
    for group, objects in groups.items():
        lines += [f'<g id="{group}">', *map(_object, objects), "</g>"]
    return "\n".join([*lines, "</svg>", ""]).encode()


def origin_of(master: bytes) -> Origin | None:
    """Where a master was cut out; None for one that a designer drew as a file."""
    head = _HEAD.match(master[:2_000])
    try:
        return msgspec.json.decode(head[1], type=Origin) if head else None
    except msgspec.MsgspecError:
        return None


def _comment(origin: Origin) -> str:
    """As JSON, in which two hyphens, which end a comment, are spelled out."""
    way = origin.way[:300]
    return msgspec.json.encode(Origin(origin.file, way)).decode().replace("--", "-\\u002d").replace(">", "\\u003e")


def _object(written: Written) -> str:
    said = f" data-name={quoted(written.name)}" if written.name else ""
    said += f" {CUT_FROM}={quoted(written.cut_from)}"
    if written.rectangle:
        return f"<rect{said} {_rectangle(written.strokes[0])}/>"
    return f'<path{said} d="{" ".join(map(_stroke, written.strokes))}"/>'


def quoted(text: str) -> str:
    """A text as the value of an attribute, in quotes (XML 1.0, 3.3.3: white space but spaces is kept as a reference).

    The standard library's own loads what reads from networks, which takes longer than a drawing takes to parse.
    """
    text = text.translate(_ESCAPED)
    if '"' not in text:
        return f'"{text}"'
    return f"'{text}'" if "'" not in text else '"{}"'.format(text.replace('"', "&quot;"))


def _rectangle(stroke: Subpath) -> str:
    a, b, _, d = (segment.start for segment in stroke.segments)
    along, down = a.to(b), a.to(d)
    matrix = " ".join(map(_number, (*along.unit(), *down.unit(), *a)))
    return f'width="{_number(along.length)}" height="{_number(down.length)}" transform="matrix({matrix})"'


def _stroke(stroke: Subpath) -> str:
    words = [f"M{_place(stroke.start)}", *(word for segment in stroke.segments for word in _segment(segment))]
    return " ".join(words) + ("Z" if stroke.closed else "")


def path_stroke(path: Path) -> Subpath:
    """An open stroke along a path."""
    return Subpath(path[0].start, path, False)


def _segment(segment: Segment) -> list[str]:
    if isinstance(segment, Line):
        return [f"L{_place(segment.end)}"]
    if isinstance(segment, Cubic):
        return [f"C{_place(segment.control1)} {_place(segment.control2)} {_place(segment.end)}"]
    return _arc(segment)


def _arc(arc: Arc) -> list[str]:
    """An arc of any ellipse in parts of less than half a turn, so that its flags are never in doubt."""
    major, minor = _axes(arc.u, arc.v)
    turned = math.degrees(math.atan2(major.dy, major.dx))
    clockwise = int(arc.sweep_rad * arc.u.cross(arc.v) > 0)
    shape = f"A{_number(major.length)},{_number(minor.length)} {_number(turned)} 0 {clockwise}"
    parts = max(1, math.ceil(abs(arc.sweep_rad) / 3.0))
    return [f"{shape} {_place(arc.at((i + 1) / parts))}" for i in range(parts)]


def _axes(u: Vector, v: Vector) -> tuple[Vector, Vector]:
    """The half axes of the ellipse of two conjugate half diameters (Rytz's construction, in closed form)."""
    angle = math.atan2(2 * u.dot(v), u.dot(u) - v.dot(v)) / 2
    cos, sin = math.cos(angle), math.sin(angle)
    first = Vector(u.dx * cos + v.dx * sin, u.dy * cos + v.dy * sin)
    second = Vector(v.dx * cos - u.dx * sin, v.dy * cos - u.dy * sin)
    return first, second


def _place(point: Point) -> str:
    return f"{_number(point.x)},{_number(point.y)}"


def _number(value: float) -> str:
    text = f"{value:.{_DECIMALS}f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text

"""Patterns drawn again as designers keep them: one drawing a size, or one in which every size is a layer.

Outlines become one closed path, or parts without a name; edges are then said by `around` or by texts.
"""

import math
from collections.abc import Callable, Iterable, Mapping
from pathlib import Path
from xml.sax.saxutils import escape, quoteattr

import msgspec

from pipeline.geometry.curves import Arc, Cubic, Line, flattened
from pipeline.geometry.curves import Path as Curve
from pipeline.geometry.points import Affine, Point, bounds
from pipeline.masters.drawings.outline import outline_of
from pipeline.masters.lookup import master_files
from pipeline.masters.read_size import read_size
from pipeline.masters.toml.load import load_pattern
from pipeline.model.pattern import Pattern
from pipeline.model.pieces import DrawnPiece
from tests.bench.masters import mapped

Name = Callable[[str], str]
"""How an editor writes the name of a group, as attributes."""


class ByLabel:
    """An editor that numbers its ids and keeps names in an attribute of its own, beside a style for what is shown."""

    def __init__(self) -> None:
        self.count = 1000

    def __call__(self, name: str) -> str:
        self.count += 7
        return f'id="g{self.count}" layers:label={quoteattr(name)} style="display:inline"'


class ByEscapedId:
    """An editor that keeps names in ids, which must be written in few characters and no two alike."""

    def __init__(self) -> None:
        self.used: dict[str, int] = {}

    def __call__(self, name: str) -> str:
        spelled = "".join(c if (c.isalnum() and c.isascii()) or c == "-" else f"_x{ord(c):02X}_" for c in name)
        spelled = f"_x{ord(spelled[0]):02X}_{spelled[1:]}" if spelled[0].isdigit() else spelled
        count = self.used[spelled] = self.used.get(spelled, -1) + 1
        return f'id="{spelled}{f"_{count}_" if count else ""}"'


class ByDataName:
    """An editor that writes an id of its own and the name beside it."""

    def __init__(self) -> None:
        self.count = 0

    def __call__(self, name: str) -> str:
        self.count += 1
        return f'id="layer-{self.count}" data-name={quoteattr(name)}'


class Redrawn(msgspec.Struct):
    """Every master of a pattern as read, by size, set or all, and piece; and what `around` says of each piece."""

    pattern: Pattern
    drawn: dict[tuple[str, str], DrawnPiece]
    around: dict[str, tuple[str, ...]]


def read_masters(folder: Path) -> Redrawn:
    """Each master file once."""
    pattern, _ = load_pattern(folder)
    assert pattern is not None
    drawn: dict[tuple[str, str], DrawnPiece] = {}
    for size in pattern.sizes:
        files = {
            file for piece, file in master_files(pattern, folder, size).items() if not pattern.pieces[piece].source
        }
        for piece in read_size(pattern, folder, size)[0]:
            if piece.file in files and pattern.pieces[piece.piece].source is None:
                drawn.setdefault((piece.file.split("/")[1], piece.piece), piece)
    return Redrawn(pattern, drawn, {})


def corner_marks(piece: DrawnPiece) -> list[Point]:
    """Ends of edges where the outline does not turn enough to be seen as a corner."""
    nodes = outline_of(piece.edges, splits=True).nodes
    return [node.place for node in nodes if node.split and not node.sharp]


def around(piece: DrawnPiece) -> tuple[str, ...]:
    """The names of the parts between corners, clockwise from the mark "first" at the first edge's start."""
    outline = outline_of(piece.edges, splits=True)
    names = [edge.name for edge in piece.edges for _ in edge.path]
    return tuple(name for name, node in zip(names, outline.nodes, strict=True) if node.corner)


def group(name: Name, said: str, objects: Iterable[str]) -> str:
    return f"<g {name(said)}>{''.join(objects)}</g>"


def piece_groups(piece: DrawnPiece, name: Name, marks: bool = True) -> str:
    """A piece as a closed outline with its marks, in groups of roles."""
    outline = tuple(segment for edge in piece.edges for segment in edge.path)
    turned = outline[len(outline) // 2 :] + outline[: len(outline) // 2]  # it begins where a drawing program pleases
    notches = {(notch.name, notch.place) for notch in piece.notches}
    objects = {
        "seam": [f'<path d="{path_data(turned)}Z"/>'],
        "notches": [dot(of or "", place, 1) for of, place in sorted(notches, key=lambda n: (n[0] or "", n[1]))],
        "grain": [f'<path d="{path_data((Line(piece.grain.bottom, piece.grain.top),))}"/>'],
        "inside": [
            f'<path data-name="{line.name or ""}" d="{path_data(line.path)}{"Z" if line.closed else ""}"/>'
            for line in piece.inside
        ],
        "points": [
            f'<path data-name="{point.name or ""}" d="{path_data((Line(*point.slit),))}"/>'
            if point.slit
            else dot(point.name or "", point.place, 2)
            for point in piece.points
        ],
        "anchor": [dot("", piece.anchor, 1)],
        "corners": [dot("first", piece.edges[0].path[0].start, 1)]
        + [dot("", place, 1) for place in corner_marks(piece) if place != piece.edges[0].path[0].start]
        if marks
        else [],
    }
    return "".join(group(name, role, there) for role, there in objects.items() if there)


def texts(piece: DrawnPiece) -> list[str]:
    """A text beside the middle of every part of the outline."""
    outline = outline_of(piece.edges, splits=True)
    names = [edge.name for edge in piece.edges for _ in edge.path]
    corners = [i for i, node in enumerate(outline.nodes) if node.corner]
    found = []
    for first, last in zip(corners, (*corners[1:], corners[0]), strict=True):
        places = flattened(outline.part(first, last), 0.05)
        middle = (
            places[len(places) // 2]
            if len(places) > 2
            else Point((places[0].x + places[-1].x) / 2, (places[0].y + places[-1].y) / 2)
        )
        found.append(f'<text x="{middle.x:.3f}" y="{middle.y:.3f}" font-size="5">{escape(names[first])}</text>')
    return found


def svg(body: str, width_mm: float = 3000, height_mm: float = 3000) -> str:
    return (
        '<svg xmlns="http://www.w3.org/2000/svg" xmlns:layers="https://example.org/layers" '
        f'width="{width_mm:g}mm" height="{height_mm:g}mm" viewBox="0 0 {width_mm:g} {height_mm:g}">\n{body}\n</svg>\n'
    )


def side_by_side(pieces: Mapping[str, DrawnPiece]) -> dict[str, DrawnPiece]:
    """Pieces in a row, each moved as a whole."""
    moved, x = {}, 20.0
    for key, piece in pieces.items():
        places = [place for edge in piece.edges for place in flattened(edge.path, 0.5)]
        left, top, right, _ = bounds(places)
        moved[key] = mapped(piece, Affine(e=x - left, f=20.0 - top))
        x += right - left + 30.0
    return moved


def path_data(path: Curve) -> str:
    words = [f"M{path[0].start.x:.4f},{path[0].start.y:.4f}"]
    for segment in path:
        end = f"{segment.end.x:.4f},{segment.end.y:.4f}"
        if isinstance(segment, Line):
            words.append(f"L{end}")
        elif isinstance(segment, Cubic):
            a, b = segment.control1, segment.control2
            words.append(f"C{a.x:.4f},{a.y:.4f} {b.x:.4f},{b.y:.4f} {end}")
        else:
            assert isinstance(segment, Arc)
            radius, clockwise = segment.u.length, segment.sweep_rad * segment.u.cross(segment.v) > 0
            large = abs(segment.sweep_rad) > math.pi
            words.append(f"A{radius:.5f},{radius:.5f} 0 {int(large)} {int(clockwise)} {end}")
    return " ".join(words)


def dot(name: str, place: Point, radius: float) -> str:
    said = f" data-name={quoteattr(name)}" if name else ""
    return f'<circle{said} cx="{place.x:.4f}" cy="{place.y:.4f}" r="{radius:g}"/>'


def with_drawings(text: str, around_of: Mapping[str, tuple[str, ...]], globs: Iterable[str]) -> str:
    """The pattern.toml of a pattern that is drawn so."""
    said = ", ".join(f'"{glob}"' for glob in globs)
    for piece, names in around_of.items():
        row = ", ".join(f'"{name}"' for name in names)
        head = f"[pieces.{piece}]\n"
        assert head in text
        text = text.replace(head, f'{head}around = [{row}]\nstart = "first"\n')
    return f"{text}\n[masters]\ndrawings = [{said}]\n"

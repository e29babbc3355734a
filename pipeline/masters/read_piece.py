"""One master SVG to one piece of one size: its outline and marks, or everything that is wrong with the file."""

from pipeline.masters.groups import GROUPS, grouped, outermost_names
from pipeline.masters.marks import (
    STRAIGHT_MM,
    bend_mm,
    read_anchor,
    read_grain,
    read_inside,
    read_label,
    read_points,
)
from pipeline.masters.notches import read_notches
from pipeline.masters.outline import outline_edges
from pipeline.masters.svg.fault import SvgFault
from pipeline.masters.svg.reading import FileUnusableError, Reading
from pipeline.masters.svg.tree import parse_svg
from pipeline.masters.svg.walk import Shape, drawn_objects
from pipeline.model.findings import Finding
from pipeline.model.pattern import Pattern
from pipeline.model.piece_specs import PieceSpec
from pipeline.model.pieces import DrawnPiece, Edge


def read_piece(
    pattern: Pattern, piece: PieceSpec, size: str, file: str, data: bytes
) -> tuple[DrawnPiece | None, tuple[Finding, ...]]:
    """Reads the bytes of a master. `file` is relative to the pattern's folder.

    Returns the piece, or None where anything found blocks, and all findings. Never raises for the file's content.
    """
    reading = Reading(pattern.name, size, piece.name, file)
    drawn: DrawnPiece | None = None
    try:
        shapes, _ = drawn_objects(parse_svg(data), reading, pattern.pixels_per_inch)
        drawn = _piece(shapes, piece, size, file, reading)
    except SvgFault as fault:
        reading.tell_fault(fault)
    except FileUnusableError:
        pass
    if drawn is None and not reading.blocked:
        reading.tell(
            "piece-lost",
            "The master could not be read, and the program does not know why: that is its own fault, please report it.",
            "Compare the file with that of another size, and give paths and groups plain names.",
        )
    return None if reading.blocked else drawn, reading.findings()


def _piece(shapes: tuple[Shape, ...], piece: PieceSpec, size: str, file: str, reading: Reading) -> DrawnPiece | None:
    groups = grouped(shapes, reading)
    if not groups["seam"] and not reading.incomplete:
        names = outermost_names(shapes)
        reading.tell(
            "seam-missing",
            "No object lies in a group called seam"
            + (f"; the file's groups are {', '.join(names[:10])}." if names else "; the file has no named group."),
            "Put the edges of the seam line into a group (or layer) called seam.",
            found=", ".join(names[:10]) or "no named group",
            allowed=f"groups called {', '.join(GROUPS)}",
        )
    edges = () if reading.incomplete else outline_edges(groups["seam"], reading)
    points, label = read_points(groups["points"], reading), read_label(groups["label"], reading)
    inside = read_inside(groups["inside"], edges, piece, reading)
    if not edges:
        return None
    _check_folds(edges, piece, reading)
    notches = read_notches(groups["notches"], edges, piece, reading)
    grain = read_grain(groups["grain"], edges, reading)
    anchor = read_anchor(groups["anchor"], edges, piece, grain, reading) if grain else None
    if grain is None or anchor is None:
        return None
    return DrawnPiece(
        piece=piece.name,
        size=size,
        file=file,
        edges=edges,
        notches=notches,
        grain=grain,
        inside=inside,
        points=points,
        label=label,
        anchor=anchor,
    )


def _check_folds(edges: tuple[Edge, ...], piece: PieceSpec, reading: Reading) -> None:
    for edge in edges:
        if edge.name not in piece.edges or not piece.edges[edge.name].fold:
            continue
        bend = bend_mm(edge.path)
        if bend > STRAIGHT_MM or len(edges) == 1:
            reading.tell(
                "fold-bent",
                f'The edge "{edge.name}" lies on the fold but strays {bend:.2f} mm from a straight line.',
                "Draw the fold edge as one straight line between its two corners.",
                where=edge.name,
                object=f'edge "{edge.name}"',
                found=f"{bend:.2f} mm",
                allowed=f"up to {STRAIGHT_MM} mm",
            )

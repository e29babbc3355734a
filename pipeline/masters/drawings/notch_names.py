"""Notches without a name, called as those of the base size are on the same edge, in order."""

import msgspec

from pipeline.masters.drawings.pieces import Shown
from pipeline.masters.drawings.sorted_objects import DrawingReading
from pipeline.masters.notches import read_notches
from pipeline.masters.svg.walk import Shape
from pipeline.model.piece_specs import PieceSpec
from pipeline.model.pieces import Edge
from pipeline.model.texts import counted

NotchNames = dict[str, tuple[str | None, ...]]
"""What the notches of each edge are called, in walking order."""


def notch_names(spec: PieceSpec, shown: Shown, edges: tuple[Edge, ...]) -> NotchNames:
    """The notches of the base size; nothing where any of them cannot be read, which is told when the master is."""
    shapes = shown.drawn.shapes.get("notches", [])
    return {edge: tuple(shapes[i].name for i in row) for edge, row in _rows(spec, shown, edges).items()}


def _rows(spec: PieceSpec, shown: Shown, edges: tuple[Edge, ...]) -> dict[str, list[int]]:
    """The notches of every edge in walking order, by their index among the piece's notches."""
    shapes = shown.drawn.shapes.get("notches", [])
    numbered = [msgspec.structs.replace(shape, name=str(i)) for i, shape in enumerate(shapes)]
    quiet = DrawingReading(shown.reading.pattern, shown.drawn.size, spec.name, shown.drawn.file)
    notches = read_notches(numbered, edges, spec, quiet)
    if quiet.blocked:
        return {}
    rows: dict[str, list[int]] = {edge.name: [] for edge in edges}
    for notch in notches:
        rows[notch.edge].append(int(notch.name or 0))
    return rows


def named_notches(spec: PieceSpec, of_base: NotchNames, shown: Shown, edges: tuple[Edge, ...]) -> list[Shape]:
    """The notches of a size, those without a name called as the base's; what does not match is told."""
    shapes = list(shown.drawn.shapes.get("notches", []))
    if all(shape.name for shape in shapes):
        return shapes
    for edge, row in _rows(spec, shown, edges).items():
        wanted = of_base.get(edge, ())
        if not any(wanted) or all(shapes[i].name for i in row):
            continue
        if len(wanted) != len(row):
            shown.reading.tell(
                "notch-count",
                f"Edge {edge} of {spec.name} has {counted(len(row), 'notch', 'notches')}, and {len(wanted)} in the base"
                " size, so that those without a name cannot be told apart.",
                "Draw as many in both, or name each.",
                where=edge,
                found=f"{len(row)}",
                allowed=f"{len(wanted)}: {', '.join(name or 'without a name' for name in wanted)}",
            )
            continue
        for i, name in zip(row, wanted, strict=True):
            shapes[i] = msgspec.structs.replace(shapes[i], name=shapes[i].name or name)
    return shapes

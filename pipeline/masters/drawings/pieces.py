"""One piece as drawings show it in all its sizes: what kind of outline each has, and its objects read once."""

import msgspec

from pipeline.geometry.curves import Path
from pipeline.geometry.points import Point
from pipeline.masters.drawings.by_shape import UNCLEAR
from pipeline.masters.drawings.files import listed
from pipeline.masters.drawings.outline import MARK_MM, Outline, off_outline_mm, outline_of
from pipeline.masters.drawings.sorted_objects import DrawingReading, Drawn
from pipeline.masters.marks import box_round, small_centre
from pipeline.masters.notches import read_notches
from pipeline.masters.outline import outline_edges
from pipeline.masters.svg.path_ends import without_dust
from pipeline.masters.svg.walk import Shape
from pipeline.model.pattern import Pattern
from pipeline.model.piece_specs import PieceSpec
from pipeline.model.pieces import Edge


class Shown(msgspec.Struct):
    """A piece in one size: its outline where that could be read, whole where its edges have no names of their own.

    `start` is the place of the mark that the piece says its edges begin at; `notches_mm` are places along the outline.
    `made_from` is a digest of all that the outline was made from.
    """

    drawn: Drawn
    reading: DrawingReading
    nameless: bool
    outline: Outline | None = None
    names: tuple[str, ...] = ()
    notches_mm: tuple[float, ...] = ()
    start: Point | None = None
    made_from: str = ""


def show(pattern: Pattern, spec: PieceSpec, drawn: Drawn) -> Shown:
    """Reads the outline of a piece in one size. Faults of a nameless outline are told; named ones are read later."""
    reading = reading_of(pattern, spec, drawn)
    seam = drawn.shapes.get("seam", [])
    nameless = bool(seam) and (_one_closed(seam) or not any(shape.name for shape in seam))
    shown = Shown(drawn, reading, nameless)
    if UNCLEAR in drawn.shapes:
        _tell_unclear(drawn, reading)
        return shown
    if not nameless:
        if seam and all(shape.name for shape in seam):
            quiet = reading_of(pattern, spec, drawn)
            if edges := outline_edges(seam, quiet):
                shown.outline = outline_of(edges, splits=True)
                shown.names = tuple(edge.name for edge in edges for _ in edge.path)
                shown.notches_mm = _notches_mm(spec, drawn, edges, quiet)
        return shown
    numbered = [msgspec.structs.replace(shape, name=f"part-{i + 1}") for i, shape in enumerate(seam)]
    edges = outline_edges(numbered, reading)
    if edges:
        shown.outline = outline_of(edges, _marks(shown, spec, edges))
        shown.notches_mm = _notches_mm(spec, drawn, edges, reading_of(pattern, spec, drawn))
    return shown


def _tell_unclear(drawn: Drawn, reading: DrawingReading) -> None:
    boxes = [box_round(shape) for shape in drawn.shapes[UNCLEAR]]
    one, other = (f"{box.right - box.left:.0f} × {box.bottom - box.top:.0f} mm" for box in boxes)
    reading.tell(
        "outline-unclear",
        f"Two lines in {drawn.way} may be the seam line, one of {one} and one of {other}.",
        "Close the seam line, and take a cut line out; or put the seam line into a group called seam. Where they are"
        " two pieces, give each outline the name of its piece.",
        node=drawn.shapes[UNCLEAR][0].node,
        found=f"{one}; {other}",
        allowed="one seam line",
    )


def reading_of(pattern: Pattern, spec: PieceSpec, drawn: Drawn) -> DrawingReading:
    """Where findings of a piece in one size, or in a set of sizes, go."""
    size = drawn.size if drawn.size in pattern.sizes else None
    return DrawingReading(pattern.name, size, spec.name, drawn.file)


def _notches_mm(spec: PieceSpec, drawn: Drawn, edges: tuple[Edge, ...], quiet: DrawingReading) -> tuple[float, ...]:
    """How far along the outline notches stand; what is wrong with one is told when the master is read."""
    whole = (Edge("outline", tuple(segment for edge in edges for segment in edge.path)),)
    return tuple(notch.at_mm for notch in read_notches(drawn.shapes.get("notches", []), whole, spec, quiet))


def _one_closed(seam: list[Shape]) -> bool:
    if len(seam) != 1 or len(seam[0].strokes) != 1 or not seam[0].strokes[0].segments:
        return False
    stroke = seam[0].strokes[0]
    path = without_dust(stroke.segments)
    return stroke.closed or path[0].start.distance(path[-1].end) <= MARK_MM / 10


def _marks(shown: Shown, spec: PieceSpec, edges: tuple[Edge, ...]) -> list[Point]:
    """The centres of marks in the group of corners; one that lies off the outline is told."""
    path = tuple(segment for edge in edges for segment in edge.path)
    marks = []
    for shape in shown.drawn.shapes.get("corners", []):
        centre = small_centre(shape, "mark of a corner", shown.reading)
        if centre is None:
            continue
        away = off_outline_mm(path, centre)
        if away > MARK_MM:
            shown.reading.tell(
                "corner-off-seam",
                f"A mark of a corner at ({centre.x:.2f}, {centre.y:.2f}) mm lies {away:.2f} mm from the outline.",
                "Move it onto the seam line, or delete it.",
                node=shape.node,
                found=f"{away:.2f} mm",
                allowed=f"within {MARK_MM:g} mm",
            )
            continue
        marks.append(centre)
        if spec.start is not None and shape.name == spec.start:
            shown.start = centre
    return [*marks, *_corner_notches(shown, spec, path)]


def _corner_notches(shown: Shown, spec: PieceSpec, path: Path) -> list[Point]:
    """The places of the notches that the piece says are corners; one that this size does not have is told."""
    notches = {shape.name: shape for shape in shown.drawn.shapes.get("notches", []) if shape.name}
    found = []
    for name in spec.corners:
        if name not in notches:
            shown.reading.tell(
                "corner-notch",
                f"pieces.{spec.name}.corners names the notch {name}, which the piece does not have in size"
                f" {shown.drawn.size}.",
                f"Give the notch at that corner the name {name} in this size too, or take it out of corners.",
                object=f"notches in {shown.drawn.way}",
                found=listed(notches) or "no notch with a name",
                allowed=name,
            )
            continue
        centre = small_centre(notches[name], "notch", shown.reading)
        if centre is None or off_outline_mm(path, centre) > MARK_MM:
            continue  # told when notches are read
        found.append(centre)
        if name == spec.start:
            shown.start = centre
    return found

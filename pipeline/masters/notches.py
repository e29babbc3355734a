"""Notches: each on the nearest point of the nearest edge, at a corner on both."""

from pipeline.geometry.curves import Line, arc_lengths_mm, flattened, nearest_on_path
from pipeline.geometry.points import Point
from pipeline.masters.groups import mark_name
from pipeline.masters.marks import small_centre, too_many_marks
from pipeline.masters.outline import CROSSING_ERROR_MM
from pipeline.masters.svg.reading import Reading
from pipeline.masters.svg.walk import Shape
from pipeline.model.piece_specs import PieceSpec
from pipeline.model.pieces import Edge, Notch

NOTCH_MM = 1.0
"""How far the centre of a notch, or one end of a straight stroke, may lie from the seam line."""
CORNER_MM = 0.5
"""A notch this near to a corner, along the edge, stands at the corner."""
MOST_NOTCHES = 150
MOST_CANDIDATES = 12
"""Chords whose curves are measured for one notch; more are near only where segments are as short as chord errors."""


def read_notches(shapes: list[Shape], edges: tuple[Edge, ...], spec: PieceSpec, reading: Reading) -> tuple[Notch, ...]:
    """The notches, in the order of the edges and along them."""
    if not shapes:
        return ()
    if too_many_marks("notches", len(shapes), MOST_NOTCHES, reading):
        return ()
    seam = _Seam(edges)
    notches: list[Notch] = []
    for shape in shapes:
        centre, name = small_centre(shape, "notch", reading), mark_name(shape, reading)
        if centre is None:
            continue
        distance, index, at_mm, place = seam.nearest(centre)
        if distance > NOTCH_MM:
            on_seam = [found for end in _ends(shape) if (found := seam.nearest(end))[0] <= NOTCH_MM]
            if len(on_seam) != 1:
                _tell_stray(shape, centre, distance, edges[index].name, reading)
                continue
            ((_, index, at_mm, place),) = on_seam  # a stroke that begins on the seam line
        style = spec.notches.get(name or "", "single")
        for on, along, point in seam.standing(index, at_mm, place):
            edge = edges[on].name
            if name and any(notch.name == name and notch.edge == edge for notch in notches):
                reading.tell(
                    "duplicate-notch",
                    f'Two notches called "{name}" stand on edge "{edge}".',
                    "Rename one of them.",
                    node=shape.node,
                    where=edge,
                    found=name,
                    allowed="every notch name once an edge",
                )
            notches.append(Notch(name, edge, along, point, style))
    order = {edge.name: i for i, edge in enumerate(edges)}
    return tuple(sorted(notches, key=lambda notch: (order[notch.edge], notch.at_mm)))


class _Seam:
    """The seam line as chords, which find the few segments that can be nearest; the curves decide."""

    def __init__(self, edges: tuple[Edge, ...]) -> None:
        import numpy as np  # shapely has loaded it for the outline

        self._edges = edges
        self._segments = [(i, segment) for i, edge in enumerate(edges) for segment in edge.path]
        along = [arc_lengths_mm(edge.path) for edge in edges]
        self._before = [before for row in along for before in row[:-1]]
        self.lengths = [row[-1] for row in along]
        chords = [flattened((segment,), CROSSING_ERROR_MM) for _, segment in self._segments]
        self._owner = np.repeat(np.arange(len(chords)), [len(chord) - 1 for chord in chords])
        self._start = np.array([place for chord in chords for place in chord[:-1]])
        self._run = np.array([place for chord in chords for place in chord[1:]]) - self._start

    def nearest(self, place: Point) -> tuple[float, int, float, Point]:
        """(distance_mm, edge, how far along it in mm, the point) nearest to a place; the first of equals."""
        import numpy as np

        from pipeline.geometry.chains import foot_shares

        here = np.array(place)
        share = foot_shares(here, self._start, self._run)
        distance = np.hypot(*(here - self._start - self._run * share[:, None]).T)
        close = np.flatnonzero(distance <= distance.min() + 4 * CROSSING_ERROR_MM)
        close = close[np.argsort(distance[close], kind="stable")][:MOST_CANDIDATES]
        near = sorted(set(self._owner[close].tolist()))
        found = []
        for index in near:
            edge, segment = self._segments[index]
            away, point, along = nearest_on_path((segment,), place)
            found.append((round(away, 9), edge, self._before[index] + along, point))
        return min(found)

    def standing(self, index: int, at_mm: float, place: Point) -> list[tuple[int, float, Point]]:
        """Where a notch stands: once, or at a corner at the end of one edge and the start of the next."""
        edges, lengths = self._edges, self.lengths
        if len(edges) > 1 and at_mm <= min(CORNER_MM, lengths[index] / 2):
            before, corner = (index - 1) % len(edges), edges[index].path[0].start
            return [(before, lengths[before], corner), (index, 0.0, corner)]
        if len(edges) > 1 and lengths[index] - at_mm <= CORNER_MM:
            after, corner = (index + 1) % len(edges), edges[index].path[-1].end
            return [(index, lengths[index], corner), (after, 0.0, corner)]
        return [(index, at_mm, place)]


def _ends(shape: Shape) -> tuple[Point, ...]:
    """Both ends of a straight stroke; nothing of another shape."""
    if len(shape.strokes) != 1 or shape.strokes[0].closed or len(shape.strokes[0].segments) != 1:
        return ()
    (segment,) = shape.strokes[0].segments
    return (segment.start, segment.end) if isinstance(segment, Line) else ()


def _tell_stray(shape: Shape, centre: Point, distance: float, edge: str, reading: Reading) -> None:
    reading.tell(
        "notch-off-seam",
        f'A notch at ({centre.x:.2f}, {centre.y:.2f}) mm lies {distance:.2f} mm from the nearest edge, "{edge}".',
        "Move it onto the seam line: its centre, or one end of a straight stroke.",
        node=shape.node,
        where=edge,
        found=f"{distance:.2f} mm",
        allowed=f"within {NOTCH_MM:g} mm",
    )

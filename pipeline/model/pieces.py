"""A piece of one size: as the designer drew it, and as it is cut. Coordinates are the master's, in mm, y down."""

from collections.abc import Iterable, Mapping

import msgspec

from pipeline.geometry.curves import Path, path_length_mm
from pipeline.geometry.points import Point
from pipeline.model.piece_specs import LineKind, NotchStyle
from pipeline.model.widths import width_at

Polyline = tuple[Point, ...]


class Edge(msgspec.Struct, frozen=True):
    """A named edge of the seam line; edges chain head to tail and walk the outline clockwise on the page."""

    name: str
    path: Path


class Notch(msgspec.Struct, frozen=True):
    """A notch on one edge. One at a corner stands twice, once for each edge, with the same name and place."""

    name: str | None
    edge: str
    at_mm: float
    place: Point
    style: NotchStyle = "single"


class InsideLine(msgspec.Struct, frozen=True):
    """A line to mark on the cloth."""

    name: str | None
    path: Path
    closed: bool
    kind: LineKind = "place"


class MarkPoint(msgspec.Struct, frozen=True):
    """A place to mark; a buttonhole has the two ends of its slit."""

    name: str | None
    place: Point
    slit: tuple[Point, Point] | None = None


class GrainLine(msgspec.Struct, frozen=True):
    """The grain: `top` is the end towards the garment's top. `drawn` is false where the page's vertical was taken."""

    bottom: Point
    top: Point
    drawn: bool = True


class DrawnPiece(msgspec.Struct, frozen=True, kw_only=True):
    """One piece of one size, as read: the seam line and what lies in it. `file` is relative to the pattern's folder.

    `label` holds the four corners of the rectangle for the text, where the designer drew one.
    """

    piece: str
    size: str
    file: str
    edges: tuple[Edge, ...]
    notches: tuple[Notch, ...] = ()
    grain: GrainLine
    inside: tuple[InsideLine, ...] = ()
    points: tuple[MarkPoint, ...] = ()
    label: tuple[Point, Point, Point, Point] | None = None
    anchor: Point

    def edge(self, name: str) -> Edge:
        """The edge of that name. Raises KeyError."""
        for edge in self.edges:
            if edge.name == name:
                return edge
        raise KeyError(name)


class GrownPart(msgspec.Struct, frozen=True):
    """The part of an edge, between two shares of it, along which something is cut in one with the piece.

    Folded back it is `width_mm` deep; its cut line lies `cut_mm` beyond the edge, the rest being turned in.
    `radius_mm`: of an end within the edge that is rounded. Both are those at its start: at its end, to which it changes
    evenly, it is `more_mm` wider.
    """

    start: float
    end: float
    width_mm: float
    cut_mm: float
    radius_mm: float | None = None
    more_mm: float = 0.0

    def wider_mm(self, share: float) -> float:
        """How much wider than at its start it is so far along the edge."""
        return self.more_mm * (share - self.start) / (self.end - self.start)

    def cut_at(self, share: float) -> float:
        """How far beyond the edge it is cut so far along that."""
        return self.cut_mm + self.wider_mm(share)

    @property
    def widths_mm(self) -> tuple[float, float]:
        """How deep it is at its start and its end."""
        return self.width_mm, self.width_mm + self.more_mm

    @property
    def turn_in_mm(self) -> float:
        return max(0.0, self.cut_mm - self.width_mm)

    @property
    def whole(self) -> bool:
        """Whether it is all of the edge."""
        return self.start == 0 and self.end == 1


class CutEdge(msgspec.Struct, frozen=True, kw_only=True):
    """One edge as cut. `length_mm` leaves out what darts and pleats take up, `gross_length_mm` counts it.

    `allowance_mm` is the one at its first point; where it is not the same all along, it changes to `allowance_end_mm`
    at its last, evenly, or smoothly by way of `allowance_between`: shares of the edge, each with the allowance there.
    `cut_line` is the part of the cut line that belongs to this edge; empty for a fold. `grown_on`: parts along which it
    is folded, and the cut line lies farther out than any allowance says, in order.
    """

    name: str
    length_mm: float
    gross_length_mm: float
    allowance_mm: float
    fold: bool
    hem: bool
    cut_line: tuple[Polyline, ...] = ()
    cut_length_mm: float = 0.0
    allowance_end_mm: float | None = None
    allowance_between: tuple[tuple[float, float], ...] = ()
    grown_on: tuple[GrownPart, ...] = ()

    @property
    def allowances(self) -> tuple[tuple[float, float], ...]:
        """Shares of the edge, first to last point, each with the allowance there."""
        end_mm = self.allowance_mm if self.allowance_end_mm is None else self.allowance_end_mm
        return ((0.0, self.allowance_mm), *self.allowance_between, (1.0, end_mm))

    def allowance_at(self, share: float) -> float:
        """The allowance so far along the edge: at 0 its first point, at 1 its last."""
        return width_at(self.allowances, share)

    def grown_at(self, share: float) -> GrownPart | None:
        """What is grown on so far along the edge; None where nothing is. At the ends of a part, it is there."""
        return next((part for part in self.grown_on if part.start <= share <= part.end), None)

    @property
    def folded(self) -> bool:
        """Whether nothing is sewn to it anywhere: it lies on the fold of the cloth, or is folded all along."""
        return self.fold or any(part.whole for part in self.grown_on)

    def folded_at(self, share: float) -> bool:
        """Whether it is folded so far along: on the fold of the cloth, or by what is grown on."""
        return self.fold or self.grown_at(share) is not None

    @property
    def tapers(self) -> bool:
        """Whether its allowance is not the same all along."""
        return self.allowance_end_mm is not None

    @property
    def widest_mm(self) -> float:
        """The largest allowance along it."""
        return max(width for _, width in self.allowances)

    @property
    def narrowest_mm(self) -> float:
        """The smallest allowance along it."""
        return min(width for _, width in self.allowances)


class Slit(msgspec.Struct, frozen=True):
    """One stroke of a notch, from the cut line inward (a slit), or across the seam line where there is no room.

    `notch` is the notch's name.
    """

    notch: str | None
    edge: str
    outer: Point
    inner: Point
    cut: bool = True


class CutPiece(msgspec.Struct, frozen=True, kw_only=True):
    """A piece of one size, ready to be drawn and cut.

    Polygons are closed without repeating the first point, clockwise on the page, chords within 0.002 mm of the curve.
    `seam_drawn` and `cut_drawn` are as drawn (half of a piece on the fold, closed along the fold); `seam_outline` and
    `cut_outline` are one layer of cloth as cut, folds opened. `fold` is the fold edge's two ends in walking order.
    `clips` are short strokes across the allowance of concave edges that must be clipped to lie flat, `turns` the lines
    in the allowances of hems on which these are folded again, and on which what is grown on is folded, `rows` those of
    stitching that is seen.
    """

    drawn: DrawnPiece
    edges: tuple[CutEdge, ...]
    seam_drawn: Polyline
    cut_drawn: Polyline
    seam_outline: Polyline
    cut_outline: Polyline
    seam_area_mm2: float
    cut_area_mm2: float
    fold: tuple[Point, Point] | None = None
    slits: tuple[Slit, ...] = ()
    clips: tuple[tuple[Point, Point], ...] = ()
    turns: tuple[InsideLine, ...] = ()
    rows: tuple[InsideLine, ...] = ()

    @property
    def inside(self) -> tuple[InsideLine, ...]:
        """All lines that are marked on the cloth: those that the designer drew, those on which hems and what is grown
        on are folded, and rows of stitching."""
        return (*self.drawn.inside, *self.turns, *self.rows)

    @property
    def piece(self) -> str:
        return self.drawn.piece

    @property
    def size(self) -> str:
        return self.drawn.size

    def edge(self, name: str) -> CutEdge:
        """The cut edge of that name. Raises KeyError."""
        for edge in self.edges:
            if edge.name == name:
                return edge
        raise KeyError(name)


class SizeFile(msgspec.Struct, frozen=True, kw_only=True):
    """All cut pieces of one size, in the order of `pattern.toml`: what a size's job hands on."""

    pattern: str
    size: str
    pieces: tuple[CutPiece, ...]


Cuts = Mapping[str, Mapping[str, CutPiece]]
"""The cut pieces of all sizes by piece, then size, both in the pattern's order."""


def by_piece(sizes: Iterable[SizeFile]) -> dict[str, dict[str, CutPiece]]:
    """What the jobs of all sizes hand on, as `Cuts`."""
    cuts: dict[str, dict[str, CutPiece]] = {}
    for file in sizes:
        for cut in file.pieces:
            cuts.setdefault(cut.piece, {})[cut.size] = cut
    return cuts


def in_size(cuts: Cuts, size: str) -> dict[str, CutPiece]:
    """The cut pieces of one size by name."""
    return {name: by_size[size] for name, by_size in cuts.items() if size in by_size}


def inside_length_mm(line: InsideLine) -> float:
    """Length of an inside line, measured on the curve."""
    return path_length_mm(line.path)

"""Pieces made up for these tests."""

from collections.abc import Sequence

from pipeline.geometry.curves import Line
from pipeline.geometry.points import Point
from pipeline.model.pattern import Pattern
from pipeline.model.piece_specs import Cut, PieceSpec
from pipeline.model.pieces import CutPiece, DrawnPiece, Edge, GrainLine, Polyline, Slit
from pipeline.sheets.stacks import LABEL_ROOM_MM, Stack, stacks_of

GROWN_MM = LABEL_ROOM_MM + 0.05
"""What a stack takes beyond its largest cut line."""


def cut_piece(
    name: str,
    outline: Sequence[tuple[float, float]],
    size: str = "38",
    anchor: tuple[float, float] = (0.0, 0.0),
    fold: tuple[Point, Point] | None = None,
    whole: Sequence[tuple[float, float]] | None = None,
    slits: tuple[Slit, ...] = (),
    grain: GrainLine | None = None,
) -> CutPiece:
    corners: Polyline = tuple(Point(*place) for place in outline)
    opened: Polyline = tuple(Point(*place) for place in whole) if whole else corners
    sides = tuple(
        Edge(f"side-{n}", (Line(a, b),))
        for n, (a, b) in enumerate(zip(corners, corners[1:] + corners[:1], strict=True))
    )
    drawn = DrawnPiece(
        piece=name,
        size=size,
        file=f"sizes/{size}/{name}.svg",
        edges=sides,
        grain=grain or GrainLine(Point(10, 50), Point(10, 10)),
        anchor=Point(*anchor),
    )
    return CutPiece(
        drawn=drawn,
        edges=(),
        seam_drawn=corners,
        cut_drawn=corners,
        seam_outline=opened,
        cut_outline=opened,
        seam_area_mm2=0.0,
        cut_area_mm2=0.0,
        fold=fold,
        slits=slits,
    )


def rectangle(width_mm: float, height_mm: float) -> list[tuple[float, float]]:
    return [(0.0, 0.0), (width_mm, 0.0), (width_mm, height_mm), (0.0, height_mm)]


def pattern(pieces: Sequence[str], sizes: tuple[str, ...] = ("38",), views: Sequence[str] = ()) -> Pattern:
    specs = {
        name: PieceSpec(
            name=name, title={"en": name}, number=number, sizes=sizes, cut=(Cut("shell", {"38": 1}, {"38": 0}),)
        )
        for number, name in enumerate(pieces, 1)
    }
    return Pattern(
        name="made-up",
        title={"en": "Made up"},
        version="1.0.0",
        maker={"en": "Invented Workroom"},
        contact={"en": "-"},
        sizes=sizes,
        base=sizes[0],
        bands=(),
        languages=("en",),
        units="metric",
        wearer="adult",
        sleepwear=False,
        licence={"en": "-"},
        pieces=specs,
    )


def stacks(*cuts: CutPiece) -> tuple[Stack, ...]:
    by_piece: dict[str, dict[str, CutPiece]] = {}
    for cut in cuts:
        by_piece.setdefault(cut.piece, {})[cut.size] = cut
    sizes = tuple(dict.fromkeys(cut.size for cut in cuts))
    return stacks_of(pattern(tuple(by_piece), sizes), by_piece)


def rectangles(*sides: tuple[float, float]) -> tuple[Stack, ...]:
    """Stacks that take exactly so much room on the sheet, the room for what is written along lines included."""
    return stacks(
        *(
            cut_piece(f"r{number}", rectangle(width - 2 * GROWN_MM, height - 2 * GROWN_MM))
            for number, (width, height) in enumerate(sides)
        )
    )

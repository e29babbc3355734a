"""Rows of stitching in the figure of a seam: their lines on the pieces, and where they lie in words."""

from collections.abc import Iterator

import shapely

from pipeline.booklet.figures.ink import ACCENT, FINE_MM, ROW_DASH_MM, lines_of
from pipeline.booklet.figures.naming import numbered, topstitch_told
from pipeline.booklet.figures.seam_sides import ShownPiece
from pipeline.checks.garment import Garment
from pipeline.drawing.scene import Shape
from pipeline.model.pattern import Seam
from pipeline.model.topstitching import row_of
from pipeline.words import say


def rows_shown(garment: Garment, shown: ShownPiece, seam: str, size: str) -> Iterator[Shape]:
    """The rows of a seam on a piece that is shown with its right side up, on paper."""
    for line in garment.cuts[shown.piece][size].rows if shown.right else ():
        rows = row_of(garment.pattern, shown.piece, line.name or "")
        if rows is not None and rows.of == seam and rows.edge in shown.edges:
            places = [shown.move.point(place) for place in (line.path[0].start, *(part.end for part in line.path))]
            yield from lines_of(shapely.LineString(places).intersection(shown.area), FINE_MM * 2, ROW_DASH_MM, ACCENT)


def rows_told(garment: Garment, seam: Seam, language: str) -> str:
    """Where the rows of a seam lie; nothing where it has none."""
    if not seam.topstitch_mm:
        return ""
    pattern = garment.pattern
    where = topstitch_told(pattern, seam.name, language, lambda piece: numbered(pattern, piece, language))
    return say(language, "figure.topstitch", where=where)

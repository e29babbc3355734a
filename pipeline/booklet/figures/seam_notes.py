"""What a figure of a seam tells besides: rows of stitching, a gap to turn it through, a hem to whose raw edge it is."""

from collections.abc import Iterator

import shapely

from pipeline.booklet.figures.ink import ACCENT, FINE_MM, ROW_DASH_MM, lines_of
from pipeline.booklet.figures.naming import numbered, topstitch_told
from pipeline.booklet.figures.seam_sides import ShownPiece
from pipeline.checks.bagged import lining_mm
from pipeline.checks.garment import Garment
from pipeline.drawing.scene import Shape
from pipeline.drawing.wording import length_words
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


def seam_notes(garment: Garment, seam: Seam, size: str, language: str) -> list[str]:
    """What is done with a seam beside sewing it, a sentence each."""
    pattern, notes = garment.pattern, []
    if seam.kind == "bagged":
        length = length_words(language, lining_mm(garment, seam, size), pattern.units)
        notes.append(say(language, "figure.bagged", length=length))
    if seam.turn_through_mm is not None:
        length = length_words(language, seam.turn_through_mm, pattern.units)
        notes.append(say(language, "figure.turn-through", length=length))
    if seam.topstitch_mm:
        where = topstitch_told(pattern, seam.name, language, lambda piece: numbered(pattern, piece, language))
        notes.append(say(language, "figure.topstitch", where=where))
    return notes

"""The list of pieces on the start page, each with the pages that it lies on."""

from collections.abc import Sequence

from pipeline.drawing.panels.column import Column
from pipeline.drawing.panels.map import MapPiece, pages_of_piece
from pipeline.drawing.panels.words import SEPARATOR, Languages, in_all
from pipeline.model.pattern import Pattern
from pipeline.sheets.layout import PagePlan
from pipeline.sheets.ranges import page_ranges
from pipeline.words import say_all

_NARROWEST_MM = 40.0
_APART_MM = 3.0
_INDENT = 2.2
"""Where titles begin, in text sizes."""


def piece_list(
    column: Column, pattern: Pattern, plan: PagePlan, pieces: Sequence[MapPiece], languages: Languages
) -> None:
    """Every numbered piece with the pages that it lies on, in two columns where there is room for them."""
    titles = {spec.number: spec.title for spec in pattern.pieces.values()}
    rows = sorted(
        (piece.number, page_ranges(pages_of_piece(plan, piece)))
        for piece in pieces
        if piece.number is not None and piece.number in titles
    )
    if not rows:
        return
    column.heading(say_all(languages, "start.pieces-head", SEPARATOR))
    count = 2 if column.width_mm >= 2 * _NARROWEST_MM + _APART_MM else 1
    width, each = (column.width_mm - (count - 1) * _APART_MM) / count, -(-len(rows) // count)
    ends = []
    for place in range(count):
        part = Column(column.left + place * (width + _APART_MM), column.y, width, column.size_mm)
        for number, pages in rows[place * each : (place + 1) * each]:
            part.text(
                f"{in_all(titles[number], languages)}: {pages}", indent_mm=_INDENT * part.size_mm, label=str(number)
            )
        column.body += part.body
        ends.append(part.y)
    column.y = max(ends)

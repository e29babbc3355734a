"""The list of pieces on the start page, each with the pages that it lies on."""

from collections.abc import Mapping, Sequence

from pipeline.drawing.lay_names import laid_names
from pipeline.drawing.panels.column import Column
from pipeline.drawing.panels.map import MapPiece, pages_of_piece
from pipeline.drawing.panels.words import SEPARATOR, Languages
from pipeline.drawing.wording import told_of
from pipeline.model.pattern import Pattern
from pipeline.sheets.layout import PagePlan
from pipeline.sheets.ranges import page_ranges
from pipeline.words import say_all

_NARROWEST_MM = 40.0
_APART_MM = 3.0
_INDENT = 2.2
"""Where titles begin, in text sizes."""


def pages_by_piece(plan: PagePlan, pieces: Sequence[MapPiece]) -> dict[str, str]:
    """The pages of each piece by its short name: numbered pieces first, then drawn strips."""
    order = sorted(pieces, key=lambda piece: (not piece.name.isdigit(), int(piece.name.removeprefix("S"))))
    return {piece.name: page_ranges(pages_of_piece(plan, piece)) for piece in order}


def piece_list(column: Column, pattern: Pattern, pages: Mapping[str, str], languages: Languages) -> None:
    """Every piece with the `pages` that it lies on, by its short name, in two columns where there is room for them."""
    named = zip(*(laid_names(pattern, language).values() for language in languages), strict=True)
    titles = {same[0].short: SEPARATOR.join(dict.fromkeys(name.title for name in same)) for same in named}
    rows = [(name, told_of(languages[0], titles[name], on)) for name, on in pages.items() if name in titles]
    if not rows:
        return
    column.heading(say_all(languages, "start.pieces-head", SEPARATOR))
    count = 2 if column.width_mm >= 2 * _NARROWEST_MM + _APART_MM else 1
    width, each = (column.width_mm - (count - 1) * _APART_MM) / count, -(-len(rows) // count)
    ends = []
    for place in range(count):
        part = Column(column.left + place * (width + _APART_MM), column.y, width, column.size_mm)
        for name, told in rows[place * each : (place + 1) * each]:
            part.text(told, indent_mm=_INDENT * part.size_mm, label=name)
        column.body += part.body
        ends.append(part.y)
    column.y = max(ends)

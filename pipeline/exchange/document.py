"""All pieces of all sizes as one DXF file: a block for each piece and size, laid side by side, sizes on one another."""

from collections.abc import Iterator, Mapping

from pipeline.exchange.blocks import entities, upward
from pipeline.exchange.group_codes import TEXT_MM, block, document, insert, text
from pipeline.geometry.points import Point, bounds
from pipeline.model import d6673 as standard
from pipeline.model.d6673 import LONGEST_NAME, ascii_text
from pipeline.model.pattern import Pattern
from pipeline.model.pieces import CutPiece, Cuts

_APART_MM = 50.0


def exchange_dxf(pattern: Pattern, cuts: Cuts) -> bytes:
    """The file: coordinates in blocks are those of masters with y turned, base points what sizes are nested on."""
    names = block_names(cuts)
    blocks = (
        block(standard.BOUNDARY, names[cut.piece, cut.size], upward(cut.drawn.anchor), entities(pattern, cut))
        for by_size in cuts.values()
        for cut in by_size.values()
    )
    drawn = (*_style_texts(pattern), *_inserts(cuts, names))
    return document(standard.LAYERS, blocks, drawn).encode("ascii")


def block_names(cuts: Cuts) -> dict[tuple[str, str], str]:
    """A name for each piece and size: both, and a number where they are too long, or differ in capitals alone."""
    names: dict[tuple[str, str], str] = {}
    taken: set[str] = set()
    for number, (piece, size) in enumerate((piece, size) for piece, by_size in cuts.items() for size in by_size):
        name = f"{piece}_{size}"
        if len(name) > LONGEST_NAME or name.upper() in taken:
            rest = f"_{number + 1}"
            name = name[: LONGEST_NAME - len(rest)] + rest
        taken.add(name.upper())
        names[piece, size] = name
    return names


def _style_texts(pattern: Pattern) -> Iterator[str]:
    """What is said once of all."""
    title = ascii_text(next(iter(pattern.title.values()), "")) or pattern.name
    said = (
        *("ASTM/D6673", f"STYLE NAME: {title}", f"SAMPLE SIZE: {pattern.base}"),
        *(f"VERSION: {pattern.version}", f"{standard.UNITS}: {standard.METRIC}"),
    )
    for row, each in enumerate(said):
        yield text(standard.BOUNDARY, each, Point(0.0, 2 * TEXT_MM * (row + 1)))


def _inserts(cuts: Cuts, names: Mapping[tuple[str, str], str]) -> Iterator[str]:
    x = 0.0
    for piece, by_size in cuts.items():
        boxes = [_box(cut) for cut in by_size.values()]
        left, top = min(box[0] for box in boxes), min(box[1] for box in boxes)
        place = upward(Point(x - left, -top))
        for size in by_size:
            yield insert(standard.BOUNDARY, names[piece, size], place)
        x += max(box[2] for box in boxes) - left + _APART_MM


def _box(cut: CutPiece) -> tuple[float, float, float, float]:
    """(left, top, right, bottom) as seen from the anchor."""
    left, top, right, bottom = bounds(cut.cut_drawn)
    anchor = cut.drawn.anchor
    return left - anchor.x, top - anchor.y, right - anchor.x, bottom - anchor.y

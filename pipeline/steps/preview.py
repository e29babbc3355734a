"""The drawings and the layout in; pictures of the sheet and of each piece out."""

from functools import partial
from itertools import groupby
from pathlib import Path

from pipeline.drawing.drawing import Drawing
from pipeline.drawing.names import SHEET, picture_name
from pipeline.press.ready import make_ready
from pipeline.sheets.layout import Layout
from pipeline.work.cache import Cache
from pipeline.work.files import read_json, write


def main(work: Path, index: Path, layout: Path, pictures: Path) -> None:
    """Draw every picture."""
    make_ready(work / ".run")
    from pipeline.press.preview import preview_piece, preview_sheet  # cairo reads where fonts are when it is loaded

    arranged = read_json(layout, Layout)
    places = {place.piece: place for place in arranged.placements}
    drawings = [drawing for drawing in read_json(index, list[Drawing]) if drawing.lies_as(places[drawing.piece])]
    cache = Cache(index.with_name("cache") / "pictures", preview_piece.__module__)
    write(pictures / SHEET, preview_sheet(drawings, arranged))
    for piece, group in groupby(drawings, key=lambda drawing: drawing.piece):
        mine = tuple(group)
        write(pictures / picture_name(piece), cache.bytes_of(mine, partial(preview_piece, mine)))
    cache.forget_others()

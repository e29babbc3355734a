"""The drawings and the layout in; pictures of the sheet and of each piece out."""

from functools import partial
from itertools import groupby
from pathlib import Path

from pipeline.drawing.drawing import Drawing
from pipeline.drawing.fonts import use_own_fonts
from pipeline.sheets.layout import Layout
from pipeline.steps.kept import Kept
from pipeline.steps.run import read_json, run, write


def main(work: Path, index: Path, layout: Path, pictures: Path) -> None:
    """Draw every picture."""
    use_own_fonts(work / "fonts")
    # cairo reads where fonts are when it is loaded
    from pipeline.press.preview import SHEET, picture_name, preview_piece, preview_sheet

    drawings, arranged = read_json(index, list[Drawing]), read_json(layout, Layout)
    kept = Kept(index.with_name("pictures"), preview_piece.__module__)
    write(pictures / SHEET, preview_sheet(drawings, arranged))
    for piece, group in groupby(drawings, key=lambda drawing: drawing.piece):
        mine = tuple(group)
        write(pictures / picture_name(piece), kept.bytes_of(mine, partial(preview_piece, mine)))
    kept.forget_others()


if __name__ == "__main__":
    run(main)

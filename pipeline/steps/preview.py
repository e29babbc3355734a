"""The drawings and the layout in; pictures of the sheet and of each piece out."""

from itertools import groupby
from pathlib import Path

from pipeline.drawing.drawing import Drawing
from pipeline.drawing.fonts import use_own_fonts
from pipeline.sheets.layout import Layout
from pipeline.steps.run import read_json, run, write


def main(work: Path, index: Path, layout: Path, pictures: Path) -> None:
    """Draw every picture."""
    use_own_fonts(work / "fonts")
    from pipeline.press.preview import preview_piece, preview_sheet  # cairo reads where fonts are when it is loaded

    drawings = read_json(index, list[Drawing])
    write(pictures / "sheet.png", preview_sheet(drawings, read_json(layout, Layout)))
    for piece, mine in groupby(drawings, key=lambda drawing: drawing.piece):
        write(pictures / f"{piece}.png", preview_piece(mine))


if __name__ == "__main__":
    run(main)

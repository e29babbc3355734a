"""Cut pieces of one size in; that size alone, arranged for itself on every tiled paper, out."""

from pathlib import Path

import msgspec

from pipeline.drawing.fonts import use_own_fonts
from pipeline.drawing.page_map import map_pieces
from pipeline.drawing.page_overlays import page_overlays
from pipeline.drawing.pieces import draw_stack
from pipeline.masters.load import load_pattern
from pipeline.model.pieces import SizeFile
from pipeline.rules.plan import tiled_formats
from pipeline.sheets.arrange import arrange
from pipeline.sheets.ink import ink_of
from pipeline.sheets.papers import PAPERS, tile_of
from pipeline.sheets.stacks import stacks_of
from pipeline.sheets.tile import plan_pages
from pipeline.steps.run import read_json, run, write, write_json

EFFORT = 0.25
"""Of what the layout of all sizes may cost: there are many of these files."""


def main(folder: Path, work: Path, pieces: Path, prints: Path, pages: Path) -> None:
    """Arrange, draw and compose one size for each paper; `prints` is the folder of the files."""
    use_own_fonts(work / "fonts")
    from pipeline.press.compose import PrintFile, compose  # cairo reads where fonts are when it is loaded
    from pipeline.press.forms import render_drawings
    from pipeline.press.imprint import imprint_of

    pattern, _ = load_pattern(folder)
    assert pattern is not None
    size, cut_pieces = (file := read_json(pieces, SizeFile)).size, file.pieces
    cuts = {cut.piece: {size: cut} for cut in cut_pieces}
    stacks = stacks_of(pattern, cuts)
    margin, overlap, views = pattern.print.margin_mm, pattern.print.overlap_mm, tuple(pattern.views)
    plans = []
    for name in tiled_formats(pattern):
        layout = arrange(stacks, (tile_of(PAPERS[name], margin, overlap),), effort=EFFORT)
        plan = plan_pages(layout, ink_of(stacks, layout), PAPERS[name], (size,), views, margin, overlap)
        drawings = [
            drawing
            for place in layout.placements
            for drawing in draw_stack(pattern, cuts[place.piece], place.quarter_turns, "plain")
        ]
        print_file = PrintFile(
            imprint=imprint_of(pattern, name, size),
            plan=plan,
            layout=layout,
            sizes=(size,),
            overlays=page_overlays(pattern, plan, (size,), map_pieces(pattern, layout, cuts), f"{size}-{name}.pdf"),
            layered=False,
        )
        write(prints / f"{size}-{name}.pdf", compose(print_file, drawings, render_drawings(drawings)))
        plans.append(msgspec.structs.replace(plan, format=f"by-size/{size}-{name}"))
    write_json(pages, plans)


if __name__ == "__main__":
    run(main)

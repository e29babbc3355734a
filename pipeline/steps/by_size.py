"""Cut pieces of one size in; that size alone, arranged for itself on every tiled paper, out."""

from pathlib import Path

import msgspec

from pipeline.bundle.promised import tiled_formats
from pipeline.drawing.drawing import shown_signs
from pipeline.drawing.fonts import use_own_fonts
from pipeline.drawing.nest.page_joints import Joints, joints_in_nest
from pipeline.drawing.pages.overlays import page_overlays
from pipeline.drawing.panels.map import map_pieces
from pipeline.drawing.piece.pieces import draw_nest
from pipeline.masters.load import load_pattern
from pipeline.model.pieces import SizeFile
from pipeline.sheets.arrange import arrange
from pipeline.sheets.ink import ink_of
from pipeline.sheets.layout import KeptLayout
from pipeline.sheets.papers import PAPERS, tile_of
from pipeline.sheets.stacks import stacks_of
from pipeline.sheets.tile import plan_pages
from pipeline.steps.inputs import read_kept
from pipeline.work.files import read_json, write, write_json

EFFORT = 0.25
"""Of what the layout of all sizes may cost: there are many of these files."""


def main(folder: Path, work: Path, pieces: Path, known: list[Path], prints: Path, pages: Path) -> None:
    """Arrange as was kept, or anew, draw and compose one size for each paper; `prints` is the folder of the files."""
    use_own_fonts(work / ".run")
    from pipeline.press.compose import PrintFile, compose  # cairo reads where fonts are when it is loaded
    from pipeline.press.forms import render_drawings
    from pipeline.press.imprint import imprint_of

    pattern, _ = load_pattern(folder)
    assert pattern is not None
    size, cut_pieces = (file := read_json(pieces, SizeFile)).size, file.pieces
    cuts = {cut.piece: {size: cut} for cut in cut_pieces}
    stacks = stacks_of(pattern, cuts)
    kept = read_kept(known[0], KeptLayout).alone if known else {}
    margin, overlap, views = pattern.print.margin_mm, pattern.print.overlap_mm, tuple(pattern.views)
    layouts, plans = {}, {}
    joints: dict[tuple[str, int], list[Joints]] = {}  # papers on which a piece is turned alike share its drawing
    for name in tiled_formats(pattern):
        layouts[name] = arrange(
            stacks, (tile_of(PAPERS[name], margin, overlap),), kept.get(f"{size}-{name}"), effort=EFFORT
        )
        inks = ink_of(stacks, layouts[name])
        plans[name] = plan_pages(layouts[name], inks, PAPERS[name], (size,), views, margin, overlap)
        for place in layouts[name].placements:
            joints.setdefault((place.piece, place.quarter_turns), []).append(joints_in_nest(plans[name], place))
    drawn = {
        (piece, turns): draw_nest(pattern, cuts[piece], turns, "plain", files)
        for (piece, turns), files in joints.items()
    }
    for name, layout in layouts.items():
        plan = plans[name]
        drawings = [drawing for place in layout.placements for drawing in drawn[place.piece, place.quarter_turns]]
        print_file = PrintFile(
            imprint=imprint_of(pattern, name, size),
            plan=plan,
            layout=layout,
            sizes=(size,),
            overlays=page_overlays(
                pattern, plan, (size,), map_pieces(pattern, layout, cuts), shown_signs(drawings), f"{size}-{name}.pdf"
            ),
            layered=False,
        )
        write(prints / f"{size}-{name}.pdf", compose(print_file, drawings, render_drawings(drawings)))
    write_json(pages, [msgspec.structs.replace(plan, format=f"by-size/{size}-{name}") for name, plan in plans.items()])

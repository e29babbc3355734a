"""Cut pieces of one size in; that size alone, arranged for itself on every paper and for a projector, out."""

from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import get_args

import msgspec

from pipeline.bundle.promised import print_files, projected
from pipeline.drawing.fonts import use_own_fonts
from pipeline.drawing.nest.page_joints import Joints, joints_in_nest
from pipeline.drawing.pages.overlays import page_overlays
from pipeline.drawing.panels.map import map_pieces
from pipeline.drawing.piece.pieces import Ground, draw_nest, draw_projector_nest
from pipeline.masters.load import load_pattern
from pipeline.model.pattern import Pattern
from pipeline.model.pieces import CutPiece, SizeFile
from pipeline.sheets.arrange import arrange
from pipeline.sheets.ink import ink_of
from pipeline.sheets.large import plan_large
from pipeline.sheets.layout import KeptLayout, Layout, PagePlan
from pipeline.sheets.papers import PAPERS, tile_of
from pipeline.sheets.projector import arrange_projector, projector_cuts, projector_stacks
from pipeline.sheets.stacks import Stack, stacks_of
from pipeline.sheets.tile import plan_pages
from pipeline.sheets.whole import arrange_large, turns_of
from pipeline.steps.inputs import read_kept
from pipeline.steps.projected import projector_file
from pipeline.work.files import read_json, write, write_json

EFFORT = 0.25
"""Of what the layout of all sizes may cost: there are many of these files."""

Cuts = Mapping[str, Mapping[str, CutPiece]]


def main(folder: Path, work: Path, pieces: Path, known: list[Path], prints: Path, thrown: Path, pages: Path) -> None:
    """Arrange as was kept, or anew, draw and compose one size; `prints` and `thrown` are the folders of the files."""
    use_own_fonts(work / ".run")
    pattern, _ = load_pattern(folder)
    assert pattern is not None
    size, cut_pieces = (file := read_json(pieces, SizeFile)).size, file.pieces
    cuts = {cut.piece: {size: cut} for cut in cut_pieces}
    arranged = dict(
        _arranged(pattern, size, stacks_of(pattern, cuts), read_kept(known[0], KeptLayout) if known else None)
    )
    prints.mkdir(parents=True, exist_ok=True)
    for name, data in _printed(pattern, size, cuts, arranged):
        write(prints / f"{size}-{name}.pdf", data)
    thrown.mkdir(parents=True, exist_ok=True)
    for material in projected(pattern, size):
        for ground, data in _projected(pattern, size, projector_cuts(pattern, cuts, material), material):
            write(thrown / f"{size}-{material}-{ground}.pdf", data)
    plans = [msgspec.structs.replace(plan, format=f"by-size/{size}-{name}") for name, (_, plan) in arranged.items()]
    write_json(pages, plans)


def _arranged(
    pattern: Pattern, size: str, stacks: tuple[Stack, ...], kept: KeptLayout | None
) -> Iterator[tuple[str, tuple[Layout, PagePlan]]]:
    """The layout and the pages of each paper."""
    margin, overlap, views = pattern.print.margin_mm, pattern.print.overlap_mm, tuple(pattern.views)
    drawn: frozenset[tuple[str, int]] = frozenset()
    for name in print_files(pattern):
        paper, file = PAPERS[name], f"{size}-{name}"
        if paper.kind == "tiled":
            former = kept.alone.get(file) if kept else None
            layout = arrange(stacks, (tile_of(paper, margin, overlap),), former, effort=EFFORT)
            plan = plan_pages(layout, ink_of(stacks, layout), paper, (size,), views, margin, overlap)
        else:
            large = arrange_large(stacks, paper, kept.large.get(file) if kept else None, drawn, EFFORT)
            layout = large.layout
            plan = plan_large(large, ink_of(stacks, layout), paper, (size,), views)
        drawn |= turns_of(layout)
        yield name, (layout, plan)


def _printed(
    pattern: Pattern, size: str, cuts: Cuts, arranged: Mapping[str, tuple[Layout, PagePlan]]
) -> Iterator[tuple[str, bytes]]:
    """The file of each paper; papers on which a piece is turned alike share its drawing."""
    from pipeline.press.compose import PrintFile, compose  # cairo reads where fonts are when it is loaded
    from pipeline.press.forms import render_drawings
    from pipeline.press.imprint import imprint_of

    joints: dict[tuple[str, int], list[Joints]] = {}
    for layout, plan in arranged.values():
        for place in layout.placements:
            joints.setdefault((place.piece, place.quarter_turns), []).append(joints_in_nest(plan, place))
    drawn = {
        (piece, turns): draw_nest(pattern, cuts[piece], turns, "plain", files)
        for (piece, turns), files in joints.items()
    }
    for name, (layout, plan) in arranged.items():
        drawings = [drawing for place in layout.placements for drawing in drawn[place.piece, place.quarter_turns]]
        print_file = PrintFile(
            imprint=imprint_of(pattern, name, size),
            plan=plan,
            layout=layout,
            sizes=(size,),
            overlays=page_overlays(pattern, plan, (size,), map_pieces(pattern, layout, cuts), f"{size}-{name}.pdf"),
            layered=False,
        )
        yield name, compose(print_file, drawings, render_drawings(drawings))


def _projected(pattern: Pattern, size: str, cuts: Cuts, material: str) -> Iterator[tuple[Ground, bytes]]:
    """The file of each ground; what is drawn for one is recoloured for the other."""
    one_way = pattern.materials[material].one_way is True
    layout = arrange_projector(projector_stacks(pattern, cuts), pattern.projector.width_mm, one_way)
    black = [
        drawing
        for at in layout.placements
        for drawing in draw_projector_nest(pattern, cuts[at.piece], at.quarter_turns)
    ]
    for ground in get_args(Ground):
        yield ground, projector_file(pattern, material, ground, cuts, layout, black, alone=size)

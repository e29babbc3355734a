"""Cut pieces of one size in; that size alone, arranged for itself on every paper and for a projector, out."""

from collections.abc import Iterator
from pathlib import Path
from typing import get_args

import msgspec

from pipeline.bundle.promised import projected
from pipeline.drawing.panels.strip_list import StripSizes
from pipeline.drawing.piece.pieces import Ground, draw_projector_nest
from pipeline.lays.demand import strip_sizes
from pipeline.model.pattern import Pattern
from pipeline.model.pieces import SizeFile
from pipeline.press.ready import make_ready
from pipeline.sheets.layout import KeptLayout
from pipeline.sheets.projector import arrange_projector, projector_cuts, projector_stacks
from pipeline.steps.inputs import read_kept
from pipeline.steps.part_files import Cuts, Part, arranged, printed
from pipeline.steps.printed import printed_pattern
from pipeline.steps.projected import projector_file
from pipeline.work.files import read_json, write, write_json


def main(folder: Path, work: Path, pieces: Path, known: list[Path], prints: Path, thrown: Path, pages: Path) -> None:
    """Arrange as was kept, or anew, draw and compose one size; `prints` and `thrown` are the folders of the files."""
    make_ready(work / ".run")
    pattern = printed_pattern(folder)
    size, cut_pieces = (file := read_json(pieces, SizeFile)).size, file.pieces
    cuts = {cut.piece: {size: cut} for cut in cut_pieces}
    strips = {size: strip_sizes(pattern, size, cut_pieces)}
    part = Part(size, size, size, (size,), strips, tuple(pattern.views))
    places = arranged(pattern, part, cuts, read_kept(known[0], KeptLayout) if known else None)
    prints.mkdir(parents=True, exist_ok=True)
    for name, data in printed(pattern, part, cuts, places):
        write(prints / name, data)
    thrown.mkdir(parents=True, exist_ok=True)
    for material in projected(pattern, size):
        for ground, data in _projected(pattern, size, projector_cuts(pattern, cuts, material), strips, material):
            write(thrown / f"{size}-{material}-{ground}.pdf", data)
    plans = [msgspec.structs.replace(plan, format=f"by-size/{size}-{name}") for name, (_, plan) in places.items()]
    write_json(pages, plans)


def _projected(
    pattern: Pattern, size: str, cuts: Cuts, strips: StripSizes, material: str
) -> Iterator[tuple[Ground, bytes]]:
    """The file of each ground; what is drawn for one is recoloured for the other."""
    one_way = pattern.materials[material].one_way is True
    layout = arrange_projector(projector_stacks(pattern, cuts), pattern.projector.width_mm, one_way)
    black = [
        drawing
        for at in layout.placements
        for drawing in draw_projector_nest(pattern, cuts[at.piece], at.quarter_turns)
    ]
    for ground in get_args(Ground):
        yield ground, projector_file(pattern, material, ground, cuts, strips, layout, black, alone=size)

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
from pipeline.model.pieces import Cuts, SizeFile
from pipeline.model.questions import spoken
from pipeline.press.ready import make_ready
from pipeline.sheets.layout import Layout, SavedLayout
from pipeline.sheets.projector import projector_cuts, projector_stacks
from pipeline.sheets.stay import thrown_part
from pipeline.steps.inputs import logo_of, read_saved
from pipeline.steps.part_files import Part, arranged, printed
from pipeline.steps.printed import printed_pattern
from pipeline.steps.projected import projector_file, thrown_layout
from pipeline.work.files import read_json, write, write_json


def main(
    folder: Path,
    work: Path,
    pieces: Path,
    known: list[Path],
    prints: Path,
    thrown: Path,
    pages: Path,
    places: Path,
) -> None:
    """Arrange as was saved, or anew, draw and compose one size; `prints` and `thrown` are the folders of the files."""
    make_ready(work / ".run")
    pattern = printed_pattern(folder)
    size, cut_pieces = (file := read_json(pieces, SizeFile)).size, file.pieces
    cuts = {cut.piece: {size: cut} for cut in cut_pieces}
    strips = {size: strip_sizes(pattern, size, cut_pieces)}
    part = Part(size, size, (size,), strips, tuple(pattern.views), alone=True, logo=logo_of(folder))
    saved = read_saved(known[0], SavedLayout) if known else None
    laid, now = arranged(pattern, part, cuts, saved)
    prints.mkdir(parents=True, exist_ok=True)
    for name, data in printed(pattern, part, cuts, laid):
        write(prints / name, data)
    thrown.mkdir(parents=True, exist_ok=True)
    for material in projected(pattern, size):
        name, shown = f"{size}-{material}", projector_cuts(pattern, cuts, material)
        layout, areas = thrown_layout(pattern, material, projector_stacks(pattern, shown), saved, name)
        now = msgspec.structs.replace(
            now, thrown={**now.thrown, name: layout}, areas={**now.areas, thrown_part(name): areas}
        )
        for ending, speaking in spoken(pattern).items():
            for ground, data in _projected(speaking, size, shown, strips, material, layout):
                write(thrown / f"{name}-{ground}{ending}.pdf", data)
    plans = [msgspec.structs.replace(plan, format=f"by-size/{size}-{name}") for name, (_, plan) in laid.items()]
    write_json(pages, plans)
    write_json(places, now)


def _projected(
    pattern: Pattern, size: str, cuts: Cuts, strips: StripSizes, material: str, layout: Layout
) -> Iterator[tuple[Ground, bytes]]:
    """The file of each ground; what is drawn for one is recoloured for the other."""
    black = [
        drawing
        for at in layout.placements
        for drawing in draw_projector_nest(pattern, cuts[at.piece], at.quarter_turns)
    ]
    for ground in get_args(Ground):
        yield ground, projector_file(pattern, material, ground, cuts, strips, layout, black, alone=size)

"""Cut pieces of all sizes in; what is cut of one material, for a projector, on both grounds, out."""

from functools import cache, partial
from pathlib import Path
from typing import get_args

from pipeline.drawing.drawing import Drawing
from pipeline.drawing.piece.pieces import Ground, draw_projector_nest
from pipeline.model.pattern import Pattern
from pipeline.model.pieces import Cuts
from pipeline.model.questions import spoken
from pipeline.press.ready import make_ready
from pipeline.sheets.layout import Layout, SavedLayout
from pipeline.sheets.projector import projector_cuts, projector_stacks
from pipeline.sheets.stay import thrown_part
from pipeline.steps.inputs import cuts_by_piece, read_saved, strips_by_size
from pipeline.steps.printed import printed_pattern
from pipeline.steps.projected import projector_file, thrown_layout
from pipeline.work.cache import Cache
from pipeline.work.files import write, write_json


def main(
    folder: Path, work: Path, pieces: list[Path], known: list[Path], material: str, thrown: Path, places: Path
) -> None:
    """Arrange and draw once, compose for each ground; `thrown` is the folder of the files.

    A material of which no piece has changed has its files already.
    """
    make_ready(work / ".run")
    pattern = printed_pattern(folder)
    all_cuts = cuts_by_piece(pieces)
    cuts, strips = projector_cuts(pattern, all_cuts, material), strips_by_size(pattern, all_cuts)
    place = work / pattern.name / "cache" / "projected" / material
    files = Cache(place / "files", "pipeline.steps.projector")

    stored = Cache(place / "laid", "pipeline.steps.projector")
    before = read_saved(known[0], SavedLayout) if known else None
    was = before if before and before.sold else None
    layout, areas = stored.value_of(
        (pattern, cuts, was), lambda: _laid(pattern, cuts, material, was), tuple[Layout, dict[str, float]]
    )
    nothing = Layout(0.0, 0.0, ())
    write_json(places, SavedLayout(layout=nothing, thrown={material: layout}, areas={thrown_part(material): areas}))

    @cache
    def drawn(ending: str) -> list[Drawing]:
        kept = Cache(place / f"drawn{ending}", draw_projector_nest.__module__)
        return _drawn(spoken(pattern)[ending], cuts, layout, kept)

    def made(ending: str, ground: Ground) -> bytes:
        return projector_file(spoken(pattern)[ending], material, ground, cuts, strips, layout, drawn(ending))

    thrown.mkdir(parents=True, exist_ok=True)
    for ending, speaking in spoken(pattern).items():
        for ground in get_args(Ground):
            data = files.bytes_of((speaking, cuts, strips, ground, layout), partial(made, ending, ground))
            write(thrown / f"{material}-{ground}{ending}.pdf", data)
    files.forget_others()
    stored.forget_others()


def _laid(pattern: Pattern, cuts: Cuts, material: str, saved: SavedLayout | None) -> tuple[Layout, dict[str, float]]:
    return thrown_layout(pattern, material, projector_stacks(pattern, cuts), saved, material)


def _drawn(pattern: Pattern, cuts: Cuts, layout: Layout, cache: Cache) -> list[Drawing]:
    drawings: list[Drawing] = []
    for at in layout.placements:
        made_from = pattern, cuts[at.piece], at.quarter_turns
        drawings += cache.value_of(made_from, partial(draw_projector_nest, *made_from), tuple[Drawing, ...])
    cache.forget_others()
    return drawings

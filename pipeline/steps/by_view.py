"""Cut pieces of all sizes in; one view alone, every size a layer, arranged for itself on every paper, out."""

from pathlib import Path

import msgspec

from pipeline.press.ready import make_ready
from pipeline.sheets.layout import SavedLayout, saved_view
from pipeline.sheets.stacks import views_of
from pipeline.steps.inputs import cuts_by_piece, logo_of, read_saved, strips_by_size
from pipeline.steps.part_files import Part, arranged, printed
from pipeline.steps.printed import printed_pattern
from pipeline.work.files import write, write_json


def main(
    folder: Path,
    work: Path,
    pieces: list[Path],
    known: list[Path],
    view: str,
    prints: Path,
    pages: Path,
    places: Path,
) -> None:
    """Arrange as was saved, or anew, draw and compose what belongs to a view; `prints` is the folder of the files."""
    make_ready(work / ".run")
    pattern = printed_pattern(folder)
    every = cuts_by_piece(pieces)
    cuts = {piece: sizes for piece, sizes in every.items() if view in views_of(pattern, piece)}
    strips = {
        size: {name: cut for name, cut in of_size.items() if view in views_of(pattern, name)}
        for size, of_size in strips_by_size(pattern, every).items()
    }
    part = Part(view, saved_view(view), pattern.sizes, strips, (view,), alone=False, logo=logo_of(folder))
    laid, saved = arranged(pattern, part, cuts, read_saved(known[0], SavedLayout) if known else None)
    prints.mkdir(parents=True, exist_ok=True)
    for name, data in printed(pattern, part, cuts, laid):
        write(prints / name, data)
    plans = [msgspec.structs.replace(plan, format=f"by-view/{view}-{name}") for name, (_, plan) in laid.items()]
    write_json(pages, plans)
    write_json(places, saved)

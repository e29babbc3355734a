"""Cut pieces of all sizes in; where they lie on the paper of each print file, and its pages, out."""

from pathlib import Path

from pipeline.bundle.promised import print_files
from pipeline.masters.toml.load import load_pattern
from pipeline.sheets.arrange import arrange
from pipeline.sheets.large import plan_large
from pipeline.sheets.layout import SavedLayout
from pipeline.sheets.papers import PAPERS, tiles_of
from pipeline.sheets.placed import placed_stacks
from pipeline.sheets.stacks import stacks_of
from pipeline.sheets.stay import Before, areas_of
from pipeline.sheets.tile import plan_pages
from pipeline.sheets.whole import arrange_large, turns_of
from pipeline.steps.inputs import cuts_by_piece, read_saved
from pipeline.work.files import write_json


def main(
    folder: Path, pieces: list[Path], known: list[Path], layout: Path, layouts: Path, pages: Path, places: Path
) -> None:
    """Nest the sizes, arrange the stacks for the tiles and for each large paper, lay the pages over them.

    `layout` is that of the tiles, `layouts` that of each print file by its format, `places` both as the ledger keeps
    them.
    """
    pattern, _ = load_pattern(folder)
    assert pattern is not None
    stacks = stacks_of(pattern, cuts_by_piece(pieces))
    saved = read_saved(known[0], SavedLayout) if known else None
    areas = areas_of(stacks)
    before = Before(saved)
    tiled = arrange(
        stacks,
        tiles_of(pattern.print),
        saved.layout if saved else None,
        saved.pins if saved else None,
        sold=before.tiles(print_files(pattern)),
    )
    views, margin, overlap = tuple(pattern.views), pattern.print.margin_mm, pattern.print.overlap_mm
    arranged, plans, sheets = {}, [], {}
    placed, drawn = placed_stacks(stacks, tiled), turns_of(tiled)
    for name in print_files(pattern):
        grid = before.grid(name)
        if (paper := PAPERS[name]).kind == "tiled":
            arranged[name] = tiled
            plan = plan_pages(tiled, placed, paper, pattern.sizes, views, margin, overlap, grid)
            plans.append(before.told(plan, tiled, saved.layout if saved else None))
        else:
            was = saved.large.get(name) if saved else None
            large = arrange_large(stacks, paper, was, drawn, areas=before.areas(""))
            arranged[name], drawn, sheets[name] = large.layout, drawn | turns_of(large.layout), large
            plan = plan_large(large, placed_stacks(stacks, large.layout), paper, pattern.sizes, views, grid)
            plans.append(before.told(plan, large.layout, was.layout if was else None))
    write_json(layout, tiled)
    write_json(layouts, arranged)
    write_json(pages, plans)
    write_json(places, SavedLayout(layout=tiled, large=sheets, areas={"": areas}))

"""Cut pieces of all sizes in; the paper layout, and the pages of every print file, out."""

from pathlib import Path

from pipeline.bundle.promised import print_files
from pipeline.masters.load import load_pattern
from pipeline.sheets.arrange import arrange
from pipeline.sheets.ink import ink_of
from pipeline.sheets.large import plan_large
from pipeline.sheets.layout import KeptLayout
from pipeline.sheets.papers import PAPERS, large_of, tiles_of
from pipeline.sheets.stacks import stacks_of
from pipeline.sheets.tile import plan_pages
from pipeline.steps.inputs import cuts_by_piece, read_kept
from pipeline.work.files import write_json


def main(folder: Path, pieces: list[Path], known: list[Path], layout: Path, pages: Path) -> None:
    """Nest the sizes, arrange the stacks, lay the pages of each paper over them."""
    pattern, _ = load_pattern(folder)
    assert pattern is not None
    stacks = stacks_of(pattern, cuts_by_piece(pieces))
    kept = read_kept(known[0], KeptLayout) if known else None
    former, pins = (kept.layout, kept.pins) if kept else (None, None)
    arranged = arrange(stacks, tiles_of(pattern.print), former, pins, large=large_of(pattern.print))
    inks, views = ink_of(stacks, arranged), tuple(pattern.views)
    plans = []
    for paper in (PAPERS[name] for name in print_files(pattern)):
        if paper.kind == "tiled":
            margin, overlap = pattern.print.margin_mm, pattern.print.overlap_mm
            plans.append(plan_pages(arranged, inks, paper, pattern.sizes, views, margin, overlap))
        else:
            plans.append(plan_large(arranged, inks, paper, pattern.sizes, views))
    write_json(layout, arranged)
    write_json(pages, plans)

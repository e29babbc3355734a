"""Copy-shop files of each pattern: sheets, metres of roll, what is cut, how full; as a build arranges them, and kept.

    python tests/bench/sheets.py [folder of patterns ...]

The bound by area is the area of all stacks over that of a sheet or over the width of a roll, header counted once. A
stack is cut in vain where one page of the file would hold it.
"""

import sys
import time
from collections.abc import Iterator
from math import ceil
from pathlib import Path

import msgspec
import shapely

from pipeline.sheets.arrange import arrange
from pipeline.sheets.large import plan_large
from pipeline.sheets.layout import HEADER_MM, LargeLayout, SavedLayout
from pipeline.sheets.papers import LARGE_MARGIN_MM, MOST_PAGE_MM, PAPERS, Paper, tiles_of
from pipeline.sheets.placed import placed_stacks
from pipeline.sheets.stacks import Stack, moved, stacks_of
from pipeline.sheets.verify import TOLERANCE_MM
from pipeline.sheets.whole import arrange_large, turns_of
from tests.bench.pages import read

FORMATS = tuple(name for name, paper in PAPERS.items() if paper.kind != "tiled")
AROUND_MM = 2 * LARGE_MARGIN_MM + HEADER_MM


def row(stacks: tuple[Stack, ...], paper: Paper, large: LargeLayout) -> str:
    """One line of the table, without its names and seconds."""
    plan = plan_large(large, placed_stacks(stacks, large.layout), paper, stacks[0].sizes)
    windows = [
        shapely.box(at.left_mm, at.top_mm, at.left_mm + at.width_mm, at.top_mm + at.height_mm)
        for page in plan.pages
        if (at := page.window) is not None
    ]
    lying = {place.piece: place for place in large.layout.placements}
    shapes = {stack.piece: moved(stack.region, lying[stack.piece]).buffer(-TOLERANCE_MM) for stack in stacks}
    cut = [piece for piece, shape in shapes.items() if sum(window.intersects(shape) for window in windows) > 1]
    high = large.sheet_height_mm if paper.kind == "sheet" else MOST_PAGE_MM - AROUND_MM
    sides = sorted((large.sheet_width_mm, high))
    vain = [piece for piece in cut if all(a <= b for a, b in zip(_sides(shapes[piece]), sides, strict=True))]
    fullness = [sum(window.intersection(shape).area for shape in shapes.values()) / window.area for window in windows]
    area = sum(stack.region.area for stack in stacks)
    if paper.kind == "sheet":
        length, bound = "", f"{ceil(area / (large.sheet_width_mm * high))}"
    else:
        length = f"{len(windows) * plan.page_height_mm / 1000:.2f}"
        bound = f"{(area / large.sheet_width_mm + AROUND_MM) / 1000:.2f} m"
    return f"{len(windows)} | {length} | {len(cut)} | {len(vain)} | {min(fullness):.0%} | {bound}"


def _sides(shape: shapely.Geometry) -> list[float]:
    left, top, right, bottom = shape.bounds
    return sorted((right - left, bottom - top))


def rows(folder: Path) -> Iterator[str]:
    """The lines of one pattern."""
    pattern, cut = read(folder)
    stacks, file = stacks_of(pattern, cut), folder / "layout.json"
    kept = msgspec.json.decode(file.read_bytes(), type=SavedLayout) if file.exists() else None
    drawn = turns_of(kept.layout if kept else arrange(stacks, tiles_of(pattern.print)))
    for name in FORMATS:
        began = time.process_time()
        own = arrange_large(stacks, PAPERS[name], drawn=drawn)
        spent = time.process_time() - began
        turned = len(turns_of(own.layout) - drawn)
        yield f"| {pattern.name} | {name} | {row(stacks, PAPERS[name], own)} | {turned} | {spent:.2f} |"
        if kept and name in kept.large:
            yield f"| {pattern.name} | {name}, kept | {row(stacks, PAPERS[name], kept.large[name])} | | |"


def main(sources: list[Path]) -> None:
    """Print the table."""
    print("| pattern | paper | sheets | m | cut | in vain | emptiest | bound | turned anew | s |")
    print("| --- | --- | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: |")
    for source in sources:
        for file in sorted(source.glob("*/pattern.toml")):
            for line in rows(file.parent):
                print(line)


if __name__ == "__main__":
    root = Path(__file__).parents[2]
    main([Path(name) for name in sys.argv[1:]] or [root / "source", root / "tests/garments"])

"""Pages of each pattern's tiled files: as a build arranges them, as kept, beside the bound by area and general tilers.

    python tests/bench/pages.py [folder of patterns]

The tilers run on one page with the kept layout and all layers, as our own tiles have it; one that is not installed
(mutool; pdfposter, which wants pypdf below 7, and plakativ, in an environment of their own) is told.
"""

import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from math import ceil
from pathlib import Path

import msgspec
import pypdf

from pipeline.cutting.cut import cut_pieces
from pipeline.drawing import scene
from pipeline.drawing.fonts import use_own_fonts
from pipeline.drawing.pages.projector import projector_plan
from pipeline.drawing.piece.pieces import draw_nest
from pipeline.masters.read_size import read_size
from pipeline.masters.toml.load import load_pattern
from pipeline.model.pattern import Pattern
from pipeline.model.pieces import CutPiece
from pipeline.sheets.arrange import arrange
from pipeline.sheets.layout import Layout, SavedLayout
from pipeline.sheets.papers import PAPERS, tile_of, tiles_of
from pipeline.sheets.placed import placed_stacks
from pipeline.sheets.stacks import Stack, stacks_of
from pipeline.sheets.tile import plan_pages
from pipeline.sheets.verify import verify_layout

TILED = ("a4", "letter")


def read(folder: Path) -> tuple[Pattern, dict[str, dict[str, CutPiece]]]:
    """The pattern and its cut pieces, by piece and size."""
    pattern, findings = load_pattern(folder)
    if pattern is None:
        raise SystemExit("\n".join(finding.message for finding in findings))
    cut: dict[str, dict[str, CutPiece]] = {}
    for size in pattern.sizes:
        for piece in cut_pieces(pattern, size, read_size(pattern, folder, size)[0])[0]:
            cut.setdefault(piece.piece, {})[size] = piece
    return pattern, cut


def tiles(pattern: Pattern, stacks: tuple[Stack, ...], layout: Layout) -> list[int]:
    """Tiles with something on them, a paper each; the start page is not counted."""
    inks = placed_stacks(stacks, layout)
    spec = pattern.print
    plans = [
        plan_pages(layout, inks, PAPERS[name], pattern.sizes, (), spec.margin_mm, spec.overlap_mm) for name in TILED
    ]
    return [len(plan.pages) - 1 for plan in plans]


def bounds(pattern: Pattern, stacks: tuple[Stack, ...]) -> list[int]:
    """No layout has fewer: the area of all stacks over the area of a tile."""
    area = sum(stack.region.area for stack in stacks)
    sizes = [tile_of(PAPERS[name], pattern.print.margin_mm, pattern.print.overlap_mm) for name in TILED]
    return [ceil(area / (tile.step_x_mm * tile.step_y_mm)) for tile in sizes]


def row(pattern: str, what: str, pages: list[int] | list[str], seconds: float | None, note: str = "") -> str:
    """One line of the table."""
    spent = "" if seconds is None else f"{seconds:.2f}"
    return f"{pattern:20} {what:22} {pages[0]!s:>6} {pages[1]!s:>6} {spent:>8}  {note}".rstrip()


def sheet_of(pattern: Pattern, cut: dict[str, dict[str, CutPiece]], layout: Layout, folder: Path) -> Path:
    """The whole layout on one page, every size a layer."""
    use_own_fonts(folder / "fonts")
    from pipeline.press.compose import PrintFile, compose  # cairo reads where fonts are when it is loaded
    from pipeline.press.forms import render_drawings
    from pipeline.press.imprint import imprint_of

    plan = projector_plan(layout, pattern.sizes)
    drawings = [
        drawing for place in layout.placements for drawing in draw_nest(pattern, cut[place.piece], place.quarter_turns)
    ]
    file = PrintFile(
        imprint=imprint_of(pattern, "a0"),
        plan=plan,
        layout=layout,
        sizes=pattern.sizes,
        overlays=(scene.of(0, 0, plan.page_width_mm, plan.page_height_mm, []),),
    )
    sheet = folder / "sheet.pdf"
    sheet.write_bytes(compose(file, drawings, render_drawings(drawings)))
    return sheet


def tilers(sheet: Path, folder: Path) -> Iterator[tuple[str, list[list[str]]]]:
    """Name and commands (A4, Letter) of each general tiler; all print without margins, which flatters them."""
    page = pypdf.PdfReader(sheet).pages[0].mediabox
    a4, letter = ((210.0, 297.0), (PAPERS["letter"].width_mm, PAPERS["letter"].height_mm))
    width, height = (float(side) * 25.4 / 72 for side in (page.width, page.height))
    grids = [(ceil(width / w), ceil(height / h)) for w, h in (a4, letter)]
    out = [folder / f"{name}.pdf" for name in TILED]
    yield (
        "mutool poster",
        [
            ["mutool", "poster", "-x", str(x), "-y", str(y), str(sheet), str(o)]
            for (x, y), o in zip(grids, out, strict=True)
        ],
    )
    yield "pdfposter", [["pdfposter", "-m", m, "-s", "1", str(sheet), str(o)] for m, o in zip(TILED, out, strict=True)]
    yield (
        "plakativ",
        [
            ["plakativ", "--pagesize", m, "--factor", "1", str(sheet), "-o", str(o)]
            for m, o in zip(("A4", "Letter"), out, strict=True)
        ],
    )


def tiler_rows(pattern: Pattern, cut: dict[str, dict[str, CutPiece]], layout: Layout) -> Iterator[str]:
    """What each tiler makes of the sheet: pages, seconds for both papers, whether layers survive."""
    with tempfile.TemporaryDirectory() as folder:
        sheet = sheet_of(pattern, cut, layout, Path(folder))
        for name, commands in tilers(sheet, Path(folder)):
            if shutil.which(commands[0][0]) is None:
                yield row(pattern.name, name, ["-", "-"], None, "not installed")
                continue
            began = time.perf_counter()
            done = [subprocess.run(command, capture_output=True, check=False) for command in commands]
            spent = time.perf_counter() - began
            files = [Path(folder) / f"{paper}.pdf" for paper in TILED]
            if any(one.returncode for one in done) or not all(file.exists() for file in files):
                yield row(
                    pattern.name, name, ["-", "-"], spent, f"failed: {done[0].stderr.decode(errors='replace')[-80:]!r}"
                )
                continue
            readers = [pypdf.PdfReader(file) for file in files]
            layers = all("/OCProperties" in reader.trailer["/Root"] for reader in readers)
            note = "layers kept" if layers else "layers lost"
            yield row(pattern.name, name, [len(reader.pages) for reader in readers], spent, note)
            for file in files:
                file.unlink()


def main(source: Path) -> None:
    """Print the table."""
    print(row("pattern", "how", ["A4", "Letter"], None).replace("Letter", "Letter        s"))
    for folder in sorted(file.parent for file in source.glob("*/pattern.toml")):
        pattern, cut = read(folder)
        stacks = stacks_of(pattern, cut)
        print(row(pattern.name, "bound by area", bounds(pattern, stacks), None))
        began = time.perf_counter()
        built = arrange(stacks, tiles_of(pattern.print))
        spent = time.perf_counter() - began
        print(row(pattern.name, "a build's own", tiles(pattern, stacks, built), spent))
        kept, layout = folder / "layout.json", built
        if kept.exists():
            layout = msgspec.json.decode(kept.read_bytes(), type=SavedLayout).layout
            holds = "does not hold" if verify_layout(stacks, layout) else ""
            print(row(pattern.name, "kept in layout.json", tiles(pattern, stacks, layout), None, holds))
        for line in tiler_rows(pattern, cut, layout):
            print(line)


if __name__ == "__main__":
    main(Path(sys.argv[1]) if sys.argv[1:] else Path(__file__).parents[2] / "source")

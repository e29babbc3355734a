"""Papers: what is printed on, and the rectangle of the sheet that one page carries.

A sizes: ISO 216:2007. Letter: ANSI X3.151, 8.5 x 11 in, which is 612 x 792 pt exactly. Rolls: the widths of plotters
as sold, common practice. A page side is at most 14,400 pt: ISO 32000-1, annex C.2.
"""

from typing import Literal

import msgspec

from pipeline.model.lengths import MM_PER_INCH
from pipeline.model.outputs import PrintSpec

MOST_PAGE_MM = 14_400 / 72 * MM_PER_INCH
"""5,080 mm: the longest side that a page can have without a user unit, which readers ignore."""

LARGE_MARGIN_MM = 10.0
"""Around what a sheet or roll shows."""


class Paper(msgspec.Struct, frozen=True, kw_only=True):
    """A paper that a print format uses. A roll's `height_mm` is the longest page.

    `also_fits` is a second paper's width and height, where one file must print on both.
    """

    format: str
    kind: Literal["tiled", "sheet", "roll"]
    width_mm: float
    height_mm: float
    also_fits: tuple[float, float] | None = None

    @property
    def sides(self) -> tuple[tuple[float, float], ...]:
        """Width and height of its pages; a sheet stands or lies, whichever needs fewer."""
        stands = self.width_mm, self.height_mm
        return (stands, stands[::-1]) if self.kind == "sheet" else (stands,)


class Tile(msgspec.Struct, frozen=True):
    """The window of one page, and how far apart windows start: less than a window where neighbours overlap."""

    width_mm: float
    height_mm: float
    step_x_mm: float
    step_y_mm: float


_LETTER_MM = (8.5 * MM_PER_INCH, 11 * MM_PER_INCH)
_A4_MM = (210.0, 297.0)

PAPERS = {
    paper.format: paper
    for paper in (
        Paper(format="a4", kind="tiled", width_mm=_A4_MM[0], height_mm=_A4_MM[1]),
        Paper(format="letter", kind="tiled", width_mm=_LETTER_MM[0], height_mm=_LETTER_MM[1]),
        Paper(format="a4-letter", kind="tiled", width_mm=_A4_MM[0], height_mm=_LETTER_MM[1], also_fits=_LETTER_MM),
        Paper(format="a0", kind="sheet", width_mm=841.0, height_mm=1189.0),
        *(
            Paper(format=f"roll-{inches}in", kind="roll", width_mm=inches * MM_PER_INCH, height_mm=MOST_PAGE_MM)
            for inches in (24, 36, 42)
        ),
    )
}


def tile_of(paper: Paper, margin_mm: float, overlap_mm: float = 0.0) -> Tile:
    """The tile of a paper inside its margins. Raises ValueError where margins and overlap leave nothing to print on."""
    other = paper.also_fits or (paper.width_mm, paper.height_mm)
    width = min(paper.width_mm, other[0]) - 2 * margin_mm
    height = min(paper.height_mm, other[1]) - 2 * margin_mm
    if margin_mm < 0 or overlap_mm < 0 or min(width, height) <= 2 * overlap_mm:
        raise ValueError(
            f"{paper.format}: margins of {margin_mm:g} mm and an overlap of {overlap_mm:g} mm leave "
            f"{width:g} x {height:g} mm of a page; make them smaller"
        )
    return Tile(width, height, width - overlap_mm, height - overlap_mm)


def tiles_of(spec: PrintSpec) -> tuple[Tile, ...]:
    """The tiles that a pattern's layout is arranged for: its tiled formats, else A4 and Letter.

    Raises ValueError where margins and overlap leave nothing to print on.
    """
    tiled = [PAPERS[name] for name in spec.formats if name in PAPERS and PAPERS[name].kind == "tiled"]
    papers = tiled or [PAPERS["a4"], PAPERS["letter"]]
    return tuple(tile_of(paper, spec.margin_mm, spec.overlap_mm) for paper in papers)

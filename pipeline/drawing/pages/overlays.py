"""What stands around the pattern, page by page, for each kind of print file."""

from collections.abc import Collection, Sequence

import msgspec

from pipeline.cutting.strips import CutSize
from pipeline.drawing.pages.frame import frame_pages
from pipeline.drawing.pages.large import large_pages
from pipeline.drawing.pages.start import start_page
from pipeline.drawing.panels.map import MapPiece
from pipeline.drawing.panels.strip_list import NO_STRIPS, StripSizes
from pipeline.drawing.scene import Scene
from pipeline.model.logo import Logo
from pipeline.model.pattern import Pattern
from pipeline.sheets.layout import PagePlan


class Told(msgspec.Struct, frozen=True):
    """What pages tell of the pattern: pieces on the map of each format, and what strips measure by size and name."""

    pieces: dict[str, tuple[MapPiece, ...]]
    strips: dict[str, dict[str, CutSize]]


def page_overlays(
    pattern: Pattern,
    plan: PagePlan,
    sizes: Sequence[str],
    pieces: Sequence[MapPiece],
    signs: Collection[str],
    file_name: str,
    strips: StripSizes = NO_STRIPS,
    logo: Logo | None = None,
) -> tuple[Scene, ...]:
    """A scene for every printed page of a file that shows `sizes`, in their order: tiles with a start page, or large
    sheets.

    `signs` are those that its drawings show, which the key explains.
    `file_name` is the file's name as delivered. Raises ValueError where the pattern's texts do not fit a page.
    """
    if plan.header_mm:
        around = large_pages(pattern, plan, sizes, pieces, signs, file_name, strips, logo)
    else:
        around = frame_pages(pattern, plan)
        around |= {
            page.number: start_page(pattern, plan, sizes, pieces, signs, strips, logo)
            for page in plan.printed
            if page.window is None
        }
    return tuple(around[page.number] for page in plan.printed)

"""What stands around the pattern on pages of a file of all sizes: of print files, and of their changed pages."""

from collections.abc import Sequence
from pathlib import Path

from pipeline.drawing.drawing import Frame, shown_signs
from pipeline.drawing.pages.overlays import Told, page_overlays
from pipeline.drawing.scene import Scene
from pipeline.model.pattern import Pattern
from pipeline.sheets.layout import PagePlan
from pipeline.steps.inputs import logo_of
from pipeline.work.files import read_json


def plan_of(pages: Path, format: str) -> PagePlan:
    """The pages of a format."""
    return next(plan for plan in read_json(pages, list[PagePlan]) if plan.format == format)


def around_pages(
    pattern: Pattern, plan: PagePlan, frames: Sequence[Frame], told: Told, folder: Path, file_name: str
) -> tuple[Scene, ...]:
    """A scene a printed page; the logo is the one in the pattern's folder."""
    return page_overlays(
        pattern,
        plan,
        pattern.sizes,
        told.pieces[plan.format],
        shown_signs(frames),
        file_name,
        told.strips,
        logo_of(folder),
    )

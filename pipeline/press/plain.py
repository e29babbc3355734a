"""Pages that are whole drawings and show no sheet: lays and tables."""

from collections.abc import Sequence

from pipeline.drawing.scene import Scene
from pipeline.press.compose import PrintFile, compose
from pipeline.press.document import Chapter, Imprint
from pipeline.sheets.layout import Layout, Page, PagePlan


def plain_pages(
    scenes: Sequence[Scene], page_mm: tuple[float, float], imprint: Imprint, chapters: Sequence[Chapter] = ()
) -> bytes:
    """A PDF with a page a scene, each as large as `page_mm`. Raises PageTooLargeError."""
    pages = tuple(
        Page(number=number, label=str(number), row=number, column=1, window=None, sizes=(), views=())
        for number in range(1, len(scenes) + 1)
    )
    plan = PagePlan(
        format="plain",
        page_width_mm=page_mm[0],
        page_height_mm=page_mm[1],
        margin_mm=0.0,
        overlap_mm=0.0,
        rows=len(pages),
        columns=1,
        pages=pages,
    )
    nothing = Layout(0.0, 0.0, ())
    file = PrintFile(
        imprint=imprint,
        plan=plan,
        layout=nothing,
        sizes=(),
        overlays=tuple(scenes),
        layered=False,
        chapters=tuple(chapters),
    )
    return compose(file, [], b"")

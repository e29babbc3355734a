"""A print file: pages of one sheet, a layer a size, and on every page what must never vanish.

Of a page's content only the pattern is cut off at the window, and only the pattern stands in layers. A drawing that is
alike in several sizes is drawn once and shows as long as any of their layers does (ISO 32000-1, 8.11.2.2): drawn once a
layer, its edges would add up and look fat and jagged.
"""

import io
import math
from collections.abc import Collection, Iterable, Sequence

import msgspec
import pikepdf
from pikepdf import Dictionary

from pipeline.drawing.drawing import Frame
from pipeline.drawing.scene import Scene
from pipeline.model.lengths import MM_PER_POINT
from pipeline.press.document import Chapter, Imprint, describe, layer_properties, membership
from pipeline.press.forms import Form, check_page_size, load_forms, render_pages
from pipeline.sheets.layout import Layout, Page, PagePlan, Placement


class PrintFile(msgspec.Struct, frozen=True, kw_only=True):
    """What one print file shows: the pages of a layout, and page by page what stands around the pattern.

    `sizes` are drawn in this order, each in a layer of its own where `layered`. `overlays` has one scene a page, as
    large as the page; they are drawn first, so that lines of the pattern lie above. The outline has the `chapters`, or
    else the rows of pages.
    """

    imprint: Imprint
    plan: PagePlan
    layout: Layout
    sizes: tuple[str, ...]
    overlays: tuple[Scene, ...]
    layered: bool = True
    chapters: tuple[Chapter, ...] = ()


class _Laid(msgspec.Struct, frozen=True):
    """A drawing on the sheet."""

    index: int
    drawing: Frame
    left_mm: float
    top_mm: float

    def touches(self, page: Page) -> bool:
        window = page.window
        return window is not None and (
            self.left_mm < window.left_mm + window.width_mm
            and window.left_mm < self.left_mm + self.drawing.width_mm
            and self.top_mm < window.top_mm + window.height_mm
            and window.top_mm < self.top_mm + self.drawing.height_mm
        )


def compose(file: PrintFile, drawings: Sequence[Frame], pdf: bytes, without: Collection[str] = ()) -> bytes:
    """The PDF of a print file, equal bytes for equal input.

    `pdf` is what `render_drawings` made of `drawings`; it is not looked at where there are none. Layers of the sizes in
    `without` stay empty. Raises ValueError where overlays and pages, or drawings and their PDF, are not as many;
    PageTooLargeError.
    """
    plan = file.plan
    check_page_size(plan.page_width_mm, plan.page_height_mm)
    forms = load_forms(pdf) if drawings else []
    if len(forms) != len(drawings) or len(file.overlays) != len(plan.pages):
        raise ValueError(
            f"{len(drawings)} drawings on {len(forms)} pages, {len(file.overlays)} overlays for {len(plan.pages)} "
            "pages: each pair must be equal"
        )
    overlays = load_forms(render_pages(file.overlays))
    laid = tuple(_lay(drawings, file.layout))
    document = pikepdf.new()
    layers = layer_properties(document, file.imprint, file.sizes) if file.layered else {}
    sizes = [size for size in file.sizes if size not in without]
    for page, overlay in zip(plan.pages, overlays, strict=True):
        _add_page(document, file, page, overlay, [item for item in laid if item.touches(page)], forms, layers, sizes)
    describe(document, file.imprint, plan, file.chapters)
    target = io.BytesIO()
    # no object streams: print shops' readers are old
    document.save(
        target, force_version="1.7", object_stream_mode=pikepdf.ObjectStreamMode.disable, deterministic_id=True
    )
    return target.getvalue()


def _lay(drawings: Sequence[Frame], layout: Layout) -> Iterable[_Laid]:
    places: dict[str, Placement] = {placement.piece: placement for placement in layout.placements}
    for index, drawing in enumerate(drawings):
        place = places.get(drawing.piece)
        if place is not None and drawing.lies_as(place):
            yield _Laid(index, drawing, place.x_mm + drawing.left_mm, place.y_mm + drawing.top_mm)


def _add_page(
    document: pikepdf.Pdf,
    file: PrintFile,
    page: Page,
    overlay: Form,
    laid: Sequence[_Laid],
    forms: Sequence[Form],
    layers: dict[tuple[str, ...], pikepdf.Object],
    sizes: Sequence[str],
) -> None:
    plan = file.plan
    width_pt, height_pt = _page_points(plan.page_width_mm), _page_points(plan.page_height_mm)
    objects = Dictionary(Overlay=document.copy_foreign(overlay.stream))
    properties = Dictionary()
    content = ["q /Overlay Do Q"]
    if page.window is not None and laid:
        left_mm, top_mm = window_corner(plan)
        box = (
            left_mm / MM_PER_POINT,
            height_pt - (top_mm + page.window.height_mm) / MM_PER_POINT,
            page.window.width_mm / MM_PER_POINT,
            page.window.height_mm / MM_PER_POINT,
        )
        content.append(f"q {_numbers(box)} re W n")
        groups: dict[tuple[bool, tuple[str, ...], bool], list[_Laid]] = {}
        for item in laid:
            shown = tuple(size for size in file.sizes if size in item.drawing.sizes)
            groups.setdefault((item.drawing.above, shown, item.drawing.together), []).append(item)
        order = sorted(groups, key=lambda group: (group[0], [file.sizes.index(size) for size in group[1]], group[2]))
        for number, (above, shown, together) in enumerate(order):
            if not (all if together else any)(size in sizes for size in shown):
                continue
            if layers:
                properties[f"/L{number}"] = membership(document, layers, shown, together)
                content.append(f"/OC /L{number} BDC")
            for item in groups[above, shown, together]:
                objects[f"/D{item.index}"] = document.copy_foreign(forms[item.index].stream)
                move = (
                    (left_mm + item.left_mm - page.window.left_mm) / MM_PER_POINT,
                    height_pt
                    - (top_mm + item.top_mm - page.window.top_mm) / MM_PER_POINT
                    - forms[item.index].height_pt,
                )
                content.append(f"q 1 0 0 1 {_numbers(move)} cm /D{item.index} Do Q")
            if layers:
                content.append("EMC")
        content.append("Q")
    resources = Dictionary(XObject=objects)
    if properties:
        resources.Properties = properties
    sheet = document.add_blank_page(page_size=(width_pt, height_pt)).obj
    sheet.Resources, sheet.Contents = resources, document.make_stream("\n".join(content).encode())


def window_corner(plan: PagePlan) -> tuple[float, float]:
    """Where the window's top left corner lies on every page (left, top), in mm."""
    return plan.margin_mm, plan.margin_mm + plan.header_mm


def _page_points(length_mm: float) -> float:
    """A side of a page in points, to four decimals, rounded down: renderers round up to whole pixels and stretch."""
    return math.floor(length_mm / MM_PER_POINT * 10_000 + 1e-6) / 10_000


def _numbers(values: Iterable[float]) -> str:
    """Five decimals of a point: renderers snap letters to parts of a pixel, and must snap them alike on every page."""
    return " ".join(f"{value:.5f}".rstrip("0").rstrip(".") for value in values)

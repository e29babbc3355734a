"""Many drawings become one PDF, and its pages become pieces of content that print files place as they like.

One shared cairo surface writes all pages, so that fonts are embedded once and not once a drawing.
"""

import io
from collections.abc import Iterable, Sequence

import cairocffi
import msgspec
import pikepdf
from pikepdf import Name

from pipeline.drawing.drawing import Drawing
from pipeline.drawing.scene import Scene
from pipeline.model.lengths import MM_PER_POINT
from pipeline.press.painter import paint

MOST_POINTS = 14400.0
"""The longest side of a page that readers handle without /UserUnit, which some of them ignore."""


class PageTooLargeError(ValueError):
    """A page longer than every reader can show."""


class Form(msgspec.Struct, frozen=True):
    """A Form XObject: its origin is the lower left corner of what was drawn; `height_pt` its height.

    The stream lives in `source`, which must stay open until it is copied and written.
    """

    source: pikepdf.Pdf
    stream: pikepdf.Object
    width_pt: float
    height_pt: float


def check_page_size(width_mm: float, height_mm: float) -> None:
    """Raise PageTooLargeError for a page above 14,400 pt (5,080 mm)."""
    if max(width_mm, height_mm) / MM_PER_POINT > MOST_POINTS + 1e-6:
        raise PageTooLargeError(
            f"a page of {width_mm:.1f} x {height_mm:.1f} mm: readers show at most 5080 mm ({MOST_POINTS:.0f} points) "
            "a side; split the sheet"
        )


def render_pages(scenes: Iterable[Scene]) -> bytes:
    """A PDF whose page i is scene i, each page as large as its scene. `make_ready` must have been called."""
    target = io.BytesIO()
    surface = cairocffi.PDFSurface(target, 1, 1)
    surface.set_metadata(cairocffi.PDF_METADATA_CREATE_DATE, "2000-01-01T00:00:00Z")  # else the clock's; dropped later
    for scene in scenes:
        surface.set_size(scene.width_mm / MM_PER_POINT, scene.height_mm / MM_PER_POINT)
        paint(cairocffi.Context(surface), scene, 1 / MM_PER_POINT)
        surface.show_page()
    surface.finish()
    return target.getvalue()


def render_drawings(drawings: Sequence[Drawing]) -> bytes:
    """A PDF whose page i is drawing i. Raises PageTooLargeError."""
    for drawing in drawings:
        check_page_size(drawing.width_mm, drawing.height_mm)
    return render_pages(drawing.scene for drawing in drawings)


def load_forms(pdf: bytes) -> list[Form]:
    """The pages of such a PDF as Form XObjects, still tied to the file that they came from.

    cairo's transparency /Group is left out: nothing here is transparent, and without it pages render in half the time.
    """
    source = pikepdf.open(io.BytesIO(pdf))
    return [_form(source, page.obj) for page in source.pages]


def _form(source: pikepdf.Pdf, page: pikepdf.Object) -> Form:
    stream = page.Contents
    if not isinstance(stream, pikepdf.Stream):
        raise TypeError("a page of the drawings' PDF has more than one content stream: it was not made by render_pages")
    stream.Type, stream.Subtype, stream.FormType = Name.XObject, Name.Form, 1
    stream.BBox, stream.Resources = page.MediaBox, page.Resources
    width, height = (float(number) for number in page.MediaBox[2:])
    return Form(source, stream, width, height)

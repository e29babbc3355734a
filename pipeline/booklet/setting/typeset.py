"""A booklet as PDF, by typst: `booklet.typ` is the only text that is run, all else reaches it as data.

No fonts but ours, no date, no file and no package from outside: the same document gives the same bytes.
"""

from functools import cache
from pathlib import Path
from typing import Any, Literal, cast

import msgspec
import typst

from pipeline.booklet.nodes import Document, Pictures
from pipeline.drawing.fonts import FONT_FOLDER

WIDTH_PX = 2000
PAPER_WIDTHS_MM = {"a4": 210.0, "us-letter": 215.9}
_TEMPLATE = Path(__file__).parent / "booklet.typ"
STANDARD: Literal["ua-1"] = "ua-1"
"""PDF/UA-1 (ISO 14289-1): typst refuses what it knows to break it."""


def typeset(document: Document, pictures: Pictures) -> bytes:
    """The bytes of a PDF."""
    return cast(bytes, _compiler(document, pictures).compile(format="pdf", pdf_standards=STANDARD))


def picture(document: Document, pictures: Pictures) -> bytes:
    """The bytes of a PNG of a document that is shown `alone`, `WIDTH_PX` wide."""
    page_mm = PAPER_WIDTHS_MM[document.page.paper]
    return cast(bytes, _compiler(document, pictures).compile(format="png", ppi=WIDTH_PX / (page_mm / 25.4)))


def made_from(document: Document, pictures: Pictures) -> Any:
    """All that a document's bytes depend on but code and fonts, as a value that JSON can hold."""
    return document, pictures.files


def _compiler(document: Document, pictures: Pictures) -> typst.Compiler:
    files = {
        "main.typ": _TEMPLATE.read_bytes(),
        "document.json": msgspec.json.encode(document),
        **pictures.files,
    }
    return typst.Compiler(files, font_paths=_fonts(), ignore_system_fonts=True)  # type: ignore[type-var]


@cache
def _fonts() -> typst.Fonts:
    return typst.Fonts(include_system_fonts=False, include_embedded_fonts=False, font_paths=[str(FONT_FOLDER)])

"""What lies in a pattern's folder `booklet/`: a text a language, figures, and what is drawn on the cover."""

from collections.abc import Mapping

import msgspec

from pipeline.booklet.read import read_booklet
from pipeline.booklet.text import Booklet, Fault
from pipeline.masters.copied import BOOKLET as FOLDER
from pipeline.masters.copied import LOGO
from pipeline.masters.svg.numbers import PIXELS_PER_INCH
from pipeline.masters.svg.tree import parse_svg
from pipeline.masters.svg.viewport import root_size_mm
from pipeline.model.pattern import Pattern

COVER = f"{FOLDER}/cover.svg"
FIGURES = f"{FOLDER}/figures/"


class Folder(msgspec.Struct, frozen=True):
    """The texts by language, in the pattern's order; what is wrong in each; and the SVGs as they are, by place."""

    texts: dict[str, Booklet]
    faults: dict[str, tuple[Fault, ...]]
    drawings: dict[str, bytes]
    unread: tuple[str, ...]


def read_folder(pattern: Pattern, files: Mapping[str, bytes]) -> Folder:
    """All of a folder; `files` by their places in the pattern's folder."""
    texts, faults = {}, {}
    for language in pattern.languages:
        name = text_file(language)
        if name in files:
            texts[language], faults[language] = read_booklet(language, name, files[name])
    drawings = {name: data for name, data in files.items() if name in (COVER, LOGO) or _is_figure(name)}
    known = {*drawings, *(text.file for text in texts.values())}
    return Folder(texts, faults, drawings, tuple(sorted(set(files) - known)))


def page_mm(drawing: bytes) -> tuple[float, float]:
    """Width and height of an SVG's page, as masters are read; pixels at 96 to the inch. Raises SvgFault."""
    root = parse_svg(drawing)
    return root_size_mm(root, "width", PIXELS_PER_INCH), root_size_mm(root, "height", PIXELS_PER_INCH)


def text_file(language: str) -> str:
    """The place of a language's text."""
    return f"{FOLDER}/{language}.md"


def _is_figure(name: str) -> bool:
    return name.startswith(FIGURES) and name.endswith(".svg") and "/" not in name.removeprefix(FIGURES)

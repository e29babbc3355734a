"""What stands in a PDF's dictionaries: entries, lists, names, fonts."""

import re
from collections.abc import Iterable

import pikepdf

from pipeline.bundle.pdf_content import Widths


def under(thing: pikepdf.Object, *keys: str) -> pikepdf.Object:
    """What stands under these keys, one in the other; an empty dictionary where one of them is not there."""
    for key in keys:
        if key not in thing:
            return pikepdf.Dictionary()
        thing = thing[key]
    return thing


def listed(thing: pikepdf.Object, key: str) -> list[pikepdf.Object]:
    """The members of an array; none where it is not there."""
    return list(thing[key]) if key in thing else []


def names_of(groups: Iterable[pikepdf.Object]) -> tuple[str, ...]:
    """What layers are called."""
    return tuple(str(group["/Name"]) for group in groups)


def widths_of(font: pikepdf.Object) -> Widths:
    """The widths of a font's letters, by code."""
    first = int(font.get("/FirstChar", 0))
    return {first + i: float(width) for i, width in enumerate(listed(font, "/Widths"))}


def font_of(font: pikepdf.Object) -> tuple[str, bool]:
    """A font's name without its subset's tag, and whether it is embedded."""
    name = str(font["/BaseFont"]).lstrip("/")
    described = font["/DescendantFonts"][0] if "/DescendantFonts" in font else font
    descriptor = under(described, "/FontDescriptor")
    embedded = any(key in descriptor for key in ("/FontFile", "/FontFile2", "/FontFile3"))
    return re.sub(r"^[A-Z]{6}\+", "", name), embedded

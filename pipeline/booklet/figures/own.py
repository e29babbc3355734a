"""The guard of figures that a designer brings: an SVG passes what a master passes, and nothing in it acts or fetches.

Texts are allowed; they are set in the one font of everything that is printed. A file that is too large is told of
without being read.
"""

import re
from collections.abc import Iterator
from pathlib import Path

import msgspec

from pipeline.drawing.fonts import FAMILY
from pipeline.masters.source_file import LARGEST_MASTER, FileFault, read_source
from pipeline.masters.svg.fault import SvgFault, excerpt
from pipeline.masters.svg.numbers import PIXELS_PER_INCH
from pipeline.masters.svg.reading import FileUnusableError, Reading
from pipeline.masters.svg.tree import XLINK_HREF, Node, parse_svg
from pipeline.masters.svg.viewport import root_size_mm
from pipeline.masters.svg.walk import drawn_objects
from pipeline.model.findings import Finding
from pipeline.model.stages import Stage

OF_FIGURES = Stage(
    id="booklet-figures",
    title="A figure of the booklet can be printed: a plain SVG of a sensible size that needs nothing beside itself",
    rationale="What runs, or is fetched from elsewhere, is not what the designer looked at, and may be obeyed.",
    severity="block",
)
LARGEST_SIDE_MM = 2000.0
"""Of the page of a figure: it is made smaller to fit its column, and what is larger has a wrong unit."""
_ACTING = frozenset(
    (
        *("script", "handler", "listener", "foreignObject", "iframe", "audio", "video"),
        *("animate", "animateTransform", "animateMotion", "animateColor", "set", "discard"),
    )
)
_PICTURES = frozenset(("image", "feImage"))
_DRAWING = frozenset(("path", "rect", "circle", "ellipse", "line", "polyline", "polygon", "text", "use"))
_URL = re.compile(r"(?i)url\(\s*[\"']?\s*([^)\"'\s]*)")
_FETCHES = re.compile(r"(?i)@import|javascript:|expression\s*\(|\bdata:|-moz-binding")
_PLAIN = "Save the file again as plain SVG."


class OwnFigure(msgspec.Struct, frozen=True):
    """A figure that a designer drew: the file as it is, and the size of its page."""

    data: bytes
    width_mm: float
    height_mm: float


def read_own_figure(file: Path, name: str, pattern: str) -> tuple[OwnFigure | None, tuple[Finding, ...]]:
    """(the figure, what is to be told of it); no figure where something blocks.

    `name` is what findings call the file, relative to the pattern's folder. Pixels are taken at 96 to the inch.
    """
    data = read_source(file, LARGEST_MASTER)
    if isinstance(data, FileFault):
        return None, (_of_file(data, name, pattern),)
    reading = Reading(pattern, "", "", name)
    sides: tuple[float, float] | None = None
    try:
        root = parse_svg(data)
        drawn_objects(root, reading, PIXELS_PER_INCH)
        _tell_dangers(root, reading)
        sides = _sides(root, reading)
    except SvgFault as fault:
        reading.tell_fault(fault)
    except FileUnusableError:
        pass
    blocked = reading.blocked or sides is None
    told = [finding for finding in reading.findings() if finding.severity != "info"]
    findings = tuple(
        msgspec.structs.replace(finding, check=OF_FIGURES.id, size=None, piece=None, where=None) for finding in told
    )
    return (None if blocked or sides is None else OwnFigure(data, *sides)), findings


def _of_file(fault: FileFault, name: str, pattern: str) -> Finding:
    return Finding(
        check=OF_FIGURES.id,
        code=fault.code,
        severity="block",
        pattern=pattern,
        file=name,
        found=fault.found,
        allowed=fault.allowed,
        message=f"{name} {fault.message}",
        remedy=fault.remedy,
    )


def _sides(root: Node, reading: Reading) -> tuple[float, float] | None:
    """Width and height of the page, where they can be read; what is wrong with them otherwise, the walk told."""
    try:
        width, height = (root_size_mm(root, key, PIXELS_PER_INCH) for key in ("width", "height"))
    except SvgFault:
        return None
    if max(width, height) > LARGEST_SIDE_MM:
        reading.tell(
            "too-far",
            f"The figure's page is {width:.0f} x {height:.0f} mm.",
            "Give the page its size in mm in the document settings of the drawing program.",
            node=root,
            found=f"{width:.0f} x {height:.0f} mm",
            allowed=f"up to {LARGEST_SIDE_MM:.0f} mm",
        )
    if not any(node.tag in _DRAWING for node in root.walk()):
        reading.tell(
            "nothing-drawn",
            "The file draws nothing.",
            "Save the figure again, or take it out of the booklet.",
            node=root,
            found="no line and no text",
            allowed="a drawing",
        )
    return width, height


def _tell_dangers(root: Node, reading: Reading) -> None:
    for node in root.walk():
        for code, message, remedy, found, allowed in _dangers(node):
            reading.tell(code, message, remedy, node=node, found=found, allowed=allowed)
        for family in _families(node):
            if FAMILY.lower() not in family.lower():
                message = f"A text asks for the font {excerpt(family, 40)!r}; the booklet sets it in {FAMILY}."
                remedy = f"Set it in {FAMILY} to see what is printed, or turn its letters into paths."
                reading.tell("font", message, remedy, node=node, severity="warn", found=family, allowed=FAMILY)


def _dangers(node: Node) -> Iterator[tuple[str, str, str, str, str]]:
    """(code, message, remedy, found, allowed) of all that an element would do or fetch."""
    if node.tag in _ACTING:
        message = f"The figure has a <{node.tag}>: something that acts, which no printed page does."
        yield "script", message, "Delete it.", node.tag, "lines, areas and texts"
    if node.tag in _PICTURES:
        message = f"The figure has an <{node.tag}>: a picture of pixels, which is not printed."
        yield "picture", message, "Draw it as lines, or take it out.", node.tag, "lines, areas and texts"
    for key, value in node.attributes.items():
        short = key.rpartition("}")[2].lower()
        if short.startswith("on"):
            message = f"The attribute {excerpt(short, 20)} would run a script."
            yield "script", message, "Delete the attribute.", f"{short}={excerpt(value, 40)}", "no scripts"
        elif (key in ("href", XLINK_HREF) and _outside(value)) or (short == "base" and value.strip()):
            message = f"It refers to {excerpt(value, 40)!r}, outside the file."
            yield "outside", message, "Delete the link.", value, "references within the file"
        else:
            yield from _in_style(value)
    if node.tag == "style":
        yield from _in_style(node.text)


def _in_style(text: str) -> Iterator[tuple[str, str, str, str, str]]:
    outside = next((target for target in _URL.findall(text) if _outside(target)), None)
    fetches = _FETCHES.search(text)
    if outside is not None or fetches is not None:
        found = outside if outside is not None else (fetches[0] if fetches else "")
        message = f"It takes something from {excerpt(found, 40)!r}, outside the file."
        yield "outside", message, _PLAIN, found, "references within the file"


def _outside(target: str) -> bool:
    return not target.strip().startswith("#")


def _families(node: Node) -> Iterator[str]:
    if node.tag in ("text", "tspan"):
        style = re.search(r"(?i)font-family\s*:\s*([^;]+)", node.attributes.get("style", ""))
        found = style[1] if style else node.attributes.get("font-family", "")
        if found.strip():
            yield found.strip()

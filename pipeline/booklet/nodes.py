"""What is set: a booklet as plain values, in reading order, which the typesetter draws and never runs.

Every text is data: nothing that a designer wrote is ever read as instructions of the typesetter.
"""

from typing import Literal

import msgspec

from pipeline.booklet.column_widths import TableLook, WordsFit
from pipeline.booklet.unbroken import unbroken
from pipeline.drawing.scene import Scene
from pipeline.drawing.svg import document

Edition = Literal["a4", "letter", "large-print"]
EDITIONS: tuple[Edition, ...] = ("a4", "letter", "large-print")
Tone = Literal["note", "caution", "view"]
Alone = Literal["", "cover", "nodes"]
"""What a picture shows of a booklet, on one page as high as that."""


class Margins(msgspec.Struct, frozen=True):
    """What a page leaves free beside, above and below its texts, in mm."""

    beside: float
    above: float
    below: float


def margins_of(large: bool) -> Margins:
    """The margins of an edition's pages, which are known nowhere else."""
    return Margins(20, 22, 24) if large else Margins(22, 24, 24)


class Run(msgspec.Struct, frozen=True, omit_defaults=True):
    """A stretch of text: bold, leading to an address, or followed by a line break."""

    text: str
    bold: bool = False
    address: str = ""
    ends: bool = False
    small: bool = False


Runs = tuple[Run, ...]


class Figure(msgspec.Struct, frozen=True, tag=True):
    """A picture by its file, as wide as it is drawn or as the column; `alt` says what it shows."""

    file: str
    alt: str
    width_mm: float
    height_mm: float


class Cell(msgspec.Struct, frozen=True, omit_defaults=True):
    """A cell of a grid: text, or a picture."""

    runs: Runs = ()
    figure: Figure | None = None
    right: bool = False


class Head(msgspec.Struct, frozen=True, tag=True):
    """A heading; `part` begins a page."""

    level: int
    runs: Runs
    part: bool = False


class Text(msgspec.Struct, frozen=True, tag=True):
    """A paragraph."""

    runs: Runs


class Listed(msgspec.Struct, frozen=True, tag=True):
    """A list; numbered from `start` on, unless it is 0. `inner` steps are counted for themselves. What is not numbered
    may stand in several columns."""

    items: "tuple[tuple[Node, ...], ...]"
    start: int = 0
    inner: bool = False
    columns: int = 1


class Grid(msgspec.Struct, frozen=True, tag=True):
    """A table whose headings are repeated on every page; `shares` are how wide columns are against each other, `above`
    a heading for each run of columns, empty where a column has its own alone. `words_fit`: which words stay whole;
    `parted`: of each column whether its heading is too long for it, where that was measured."""

    head: tuple[Cell, ...]
    rows: tuple[tuple[Cell, ...], ...]
    shares: tuple[float, ...]
    look: TableLook = "plain"
    above: tuple[tuple[str, int], ...] = ()
    words_fit: WordsFit = "no"
    parted: tuple[bool, ...] = ()


class Boxed(msgspec.Struct, frozen=True, tag=True):
    """What stands apart under a word of its own."""

    tone: Tone
    label: str
    nodes: "tuple[Node, ...]"


class Apart(msgspec.Struct, frozen=True, tag=True):
    """What has pages of its own, which lie on their sides where it is `wide`; it stands within nothing else."""

    nodes: "tuple[Node, ...]"
    wide: bool


Node = Head | Text | Listed | Grid | Boxed | Figure | Apart


class Cover(msgspec.Struct, frozen=True):
    """The first page."""

    title: str
    kind: str
    maker: str
    lines: tuple[str, ...]
    figure: Figure | None
    logo: Figure | None


class Page(msgspec.Struct, frozen=True):
    """How pages look, and the words around the text. `number` is what stands before, between and after two numbers."""

    paper: str
    large: bool
    margins: Margins
    accent: str
    language: str
    region: str
    number: tuple[str, str, str]
    running: str
    contents: str
    alone: Alone = ""


class Document(msgspec.Struct, frozen=True):
    """A whole booklet in one language and edition."""

    title: str
    author: str
    page: Page
    cover: Cover
    nodes: tuple[Node, ...]


class Pictures:
    """The pictures of a booklet by file; what is drawn twice alike is kept once."""

    def __init__(self, large: bool = False, written: dict[int, tuple[Scene, bytes]] | None = None) -> None:
        """`large`: they are drawn for large print. `written` are scenes as SVG, by which object they are: what one
        edition wrote serves the next."""
        self.large = large
        self.written = {} if written is None else written
        self.files: dict[str, bytes] = {}
        self._known: dict[bytes, str] = {}

    def add(self, data: bytes, width_mm: float, height_mm: float, alt: str) -> Figure:
        """A picture from an SVG."""
        if data not in self._known:
            self._known[data] = f"figure-{len(self._known) + 1}.svg"
            self.files[self._known[data]] = data
        return Figure(self._known[data], alt, width_mm, height_mm)

    def draw(self, scene: Scene, alt: str, grown: float = 1.0) -> Figure:
        """A picture from a scene, shown so much larger than it is drawn."""
        if id(scene) not in self.written:
            self.written[id(scene)] = scene, document(scene).encode()
        return self.add(self.written[id(scene)][1], scene.width_mm * grown, scene.height_mm * grown, alt)


def run(text: str, bold: bool = False, address: str = "", ends: bool = False, small: bool = False) -> Run:
    """A stretch of text whose lengths are not parted."""
    return Run(unbroken(text), bold, address, ends, small)


def plain(text: str, bold: bool = False) -> Runs:
    """One stretch of text."""
    return (run(text, bold),)


def cell(text: str, bold: bool = False, right: bool = False) -> Cell:
    """A cell of text; what stands after a line break in it is small."""
    first, _, rest = text.partition("\n")
    runs = (run(first, bold, ends=bool(rest)), *((run(rest, small=True),) if rest else ()))
    return Cell(runs, right=right)

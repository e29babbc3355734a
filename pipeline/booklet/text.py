"""A booklet's text as values: what stands in `booklet/<language>.md`, each with the line where it stands."""

from typing import Literal

import msgspec

from pipeline.model.pattern import Sum

OwnerKind = Literal["piece", "seam", "strip", "notion", "material", "term"]
BoxKind = Literal["note", "caution", "view"]
Align = Literal["left", "centre", "right"]


class SumOf(msgspec.Struct, frozen=True, tag=True):
    """`{{ 2 x front.hem + 3 cm }}`: what a sum comes to, size by size."""

    total: Sum


class Named(msgspec.Struct, frozen=True, tag=True):
    """`{{ piece front }}`, `{{ term baste }}`: what customers call something of the pattern, or a word of the trade."""

    kind: OwnerKind
    name: str


class AllowanceOf(msgspec.Struct, frozen=True, tag=True):
    """`{{ allowance front.hem }}`: the allowance of an edge."""

    piece: str
    edge: str


class GrownOnOf(msgspec.Struct, frozen=True, tag=True):
    """`{{ grown-on front.cf }}`: how wide what is cut in one with a piece along an edge is, once it is folded back."""

    piece: str
    edge: str


class RowsOf(msgspec.Struct, frozen=True, tag=True):
    """`{{ topstitch shoulder }}`, `{{ topstitch front.hem }}`: where the rows of stitching of a seam or an edge lie."""

    name: str


class GapOf(msgspec.Struct, frozen=True, tag=True):
    """`{{ turn_through lining-hem }}`: the gap that is left in a seam to turn it through."""

    seam: str


class TableOf(msgspec.Struct, frozen=True, tag=True):
    """`{{ table cloth }}`: a whole table."""

    name: str


class FigureOf(msgspec.Struct, frozen=True, tag=True):
    """`{{ figure seam armhole }}`: a figure that the pipeline draws; the words after `figure`."""

    words: tuple[str, ...]


Reference = SumOf | Named | AllowanceOf | GrownOnOf | RowsOf | GapOf | TableOf | FigureOf


class Words(msgspec.Struct, frozen=True, tag=True):
    """Plain text."""

    text: str


class Strong(msgspec.Struct, frozen=True, tag=True):
    """What stands out."""

    inside: "tuple[Inline, ...]"


class Link(msgspec.Struct, frozen=True, tag=True):
    """Text that leads to an address."""

    address: str
    inside: "tuple[Inline, ...]"


class Break(msgspec.Struct, frozen=True, tag=True):
    """A line break that is meant."""


class Value(msgspec.Struct, frozen=True, tag=True):
    """A reference within a text; `written` is what stands between the braces."""

    reference: Reference
    written: str
    line: int


Inline = Words | Strong | Link | Break | Value


class Heading(msgspec.Struct, frozen=True, tag=True):
    """A heading of level 1 to 6."""

    level: int
    inside: tuple[Inline, ...]
    line: int


class Paragraph(msgspec.Struct, frozen=True, tag=True):
    """A paragraph."""

    inside: tuple[Inline, ...]
    line: int


class Item(msgspec.Struct, frozen=True):
    """One step, or one entry of a list."""

    blocks: "tuple[Block, ...]"
    line: int


class Steps(msgspec.Struct, frozen=True, tag=True):
    """Numbered steps; numbers run on through the whole text. Those within a step are counted for themselves."""

    items: tuple[Item, ...]
    line: int


class Bullets(msgspec.Struct, frozen=True, tag=True):
    """A list without an order."""

    items: tuple[Item, ...]
    line: int


class Cell(msgspec.Struct, frozen=True):
    """A cell of a table."""

    inside: tuple[Inline, ...]
    align: Align = "left"


class Table(msgspec.Struct, frozen=True, tag=True):
    """A table with one row of headings."""

    head: tuple[Cell, ...]
    rows: tuple[tuple[Cell, ...], ...]
    line: int


class Box(msgspec.Struct, frozen=True, tag=True):
    """A note, a caution, or what holds for one view only."""

    kind: BoxKind
    view: str | None
    blocks: "tuple[Block, ...]"
    line: int


class Picture(msgspec.Struct, frozen=True, tag=True):
    """A figure of the designer: its place in the folder `booklet/`, and what it shows for who cannot see it."""

    file: str
    alt: str
    line: int


class Inserted(msgspec.Struct, frozen=True, tag=True):
    """A table or figure of the pipeline, in a paragraph of its own."""

    reference: TableOf | FigureOf
    written: str
    line: int


Block = Heading | Paragraph | Steps | Bullets | Table | Box | Picture | Inserted


class Booklet(msgspec.Struct, frozen=True):
    """The text of one language; `file` is its place in the pattern's folder."""

    language: str
    file: str
    blocks: tuple[Block, ...]


class Fault(msgspec.Struct, frozen=True, kw_only=True):
    """What is wrong at a line of a text; `code` is stable."""

    code: str
    line: int
    found: str
    allowed: str
    message: str
    remedy: str

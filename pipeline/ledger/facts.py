"""What a version is, in values that outlast its files: shapes, counts, rows of tables, texts, pages."""

from typing import Literal

import msgspec

Table = Literal["cloth", "strips", "notions", "measures"]

Parts = tuple[tuple[str, str], ...]
"""What each part of a file is called, and what it says or shows."""


class PieceFacts(msgspec.Struct, frozen=True):
    """A piece in one size. `shape` is the digest of its packed shape; `said` what is said of it beside its shape."""

    shape: str
    said: dict[str, str]


class Facts(msgspec.Struct, frozen=True, kw_only=True, omit_defaults=True):
    """A version. `pieces` by piece and size; `rows` by table, row and size; `texts` by key and language.

    `pages` are by print file the labels of its pages and a digest of what each shows, in the order of the file.
    `booklet` has the parts of each file of the booklet in their order, each with what it is called, `fonts` are the
    SHA-256 of the files of the letters, `shown` by what it is called what pages show besides: the logo, and edges whose
    sizes are blended; None in versions that were sealed before they were kept.
    """

    sizes: tuple[str, ...]
    pieces: dict[str, dict[str, PieceFacts]]
    rows: dict[Table, dict[str, dict[str, str]]]
    texts: dict[str, dict[str, str]]
    pages: dict[str, tuple[tuple[str, str], ...]]
    booklet: dict[str, Parts] | None = None
    fonts: dict[str, str] | None = None
    shown: dict[str, str] | None = None


class Measured(msgspec.Struct, frozen=True):
    """Facts, and the packed shapes that they name, by digest."""

    facts: Facts
    shapes: dict[str, str]

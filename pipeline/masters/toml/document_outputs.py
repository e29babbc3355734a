"""What `pattern.toml` says of what is made and sold, as it is written: print, lays, channels, waivers."""

from typing import Annotated, Literal

import msgspec
from msgspec import UNSET, Meta, UnsetType

from pipeline.masters.toml.leaf_types import LINE, Length, Line, Name, Percent, PlaceText, Prose
from pipeline.model.outputs import PrintFormat

MOST_GLOBS = 50
MOST_CONTACT_LINES = 4
ContactLine = Annotated[
    str,
    Meta(pattern=LINE, min_length=1, max_length=80, title="one line of at most 80 letters", extra={"code": "bad-text"}),
]
Glob = Annotated[
    str,
    Meta(
        pattern=r"^(?!/)(?!.*(^|/)\.\.?(/|$))[^\\\x00-\x1f]{1,200}\.(svg|dxf)$",
        title='a file in the pattern\'s folder that ends in .svg or .dxf, as "drawing/nest.svg" or "drawing/*.svg"',
    ),
]


class Table(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A table of the file: no key but those named."""


class PrintTable(Table, kw_only=True, frozen=True):
    """What is printed."""

    formats: Annotated[tuple[PrintFormat, ...], Meta(min_length=1)] = ("a4", "letter", "a0", "roll-36in", "projector")
    margin: Annotated[Length, Meta(description="of a tiled page")] = "10 mm"
    overlap: Annotated[Length, Meta(description="of neighbouring tiles, for those who glue on a strip")] = "0 mm"
    by_size: Annotated[bool, Meta(description="also each size alone, for every paper and the projector")] = True
    black: Annotated[bool, Meta(description="no colour: sizes differ by their dashes and labels alone")] = False
    languages_together: Annotated[
        bool,
        Meta(description="all languages in one file; false: each has files of its own, on paper and for projectors"),
    ] = True


class BookletTable(Table, kw_only=True, frozen=True):
    """How the booklet looks."""

    accent: Annotated[
        str,
        Meta(
            pattern="^#[0-9a-fA-F]{6}$",
            title='a colour, as "#1f5a57"',
            description="of headings and numbers: 4.5:1 or more against white",
        ),
    ] = "#1f5a57"
    paper: Annotated[Literal["a4", "letter"], Meta(description="of the large-print edition")] = "a4"


class StyleTable(Table, kw_only=True, frozen=True):
    """What of the designer's own is seen on paper."""

    contact_lines: Annotated[
        tuple[ContactLine, ...],
        Meta(max_length=MOST_CONTACT_LINES, description="where else she is found, a line each, alike in all languages"),
    ] = ()
    line_width: Annotated[Length, Meta(description="of cut lines on paper, 0.3 to 0.6 mm")] | UnsetType = UNSET
    text_size: (
        Annotated[Percent, Meta(description="of words on pieces on paper against the usual, 80 % to 150 %")] | UnsetType
    ) = UNSET


class ProjectorTable(Table, kw_only=True, frozen=True):
    """How projector files are made."""

    unfold: Annotated[bool, Meta(description="pieces on the fold drawn whole")] = True
    width: Annotated[Length, Meta(description="of the table")] = "1.5 m"


class LayoutTable(Table, kw_only=True, frozen=True):
    """How pieces lie on paper."""

    renew: Annotated[bool, Meta(description="forget where pieces lay in the last sealed version")] = False


class LaysTable(Table, kw_only=True, frozen=True):
    """How pieces lie on cloth."""

    seconds: Annotated[int, Meta(ge=1, le=3600, title="a whole number of seconds from 1 to 3600")] = 3


class MastersTable(Table, kw_only=True, frozen=True):
    """How master files are read."""

    pixels_per_inch: (
        Annotated[float, Meta(ge=10, le=10000, title="pixels to the inch, as 96, 90 or 72")] | UnsetType
    ) = UNSET
    drawings: Annotated[
        tuple[Glob, ...],
        Meta(max_length=MOST_GLOBS, description="SVG or DXF files that masters are cut out of, as drawing/*.svg"),
    ] = ()
    by_shape: Annotated[
        bool,
        Meta(
            description="in layers without groups of roles, the largest closed outline is the seam line, a straight"
            " line inside it the grain, small things on it notches"
        ),
    ] = False


class ChannelTable(Table, kw_only=True, frozen=True):
    """A place of sale: how many archives it takes, and how large."""

    archives: Annotated[int, Meta(ge=1, le=1000, title="a whole number from 1 to 1000")]
    archive_mb: Annotated[float, Meta(gt=0, le=1e6, title="megabytes above 0")]


class WaiverTable(Table, kw_only=True, frozen=True):
    """A finding that the designer accepts."""

    check: Line
    where: PlaceText
    why: Prose
    code: Line | UnsetType = UNSET
    size: Name | UnsetType = UNSET

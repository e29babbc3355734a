"""`pattern.toml` exactly as it is written, key by key: what the JSON schema is generated from.

Nothing is converted here; `convert` makes the model's values of it. Where a key may be left out, its default stands
here, or `UNSET` where leaving it out means something that depends on other keys.
"""

from typing import Annotated, Literal

import msgspec
from msgspec import UNSET, Meta, UnsetType

from pipeline.masters.toml.document_edges import EdgeTable
from pipeline.masters.toml.document_materials import MaterialTable
from pipeline.masters.toml.document_outputs import (
    BookletTable,
    ChannelTable,
    LayoutTable,
    LaysTable,
    MastersTable,
    PrintTable,
    ProjectorTable,
    StyleTable,
    Table,
    WaiverTable,
)
from pipeline.masters.toml.leaf_types import (
    Casings,
    Counts,
    EaseText,
    Language,
    Length,
    LongText,
    Mirrored,
    Name,
    NotionCounts,
    PublicKey,
    RangeText,
    Rows,
    SideText,
    Sums,
    SumText,
    Text,
    Version,
)
from pipeline.model.pattern import StripGrain, StripMake, Units, Wearer
from pipeline.model.piece_specs import Grain, LineKind, NotchStyle, Side

NEWEST_FORMAT = 1
MOST_SIZES = 100
MOST_KEYS = 20
MOST_SIDES = 40
"""Edges in one side of a seam."""
MOST_CUTS = 30
MOST_LAYERS = 9
LAYERS_SHOWN = f"a whole number from 2 to {MOST_LAYERS}"
MOST_AROUND = 200
MOST_SOLD = 40
"""Lengths that a notion is sold in."""


class PatternTable(Table, kw_only=True, frozen=True):
    """What the pattern is."""

    title: Text
    version: Version
    maker: Text
    contact: Annotated[LongText, Meta(description="where buyers turn to")]
    sizes: (
        Annotated[tuple[Name, ...], Meta(min_length=1, max_length=MOST_SIZES, description="all sizes, smallest first")]
        | UnsetType
    ) = UNSET
    size_titles: Annotated[
        dict[Name, Text], Meta(description="what a size, or a value of an axis, is called to buyers, as S (36/38)")
    ] = {}
    base: Annotated[Name, Meta(description="the size that the others are graded from")]
    bands: Annotated[tuple[Name, ...], Meta(description="grading bands: the last size of each but the last")] = ()
    languages: Annotated[tuple[Language, ...], Meta(min_length=1, description="what texts and booklets are written in")]
    units: Annotated[Units, Meta(description="printed first; the other system follows in brackets")] = "metric"
    wearer: Wearer = "adult"
    sleepwear: bool = False
    licence: LongText = ""
    clips: Annotated[bool, Meta(description="tight inward curves get marks where to clip after sewing")] = True
    sign: Annotated[
        tuple[PublicKey, ...],
        Meta(max_length=MOST_KEYS, description="public keys: what is sealed is signed by the first one's private key"),
    ] = ()


class ViewTable(Table, kw_only=True, frozen=True):
    """A version of the garment."""

    title: Text


class CutTable(Table, kw_only=True, frozen=True):
    """How many whole pieces are cut of a material."""

    material: Name
    count: Counts
    mirrored: Annotated[Mirrored, Meta(description="how many of the count are mirror images")] | UnsetType = UNSET
    side: Annotated[Side, Meta(description="the one side of the wearer that has it")] | UnsetType = UNSET
    layers: Annotated[
        int, Meta(ge=2, le=MOST_LAYERS, description="so many of the count lie on each other", title=LAYERS_SHOWN)
    ] | (UnsetType) = UNSET


class LineTable(Table, kw_only=True, frozen=True):
    """What an inside line is."""

    kind: LineKind = "place"
    title: Annotated[Text, Meta(description="what is written beside it; else its usual name")] | UnsetType = UNSET
    side: Annotated[Side, Meta(description="the one side of the wearer that has it")] | UnsetType = UNSET
    sizes: Annotated[tuple[Name, ...], Meta(min_length=1, description="only these sizes have it")] | UnsetType = UNSET


class PointTable(Table, kw_only=True, frozen=True):
    """What a point or a buttonhole is."""

    title: Annotated[Text, Meta(description="what is written beside it; else its usual name")] | UnsetType = UNSET
    side: Annotated[Side, Meta(description="the one side of the wearer that has it")] | UnsetType = UNSET
    sizes: Annotated[tuple[Name, ...], Meta(min_length=1, description="only these sizes have it")] | UnsetType = UNSET


class UptoTable(Table, kw_only=True, frozen=True):
    """Where a part of a piece ends: at an inside line, on the side that has an edge."""

    line: Name
    keep: Annotated[Name, Meta(description="an edge that lies on the side that is kept, all of it")]


class PieceTable(Table, kw_only=True, frozen=True):
    """A piece that is drawn, or derived from a drawn one."""

    title: Text
    number: Annotated[int, Meta(ge=1, le=999, title="a whole number from 1 to 999")] | UnsetType = UNSET
    sizes: Annotated[tuple[Name, ...], Meta(min_length=1, description="only these sizes")] | UnsetType = UNSET
    views: Annotated[tuple[Name, ...], Meta(min_length=1, description="only these views")] | UnsetType = UNSET
    cut: Annotated[tuple[CutTable, ...], Meta(max_length=MOST_CUTS)] = ()
    side: Annotated[Side, Meta(description="the one side of the wearer that has it")] | UnsetType = UNSET
    allowance: Annotated[Length, Meta(description="of every edge that says nothing else")] | UnsetType = UNSET
    grain: Annotated[Grain, Meta(description="what the grain line is held against")] = "warp"
    edges: dict[Name, EdgeTable] = {}
    lines: dict[Name, LineTable] = {}
    points: dict[Name, PointTable] = {}
    notches: dict[Name, NotchStyle] = {}
    cord: bool | UnsetType = UNSET
    clips: Annotated[bool, Meta(description="whether it is clipped; else as the pattern says")] | UnsetType = UNSET
    outline_of: Annotated[Name, Meta(description="the drawn piece whose outline it takes")] | UnsetType = UNSET
    trim: Annotated[Length, Meta(description="its cut line lies so far inside the source's")] | UnsetType = UNSET
    past_seam: Annotated[Length, Meta(description="its cut line lies so far outside the seam line")] | UnsetType = UNSET
    upto: Annotated[UptoTable, Meta(description="it ends at an inside line of the source")] | UnsetType = UNSET
    between: (
        Annotated[
            tuple[Name, ...],
            Meta(min_length=2, max_length=2, description="it lies between these two inside lines of the source"),
        ]
        | UnsetType
    ) = UNSET
    around: Annotated[
        tuple[Name, ...],
        Meta(max_length=MOST_AROUND, description="edges of a closed outline, clockwise from its top left corner"),
    ] = ()
    start: Annotated[Name, Meta(description="the mark in the group corners where `around` begins")] | UnsetType = UNSET
    corners: Annotated[
        tuple[Name, ...],
        Meta(max_length=MOST_AROUND, description="notches at which a closed outline has a corner, in every size"),
    ] = ()


class SeamTable(Table, kw_only=True, frozen=True):
    """Two sides that are sewn together."""

    title: Annotated[Text, Meta(description="what booklets call it, before its pieces")] | UnsetType = UNSET
    a: Annotated[tuple[SideText, ...], Meta(min_length=1, max_length=MOST_SIDES)]
    b: Annotated[tuple[SideText, ...], Meta(min_length=1, max_length=MOST_SIDES)]
    ease: Annotated[EaseText, Meta(description="length of a minus length of b")] = "0 mm"
    tolerance: Length = "1 mm"
    notches: bool = True
    angles: bool = True
    kind: Annotated[
        Literal["sewn", "lining", "facing", "bagged"],
        Meta(description="facing: sewn, and turned to the inside; bagged: sewn to the raw edge of a hem, side b"),
    ] = "sewn"
    turn_through: Annotated[Length, Meta(description="a gap that is left to turn it right side out")] | UnsetType = (
        UNSET
    )
    topstitch: Annotated[Rows, Meta(description="rows of stitching that are seen, so far from the seam line")] = ()
    pressed: (
        Annotated[
            str,
            Meta(
                max_length=100,
                title='a piece of the seam, or "open"; of a piece that is sewn to its copy "left", "right" or "open"',
                description="to where its allowances are pressed, under the rows",
            ),
        ]
        | UnsetType
    ) = UNSET


class StripTable(Table, kw_only=True, frozen=True):
    """A straight piece that needs no drawing."""

    title: Text
    cut: Annotated[tuple[CutTable, ...], Meta(min_length=1, max_length=MOST_CUTS)]
    width: Annotated[Length, Meta(description="finished")]
    make: StripMake
    length: Annotated[SumText, Meta(description="a sum; 2 allowances are added")]
    allowance: Length = "0 mm"
    opening: Annotated[SumText, Meta(description="a sum: what must pass through")] | UnsetType = UNSET
    goes_round: Annotated[SumText, Meta(description="a sum: what it goes round")] | UnsetType = UNSET
    stretched: Annotated[EaseText, Meta(description="its length as a share of what it goes round")] | UnsetType = UNSET
    opens_to: Annotated[SumText, Meta(description="a sum: what it must let through, pulled")] | UnsetType = UNSET
    casing: Annotated[Casings, Meta(description="what it is drawn into, as a drawstring")] = ()
    grain: StripGrain = "along"
    join: Annotated[Length, Meta(description="may be pieced, with this allowance at each join")] | UnsetType = UNSET
    drawn: bool = False
    cord: bool | UnsetType = UNSET
    views: Annotated[tuple[Name, ...], Meta(min_length=1, description="only these views")] | UnsetType = UNSET


class BodyTable(Table, kw_only=True, frozen=True):
    """What the wearer measures."""

    title: Text
    sizes: Annotated[dict[Name, Length], Meta(title='a length a size, as { "34" = "80 cm", "36" = "84 cm" }')]


class FinishedTable(Table, kw_only=True, frozen=True):
    """What the garment measures."""

    title: Text
    sum: SumText
    ease: Annotated[EaseText, Meta(description="over the body measure of the same name")] | UnsetType = UNSET
    allowed: RangeText | UnsetType = UNSET
    grade: Literal["rises", "constant", "free"] | UnsetType = UNSET


class NotionTable(Table, kw_only=True, frozen=True):
    """Buttons, zips, elastic, tape."""

    title: Text
    count: NotionCounts | UnsetType = UNSET
    length: Sums | UnsetType = UNSET
    lengths: (
        Annotated[
            tuple[Length, ...],
            Meta(
                min_length=1,
                max_length=MOST_SOLD,
                description="that it is sold in: each size takes the nearest to its own",
            ),
        ]
        | UnsetType
    ) = UNSET
    opening: Annotated[SumText, Meta(description="what it is sewn into, as a zip's slit")] | UnsetType = UNSET
    width: Annotated[Length, Meta(description="as it is sold, of elastic or tape")] | UnsetType = UNSET
    casing: Annotated[Casings, Meta(description="what elastic is drawn into")] = ()
    goes_round: Annotated[SumText, Meta(description="a sum: what elastic is drawn into or sewn to")] | UnsetType = UNSET
    stretched: Annotated[EaseText, Meta(description="its length as a share of what it goes round")] | UnsetType = UNSET
    opens_to: Annotated[SumText, Meta(description="a sum: what must pass, as hips or a head")] | UnsetType = UNSET
    small_part: Annotated[bool, Meta(description="could be swallowed")] | UnsetType = UNSET
    cord: bool | UnsetType = UNSET
    views: Annotated[tuple[Name, ...], Meta(min_length=1, description="only these views")] | UnsetType = UNSET


class Document(Table, kw_only=True, frozen=True):
    """What a designer says of a pattern: all of `pattern.toml`."""

    format: Annotated[int, Meta(ge=1, le=NEWEST_FORMAT, title=f"the number {NEWEST_FORMAT}")]
    pattern: PatternTable
    size_axes: Annotated[
        dict[Name, Annotated[tuple[Name, ...], Meta(min_length=1, max_length=MOST_SIZES)]],
        Meta(description="values of each ladder of sizes, smallest first; without: points that are not offered"),
    ] = msgspec.field(name="size-axes", default={})
    size_sets: dict[Name, Annotated[tuple[Name, ...], Meta(min_length=1)]] = msgspec.field(name="size-sets", default={})
    views: dict[Name, ViewTable] = {}
    materials: dict[Name, MaterialTable] = {}
    pieces: dict[Name, PieceTable] = {}
    seams: dict[Name, SeamTable] = {}
    strips: dict[Name, StripTable] = {}
    body: dict[Name, BodyTable] = {}
    finished: dict[Name, FinishedTable] = {}
    notions: dict[Name, NotionTable] = {}
    print: PrintTable = PrintTable()
    projector: ProjectorTable = ProjectorTable()
    booklet: BookletTable = BookletTable()
    style: StyleTable = StyleTable()
    layout: LayoutTable = LayoutTable()
    lays: LaysTable = LaysTable()
    masters: MastersTable = MastersTable()
    channels: dict[Name, ChannelTable] = {}
    waivers: tuple[WaiverTable, ...] = ()

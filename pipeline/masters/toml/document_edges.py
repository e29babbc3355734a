"""The edges of a piece in `pattern.toml`, as they are written."""

from typing import Annotated

import msgspec
from msgspec import UNSET, Meta, UnsetType

from pipeline.masters.toml.document_outputs import Table
from pipeline.masters.toml.leaf_types import Length, Name, Rows, Taper
from pipeline.model.piece_specs import Corner, Side, TakeKind

MOST_PARTS = 40
"""Parts of an edge that have an allowance of their own."""
MOST_FOLDS = 6
"""In a hem that is folded more than once."""
MOST_GROWN = 6
"""Parts of an edge along which something is grown on."""


class TakeTable(Table, kw_only=True, frozen=True):
    """A dart, pleat or tuck between two notches of an edge."""

    start: Name = msgspec.field(name="from")
    end: Name = msgspec.field(name="to")
    kind: TakeKind


class PartTable(Table, kw_only=True, frozen=True):
    """The allowance of a part of an edge, from one notch of it, or neighbour that its end meets, to another."""

    start: Name = msgspec.field(name="from")
    end: Name = msgspec.field(name="to")
    allowance: Annotated[Taper, Meta(description="one, or at the first and the second of these places")]
    taper: (
        Annotated[Length, Meta(description="within which length it runs into a narrower one beside it")] | UnsetType
    ) = UNSET


class GrownOnTable(Table, kw_only=True, frozen=True):
    """What is cut in one with the piece along a part of an edge, and folded back there."""

    start: Name = msgspec.field(name="from")
    end: Name = msgspec.field(name="to")
    width: Annotated[
        Taper,
        Meta(description="how deep it lies on the piece once it is folded back; or at the first and second place"),
    ]
    turn_in: Annotated[Length, Meta(description="more than that, turned in along its raw edge")] = "0 mm"
    radius: Annotated[Length, Meta(description="of its end within the edge, where that is rounded")] | UnsetType = UNSET


class BlendTable(Table, kw_only=True, frozen=True):
    """The part of an edge along which sizes are blended, between two of its notches or from an end of it."""

    start: Name = msgspec.field(name="from")
    end: Name = msgspec.field(name="to")


class EdgeTable(Table, kw_only=True, frozen=True):
    """What is said of one edge."""

    allowance: Annotated[Taper, Meta(description="one, or from the edge's first point to its last, clockwise")] | (
        UnsetType
    ) = UNSET
    along: Annotated[
        tuple[PartTable, ...], Meta(max_length=MOST_PARTS, description="parts that have an allowance of their own")
    ] = ()
    corner: (
        Annotated[
            Corner | dict[Name, Corner],
            Meta(title='"mitre", "turned" or "square", or one a neighbour, as { side = "square" }'),
        ]
        | UnsetType
    ) = UNSET
    hem: bool = False
    fold: Annotated[bool, Meta(description="the piece is half of what is cut; this edge lies on the fold")] = False
    half: Annotated[Side, Meta(description="of a fold: the half of the wearer that is drawn")] | UnsetType = UNSET
    clips: Annotated[bool, Meta(description="whether it is clipped; else as the piece says")] | UnsetType = UNSET
    takes: tuple[TakeTable, ...] = ()
    folds: Annotated[
        tuple[Length, ...],
        Meta(max_length=MOST_FOLDS, description="how far from the seam line a turned hem is folded back again"),
    ] = ()
    turn_up: Annotated[bool, Meta(description="with folds: turned to the right side, as of trousers")] = False
    grown_on: Annotated[
        tuple[GrownOnTable, ...],
        Meta(max_length=MOST_GROWN, description="parts along which a fly, a placket, a facing is cut in one with it"),
    ] = ()
    topstitch: Annotated[Rows, Meta(description="rows of stitching that are seen, so far inside the seam line")] = ()
    blend: Annotated[
        BlendTable | bool,
        Meta(
            title="true, or two places as { from = …, to = … }", description="guides to the lines of neighbouring sizes"
        ),
    ] = False

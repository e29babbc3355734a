"""What `pattern.toml` says of cloth, as it is written."""

from typing import Annotated, Literal

from msgspec import UNSET, Meta, UnsetType

from pipeline.masters.toml.document_outputs import Table
from pipeline.masters.toml.leaf_types import Length, Percent, Text
from pipeline.model.pattern import Way

MOST_WIDTHS = 20
"""Each is a lay of every size."""

Ways = Annotated[tuple[Way, ...], Meta(min_length=1, max_length=4)]


class ShrinkageTable(Table, kw_only=True, frozen=True):
    """How much the cloth shrinks along its length and its width."""

    length: Percent = "0 %"
    width: Percent = "0 %"


class StretchTable(Table, frozen=True):
    """What a knit must give, each way."""

    width: Percent
    length: Percent


class RepeatTable(Table, kw_only=True, frozen=True):
    """After what length a print or weave repeats, each way."""

    length: Length | UnsetType = UNSET
    width: Length | UnsetType = UNSET


class MaterialTable(Table, kw_only=True, frozen=True):
    """A cloth, lining or fusing."""

    title: Text
    widths: Annotated[
        tuple[Length, ...], Meta(min_length=1, max_length=MOST_WIDTHS, description="full widths that it is sold in")
    ]
    selvedge: Annotated[Length, Meta(description="not usable, at each edge")] = "0 mm"
    fold: Annotated[bool, Meta(description="laid folded along its length, right sides together")] | UnsetType = UNSET
    ways: Annotated[Ways, Meta(description="all that are allowed; the shortest is told, the first of equal ones")] | (
        UnsetType
    ) = UNSET
    one_way: Annotated[
        bool | Literal["either"], Meta(description='nap or a print with a direction; "either": both are worked out')
    ] = False
    turn: Annotated[Literal["half", "free"], Meta(description="half: 0 and 180 degrees; free: no grain")] = "half"
    gap: Annotated[Length, Meta(description="between pieces of a lay")] = "2 mm"
    shrinkage: Annotated[
        str | ShrinkageTable, Meta(title='a percentage, as "3 %", or { length = "3 %", width = "2 %" }')
    ] = "0 %"
    spare: Annotated[Percent, Meta(description="for laying by hand and crooked ends")] = "0 %"
    least: Annotated[Length, Meta(description="the shortest length that shops sell")] = "0 mm"
    stretch: (
        Annotated[
            str | StretchTable,
            Meta(title='what a knit must give across, as "50 %", or { width = "50 %", length = "20 %" }'),
        ]
        | UnsetType
    ) = UNSET
    recovery: Annotated[Percent, Meta(description="the share of its stretch that a knit must go back")] | UnsetType = (
        UNSET
    )
    repeat: (
        Annotated[
            str | RepeatTable,
            Meta(title='after what length it repeats, as "32 cm", or { length = "32 cm", width = "20 cm" }'),
        ]
        | UnsetType
    ) = UNSET

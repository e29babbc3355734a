"""Where pieces lie on the paper of a build, as the ledger keeps it."""

import base64
import zlib
from collections.abc import Iterable

import msgspec

from pipeline.ledger.book import text_digest
from pipeline.sheets.layout import PagePlan, SavedLayout
from pipeline.sheets.stay import grid_of


def merged(parts: Iterable[SavedLayout], plans: Iterable[PagePlan]) -> SavedLayout:
    """The layouts of all files in one value: the first part is that of all sizes; grids are those of the pages."""
    first, *others = parts
    for part in others:
        first = msgspec.structs.replace(
            first,
            alone=first.alone | part.alone,
            large=first.large | part.large,
            thrown=first.thrown | part.thrown,
            areas=first.areas | part.areas,
        )
    grids = {_kept_as(plan.format): grid for plan in plans if (grid := grid_of(plan)) is not None}
    return msgspec.structs.replace(first, grids=grids)


def _kept_as(file: str) -> str:
    """What a print file's layout is called: "by-size/34-a4" is "34-a4"."""
    return file.removeprefix("by-size/").replace("by-view/", "view ", 1)


def packed_layouts(kept: SavedLayout) -> tuple[str, str]:
    """The digest and the text of layouts, whoever sold them."""
    data = msgspec.json.encode(msgspec.structs.replace(kept, sold=""))
    text = base64.b85encode(zlib.compress(data, 9)).decode()
    return text_digest(text), text

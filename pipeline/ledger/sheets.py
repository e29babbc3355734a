"""Where pieces lay on paper in a sealed version, as the ledger keeps it, and which version a build takes it from."""

import base64
import hashlib
import zlib
from collections.abc import Iterable, Mapping

import msgspec

from pipeline.ledger.book import Entry, Ledger, text_digest
from pipeline.ledger.packed import inflated
from pipeline.masters.copied import BOOKLET
from pipeline.sheets.layout import PagePlan, SavedLayout
from pipeline.sheets.stay import grid_of

_TOLD_ONLY = ("CHANGES.md", f"{BOOKLET}/")
"""What no sheet depends on."""


def source_digest(hashes: Mapping[str, str]) -> str:
    """A digest of all files of a pattern's folder, by name and SHA-256, on which sheets depend."""
    lines = sorted(f"{name} {content}\n" for name, content in hashes.items() if not name.startswith(_TOLD_ONLY))
    return hashlib.sha256("".join(lines).encode()).hexdigest()


def keeps_sheets_of(ledger: Ledger, source: str) -> Entry | None:
    """The version whose sheets a build of this source keeps: the last that was sealed.

    A source that is as it was when that one was sealed is built as it was then, on the sheets of the version before:
    both give the same, and so nothing is made anew because a version was sealed.
    """
    entries = [entry for entry in ledger.versions if entry.layouts]
    if entries and entries[-1].source == source:
        entries.pop()
    return entries[-1] if entries else None


def sold_layouts(ledger: Ledger, entry: Entry) -> bytes:
    """The layouts of a sealed version, as jobs read them. Raises ValueError where they are no such text."""
    kept = msgspec.json.decode(inflated(ledger.layouts[entry.layouts]), type=SavedLayout)
    return msgspec.json.encode(msgspec.structs.replace(kept, sold=entry.version))


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

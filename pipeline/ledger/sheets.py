"""Which sealed version a build keeps the sheets of, and where pieces lay on them."""

import hashlib
from collections.abc import Mapping

import msgspec

from pipeline.ledger.book import Entry, Ledger
from pipeline.ledger.packed import inflated
from pipeline.masters.copied import BOOKLET
from pipeline.model.texts import CHANGES, changes_file
from pipeline.sheets.layout import SavedLayout

_TOLD_ONLY = (CHANGES, changes_file("").removesuffix(".md"), f"{BOOKLET}/")
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

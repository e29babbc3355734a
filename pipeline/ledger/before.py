"""The version that was sold before one, by itself: what a build is held against, whatever else the ledger says."""

import msgspec

from pipeline.ledger.book import Entry, Ledger
from pipeline.ledger.facts import Facts


class Former(msgspec.Struct, frozen=True):
    """A sealed version, its facts and the packed shapes that they name."""

    version: str
    date: str
    facts: Facts
    shapes: dict[str, str]


def sold_before(ledger: Ledger, version: str) -> Former | None:
    """The last sealed version with a lower number; None where there is none.

    Versions that were sealed later say nothing of this one: a build that is sealed has the same one before it.
    """
    lower = [entry for entry in ledger.versions if number(entry.version) < number(version)]
    return _former(lower[-1], ledger) if lower else None


def _former(entry: Entry, ledger: Ledger) -> Former:
    named = {piece.shape for sizes in entry.facts.pieces.values() for piece in sizes.values()}
    shapes = {digest: text for digest, text in ledger.shapes.items() if digest in named}
    return Former(entry.version, entry.date, entry.facts, shapes)


def number(version: str) -> tuple[int, ...]:
    """A version's three numbers, to be compared."""
    return tuple(map(int, version.split(".")))

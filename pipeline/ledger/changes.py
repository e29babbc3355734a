"""What changed between two versions, as values, and the number that they ask for."""

from collections.abc import Iterable
from typing import Literal

import msgspec

WHOLE = "along its whole length"
"""Where an edge lies elsewhere from end to end."""
Level = Literal["major", "minor", "patch"]
LEVELS: tuple[Level, ...] = ("patch", "minor", "major")
What = Literal[
    "size",
    "piece",
    "edge",
    "notch",
    "mark",
    "detail",
    "said",
    "cloth",
    "strips",
    "notions",
    "measures",
    "text",
    "shown",
    "page",
]
"""`shown` is what pages show besides: the logo, and guides from size to size."""


class Change(msgspec.Struct, frozen=True, kw_only=True):
    """One thing that differs, in one size where it is of a size. `name` is an edge, a row, a text's key, a file.

    `mm` is the largest distance and `place` where, in the master's coordinates; `before` or `after` is None for what
    only one version has.
    """

    what: What
    level: Level
    name: str
    piece: str | None = None
    size: str | None = None
    mm: float | None = None
    place: tuple[float, float] | None = None
    near: str = ""
    before: str | None = None
    after: str | None = None


class ChangesFile(msgspec.Struct, frozen=True, kw_only=True):
    """The file `changes.json`: what changed since a sealed version, and the number that the next one takes."""

    pattern: str
    since: str
    version: str
    next_version: str
    changes: tuple[Change, ...]
    format: int = 1


def next_version(sealed: str, changes: Iterable[Change]) -> str:
    """The number that comes after a sealed one: the gravest change says which part of it rises."""
    major, minor, patch = map(int, sealed.split("."))
    level = max((change.level for change in changes), key=LEVELS.index, default="patch")
    if level == "major":
        return f"{major + 1}.0.0"
    return f"{major}.{minor + 1}.0" if level == "minor" else f"{major}.{minor}.{patch + 1}"

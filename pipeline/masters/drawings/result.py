"""What comes of a pattern's drawings. It imports little: every run asks, most have none."""

import msgspec

from pipeline.geometry.points import Point
from pipeline.model.findings import Finding


class Unplaced(msgspec.Struct, frozen=True):
    """Objects that belong nowhere: the layers on their way that say nothing, or else all of them; what is not said of
    size, piece and role; and the role, if that is.
    """

    way: str
    lacks: tuple[str, ...]
    role: str | None


class Doubt(msgspec.Struct, frozen=True):
    """What a picture of an outline that could not be named shows: it over the one it was held against."""

    piece: str
    size: str
    code: str
    outline: tuple[Point, ...]
    corners: tuple[Point, ...]
    beside: tuple[Point, ...] = ()
    beside_corners: tuple[Point, ...] = ()
    names: tuple[str, ...] = ()


class PieceFound(msgspec.Struct, frozen=True):
    """What a drawing shows of a piece in a size: its edges, notches, whether its grain is drawn, and the corners of an
    outline without names.
    """

    file: str
    piece: str
    size: str
    edges: int
    notches: int
    grain: bool
    corners: int = 0


class Seen(msgspec.Struct, frozen=True):
    """What one drawing holds besides: layers that belong nowhere, with how many objects, and hidden ones."""

    file: str
    unplaced: tuple[tuple[Unplaced, int], ...]
    hidden: tuple[str, ...]


class CutOut(msgspec.Struct, frozen=True, kw_only=True):
    """The masters by file name, what was found of each, what is wrong, and what could be told in a picture.

    `answered` are masters that a drawing shows, also where something keeps them from being cut.
    """

    masters: dict[str, bytes] = {}
    answered: tuple[str, ...] = ()
    findings: tuple[Finding, ...] = ()
    found: tuple[PieceFound, ...] = ()
    doubts: tuple[Doubt, ...] = ()
    seen: tuple[Seen, ...] = ()

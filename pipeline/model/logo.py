"""The designer's own mark, as pages show it."""

import msgspec

from pipeline.geometry.points import Point


class Area(msgspec.Struct, frozen=True):
    """What is filled in one colour "#rrggbb": rings in mm, those of holes walked the other way round."""

    rings: tuple[tuple[Point, ...], ...]
    colour: str


class Logo(msgspec.Struct, frozen=True):
    """A mark at the size in which it is printed: its page in mm, its areas from the lowest up, its finest stroke."""

    width_mm: float
    height_mm: float
    areas: tuple[Area, ...]
    finest_mm: float | None = None

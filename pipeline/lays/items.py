"""What a lay is asked for.

Lay coordinates: mm, x along the cloth's length, y across it, the cloth's right side up (of a folded lay: the lower
layer's, with the fold on y = 0). A piece's own frame has its grain along x, the end towards the garment's top at the
larger x. Angles turn that frame clockwise on the page; a mirrored piece is mirrored about its grain before that.
"""

from functools import cached_property
from typing import Literal

import msgspec
import numpy as np
import shapely

from pipeline.geometry.points import Point
from pipeline.lays.outlines import Coordinates, coarse_points
from pipeline.model.pattern import Material, Way

HeldAgainst = Literal["warp", "weft", "bias", "any"]
"""What the grain is held against; "any" is a strip that may lie along, across or on the bias."""
Face = Literal["up", "down"]
"""Which side of a piece is seen on the cloth: the printed one, or the other one."""

FREE_STEP_DEG = 5
"""Where a material has no grain, pieces are tried at every fifth degree; the proof takes any angle."""

_EITHER_WAY: dict[str, tuple[float, ...]] = {
    "warp": (0.0, 180.0),
    "weft": (90.0, 270.0),
    "bias": (45.0, 135.0, 225.0, 315.0),
    "any": (0.0, 45.0, 90.0, 135.0),
}
_ONE_WAY: dict[str, tuple[float, ...]] = {"warp": (0.0,), "weft": (90.0,), "bias": (45.0,), "any": _EITHER_WAY["any"]}


class LayItem(msgspec.Struct, frozen=True, kw_only=True, dict=True):
    """One piece or strip as often as it is cut from one material in one size.

    `outline` is the cut line of one layer, folds opened, in the piece's own frame, clockwise, not repeating its first
    point; its smallest x is 0. `symmetric`: mirrored about y = 0 it is itself, so mirror images are not told apart.
    `on_fold`: it may lie with y = 0 on the fold of the cloth. `face`: which side of it is up on folded cloth, where
    that is not free. A strip's `name` is `strips.<name>`.
    """

    name: str
    outline: tuple[Point, ...]
    grain: HeldAgainst
    count: int
    mirrored: int = 0
    symmetric: bool = False
    on_fold: bool = False
    face: Face | None = None

    @cached_property
    def points(self) -> Coordinates:
        """The outline as rows of x and y; nobody changes them."""
        return np.array(self.outline, dtype=float)

    @cached_property
    def half(self) -> Coordinates:
        """The half of the outline at y >= 0."""
        left, _, right, bottom = shapely.Polygon(self.points).bounds
        half = shapely.Polygon(self.points).intersection(shapely.box(left - 1, 0, right + 1, bottom + 1))
        parts = sorted(shapely.get_parts(half), key=lambda part: -part.area)
        return shapely.get_coordinates(parts[0].exterior)[:-1] if parts else self.points

    @cached_property
    def coarse(self) -> Coordinates:
        """A coarser outline for the engine, which contains the true one."""
        return coarse_points(self.points)

    @cached_property
    def coarse_half(self) -> Coordinates:
        """A coarser half, which contains the true one."""
        return coarse_points(self.half)


class LayRequest(msgspec.Struct, frozen=True, kw_only=True):
    """A lay of one size and material on one width. `usable_mm` is the open cloth's, after shrinkage, less selvedges.

    `selvedge_mm` is one selvedge, which counts where it lies in the middle of the cloth. `tried_open`: the cloth is
    meant to be folded, but something does not fit so.
    """

    size: str
    material: str
    width_mm: float
    usable_mm: float
    way: Way
    one_way: bool
    free_turn: bool
    gap_mm: float
    items: tuple[LayItem, ...]
    view: str | None = None
    tried_open: bool = False
    selvedge_mm: float = 0.0

    @property
    def height_mm(self) -> float:
        """What one layer offers across, on one fold or open: half of the usable width on the fold."""
        return self.usable_mm / 2 if self.way == "fold" else self.usable_mm

    @property
    def area_mm2(self) -> float:
        """Area of all pieces, every layer counted."""
        return sum(float(shapely.Polygon(item.points).area) * item.count for item in self.items)

    def item(self, name: str) -> LayItem:
        """The item of that name. Raises KeyError."""
        for item in self.items:
            if item.name == name:
                return item
        raise KeyError(name)


def usable_width_mm(material: Material, width_mm: float) -> float:
    """What pieces may use of a cloth: its width after shrinkage, less both selvedges."""
    return width_mm * (1 - material.shrinkage_width) - 2 * material.selvedge_mm


def allowed_angles(grain: HeldAgainst, one_way: bool, free_turn: bool) -> tuple[float, ...] | None:
    """Angles in degrees at which a piece that is not mirrored may lie; None where every angle is allowed.

    A mirror image lies at the negative angles: so it has the same angle to a nap.
    """
    if one_way:
        return _ONE_WAY[grain]
    return None if free_turn else _EITHER_WAY[grain]

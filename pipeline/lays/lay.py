"""A lay: where every piece lies, and what it looks like on the cloth."""

from typing import Literal

import msgspec
import numpy as np

from pipeline.lays.items import LayRequest
from pipeline.lays.outlines import Coordinates, turned
from pipeline.model.pattern import Way

Layers = Literal["one", "pair", "fold", "lower", "upper"]
"""What a place on the cloth yields.

"one": the piece, of cloth in one layer. On folded cloth "pair": the piece from the lower layer and its mirror image
from the upper; "fold": the whole piece, half of it lying with y = 0 on the fold, mirrored where the fold is below it;
"lower" and "upper": the piece from that layer, what is cut from the other is spare.
"""


Folded = bool | Literal["two-folds", "partial-fold"]


class Placed(msgspec.Struct, frozen=True, kw_only=True):
    """One outline on the cloth, as it is seen from above: mirrored, then turned, then moved by (x, y)."""

    item: str
    x_mm: float
    y_mm: float
    angle_deg: float
    mirrored: bool = False
    layers: Layers = "one"

    def yields(self) -> tuple[bool, ...]:
        """Whether each piece that is cut here is a mirror image.

        The upper layer lies wrong side up, so what is cut from it is the mirror image of what is seen.
        """
        if self.layers == "pair":
            return (self.mirrored, not self.mirrored)
        return (not self.mirrored,) if self.layers == "upper" else (self.mirrored,)


class Lay(msgspec.Struct, frozen=True, kw_only=True, omit_defaults=True):
    """Where every piece lies, at full precision. `seconds` is what the engine was given over all its tries.

    `folded`: true on one fold, false in one layer, else the name of another way. `doubled_mm`: how much of a partial
    fold is used across, from the fold to the edge of the selvedge that is folded in.
    """

    folded: Folded
    length_mm: float
    placed: tuple[Placed, ...]
    seed: int
    seconds: int
    doubled_mm: float = 0.0

    @property
    def way(self) -> Way:
        """How the cloth is laid."""
        return way_of(self.folded)


def way_of(folded: Folded) -> Way:
    """The way that a kept lay, or a table, says."""
    if isinstance(folded, bool):
        return "fold" if folded else "open"
    return folded


def folded_as(way: Way) -> Folded:
    """How a kept lay says its way."""
    return way == "fold" if way == "fold" or way == "open" else way


class Shapes:
    """Outlines of a request's items, each computed once: the true ones, or coarse ones that contain them."""

    def __init__(self, request: LayRequest, coarse: bool = False) -> None:
        self._items = {item.name: item for item in request.items}
        self._coarse = coarse
        self._known: dict[tuple[str, bool], Coordinates] = {}

    def outline(self, name: str, half: bool = False) -> Coordinates:
        """The outline in the piece's own frame, or of the half at y >= 0 that lies on the fold. Raises KeyError."""
        key = name, half
        if key not in self._known:
            item = self._items[name]
            if self._coarse:
                self._known[key] = item.coarse_half if half else item.coarse
            else:
                self._known[key] = item.half if half else item.points
        return self._known[key]

    def placed(self, place: Placed) -> Coordinates:
        """The outline on the cloth; of a piece on the fold the half at y >= 0."""
        if place.layers == "fold":
            half = end_for_end(self.outline(place.item, half=True), place.angle_deg == 180)
            points = half * (1.0, -1.0) if place.mirrored else half
        else:
            points = turned(self.outline(place.item), place.angle_deg, place.mirrored)
        return points + np.array((place.x_mm, place.y_mm))


def end_for_end(half: Coordinates, asked: bool) -> Coordinates:
    """A half turned end for end on the fold: the other half then lies on this side, which of a symmetric piece is the
    same with x reversed."""
    return half * (-1.0, 1.0) if asked else half

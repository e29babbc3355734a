"""A lay: where every piece lies, and what it looks like on the cloth."""

from collections.abc import Iterator
from typing import Literal

import msgspec
import numpy as np
import shapely
from shapely import affinity

from pipeline.lays.items import LayRequest
from pipeline.lays.outlines import Coordinates, coarse_outline, turned
from pipeline.model.points import Point

Layers = Literal["one", "pair", "fold", "lower", "upper"]
"""What a place on the cloth yields.

"one": the piece, of an open cloth. On folded cloth "pair": the piece from the lower layer and its mirror image from the
upper; "fold": the whole piece, half of it lying with y = 0 on the fold; "lower" and "upper": the piece from that layer,
what is cut from the other is spare.
"""


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


class Lay(msgspec.Struct, frozen=True, kw_only=True):
    """Where every piece lies, at full precision. `seconds` is what the engine was given over all its tries."""

    folded: bool
    length_mm: float
    placed: tuple[Placed, ...]
    seed: int
    seconds: int


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
            true = item.half if half else item.points
            self._known[key] = _coarse(true) if self._coarse else true
        return self._known[key]

    def placed(self, place: Placed) -> Coordinates:
        """The outline on the cloth; of a piece on the fold the half at y >= 0."""
        if place.layers == "fold":
            points = end_for_end(self.outline(place.item, half=True), place.angle_deg == 180)
        else:
            points = turned(self.outline(place.item), place.angle_deg, place.mirrored)
        return points + np.array((place.x_mm, place.y_mm))


def _coarse(true: Coordinates) -> Coordinates:
    """A coarse outline that is no larger than the true one along, across and on the bias: what fits still fits."""
    coarse = shapely.Polygon(coarse_outline([Point(x, y) for x, y in true]))
    if not coarse.is_valid:
        return true
    upright, askew = shapely.Polygon(true), affinity.rotate(shapely.Polygon(true), 45, origin=(0, 0))
    diamond = affinity.rotate(shapely.box(*askew.bounds), -45, origin=(0, 0))
    kept = coarse.intersection(shapely.box(*upright.bounds)).intersection(diamond)
    return np.array(kept.exterior.coords[:-1]) if isinstance(kept, shapely.Polygon) else true


def end_for_end(half: Coordinates, asked: bool) -> Coordinates:
    """A half turned end for end on the fold: the other half then lies on this side, which of a symmetric piece is the
    same with x reversed."""
    return half * (-1.0, 1.0) if asked else half


def unfolded(lay: Lay, request: LayRequest) -> Lay:
    """The same lay on the cloth opened out, the spare pieces left out: y = 0 is then the far selvedge."""
    fold_mm = request.usable_mm / 2
    return msgspec.structs.replace(
        lay, folded=False, placed=tuple(each for place in lay.placed for each in _opened(place, fold_mm))
    )


def _opened(place: Placed, fold_mm: float) -> Iterator[Placed]:
    if place.layers == "fold":
        yield msgspec.structs.replace(place, y_mm=fold_mm, layers="one")
    if place.layers in ("pair", "lower"):
        yield msgspec.structs.replace(place, y_mm=fold_mm + place.y_mm, layers="one")
    if place.layers in ("pair", "upper"):
        # Reflecting about the fold: mirrored the other way, at the negative angle.
        yield Placed(
            item=place.item,
            x_mm=place.x_mm,
            y_mm=fold_mm - place.y_mm,
            angle_deg=-place.angle_deg % 360,
            mirrored=not place.mirrored,
        )

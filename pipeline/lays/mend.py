"""A saved lay made to hold again after a piece was mended: the piece that has grown pushes others aside.

A fix of a millimetre must not make a buyer buy ten centimetres more because the new search had less time than the old
one. Nor does it depend on the clock: a lay that was mended is the same on every machine. What holds for another size,
nearly, is often shorter than what a search found for this one, too.
"""

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence

import msgspec
import numpy as np
import shapely

from pipeline.lays.compact import compacted
from pipeline.lays.items import LayRequest
from pipeline.lays.lay import Lay, Placed, Shapes
from pipeline.lays.outlines import Coordinates
from pipeline.lays.proof import faults
from pipeline.lays.saved import lay_key
from pipeline.lays.zones import Part, joined, parts

_CANDIDATES = 3
_NEAR_MM = 20.0
"""What is amiss of a lay that nearly holds, over all its pieces."""
_LONGER = 1.03
"""Where a lay becomes longer than this times what nearly held, a new search would find better."""
_ROUNDS = 4
_STEP_MM = 0.5
_FARTHEST_MM = 60.0
_ASIDE_MM = (0.0, 1.0, -1.0, 2.0, -2.0, 3.0, -3.0)
_TOUCH_MM = 0.001


def mended(request: LayRequest, saved: Iterable[Lay], candidates: int = _CANDIDATES) -> Lay | None:
    """The shortest lay that can be made for a request of those saved for the same pieces, proven; None where none can.

    Only lays in which every piece lies as often count, those of other sizes too; of these, the shortest that nearly
    hold. None, too, where the result is much longer than the shortest of them: that lay is gone, and worth a search.
    """
    near = [lay for lay in saved if _lays_the_same(request, lay) and _amiss_mm(request, lay) <= _NEAR_MM]
    near.sort(key=lambda lay: lay.length_mm)
    found = [new for lay in near[:candidates] if (new := _made_to_hold(request, lay)) is not None]
    best = min(found, key=lambda lay: lay.length_mm, default=None)
    return best if best is not None and best.length_mm <= _LONGER * near[0].length_mm else None


def improved(requests: Sequence[LayRequest], lays: Mapping[str, Lay]) -> dict[str, Lay]:
    """The lays, each replaced by what can be made of another size's or width's where that is shorter.

    What one size gains its neighbours may gain from it, so this goes round until nothing changes.
    """
    best = dict(lays)
    for _ in range(_ROUNDS):
        before = dict(best)
        for request in requests:
            key = lay_key(request)
            new = mended(request, before.values(), 2 * _CANDIDATES)
            if new is not None and (key not in best or new.length_mm < best[key].length_mm):
                best[key] = new
        if best == before:
            break
    return best


def _lays_the_same(request: LayRequest, lay: Lay) -> bool:
    cut = Counter({item.name: item.count for item in request.items})
    there = Counter(place.item for place in lay.placed for _ in place.yields())
    return lay.way == request.way and there == cut


def _amiss_mm(request: LayRequest, lay: Lay) -> float:
    """How much of the gaps is missing, over all pieces, and how much lies beyond the width."""
    return sum(_amiss_in_zone_mm(part.request, part.placed) for part in parts(request, lay))


def _amiss_in_zone_mm(request: LayRequest, placed: Iterable[Placed]) -> float:
    shapes = Shapes(request, coarse=True)
    outlines = [shapes.placed(place) for place in placed]
    polygons = np.array([shapely.Polygon(points) for points in outlines], dtype=object)
    beyond = sum(_beyond_mm(request, points) for points in outlines)
    pairs = shapely.STRtree(polygons).query(polygons, predicate="dwithin", distance=request.gap_mm).T
    close = pairs[pairs[:, 0] < pairs[:, 1]]
    first, second = polygons[close[:, 0]], polygons[close[:, 1]]
    shared = shapely.intersection(first, second)
    around = shapely.length(shared)
    deep = np.divide(2 * shapely.area(shared), around, out=np.zeros(len(close)), where=around > 0)
    short = np.maximum(0.0, request.gap_mm - shapely.distance(first, second))
    return float(beyond + deep.sum() + short.sum())


def _beyond_mm(request: LayRequest, points: Coordinates) -> float:
    return max(0.0, -float(points[:, 1].min())) + max(0.0, float(points[:, 1].max()) - request.height_mm)


def _made_to_hold(request: LayRequest, lay: Lay) -> Lay | None:
    moved = []
    length = 0.0
    for part in parts(request, lay):
        shapes = Shapes(part.request, coarse=True)
        placed = _pushed(part.request, shapes, part.placed)
        if placed is None:
            return None
        own_length, places = compacted(part.request, shapes, placed)
        moved.append(Part(part.zone, part.request, places))
        length = max(length, own_length)
    new = joined(request, moved, length, lay.seed, lay.seconds)
    return None if faults(request, new) else new


def _pushed(request: LayRequest, shapes: Shapes, placed: Iterable[Placed]) -> list[Placed] | None:
    """From left to right, each piece moved along the cloth as little as sets it free, or a little aside.

    None where one would have to go so far that the lay is another one.
    """
    outlines = [(place, shapes.placed(place)) for place in placed]
    lying: list[shapely.Polygon] = []
    moved: list[Placed] = []
    for place, points in sorted(outlines, key=lambda each: float(each[1][:, 0].min())):
        found = _freed(request, place, points, lying)
        if found is None:
            return None
        dx, dy = found
        lying.append(shapely.Polygon(points + np.array(found)))
        moved.append(msgspec.structs.replace(place, x_mm=place.x_mm + dx, y_mm=place.y_mm + dy))
    return moved


def _freed(
    request: LayRequest, place: Placed, points: Coordinates, lying: list[shapely.Polygon]
) -> tuple[float, float] | None:
    """The move (along, across) after which an outline keeps its distance from those that lie already."""
    back = max(0.0, -float(points[:, 1].min())) - max(0.0, float(points[:, 1].max()) - request.height_mm)
    aside = (0.0,) if place.layers == "fold" else tuple(back + step for step in _ASIDE_MM)
    there = np.array(lying, dtype=object)
    for along in np.arange(0.0, _FARTHEST_MM + _STEP_MM, _STEP_MM):
        for across in aside:
            tried = points + np.array((along, across))
            if _beyond_mm(request, tried) > _TOUCH_MM and place.layers != "fold":
                continue
            apart = shapely.distance(shapely.Polygon(tried), there).min() if lying else np.inf
            if apart >= request.gap_mm and (request.gap_mm or apart > 0):
                return float(along), across
    return None

"""Folded cloth: pairs cut from two layers at once, and pieces held on the fold by a comb.

The engine cannot hold a piece in place. So the halves that lie on the fold are joined to one shape, the comb: their
fold edges on y = 0, a narrow spine between them, and at one end a pole almost as tall as the cloth, which cannot leave
the fold. A comb with its pole at the left and one with its pole at the right leave the middle free. The pole and the
spine are taken away afterwards, and the halves dropped onto the fold.
"""

import random
from collections import Counter
from collections.abc import Sequence

import msgspec
import numpy as np
import shapely
from shapely import affinity

from pipeline.lays.fit import lies_on_fold
from pipeline.lays.items import LayItem, LayRequest
from pipeline.lays.lay import Placed, Shapes, end_for_end
from pipeline.lays.open_lay import Member
from pipeline.lays.worker import EngineItem, EnginePlace

SPINE_MM = 0.5
POLE_MM = 1.0
POLE_SHORT_MM = 0.1
APART_MM = 1.0
"""Halves of one comb lie at least this far apart along the fold."""


class OnFold(msgspec.Struct, frozen=True):
    """A half in a comb, `x_mm` from the comb's left end; `turned` end for end."""

    item: str
    x_mm: float
    turned: bool


class Comb(msgspec.Struct, frozen=True):
    """Halves held on the fold, as one shape of the engine."""

    halves: tuple[OnFold, ...]
    shape: tuple[tuple[float, float], ...]

    def engine_item(self) -> EngineItem:
        """The comb for the engine: once, and never turned."""
        return EngineItem(shape=self.shape, demand=1, angles=(0.0,))

    def placed(self, place: EnginePlace) -> list[Placed]:
        """Its halves, on the fold."""
        return [
            Placed(
                item=half.item,
                x_mm=place.x_mm + half.x_mm,
                y_mm=0.0,
                angle_deg=180.0 if half.turned else 0.0,
                layers="fold",
            )
            for half in self.halves
        ]


def folded_members(request: LayRequest, rng: random.Random) -> Counter[Member]:
    """Pairs once; an odd piece once, its other layer spare. Which side is up is drawn by lot where it is free."""
    members: Counter[Member] = Counter()

    def seen_mirrored(item: LayItem) -> bool:
        drawn = rng.random() < 0.5 and not item.symmetric
        return drawn if item.face is None else item.face == "down"

    for item in request.items:
        if lies_on_fold(request, item):
            continue
        images = item.count // 2 if item.symmetric else item.mirrored
        pairs = min(images, item.count - images)
        for _ in range(pairs):
            members[Member(item.name, seen_mirrored(item), "pair")] += 1
        wanted_mirrored = not item.symmetric and images > pairs
        for _ in range(item.count - 2 * pairs):
            seen = seen_mirrored(item)
            members[Member(item.name, seen, "lower" if seen == wanted_mirrored else "upper")] += 1
    return members


class Halves:
    """What of a request lies on the fold, and how it is held there. `coarse` has the request's coarse outlines."""

    def __init__(self, request: LayRequest, coarse: Shapes) -> None:
        self.request, self.coarse = request, coarse
        self.names = [item.name for item in request.items if lies_on_fold(request, item) for _ in range(item.count)]

    def shape(self, name: str, turned: bool) -> shapely.Polygon:
        """The coarse half, its fold edge on y = 0, where it lies when placed at x = 0."""
        polygon = shapely.Polygon(end_for_end(self.coarse.outline(name, half=True), turned))
        left, _, right, bottom = polygon.bounds
        return polygon.intersection(shapely.box(left, 0, right, bottom))

    def combs(self, rng: random.Random, first: bool) -> list[Comb]:
        """One or two combs with their halves in an order drawn by lot; the first try has one, in the items' order."""
        order = list(self.names)
        if not order:
            return []
        turns = [False] * len(order)
        split = len(order)
        if not first:
            rng.shuffle(order)
            turns = [not self.request.one_way and rng.random() < 0.5 for _ in order]
            split = rng.randint(1, len(order))
        halves = list(zip(order, turns, strict=True))
        return [self._comb(part, left) for part, left in ((halves[:split], True), (halves[split:], False)) if part]

    def _comb(self, halves: Sequence[tuple[str, bool]], pole_left: bool) -> Comb:
        gap = max(APART_MM, self.request.gap_mm)
        shapes: list[shapely.Polygon] = []
        where: list[OnFold] = []
        for name, turned in halves:
            shape = self.shape(name, turned)
            x = _beside(shapes[-1], shape, gap) if shapes else gap - shape.bounds[0]
            shapes.append(affinity.translate(shape, x))
            where.append(OnFold(name, x, turned))
        right = max(shape.bounds[2] for shape in shapes)
        tall = self.request.height_mm - POLE_SHORT_MM
        if pole_left:
            spine, pole = (-POLE_MM, shapes[-1].bounds[2]), (-POLE_MM, 0.0)
        else:
            spine, pole = (shapes[0].bounds[0], right + gap + POLE_MM), (right + gap, right + gap + POLE_MM)
        joined = shapely.union_all(
            [*shapes, shapely.box(spine[0], 0, spine[1], SPINE_MM), shapely.box(pole[0], 0, pole[1], tall)]
        )
        assert isinstance(joined, shapely.Polygon), "the spine joins every half"
        return Comb(tuple(where), tuple((float(x), float(y)) for x, y in joined.exterior.coords[:-1]))


def _beside(before: shapely.Polygon, shape: shapely.Polygon, gap_mm: float) -> float:
    """How far right a half is moved to lie `gap_mm` from the one before it: found by halving."""
    far = before.bounds[2] - shape.bounds[0] + gap_mm
    near = far - min(np.ptp(before.bounds[::2]), np.ptp(shape.bounds[::2]))
    for _ in range(16):
        middle = (near + far) / 2
        if shapely.distance(before, affinity.translate(shape, middle)) >= gap_mm:
            far = middle
        else:
            near = middle
    return float(far)

"""What lies in which zone of a cloth that is laid in two: drawn by lot, and judged before anything is searched."""

import random
from collections.abc import Iterable, Iterator
from functools import cached_property

import msgspec
import numpy as np

from pipeline.lays.fit import EXACT_MM, candidate_angles, fits, lies_on_fold
from pipeline.lays.items import LayItem, LayRequest
from pipeline.lays.outlines import extent_across_mm, turned
from pipeline.lays.zones import Zone, deepest_fold_mm, tallest_half_mm, zones

_DRAWS = 400
_DEPTHS = 12
"""Depths of a partial fold that are tried."""


class Share(msgspec.Struct, frozen=True):
    """The zones in which something lies, and what is asked of each; `estimate_mm`: about how long the lay becomes."""

    asked: tuple[tuple[Zone, LayRequest], ...]
    estimate_mm: float


def can_be_laid(request: LayRequest) -> bool:
    """Whether every piece fits somewhere on the cloth as it is laid: one that is cut on the fold only on a fold."""
    if request.way == "open":
        return all(fits(request, item) for item in request.items)
    return any(_Cloth(request, there).takes_all for there in _cloths(request))


def shares(request: LayRequest, seed: int, most: int) -> list[Share]:
    """Ways to share the pieces among two zones, the most promising first, at most so many; none twice."""
    rng = random.Random(f"{seed} zones")
    cloths = [cloth for there in _cloths(request) if (cloth := _Cloth(request, there)).takes_all]
    found: dict[tuple[int, _Counts], tuple[float, ...]] = {}
    for _ in range(_DRAWS if cloths else 0):
        number = rng.randrange(len(cloths))
        counts = cloths[number].drawn(rng)
        if (number, counts) not in found:
            found[number, counts] = cloths[number].estimates_mm(counts)
    best = sorted(found.items(), key=lambda each: each[1])[:most]
    return [Share(cloths[number].asked(counts), estimates[0]) for (number, counts), estimates in best]


_Counts = tuple[tuple[int, str, int, int], ...]
"""(number of the zone, item, how many, how many of them mirrored)."""


class _Cloth:
    """A cloth as it lies, and what is known of every item in every zone of it."""

    def __init__(self, request: LayRequest, there: tuple[Zone, ...]) -> None:
        self.request, self.zones = request, there
        self.bare = [zone.request(request, ()) for zone in there]
        numbers = range(len(there))
        self.fitting = {
            item.name: [n for n in numbers if (there[n].folded or not item.on_fold) and fits(self.bare[n], item)]
            for item in request.items
        }
        self.takes_all = all(self.fitting.values())

    def drawn(self, rng: random.Random) -> _Counts:
        """Every half, pair and odd piece in one of the zones that it fits: an odd one in one layer if it can."""
        counts: dict[tuple[int, str], list[int]] = {}
        for item in self.request.items:
            fitting = self.fitting[item.name]
            for pieces, images in _units(self.request, item):
                alone = pieces == 1 and not item.on_fold
                single = [number for number in fitting if not self.zones[number].folded] if alone else []
                laid = counts.setdefault((rng.choice(single or fitting), item.name), [0, 0])
                laid[0] += pieces
                laid[1] += images
        return tuple(sorted((number, name, laid[0], laid[1]) for (number, name), laid in counts.items()))

    def estimates_mm(self, counts: _Counts) -> tuple[float, ...]:
        """About how long each zone becomes, the longest first: by area, by its longest piece, and by its halves, of
        which each takes the fold."""
        area, longest, on_fold = ([0.0] * len(self.zones) for _ in range(3))
        for number, name, count, _ in counts:
            along_mm, area_mm2 = self.sizes[name][number]
            area[number] += area_mm2 * count / self.bare[number].usable_mm
            longest[number] = max(longest[number], along_mm)
            if lies_on_fold(self.bare[number], self.request.item(name)):
                on_fold[number] += along_mm * count
        return tuple(sorted((max(each) for each in zip(area, longest, on_fold, strict=True)), reverse=True))

    @cached_property
    def sizes(self) -> dict[str, dict[int, tuple[float, float]]]:
        """By item and zone: (the least length that one takes, its area)."""
        return {
            item.name: {
                number: (least_along_mm(self.bare[number], item), _area_mm2(item)) for number in self.fitting[item.name]
            }
            for item in self.request.items
        }

    def asked(self, counts: _Counts) -> tuple[tuple[Zone, LayRequest], ...]:
        """What is asked of every zone in which something lies."""
        found = []
        for number, zone in enumerate(self.zones):
            there = {name: (count, images) for of, name, count, images in counts if of == number}
            items = [
                msgspec.structs.replace(item, count=there[item.name][0], mirrored=there[item.name][1])
                for item in self.request.items
                if item.name in there
            ]
            if items:
                found.append((zone, zone.request(self.request, items)))
        return tuple(found)


def _cloths(request: LayRequest) -> list[tuple[Zone, ...]]:
    """The cloth as it may lie; of a partial fold, as deep as the halves need, or some piece, or both together."""
    if request.way != "partial-fold":
        return [zones(request)]
    least, most = tallest_half_mm(request), deepest_fold_mm(request)
    tall = {_least_across_mm(request, item) for item in request.items if item.count > 1 and not item.on_fold}
    depths = {least, *tall, *(least + request.gap_mm + each for each in tall if least)}
    fitting = sorted(depth for depth in depths if least <= depth <= most and depth > 0)
    return [zones(request, depth + EXACT_MM / 2) for depth in fitting[:_DEPTHS]]


def _least_across_mm(request: LayRequest, item: LayItem) -> float:
    angles = candidate_angles(item, request.one_way, request.free_turn)
    return min(extent_across_mm(item.points, angle) for angle in angles)


def _units(request: LayRequest, item: LayItem) -> Iterator[tuple[int, int]]:
    """What is laid together: (pieces, mirror images among them)."""
    if lies_on_fold(request, item):
        yield from [(1, 0)] * item.count
        return
    images = item.count // 2 if item.symmetric else item.mirrored
    pairs = min(images, item.count - images)
    yield from [(2, 0 if item.symmetric else 1)] * pairs
    odd_image = 0 if item.symmetric or images <= pairs else 1
    yield from [(1, odd_image)] * (item.count - 2 * pairs)


def least_along_mm(request: LayRequest, item: LayItem) -> float:
    """The least of the cloth's length that a piece takes."""
    if lies_on_fold(request, item):
        return float(np.ptp(item.points[:, 0]))
    fitting: Iterable[float] = candidate_angles(item, request.one_way, request.free_turn)
    tall = request.height_mm + EXACT_MM
    return min(
        float(np.ptp(turned(item.points, angle, False)[:, 0]))
        for angle in fitting
        if extent_across_mm(item.points, angle) <= tall
    )


def _area_mm2(item: LayItem) -> float:
    x, y = item.points.T
    return abs(float(np.dot(x, np.roll(y, -1)) - np.dot(y, np.roll(x, -1)))) / 2

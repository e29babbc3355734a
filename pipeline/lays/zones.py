"""How cloth lies: its zones, and a lay taken apart by them.

A zone is a stretch across the cloth that is laid like a cloth of its own: folded in two, or one layer. The ways are
common practice: one fold; both selvedges folded to the middle, where they meet (two folded zones); one selvedge folded
in only as far as needed (a folded zone, and beside it the rest in one layer). Between two zones lies what no piece may
use: the selvedges there, and never less than the gap.
"""

import math
from collections import Counter
from collections.abc import Iterable, Iterator

import msgspec
import numpy as np

from pipeline.lays.items import LayItem, LayRequest
from pipeline.lays.lay import Lay, Placed, Shapes, folded_as


class Zone(msgspec.Struct, frozen=True, kw_only=True):
    """What pieces may use of the cloth across, from `top_mm` to `bottom_mm`.

    `folded`: in two layers, with the fold on the top, or on the bottom where it is `turned`.
    """

    top_mm: float
    bottom_mm: float
    folded: bool
    turned: bool = False

    @property
    def fold_mm(self) -> float:
        """Where the fold lies, if there is one."""
        return self.bottom_mm if self.turned else self.top_mm

    def request(self, request: LayRequest, items: Iterable[LayItem]) -> LayRequest:
        """Some of a request's items asked of this zone alone, which is a cloth on one fold or open."""
        height = self.bottom_mm - self.top_mm
        return msgspec.structs.replace(
            request,
            way="fold" if self.folded else "open",
            usable_mm=2 * height if self.folded else height,
            items=tuple(self._faced(item) for item in items),
        )

    def _faced(self, item: LayItem) -> LayItem:
        """An item as it must lie in the zone's own frame, which is the mirror image of a turned zone."""
        if not self.turned or item.face is None:
            return item
        return msgspec.structs.replace(item, face="up" if item.face == "down" else "down")

    def turn(self, place: Placed) -> Placed:
        """A place of the whole cloth as it lies in this zone, or the other way round.

        A turned zone is the mirror image of one with its fold on the top, and so its layers change places.
        """
        if not self.turned:
            return place
        layers = {"lower": "upper", "upper": "lower"}.get(place.layers, place.layers)
        return msgspec.structs.replace(
            place, y_mm=-place.y_mm, angle_deg=-place.angle_deg % 360, mirrored=not place.mirrored, layers=layers
        )


class Part(msgspec.Struct, frozen=True):
    """What lies in one zone: the zone, its own request, and where everything lies, the zone's fold or top on y = 0."""

    zone: Zone
    request: LayRequest
    placed: tuple[Placed, ...]


def apart_mm(request: LayRequest) -> float:
    """What no piece may use between the two zones of a cloth with its selvedges in the middle, or one of them."""
    return max((2 if request.way == "two-folds" else 1) * request.selvedge_mm, request.gap_mm)


def deepest_fold_mm(request: LayRequest) -> float:
    """How much of a selvedge that is folded in may be used, where the whole cloth is folded."""
    return (request.usable_mm - apart_mm(request)) / 2


def zones(request: LayRequest, doubled_mm: float = 0.0) -> tuple[Zone, ...]:
    """The zones of a cloth as it lies, from y = 0 on; `doubled_mm` is used of the fold of a partial fold."""
    usable = request.usable_mm
    if request.way == "open":
        return (Zone(top_mm=0.0, bottom_mm=usable, folded=False),)
    if request.way == "fold":
        return (Zone(top_mm=0.0, bottom_mm=usable / 2, folded=True),)
    if request.way == "two-folds":
        far = usable / 2 + request.selvedge_mm  # half of the whole cloth, which lies between the folds
        tall = (far - apart_mm(request)) / 2
        return (
            Zone(top_mm=0.0, bottom_mm=tall, folded=True),
            Zone(top_mm=far - tall, bottom_mm=far, folded=True, turned=True),
        )
    return (
        Zone(top_mm=0.0, bottom_mm=doubled_mm, folded=True),
        Zone(top_mm=doubled_mm + apart_mm(request), bottom_mm=usable - doubled_mm, folded=False),
    )


def zone_of(zone_list: tuple[Zone, ...], place: Placed, across: tuple[float, float]) -> Zone | None:
    """The zone in which something lies best of those that have its layers; None where no zone has them.

    `across`: from where to where it reaches.
    """
    suiting = [zone for zone in zone_list if zone.folded == (place.layers != "one")]
    return min(suiting, key=lambda zone: max(zone.top_mm - across[0], across[1] - zone.bottom_mm), default=None)


def parts(request: LayRequest, lay: Lay) -> tuple[Part, ...]:
    """A lay of a request's items taken apart, zone by zone; a zone in which nothing lies is left out.

    A partial fold is made as deep as the request's own halves need. Raises KeyError for a strange piece.
    """
    shapes = Shapes(request)
    placed: dict[Zone, list[Placed]] = {}
    there = zones(request, lay.doubled_mm)
    for place in lay.placed:
        y = shapes.placed(place)[:, 1]
        if (zone := zone_of(there, place, (float(y.min()), float(y.max())))) is not None:
            inside = msgspec.structs.replace(place, y_mm=place.y_mm - zone.fold_mm)
            placed.setdefault(zone, []).append(zone.turn(inside))
    now = dict(zip(there, zones(request, max(lay.doubled_mm, tallest_half_mm(request))), strict=True))
    return tuple(
        Part(now[zone], now[zone].request(request, _counted(request, laid)), tuple(laid))
        for zone, laid in placed.items()
    )


def tallest_half_mm(request: LayRequest) -> float:
    """What the halves that lie on the fold need across."""
    return max((float(item.half[:, 1].max()) for item in request.items if item.on_fold), default=0.0)


def _counted(request: LayRequest, placed: Iterable[Placed]) -> Iterator[LayItem]:
    """The items of some places, as often as they are cut there."""
    there = Counter((place.item, image) for place in placed for image in place.yields())
    for item in request.items:
        count = there[item.name, False] + there[item.name, True]
        images = 0 if item.symmetric else there[item.name, True]
        if (count, images) == (item.count, item.mirrored):
            yield item  # and what is known of its outline
        elif count:
            yield msgspec.structs.replace(item, count=count, mirrored=images)


def joined(request: LayRequest, laid: Iterable[Part], length_mm: float, seed: int, seconds: int) -> Lay:
    """The lay of all zones together; a partial fold is only as deep as what lies on it."""
    placed: list[Placed] = []
    doubled = 0.0
    for part in laid:
        if request.way == "partial-fold" and part.zone.folded:
            shapes = Shapes(part.request)
            doubled = max(float(shapes.placed(place)[:, 1].max()) for place in part.placed)
        for place in part.placed:
            turned = part.zone.turn(place)
            placed.append(msgspec.structs.replace(turned, y_mm=turned.y_mm + part.zone.fold_mm))
    return Lay(
        folded=folded_as(request.way),
        length_mm=length_mm,
        placed=tuple(sorted(placed, key=lambda place: (place.x_mm, place.y_mm, place.item))),
        seed=seed,
        seconds=seconds,
        doubled_mm=math.ceil(doubled * 1000) / 1000,
    )


def unfolded(lay: Lay, request: LayRequest) -> Lay:
    """The same lay on the cloth opened out, the spare pieces left out: y = 0 is then the far selvedge."""
    there = zones(request, lay.doubled_mm)
    first_mm = {"fold": request.usable_mm / 2, "partial-fold": lay.doubled_mm}.get(request.way, 0.0)
    if request.way == "two-folds":
        first_mm = (request.usable_mm - there[-1].bottom_mm) / 2
    shapes = Shapes(request)
    opened = [each for place in lay.placed for each in _opened(place, there, first_mm, shapes)]
    return msgspec.structs.replace(lay, folded=False, placed=tuple(opened), doubled_mm=0.0)


def _opened(place: Placed, there: tuple[Zone, ...], first_mm: float, shapes: Shapes) -> Iterator[Placed]:
    """What is cut at a place, on the cloth opened out, on which the first fold lies at `first_mm`."""
    y = shapes.placed(place)[:, 1]
    zone = zone_of(there, place, (float(y.min()), float(y.max())))
    if zone is None or place.layers == "one":
        yield msgspec.structs.replace(place, y_mm=first_mm + place.y_mm)
        return
    if place.layers == "fold":
        yield msgspec.structs.replace(place, y_mm=first_mm + zone.fold_mm, mirrored=False, layers="one")
    if place.layers in ("pair", "lower"):
        yield msgspec.structs.replace(place, y_mm=first_mm + place.y_mm, layers="one")
    if place.layers in ("pair", "upper"):
        # Reflecting about the fold: mirrored the other way, at the negative angle.
        yield Placed(
            item=place.item,
            x_mm=place.x_mm,
            y_mm=first_mm + 2 * zone.fold_mm - place.y_mm,
            angle_deg=-place.angle_deg % 360,
            mirrored=not place.mirrored,
        )


def on_width(lay: Lay, of: LayRequest, asked: LayRequest) -> Lay:
    """A lay of a narrower cloth on a wider one laid the same way: what lies on the second fold moves with it."""
    if asked.way != "two-folds" or of.usable_mm == asked.usable_mm:
        return lay
    before, after = zones(of)[-1], zones(asked)[-1]
    shapes = Shapes(of)

    def moved(place: Placed) -> Placed:
        middle = float(np.mean(shapes.placed(place)[:, 1]))
        further = after.bottom_mm - before.bottom_mm if middle > before.bottom_mm / 2 else 0.0
        return msgspec.structs.replace(place, y_mm=place.y_mm + further)

    return msgspec.structs.replace(lay, placed=tuple(moved(place) for place in lay.placed))

"""What the engine is given for pieces that move freely on the cloth, and what its answer means."""

from collections import Counter
from collections.abc import Iterable

import msgspec

from pipeline.lays.fit import fitting_angles
from pipeline.lays.items import LayRequest
from pipeline.lays.lay import Layers, Placed, Shapes
from pipeline.lays.outlines import turned
from pipeline.lays.worker import EngineItem, EnginePlace


class Member(msgspec.Struct, frozen=True):
    """An item as it is seen on the cloth: plain or mirrored, and which layers it is cut from."""

    item: str
    mirrored: bool
    layers: Layers


def engine_item(request: LayRequest, coarse: Shapes, member: Member, demand: int) -> EngineItem:
    """A member for the engine: a mirror image is a shape of its own, at the negative angles."""
    angles = fitting_angles(request, request.item(member.item))
    if member.mirrored:
        angles = tuple(-angle % 360 for angle in angles)
    points = turned(coarse.outline(member.item), 0.0, member.mirrored)
    return EngineItem(shape=tuple((float(x), float(y)) for x, y in points), demand=demand, angles=angles)


def open_members(request: LayRequest) -> Counter[Member]:
    """Every layer of every piece of an open lay, and how often."""
    members: Counter[Member] = Counter()
    for item in request.items:
        images = 0 if item.symmetric else item.mirrored
        members[Member(item.name, False, "one")] += item.count - images
        members[Member(item.name, True, "one")] += images
    return +members


def placed_members(members: Iterable[Member], places: Iterable[EnginePlace]) -> list[Placed]:
    """The engine's answer for members given in this order."""
    order = list(members)
    return [
        Placed(
            item=order[place.item].item,
            x_mm=place.x_mm,
            y_mm=place.y_mm,
            angle_deg=place.angle_deg,
            mirrored=order[place.item].mirrored,
            layers=order[place.item].layers,
        )
        for place in places
    ]

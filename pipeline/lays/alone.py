"""Whether one strip alone makes a lay as long as it is, so that less cloth might do were it joined of shorter parts."""

from pipeline.lays.items import LayRequest
from pipeline.lays.lay import Lay, Shapes
from pipeline.lays.outlines import Coordinates

LONGER_MM = 50.0
"""What metric lengths to buy are rounded up to: less is no cloth that is saved."""


def alone_makes_long(request: LayRequest, lay: Lay, name: str) -> bool:
    """Whether the item lies along the cloth and ends so far beyond all others."""
    shapes, own, others = Shapes(request), 0.0, 0.0
    for place in lay.placed:
        points = shapes.placed(place)
        if place.item == name:
            own = max(own, float(points[:, 0].max()) if _lies_along(points) else 0.0)
        else:
            others = max(others, float(points[:, 0].max()))
    return own - others >= LONGER_MM


def _lies_along(points: Coordinates) -> bool:
    run, across = (float(points[:, axis].max() - points[:, axis].min()) for axis in (0, 1))
    return run > across
